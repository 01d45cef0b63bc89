//! Plots as plain SVG: panels one above the other over a common axis.

mod data;
mod drawing;
mod frame;
mod panel;
mod trace;

pub use data::{Ink, LimitLine, Mark, Panel, Plot, Series};
pub use trace::{StillPlot, TracePlot};
