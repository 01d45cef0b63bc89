//! What recordings teach of the packs that were flown: resistance of a cell under load, and with a rest voltage after the
//! flight the capacity.
//!
//! Formula   cell: i = I / strings, v = (U + I R_bus + i R_string) / cells in series; resistance by `cell::learn` over all
//!           recordings of the same packs; capacity = charge used / (state of charge at the start − at rest after it)
//! Units     SI inside; mΩ, mAh on the edges
//! Source    `cell::learn`, the open-circuit curves of `cell`; a voltmeter is off by 10 mV a cell: common practice, no source
//! Valid     a recording of bus voltage and current; all packs of one sort
//! Checked   a recording made by the packs' own model gives its resistance and capacity back (tests/it/log_packs.rs)
//! Assumes   full packs unless a rest voltage was entered. The packs' warmth is not known: what a cold pack shows counts as
//!           at 25 °C (too high, the cautious way), and what a warm one shows too (too low by what the warmth gave: fly it warm
//!           only). A capacity above the maker's is not believed.

use core::fmt;

use liftmargin_core::cell::{
    CellBehaviour, CellParams, Chemistry, Learned, Run, RunPoint, learn, predict, state_of_charge_at_rest,
};
use liftmargin_core::input_error::InputError;
use liftmargin_core::supply::{Pack, Supply};
use liftmargin_core::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, Time,
};
use uom::si::electric_charge::{coulomb, milliampere_hour};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::{millivolt, volt};
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::entry::recording_of;
use super::freeze::{flown_bundle, resolve_flown};
use crate::error::DocumentError;
use crate::model::{self, Bundle, Flight, PackRef, PackType, Setup};
use crate::record::{List, Record};
use crate::trace::TraceRow;

/// Means that a recording is learned from: the learner needs the course, not the noise.
const BINS: usize = 300;
const MOST_RUNS: usize = 6;
const VOLTMETER_V: f64 = 0.010;
/// Less of the pack says too little of the whole.
const LEAST_SPAN: f64 = 0.3;
const GREATEST_CAPACITY_ERROR: f64 = 0.10;

/// What recordings teach of packs: to be shown, and taken only when a person says so.
#[derive(Debug, Clone, PartialEq)]
pub struct PackLesson {
    /// Pack types or single packs, with their names.
    pub packs: Vec<(List, String, String)>,
    /// Recordings learned from.
    pub recordings: usize,
    /// Resistance of one cell at 25 °C.
    pub cell_resistance_mohm: f64,
    /// The one in force.
    pub cell_resistance_before_mohm: f64,
    /// One standard deviation, as a share.
    pub resistance_spread: f64,
    /// Mean error of a cell's voltage where it was held out.
    pub held_out_error_mv: f64,
    /// Capacity, and one standard deviation as a share; none without a rest voltage after enough of the pack.
    pub capacity_mah: Option<(f64, f64)>,
    /// The one in force.
    pub capacity_before_mah: f64,
}

/// Why nothing is learned of packs.
#[derive(Debug, Clone, PartialEq)]
pub enum LessonFault {
    /// No recording is kept of the flight.
    NoRecording,
    /// It lacks voltage or current.
    NoCourse,
    /// The packs were not all of one sort.
    MixedPacks,
    /// They are not here any more.
    PacksGone,
    /// What was flown cannot be resolved.
    Flown(DocumentError),
    /// The learner refuses.
    Refused(InputError),
    /// Curve and resistance cannot be told apart with confidence.
    InDoubt {
        /// Spread of the resistance, per cent.
        spread_percent: f64,
        /// Held-out error of a cell, mV.
        held_out_mv: f64,
    },
}

impl fmt::Display for LessonFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoRecording => write!(f, "no recording is kept of this flight"),
            Self::NoCourse => write!(f, "the recording lacks voltage or current over most of the flight"),
            Self::MixedPacks => write!(f, "the packs on board were not all of one sort"),
            Self::PacksGone => write!(f, "the packs that were flown are not here any more"),
            Self::Flown(fault) => write!(f, "what was flown cannot be read: {fault}"),
            Self::Refused(fault) => write!(f, "{fault}"),
            Self::InDoubt { spread_percent, held_out_mv } => write!(
                f,
                "resistance and curve cannot be told apart (resistance ±{spread_percent:.0} %, error {held_out_mv:.0} mV a cell \
                 where held out): record another flight at another power"
            ),
        }
    }
}

