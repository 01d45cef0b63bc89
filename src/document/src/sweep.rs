//! What a builder asks: minutes, margin and current over a range of mass, altitude, temperature, packs.
//!
//! Formula: the card of the setup with one thing varied. Units: each axis's own, the file's. Source: none of its own.

use liftmargin_core::card::{Airframe, Outcome, card};
use liftmargin_core::limits::{CheckKind, State, Thresholds};
use liftmargin_core::supply::MeterPlace;
use liftmargin_core::units::{ElectricCurrent, Ratio, Time};

use crate::error::DocumentError;
use crate::model::{Bundle, Item, Pack, PackRef, PackString, PackType, Setup, Site};
use crate::record::{Record, closed};
use crate::resolve::{referred, resolve_on};

/// Standard lapse of temperature with height, U.S. Standard Atmosphere 1976, K/m.
const LAPSE_K_M: f64 = 0.0065;
/// Halvings when a crossing is looked for: to a thousandth of a step.
const HALVINGS: usize = 10;

/// What is varied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SweepAxis {
    /// Mass of all payload on board, kg; every item scaled alike.
    PayloadMass,
    /// Elevation of the site, m; QNH as it is, temperature by the standard lapse from where it is.
    Elevation,
    /// Temperature of air and packs, °C.
    Temperature,
    /// Strings in parallel, all like the first.
    Strings,
    /// Capacity of every pack, mAh, with its mass in proportion and its resistance inversely so.
    PackCapacity,
}

impl SweepAxis {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::PayloadMass, Self::Elevation, Self::Temperature, Self::Strings, Self::PackCapacity];

    /// Stable key.
    pub const fn key(self) -> &'static str {
        match self {
            Self::PayloadMass => "payload-mass",
            Self::Elevation => "elevation",
            Self::Temperature => "temperature",
            Self::Strings => "strings",
            Self::PackCapacity => "pack-capacity",
        }
    }
}

/// One place on the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SweepPoint {
    /// The place, in the axis's unit.
    pub at: f64,
    /// Flight time; none without a flight.
    pub flight_time: Option<Time>,
    /// Greatest level thrust over weight, packs as they are at the start.
    pub thrust_to_weight: Ratio,
    /// Bus current in hover, without the steady load; none where the packs cannot feed it.
    pub hover_current: Option<ElectricCurrent>,
    /// Whether every check holds.
    pub state: State,
    /// The worst check.
    pub worst: Option<CheckKind>,
}

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
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// Where the setup is now.
    pub now: f64,
    /// From low to high; places that miss a bound are left out.
    pub points: Vec<SweepPoint>,
    /// Where a limit is crossed.
    pub crossings: Vec<Crossing>,
}

/// Sweeps one setup over the usual range of an axis in so many places; `airframe` is the setup's own, resolved once.
///
/// # Errors
/// Where the setup as it is has no card.
pub fn sweep(
    bundle: &Bundle,
    setup_id: &str,
    airframe: &Airframe,
    axis: SweepAxis,
    places: usize,
) -> Result<Sweep, DocumentError> {
    let (_, setup) = referred::<Setup>(bundle, "setup", setup_id)?;
    let now = place_now(bundle, setup, axis)?;
    let small = closed(bundle, setup_id)?;
    let scene = Scene { bundle: &small, setup_id, airframe, axis, now };
    scene.point(now)?;
    let points: Vec<SweepPoint> =
        usual_places(axis, now, places).into_iter().filter_map(|at| scene.point(at).ok()).collect();
    let crossings = points.windows(2).filter_map(|pair| scene.crossing(pair)).collect();
    Ok(Sweep { now, points, crossings })
}

fn place_now(bundle: &Bundle, setup: &Setup, axis: SweepAxis) -> Result<f64, DocumentError> {
    let site = || referred::<Site>(bundle, "site", &setup.site).map(|(_, site)| site);
    Ok(match axis {
        SweepAxis::PayloadMass => payload_kg(bundle, setup),
        SweepAxis::Elevation => site()?.elevation_m,
        SweepAxis::Temperature => site()?.temperature_c,
        SweepAxis::Strings => setup.supply.strings.len() as f64,
        SweepAxis::PackCapacity => {
            let first = setup.supply.strings.first().and_then(|string| string.packs.first());
            first_type(bundle, first)?.capacity_mah
        }
    })
}

fn first_type<'a>(bundle: &'a Bundle, pack: Option<&PackRef>) -> Result<&'a PackType, DocumentError> {
    let of = match pack {
        None => "",
        Some(PackRef::Type(id)) => id.as_str(),
        Some(PackRef::Pack(id)) => referred::<Pack>(bundle, "supply.strings", id)?.1.pack_type.as_str(),
    };
    referred::<PackType>(bundle, "supply.strings", of).map(|(_, of)| of)
}

fn payload_kg(bundle: &Bundle, setup: &Setup) -> f64 {
    let on_board = setup.load.iter().filter(|load| load.on);
    on_board.filter_map(|load| Item::find(bundle, &load.item)).map(|(_, item)| item.mass_kg).sum()
}

