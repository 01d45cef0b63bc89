//! Plots as plain SVG: panels one above the other over a common axis.

mod data;
mod drawing;
mod frame;
mod panel;
mod table;
mod trace;

pub use data::{Ink, LimitLine, Mark, Panel, Plot, Series};
pub use table::table_of;
pub use trace::{StillPlot, TracePlot, TriedPlot};