/// What the recording of a flight teaches of its packs, with up to five more of the same packs.
///
/// # Errors
/// Why nothing is learned.
pub fn pack_lesson(bundle: &Bundle, flight_id: &str) -> Result<PackLesson, LessonFault> {
    let (_, flight) = Flight::find(bundle, flight_id).ok_or(LessonFault::NoRecording)?;
    let own = Flown::of(bundle, flight)?;
    let packs = own.named(bundle)?;
    let capacity = own.capacity(flight);
    let as_run_c = capacity.map_or(own.capacity_c, |(capacity_c, _)| capacity_c);
    let others = bundle.flights.iter().rev().filter(|other| other.id != flight.id);
    let others = others.filter_map(|other| Flown::of(bundle, other).ok().filter(|it| it.ids == own.ids));
    let runs: Vec<Run> = core::iter::once(own.run(as_run_c))
        .chain(others.take(MOST_RUNS - 1).map(|other| other.run(as_run_c)))
        .collect();
    // Another recording that does not fit must not keep this one from teaching.
    let learned = learn(&runs).or_else(|_| learn(&runs[..1])).map_err(LessonFault::Refused)?;
    let held_out_error_mv = learned.held_out_error.get::<millivolt>();
    if learned.in_doubt {
        let spread_percent = 100.0 * learned.resistance_spread.value;
        return Err(LessonFault::InDoubt { spread_percent, held_out_mv: held_out_error_mv });
    }
    let mah = |charge_c: f64| ElectricCharge::new::<coulomb>(charge_c).get::<milliampere_hour>();
    Ok(PackLesson {
        packs,
        recordings: runs.len(),
        cell_resistance_mohm: under_load(&runs, &learned).map_err(LessonFault::Refused)?,
        cell_resistance_before_mohm: own.resistance_mohm,
        resistance_spread: learned.resistance_spread.value,
        held_out_error_mv,
        capacity_mah: capacity.map(|(capacity_c, error)| (mah(capacity_c), error)),
        capacity_before_mah: mah(own.capacity_c),
    })
}

/// The resistance with which the usual behaviour shows the sag that was learned, milliohms: a pack holds that one number,
/// and the learned one goes with its own bend over current. Linear in the resistance: least squares over all points.
fn under_load(runs: &[Run], learned: &Learned) -> Result<f64, InputError> {
    const AT_MOHM: f64 = 1.0;
    let at = ElectricalResistance::new::<milliohm>(AT_MOHM);
    let usual = CellBehaviour::default();
    let without_curve_error = CellBehaviour { curve_error: usual.curve_error, ..learned.behaviour };
    let (mut along, mut square) = (0.0, 0.0);
    for run in runs {
        let shown = predict(run, learned.cell.resistance, &without_curve_error)?;
        let once = predict(run, at, &usual)?;
        let twice = predict(run, at * 2.0, &usual)?;
        for ((shown, once), twice) in shown.iter().zip(&once).zip(&twice) {
            let slope = (*once - *twice).value;
            along += slope * (*once - *shown).value;
            square += slope * slope;
        }
    }
    let more = if square > 0.0 { along / square } else { 0.0 };
    let resistance = ElectricalResistance::new::<milliohm>(AT_MOHM * (1.0 + more));
    Ok(1000.0 * CellParams::RESISTANCE.check(resistance.value)?)
}

/// A bundle in which what was learned stands as measured.
pub fn take_lesson(bundle: &Bundle, lesson: &PackLesson) -> Bundle {
    let mut taught = bundle.clone();
    let resistance = Some((lesson.cell_resistance_mohm * 1000.0).round() / 1000.0);
    let capacity = lesson.capacity_mah.map(|(capacity_mah, _)| (capacity_mah / 50.0).floor() * 50.0);
    for (list, id, _) in &lesson.packs {
        let measured = if *list == List::PackTypes {
            PackType::find_mut(&mut taught, id)
                .map(|own| (&mut own.measured_cell_resistance_mohm, &mut own.measured_capacity_mah))
        } else {
            model::Pack::find_mut(&mut taught, id)
                .map(|own| (&mut own.measured_cell_resistance_mohm, &mut own.measured_capacity_mah))
        };
        if let Some((own_resistance, own_capacity)) = measured {
            *own_resistance = resistance;
            *own_capacity = capacity.or(*own_capacity);
        }
    }
    taught
}

/// A flight with a recording, its supply as flown.
struct Flown {
    ids: Vec<PackRef>,
    chemistry: Chemistry,
    /// In force, and as the maker states it.
    capacity_c: f64,
    new_capacity_c: f64,
    resistance_mohm: f64,
    start: f64,
    cells: f64,
    strings: f64,
    string_ohm: f64,
    bus_ohm: f64,
    course: Vec<RunPoint>,
}

