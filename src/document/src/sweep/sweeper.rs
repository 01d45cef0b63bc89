//! A sweep place by place: says which place is wanted next, takes it in, finds where the verdict turns.

use core::cmp::Ordering;

use liftmargin_core::limits::{State, Thresholds};

use super::axis::{SweepAxis, evenly, place_now, usual_places};
use super::point::{PointWork, SweepPoint};
use super::vary::{MassOf, Varied, saved_kg};
use super::{Crossing, PLACES, Side, Sweep};
use crate::apart::question;
use crate::error::DocumentError;
use crate::model::{Bundle, Setup};
use crate::record::closed;
use crate::resolve::{ResolvedAirframe, on_rotor, referred, resolve_on};
use crate::sheet::SheetInputs;
use crate::whatif::{WhatIf, apply};

/// Halvings when a crossing is looked for: to a hundredth of a step.
const HALVINGS: usize = 7;

/// A sweep in the making. Owns what it needs: the file may change meanwhile.
#[derive(Debug, Clone)]
pub struct Sweeper {
    bundle: Bundle,
    setup_id: String,
    learned: ResolvedAirframe,
    varied: Varied,
    /// Places that are still wanted, the last one first.
    waiting: Vec<f64>,
    /// Crossings that are still wanted.
    halving: Vec<Halving>,
    sweep: Sweep,
}

/// Neighbours of which one can be flown.
#[derive(Debug, Clone)]
struct Halving {
    side: Side,
    flyable: SweepPoint,
    beyond: SweepPoint,
    left: usize,
}

impl Halving {
    fn between(low: SweepPoint, high: SweepPoint, left: usize) -> Option<Self> {
        let (side, flyable, beyond) = match (low.state == State::No, high.state == State::No) {
            (false, true) => (Side::Above, low, high),
            (true, false) => (Side::Below, high, low),
            (true, true) | (false, false) => return None,
        };
        Some(Self { side, flyable, beyond, left })
    }

    fn middle(&self) -> f64 {
        f64::midpoint(self.flyable.at, self.beyond.at)
    }
}

impl Sweeper {
    /// Over the usual range of an axis; `learned` is the setup's own airframe.
    ///
    /// # Errors
    /// What the setup refers to is not there.
    pub fn over(
        bundle: &Bundle,
        setup_id: &str,
        learned: &ResolvedAirframe,
        axis: SweepAxis,
        places: usize,
    ) -> Result<Self, DocumentError> {
        let (_, setup) = referred::<Setup>(bundle, "setup", setup_id)?;
        let now = place_now(bundle, setup, axis)?;
        let places = usual_places(bundle, setup, axis, now, places);
        Ok(Self::new(closed(bundle, setup_id)?, setup_id, learned, Varied::Axis(axis), now, places))
    }

    /// Over the mass of one thing from none to `top_kg`, with whatever else a what-if changes.
    ///
    /// # Errors
    /// As `whatif::apply`; an item that is gone.
    pub fn over_mass(
        bundle: &Bundle,
        setup_id: &str,
        learned: &ResolvedAirframe,
        what_if: &WhatIf,
        of: MassOf,
        top_kg: f64,
    ) -> Result<Self, DocumentError> {
        let changed = apply(bundle, setup_id, &of.others(what_if))?;
        let now = saved_kg(bundle, &of)
            .ok_or_else(|| DocumentError::UnknownReference { path: "item".to_owned(), id: String::new() })?;
        let small = closed(&changed, setup_id)?;
        Ok(Self::new(small, setup_id, learned, Varied::Mass(of), now, evenly(0.0, top_kg, PLACES)))
    }

    fn new(
        bundle: Bundle,
        setup_id: &str,
        learned: &ResolvedAirframe,
        varied: Varied,
        now: f64,
        mut places: Vec<f64>,
    ) -> Self {
        let near = |place: &f64| (place - now).abs() <= 1e-9 * now.abs().max(1.0);
        places.retain(|place| !near(place));
        // The present place first: without it there is nothing to vary.
        places.sort_by(|a, b| b.total_cmp(a));
        places.push(now);
        let sweep = Sweep { now, ..Sweep::default() };
        let learned = learned.clone();
        let setup_id = setup_id.to_owned();
        Self { bundle, setup_id, learned, varied, waiting: places, halving: Vec::new(), sweep }
    }

