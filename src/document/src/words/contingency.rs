//! What stands beside the card, in plain words: rotors, balance, lost strings, cold packs, speeds, sweeps.

use liftmargin_core::aircraft::BestSpeeds;
use liftmargin_core::card::LostString;
use liftmargin_core::flight::{FirstFailure, LossMoment, LossOutcome, WarmGain};
use liftmargin_core::frame::{Capability, RotorOut};
use liftmargin_core::mass::Slide;
use liftmargin_core::units::{ElectricCharge, ElectricCurrent, Length, Ratio, ThermodynamicTemperature};

use super::{checks, lower_first};
use crate::model::{Airframe, Bundle, Setup};
use crate::present::answer::{self, Toward, round_to};
use crate::present::number::{write, write_trimmed};
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};
use crate::record::Record;
use crate::sweep::{Crossing, Side, Sweep, SweepAxis};

/// A slide or an offset smaller than this is none, m.
const NOTHING_M: f64 = 0.0005;
/// Warming is advised from this gain on, s: a crew can use a minute.
const WORTH_WARMING_S: f64 = 60.0;

/// What the rest can do with a rotor stopped. `thrust_to_weight` with all rotors at work. Heading held and heading
/// given up each stand with their own figure.
pub fn rotor_out(out: &RotorOut, thrust_to_weight: Ratio, units: Units) -> String {
    let number = out.failed + 1;
    let [held, turning] = [out.hold.with_heading(), out.hold.level()].map(|share| share * thrust_to_weight);
    let words = |left: Ratio| answer::thrust_to_weight(left, units);
    let why_turning = match out.hold.capability {
        Capability::CannotHoldLevel => {
            return format!(
                "Rotor {number} stopped: it cannot hold level and falls. Keep people from under it."
            );
        }
        Capability::HoldsLevelAndHeading => format!(": heading held would leave only {}", words(held)),
        Capability::HoldsLevelTurning { heading_at_boundary: true } => {
            ": the heading holds on paper only, with nothing left one way".to_owned()
        }
        Capability::HoldsLevelTurning { heading_at_boundary: false } => String::new(),
    };
    if held.value >= 1.0 {
        format!(
            "Rotor {number} stopped: holds level and heading with {} of thrust-to-weight ({} if it may turn). \
             A static figure: land at once.",
            words(held),
            words(turning)
        )
    } else if turning.value >= 1.0 {
        format!(
            "Rotor {number} stopped: stays level, turns: land at once. {} of thrust-to-weight while turning{why_turning}.",
            words(turning)
        )
    } else {
        format!(
            "Rotor {number} stopped: stays level at best, but sinks: {} of thrust-to-weight. It does not land whole.",
            words(turning)
        )
    }
}

/// Where to slide something for balance.
pub fn slide(slide: &Slide, units: Units) -> String {
    let along = move_words(slide.forward, "forward", "backward", units);
    let across = move_words(slide.right, "to the right", "to the left", units);
    match (along, across) {
        (None, None) => "It balances where it is.".to_owned(),
        (Some(one), None) | (None, Some(one)) => format!("Slide it {one}."),
        (Some(along), Some(across)) => format!("Slide it {along} and {across}."),
    }
}

fn move_words(by: Length, ahead: &str, back: &str, units: Units) -> Option<String> {
    let way = if by.value > 0.0 { ahead } else { back };
    (by.value.abs() >= NOTHING_M).then(|| format!("{} {way}", part_length(by.abs(), units)))
}

/// A length of a part, to a millimetre or a twentieth of an inch.
pub fn part_length(length: Length, units: Units) -> String {
    let unit = units.get(Choice::Part);
    let decimals = if unit == Unit::Inch { 2 } else { 0 };
    format!("{}\u{a0}{}", write(unit.from_si(length.value), decimals, units.decimal_mark()), unit.symbol())
}

/// When a string is lost.
pub const fn loss_moment(when: LossMoment) -> &'static str {
    match when {
        LossMoment::TakeOff => "at lift-off",
        LossMoment::OnSetShare(_) => "halfway on set",
        LossMoment::TurnBack => "when turning back",
    }
}

/// What becomes of one lost string.
pub fn lost_string(lost: &LostString, units: Units) -> String {
    let outcome = match lost.lost.outcome {
        LossOutcome::CarriesAlone => "the rest brings it down within its limits".to_owned(),
        LossOutcome::FailsFirst(failure) => format!("first to fail is {}", first_failure(failure)),
    };
    let current = lost.lost.loads.iter().map(|load| load.current).reduce(ElectricCurrent::max);
    let left = lost.lost.loads.iter().map(|load| load.left_at_touchdown).reduce(ElectricCharge::min);
    let strain = current.zip(lost.lost.cell_voltage_lowest).map(|(current, lowest)| {
        let (current, lowest) = (answer::current(current, units), answer::cell_voltage(lowest, units));
        format!("; up to {current} a string, {lowest} a cell at the lowest")
    });
    let left = left.map(|left| format!(", with {} left in each", answer::charge(left, units)));
    format!(
        "String {} lost {}: {outcome}{}. Down within {}, the way down takes {}{}.",
        lost.string + 1,
        loss_moment(lost.when),
        strain.unwrap_or_default(),
        answer::time(lost.lost.down_within),
        answer::time(lost.lost.way_down),
        left.unwrap_or_default(),
    )
}

const fn first_failure(failure: FirstFailure) -> &'static str {
    match failure {
        FirstFailure::NoStringLeft => "everything: there is no other string",
        FirstFailure::VoltageCollapse => "the voltage: more power is asked than the rest can give",
        FirstFailure::LoadedCellFloor => "the cell-voltage floor",
        FirstFailure::CRating => "the packs' C rating",
        FirstFailure::Charge => "the charge",
    }
}

