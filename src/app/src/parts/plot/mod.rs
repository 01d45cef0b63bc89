//! Plots as plain SVG: panels one above the other over a common axis.

mod data;
mod frame;
mod panel;
mod scatter;
mod trace;

pub use data::{Ink, LimitLine, Mark, Panel, Plot, Series};
pub use scatter::ScatterFitPlot;
pub use trace::TracePlot;