    /// The place that is wanted next; none when all is found.
    pub fn wanted(&self) -> Option<f64> {
        self.waiting.last().copied().or_else(|| self.halving.last().map(Halving::middle))
    }

    /// Whether of the place wanted next the verdict is enough.
    pub fn wants_verdict_only(&self) -> bool {
        self.waiting.is_empty()
    }

    /// What core needs for a place.
    ///
    /// # Errors
    /// As `resolve`, for a place that misses a bound.
    pub fn inputs(&self, at: f64) -> Result<SheetInputs, DocumentError> {
        let varied = self.varied(at)?;
        let (setup, site) = resolve_on(&varied, &self.setup_id, |airframe| match self.varied {
            Varied::Axis(SweepAxis::RotorDiameter) => on_rotor(airframe, self.learned.fit.as_ref()),
            _ => Ok(self.learned.airframe.clone()),
        })?;
        Ok(SheetInputs { setup, site, thresholds: Thresholds::default() })
    }

    /// The question after a place's cautious figures (see `apart`).
    ///
    /// # Errors
    /// As `inputs`.
    pub fn question(&self, at: f64) -> Result<String, DocumentError> {
        question(&self.varied(at)?, &self.setup_id)
    }

    fn varied(&self, at: f64) -> Result<Bundle, DocumentError> {
        self.varied.at(&self.bundle, &self.setup_id, self.sweep.now, at)
    }

    /// The place wanted next, worked out at once.
    ///
    /// # Errors
    /// As `inputs` and `PointWork`.
    pub fn point(&self, at: f64) -> Result<SweepPoint, DocumentError> {
        let inputs = self.inputs(at)?;
        let mut work = PointWork::new(&inputs, self.wants_verdict_only()).map_err(DocumentError::of_core)?;
        while !work.step() {}
        Ok(work.finish(at))
    }

    /// Takes in the place that was wanted.
    ///
    /// # Errors
    /// That of the present place: without a card there is nothing to vary. Any other place is left out.
    pub fn take(&mut self, point: Result<SweepPoint, DocumentError>) -> Result<(), DocumentError> {
        if self.waiting.pop().is_some() {
            match point {
                Ok(point) => self.sweep.points.push(point),
                Err(fault) if self.sweep.points.is_empty() => return Err(fault),
                Err(_) => {}
            }
            if self.waiting.is_empty() {
                self.all_places_are_in();
            }
        } else if let Some(halving) = self.halving.pop() {
            self.halve(halving, point.ok());
        }
        Ok(())
    }

    fn all_places_are_in(&mut self) {
        let points = &mut self.sweep.points;
        points.sort_by(|a, b| a.at.partial_cmp(&b.at).unwrap_or(Ordering::Equal));
        let halvings = if self.varied == Varied::Axis(SweepAxis::Strings) { 0 } else { HALVINGS };
        let pairs = points.windows(2).rev().filter_map(|pair| match pair {
            [low, high] => Halving::between(*low, *high, halvings),
            _ => None,
        });
        self.halving = pairs.collect();
        self.settle();
    }

    fn halve(&mut self, mut halving: Halving, middle: Option<SweepPoint>) {
        let Some(middle) = middle else { return };
        halving.left -= 1;
        if middle.state == State::No {
            halving.beyond = middle;
        } else {
            halving.flyable = middle;
        }
        self.halving.push(halving);
        self.settle();
    }

    /// Crossings that are found move to the sweep.
    fn settle(&mut self) {
        while let Some(found) = self.halving.pop_if(|halving| halving.left == 0) {
            let Halving { side, flyable, beyond, .. } = found;
            self.sweep.crossings.push(Crossing { at: flyable.at, beyond: side, check: beyond.worst });
        }
    }

    /// The sweep as far as it is worked out.
    pub const fn so_far(&self) -> &Sweep {
        &self.sweep
    }

    /// All of it at once.
    ///
    /// # Errors
    /// As `take`.
    pub fn at_once(mut self) -> Result<Sweep, DocumentError> {
        while let Some(at) = self.wanted() {
            let point = self.point(at);
            self.take(point)?;
        }
        Ok(self.sweep)
    }
}