impl Flown {
    fn of(bundle: &Bundle, flight: &Flight) -> Result<Self, LessonFault> {
        let recording = recording_of(bundle, &flight.id).ok_or(LessonFault::NoRecording)?;
        let (alone, setup_id) = flown_bundle(bundle, flight).map_err(LessonFault::Flown)?;
        let (setup, _) = resolve_flown(bundle, flight, false).map_err(LessonFault::Flown)?;
        let supply: &Supply = &setup.supply;
        let mut ids: Vec<PackRef> = Setup::find(&alone, &setup_id)
            .map(|(_, setup)| setup.supply.strings.iter().flat_map(|string| string.packs.clone()).collect())
            .unwrap_or_default();
        let mut seen: Vec<PackRef> = Vec::new();
        ids.retain(|id| {
            !seen.contains(id) && {
                seen.push(id.clone());
                true
            }
        });
        let packs: Vec<&Pack> = supply.strings.iter().flat_map(|string| &string.packs).collect();
        let first = *packs.first().ok_or(LessonFault::MixedPacks)?;
        let is_alike = |pack: &&Pack| {
            pack.cell.chemistry == first.cell.chemistry
                && pack.cell.capacity == first.cell.capacity
                && pack.cells_in_series == first.cells_in_series
        };
        if !packs.iter().all(is_alike) {
            return Err(LessonFault::MixedPacks);
        }
        let of_pack = |pack: &Pack| f64::from(pack.cells_in_series);
        let chemistry = first.cell.chemistry;
        let start = first.rest_voltage.map_or(Ok(Ratio::new::<ratio>(1.0)), |rest| {
            state_of_charge_at_rest(chemistry, rest / of_pack(first))
        });
        let capacity = |pack: &&Pack| pack.health.measured_capacity.unwrap_or(pack.cell.capacity).value;
        let resistance = |pack: &&Pack| {
            pack.health.measured_cell_resistance.unwrap_or(pack.cell.resistance).get::<milliohm>()
        };
        let strings = supply.strings.len().max(1) as f64;
        let mut flown = Self {
            ids,
            chemistry,
            capacity_c: packs.iter().map(capacity).fold(f64::INFINITY, f64::min),
            new_capacity_c: first.cell.capacity.value,
            resistance_mohm: packs.iter().map(resistance).fold(0.0, f64::max),
            start: start.map_err(LessonFault::Refused)?.value,
            cells: packs.iter().map(|pack| of_pack(pack)).sum::<f64>() / strings,
            strings,
            string_ohm: supply.string_resistance.value,
            bus_ohm: supply.bus_resistance.value,
            course: Vec::new(),
        };
        flown.course = flown.course_of(&recording.points.rows())?;
        Ok(flown)
    }

    /// Means over equal pieces of the time, of one cell.
    fn course_of(&self, rows: &[TraceRow]) -> Result<Vec<RunPoint>, LessonFault> {
        let whole = |row: &&TraceRow| row.voltage_v.is_finite() && row.current_a.is_finite();
        let rows: Vec<&TraceRow> = rows.iter().filter(whole).collect();
        let (first_s, last_s) = match (rows.first(), rows.last()) {
            (Some(first), Some(last)) if last.time_s > first.time_s => (first.time_s, last.time_s),
            _ => return Err(LessonFault::NoCourse),
        };
        let bins = BINS.min(rows.len() / 4).max(1) as f64;
        let bin = |row: &TraceRow| ((row.time_s - first_s) / (last_s - first_s) * bins) as usize;
        let mut course = Vec::new();
        for part in rows.chunk_by(|one, other| bin(one) == bin(other)) {
            let mean = |value: fn(&TraceRow) -> f64| {
                part.iter().map(|row| value(row)).sum::<f64>() / part.len() as f64
            };
            let (bus_a, bus_v) = (mean(|row| row.current_a), mean(|row| row.voltage_v));
            let cell_a = bus_a / self.strings;
            course.push(RunPoint {
                time: Time::new::<second>(mean(|row| row.time_s)),
                current: ElectricCurrent::new::<ampere>(cell_a),
                voltage: ElectricPotential::new::<volt>(
                    (bus_v + bus_a * self.bus_ohm + cell_a * self.string_ohm) / self.cells,
                ),
            });
        }
        Ok(course)
    }

    fn run(&self, capacity_c: f64) -> Run {
        Run {
            chemistry: self.chemistry,
            capacity: ElectricCharge::new::<coulomb>(capacity_c),
            start: Ratio::new::<ratio>(self.start),
            points: self.course.clone(),
        }
    }

    /// In coulombs, and one standard deviation as a share.
    fn capacity(&self, flight: &Flight) -> Option<(f64, f64)> {
        let rest_v = flight.rest_cell_voltage_v?;
        let left = |off_v: f64| {
            state_of_charge_at_rest(self.chemistry, ElectricPotential::new::<volt>(rest_v + off_v))
        };
        let (low, high) = (left(-VOLTMETER_V).ok()?.value, left(VOLTMETER_V).ok()?.value);
        let span = self.start - left(0.0).ok()?.value;
        let used_mah = flight.used_mah.or(flight.recording.as_ref()?.used_mah)?;
        let used_c = ElectricCharge::new::<milliampere_hour>(used_mah).value / self.strings;
        let error = 0.5 * (high - low) / span;
        let is_sound = span >= LEAST_SPAN && (0.0..=GREATEST_CAPACITY_ERROR).contains(&error);
        is_sound.then(|| ((used_c / span).min(self.new_capacity_c), error))
    }

    fn named(&self, bundle: &Bundle) -> Result<Vec<(List, String, String)>, LessonFault> {
        let named = |pack: &PackRef| {
            let (list, id) = match pack {
                PackRef::Type(id) => (List::PackTypes, id),
                PackRef::Pack(id) => (List::Packs, id),
            };
            Some((list, id.clone(), list.name(bundle, id)?))
        };
        self.ids.iter().map(|pack| named(pack).ok_or(LessonFault::PacksGone)).collect()
    }
}
