//! Where things stand on the drawing, in its own units (360 wide, so that text keeps its size on a phone).

use liftmargin_document::present::ticks::{Axis, axis, axis_with_ends};

use super::data::{Panel, Plot};

/// Width of the drawing.
pub const WIDTH: f64 = 360.0;
/// Left edge of a panel; the y labels stand before it.
pub const LEFT: f64 = 46.0;
/// Right edge of a panel.
pub const RIGHT: f64 = 350.0;
/// Above the first panel, for the labels of marks.
pub const TOP: f64 = 18.0;
/// Height of a panel.
pub const PANEL: f64 = 132.0;
/// Between panels, for the next one's title and key.
pub const GAP: f64 = 46.0;
/// Height of a panel's key.
pub const KEY: f64 = 14.0;
/// Below the last panel, for the x axis.
pub const BOTTOM: f64 = 40.0;

/// The common axis.
pub fn x_axis(plot: &Plot) -> Axis {
    let (low, high) = plot.x_ends();
    axis_with_ends(low, high, 5)
}

/// The axis of a panel.
pub fn y_axis(panel: &Panel) -> Axis {
    let (low, high) = panel.y_ends();
    axis(low, high, 4)
}

/// Across.
pub fn x_place(axis: &Axis, x: f64) -> f64 {
    LEFT + axis.place(x) * (RIGHT - LEFT)
}

/// Down, within a panel.
pub fn y_place(axis: &Axis, y: f64) -> f64 {
    PANEL * (1.0 - axis.place(y))
}

/// Top edge of a panel.
pub fn panel_top(index: usize) -> f64 {
    TOP + GAP * 0.75 + index as f64 * (PANEL + GAP)
}

/// Lower edge of the last panel.
pub fn panels_end(panels: usize) -> f64 {
    panel_top(panels.max(1) - 1) + PANEL
}
