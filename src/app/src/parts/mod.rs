//! Reusable views. A part gets values, signals and callbacks; it knows no store, no browser door and does no physics.

mod answer;
mod bars;
mod buttons;
mod checks;
mod choice;
mod delta;
mod empty;
mod ids;
mod number_field;
mod pack_bar;
mod plot;
mod rotor_plan;
mod state_mark;
mod svg;
mod switch;
mod text_field;
mod undo_bar;
mod unit_picker;
mod verdict;

pub use answer::{Answer, Size};
pub use bars::{RankedBar, RankedBars};
pub use buttons::FileButton;
pub use checks::CheckList;
pub use choice::{ChoiceField, Choices, SegmentField};
pub use delta::Delta;
pub use empty::EmptyState;
pub use number_field::NumberField;
pub use pack_bar::{PackBar, PackMarks};
pub use plot::{Ink, LimitLine, Mark, Panel, Plot, Series, StillPlot, TracePlot};
pub use rotor_plan::{Plan, ROTOR, RotorPlan, RotorSpot};
pub use switch::SwitchRow;
pub use text_field::TextField;
pub use undo_bar::UndoBar;
pub use unit_picker::UnitPicker;
pub use verdict::VerdictBanner;