/// Common practice, no source: what a builder would look at around the present place.
fn usual_places(axis: SweepAxis, now: f64, places: usize) -> Vec<f64> {
    let (from, to) = match axis {
        SweepAxis::PayloadMass => (0.0, (2.0 * now).max(1.0)),
        SweepAxis::Elevation => (0.0_f64.min(now), 5000.0),
        SweepAxis::Temperature => (-20.0, 45.0),
        SweepAxis::Strings => return (1..=8).map(f64::from).collect(),
        SweepAxis::PackCapacity => (0.4 * now, 2.5 * now),
    };
    let steps = places.max(2) - 1;
    (0..=steps).map(|step| from + (to - from) * step as f64 / steps as f64).collect()
}

/// A setup with one thing to be varied.
struct Scene<'a> {
    bundle: &'a Bundle,
    setup_id: &'a str,
    airframe: &'a Airframe,
    axis: SweepAxis,
    now: f64,
}

impl Scene<'_> {
    fn point(&self, at: f64) -> Result<SweepPoint, DocumentError> {
        let mut bundle = self.bundle.clone();
        vary(&mut bundle, self.axis, self.now, at);
        let (ready, site) = resolve_on(&bundle, self.setup_id, |_| Ok(self.airframe.clone()))?;
        let card = card(&ready, &site, &Thresholds::default()).map_err(DocumentError::of_core)?;
        let flight = match &card.outcome {
            Outcome::Flies(flight) => Some(flight.flight_time),
            _ => None,
        };
        let bus = ready.supply.source_at_start().ok().and_then(|source| source.voltage_at(card.hover.power));
        Ok(SweepPoint {
            at,
            flight_time: flight,
            thrust_to_weight: card.hover.thrust_to_weight,
            hover_current: bus.map(|bus| card.hover.power / bus),
            state: card.verdict.state,
            worst: card.verdict.worst,
        })
    }

    /// Between two neighbours of which one can be flown.
    fn crossing(&self, pair: &[SweepPoint]) -> Option<Crossing> {
        let [low, high] = pair else { return None };
        let (side, mut flyable, mut beyond) = match (low.state == State::No, high.state == State::No) {
            (false, true) => (Side::Above, *low, *high),
            (true, false) => (Side::Below, *high, *low),
            (true, true) | (false, false) => return None,
        };
        if self.axis != SweepAxis::Strings {
            for _ in 0..HALVINGS {
                let middle = self.point(f64::midpoint(flyable.at, beyond.at)).ok()?;
                if middle.state == State::No {
                    beyond = middle;
                } else {
                    flyable = middle;
                }
            }
        }
        Some(Crossing { at: flyable.at, beyond: side, check: beyond.worst })
    }
}

/// Varies a bundle that holds one setup and what it needs.
fn vary(bundle: &mut Bundle, axis: SweepAxis, now: f64, at: f64) {
    let site = bundle.sites.iter_mut();
    let setups = bundle.setups.iter_mut();
    match axis {
        SweepAxis::PayloadMass => {
            let factor = if now > 0.0 { at / now } else { 1.0 };
            bundle.items.iter_mut().for_each(|item| item.mass_kg *= factor);
        }
        SweepAxis::Elevation => site.for_each(|site| {
            site.elevation_m = at;
            site.temperature_c -= LAPSE_K_M * (at - now);
        }),
        SweepAxis::Temperature => {
            site.for_each(|site| site.temperature_c = at);
            // Packs of which nothing is told are as the air.
            let strings = setups.flat_map(|setup| &mut setup.supply.strings);
            strings.filter_map(|string| string.temperature_c.as_mut()).for_each(|told| *told += at - now);
        }
        SweepAxis::Strings => {
            for supply in setups.map(|setup| &mut setup.supply) {
                let first = supply.strings.first().cloned().unwrap_or_default();
                supply.strings =
                    (0..at as usize).map(|number| like(&first, number, &mut bundle.packs)).collect();
                // A meter on a string that is gone would be refused.
                supply.meter = MeterPlace::Bus.key();
            }
        }
        SweepAxis::PackCapacity => {
            let factor = at / now;
            for of in &mut bundle.pack_types {
                of.capacity_mah *= factor;
                of.mass_kg *= factor;
                of.cell_resistance_mohm /= factor;
                scale(&mut of.measured_capacity_mah, factor);
                scale(&mut of.measured_cell_resistance_mohm, 1.0 / factor);
            }
            for pack in &mut bundle.packs {
                scale(&mut pack.measured_capacity_mah, factor);
                scale(&mut pack.measured_cell_resistance_mohm, 1.0 / factor);
            }
        }
    }
}

/// One more string like another: a certain pack is on board once, so that each string gets one of the same age.
fn like(string: &PackString, number: usize, packs: &mut Vec<Pack>) -> PackString {
    let mut own = string.clone();
    for id in own.packs.iter_mut().filter_map(|pack| match pack {
        PackRef::Pack(id) => Some(id),
        PackRef::Type(_) => None,
    }) {
        if let Some(pack) = packs.iter().find(|pack| pack.id == *id) {
            *id = format!("{id} in string {number}");
            let same_age = Pack { id: id.clone(), ..pack.clone() };
            packs.push(same_age);
        }
    }
    own
}

fn scale(measured: &mut Option<f64>, factor: f64) {
    *measured = measured.map(|measured| measured * factor);
}