/// Advice to warm the packs, where cold costs more than a minute.
pub fn warming(gain: &WarmGain, to: ThermodynamicTemperature, units: Units) -> Option<String> {
    (gain.gained.value >= WORTH_WARMING_S).then(|| {
        format!(
            "Cold packs cost time: warmed to {} before take-off they fly {} longer.",
            answer::temperature(to, units),
            answer::time(gain.gained)
        )
    })
}

/// The best airspeeds.
pub fn speeds(best: Option<&BestSpeeds>, units: Units) -> String {
    match best {
        None => "The wind is as fast as the aircraft may fly.".to_owned(),
        Some(best) => format!(
            "Best endurance {}, best range into this wind {}.",
            answer::wind(best.endurance, units),
            answer::wind(best.range, units)
        ),
    }
}

/// What a sweep varies, and the unit it is shown in; none where the unit is the number's own.
pub fn sweep_axis(axis: SweepAxis, units: Units) -> (&'static str, Unit) {
    match axis {
        SweepAxis::PayloadMass => ("Payload mass", units.get(Choice::Mass)),
        SweepAxis::RotorDiameter => ("Rotor diameter", units.get(Choice::Part)),
        SweepAxis::Wind => ("Mean wind", units.get(Choice::Speed)),
        SweepAxis::Distance => ("Distance to the set", units.get(Choice::Distance)),
        SweepAxis::Elevation => ("Elevation", units.get(Choice::Distance)),
        SweepAxis::Temperature => ("Temperature of air and packs", units.get(Choice::Temperature)),
        SweepAxis::Strings => ("Strings in parallel", Unit::Count),
        SweepAxis::PackCapacity => ("Capacity of each pack", Unit::MilliampereHour),
    }
}

/// A place on a sweep's axis as it is shown.
pub fn sweep_place(axis: SweepAxis, at: f64, units: Units) -> f64 {
    let (_, shown) = sweep_axis(axis, units);
    match axis {
        SweepAxis::Temperature => shown.from_si(Unit::Celsius.to_si(at)),
        // Kilograms, metres and metres per second are SI; counts and mAh are shown as they are.
        SweepAxis::PayloadMass
        | SweepAxis::RotorDiameter
        | SweepAxis::Wind
        | SweepAxis::Distance
        | SweepAxis::Elevation => shown.from_si(at),
        SweepAxis::Strings | SweepAxis::PackCapacity => at,
    }
}

/// What a sweep stands on, for the page that shows it.
pub fn sweep_note(bundle: &Bundle, setup_id: &str, axis: SweepAxis, units: Units) -> String {
    let own = match axis {
        SweepAxis::Wind => {
            "Gusts go with the wind as for the greatest wind: as far above the mean as at the site, and at least 1.66 times the mean."
                .to_owned()
        }
        SweepAxis::RotorDiameter => rotor_note(bundle, setup_id, units),
        _ => String::new(),
    };
    let all = "Cautious: one flight in ten has less. Each place has the samples of its own card; between places a straight line.";
    format!("{all} {own}").trim_end().to_owned()
}

/// Nothing but the diameter is varied, and a bench table stays that of the rotor it was measured with.
fn rotor_note(bundle: &Bundle, setup_id: &str, units: Units) -> String {
    let airframe =
        Setup::find(bundle, setup_id).and_then(|(_, setup)| Airframe::find(bundle, &setup.airframe));
    let measured_m = airframe.and_then(|(_, airframe)| airframe.measured_rotor_m());
    let table = measured_m.map(|measured_m| {
        let rotor = part_length(Length::new::<uom::si::length::meter>(measured_m), units);
        format!(" The bench table was measured with a rotor of {rotor}: any other counts with a wider doubt.")
    });
    format!("Only the diameter is varied: motor, arms and masses stay.{}", table.unwrap_or_default())
}

/// Decimals and step of a place where a limit is crossed: no finer than it is found, coarser than a field keeps.
const fn crossing_step(unit: Unit) -> (usize, f64) {
    match unit {
        Unit::Kilogram | Unit::Pound | Unit::Inch => (1, 0.1),
        Unit::Celsius | Unit::Fahrenheit | Unit::MetrePerSecond => (1, 0.5),
        Unit::Metre | Unit::Foot => (0, 10.0),
        Unit::MilliampereHour => (0, 50.0),
        _ => (0, 1.0),
    }
}

/// Where a limit is crossed, in a sentence each.
pub fn crossings(sweep: &Sweep, axis: SweepAxis, units: Units) -> String {
    if sweep.crossings.is_empty() {
        return "No limit is crossed in this range.".to_owned();
    }
    let (_, unit) = sweep_axis(axis, units);
    let words = |crossing: &Crossing| {
        let shown = sweep_place(axis, crossing.at, units);
        let (decimals, step) = crossing_step(unit);
        // Rounded to the side that can be flown.
        let (side, toward) = match crossing.beyond {
            Side::Below => ("Below", Toward::Up),
            Side::Above => ("Above", Toward::Down),
        };
        let place = write_trimmed(round_to(shown, step, toward), decimals, units.decimal_mark());
        let check = crossing.check.map_or("a check", checks::name);
        let place = format!("{place}\u{a0}{}", unit.symbol());
        format!("{side} {} it says no: {}.", place.trim_end(), lower_first(check))
    };
    sweep.crossings.iter().map(words).collect::<Vec<_>>().join(" ")
}
