//! What a builder asks: minutes, margin and current over a range of mass, rotor, packs, place, weather, way.
//!
//! Formula   the card of the setup with one thing varied; between the places worked out a straight line. A limit is crossed
//!           where the verdict turns, by halving between two neighbours
//! Units     each axis's own, the file's
//! Source    none of its own
//! Valid     where the varied setup resolves; other places are left out
//! Checked   tests/it/sweep.rs: the present place is the card's own; what must fall falls
//! Assumes   nothing but what is varied changes: a larger rotor weighs no more here. Every place has the card's own samples of the
//!           doubt, as few places are enough: no cautious figure is guessed from that of another place

mod axis;
mod point;
mod sweeper;
mod vary;

pub use axis::SweepAxis;
pub use point::{PointWork, SweepPoint, SweptFlight, Two};
pub use sweeper::Sweeper;
pub use vary::MassOf;

use liftmargin_core::limits::CheckKind;

use crate::error::DocumentError;
use crate::model::Bundle;
use crate::resolve::ResolvedAirframe;

/// Places of a sweep: straight lines between them are off by less than a time is shown to.
pub const PLACES: usize = 13;

/// A side of a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Less.
    Below,
    /// More.
    Above,
}

/// A place where the verdict turns to no, or back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The place, in the axis's unit: on the side that can be flown.
    pub at: f64,
    /// The side of it that cannot be flown.
    pub beyond: Side,
    /// The check that says no beyond it.
    pub check: Option<CheckKind>,
}

/// A setup over a range.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sweep {
    /// Where the setup is now.
    pub now: f64,
    /// From low to high; places that miss a bound are left out.
    pub points: Vec<SweepPoint>,
    /// Where a limit is crossed.
    pub crossings: Vec<Crossing>,
}

/// Sweeps one setup over the usual range of an axis in so many places; `learned` is the setup's own airframe.
///
/// # Errors
/// Where the setup as it is has no card.
pub fn sweep(
    bundle: &Bundle,
    setup_id: &str,
    learned: &ResolvedAirframe,
    axis: SweepAxis,
    places: usize,
) -> Result<Sweep, DocumentError> {
    Sweeper::over(bundle, setup_id, learned, axis, places)?.at_once()
}
