//! Sentences for people, from core's typed refusals, limits and outcomes.

use liftmargin_core::flight::{FlightLimit, NoFlight, ReservePolicy};
use liftmargin_core::frame::LayoutFault;
use liftmargin_core::input_error::InputError;
use liftmargin_core::profile::LegKind;
use liftmargin_core::propulsion::{BenchFault, Evidence, ThrustLimit, UnitFault};
use liftmargin_core::supply::{MeterPlace, SupplyFault};
use liftmargin_core::units::{ElectricCharge, Force, Velocity};
use liftmargin_core::{
    card::{LegBeyond, Outcome},
    constants::STANDARD_GRAVITY_M_S2,
};
use uom::si::{f64::Mass, mass::kilogram};

use super::{labels::label, wind};
use crate::model::Site;
use crate::present::answer::{self, Toward, stepped};
use crate::present::entry::EntryFault;
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};

/// Why core refuses, and what to change.
pub fn refusal(refusal: &InputError, units: Units) -> String {
    match refusal {
        InputError::OutOfRange { range, .. } => EntryFault::OutOfRange { range }.words(range, units),
        InputError::Bench(fault) => bench_fault(fault),
        InputError::Layout(LayoutFault::TooFewRotors { rotors }) => {
            format!("{rotors} rotors cannot hold level: give at least 3.")
        }
        InputError::Layout(LayoutFault::CentreOfGravityOutside) => {
            "The rotors cannot hold this level: the centre of gravity is too far out. Move payload or packs."
                .to_owned()
        }
        InputError::Supply(fault) => supply_fault(fault),
        InputError::Unit(UnitFault::Missing { field }) => format!("{} is needed.", label(field)),
        InputError::Unit(UnitFault::NoThrust { limit, bus_voltage }) => {
            let voltage = answer::voltage(*bus_voltage, units);
            format!("No thrust at all at {voltage}: {} forbids it.", lower_first(thrust_limit(*limit)))
        }
        other => sentence(&other.to_string()),
    }
}

fn bench_fault(fault: &BenchFault) -> String {
    match fault {
        BenchFault::TooFewRows { rows, least } => {
            format!("{rows} usable rows are too few: paste at least {least}.")
        }
        other => sentence(&other.to_string()),
    }
}

fn supply_fault(fault: &SupplyFault) -> String {
    match fault {
        SupplyFault::Empty => "Put at least one pack in each string.".to_owned(),
        SupplyFault::UnequalStrings { string, cells, expected } => format!(
            "Never join these in parallel: string {} has {cells} cells in series, string 1 has {expected}.",
            string + 1
        ),
        SupplyFault::TooFewPacks { needed, packs } => {
            format!("{needed} packs are needed, {packs} are chosen.")
        }
        SupplyFault::NoSuchString { string, strings } => {
            format!(
                "The meter is set on string {}, but there are {strings}. Choose where it sits.",
                string + 1
            )
        }
    }
}

/// First letter raised, full stop behind.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

/// First letter lowered.
pub fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|letter| letter.to_ascii_lowercase().to_string()).unwrap_or_default()
        + letters.as_str()
}

/// What limits the flight, with its figure: "20 % reserve".
pub fn flight_limit(limit: FlightLimit, policy: &ReservePolicy, units: Units) -> String {
    match limit {
        FlightLimit::ReserveShare => {
            let share = stepped(policy.share.value, Unit::Percent, 1.0, Toward::Nearest, units);
            format!("{share} reserve")
        }
        FlightLimit::ReserveTime => match policy.time {
            Some(time) => format!("{} reserve", answer::time(time)),
            None => "reserve time".to_owned(),
        },
        FlightLimit::ReserveCharge => match policy.charge {
            Some(charge) => {
                let kept = stepped(charge.value, Unit::MilliampereHour, 1.0, Toward::Nearest, units);
                format!("{kept} reserve in each string")
            }
            None => "reserve charge".to_owned(),
        },
        FlightLimit::LoadedCellFloor => {
            let floor = answer::cell_voltage(policy.loaded_cell_floor, units);
            format!("{floor} a cell under load")
        }
        FlightLimit::GreatestPower => "greatest power of the packs".to_owned(),
    }
}

/// "Land by 15 350 mAh. Limited by: 20 % reserve."
pub fn land_by(charge: ElectricCharge, limit: FlightLimit, policy: &ReservePolicy, units: Units) -> String {
    format!("Land by {}. Limited by: {}.", answer::charge(charge, units), flight_limit(limit, policy, units))
}

/// Why there is no flight.
pub fn no_flight(reason: &NoFlight, policy: &ReservePolicy, units: Units) -> String {
    match reason {
        NoFlight::TooLittleCharge { limit, at } => format!(
            "Not enough in the packs for the way out and home: the limit ({}) is reached after {}, with no time on set.",
            flight_limit(*limit, policy, units),
            answer::time(*at)
        ),
        NoFlight::VoltageCollapse { leg, asked, greatest } => format!(
            "The packs cannot feed this: {} asks {}, they can give {} at most.",
            leg_name(*leg).to_ascii_lowercase(),
            answer::power(*asked, units),
            stepped(greatest.value, Unit::Watt, 10.0, Toward::Down, units)
        ),
    }
}

/// Why the aircraft does not fly; none if it does.
pub fn outcome(outcome: &Outcome, policy: &ReservePolicy, units: Units) -> Option<String> {
    match outcome {
        Outcome::Flies(_) => None,
        Outcome::CannotHover { needed, available, ruled_by } => Some(format!(
            "Cannot hover here: it weighs {}, the rotors hold {} at most. {} ends the thrust.",
            lifted(*needed, Toward::Up, units),
            lifted(*available, Toward::Down, units),
            thrust_limit(*ruled_by)
        )),
        Outcome::NoWayHome { airspeed, wind } => Some(format!(
            "No way home: the wind at the set is {}, the aircraft flies {} through the air.",
            answer::wind(*wind, units),
            stepped(airspeed.value, units.get(Choice::Speed), 1.0, Toward::Down, units)
        )),
        Outcome::LegBeyond(beyond) => Some(leg_beyond(beyond, units)),
        Outcome::NoFlight(reason) => Some(no_flight(reason, policy, units)),
    }
}

/// "The way home cannot be flown as planned: 28 m/s through the air, with the packs at land-by 27 m/s at most …"
fn leg_beyond(beyond: &LegBeyond, units: Units) -> String {
    let speed = |of: Velocity, toward| {
        let unit =
            units.get(if beyond.leg == LegKind::Climb { Choice::VerticalSpeed } else { Choice::Speed });
        stepped(of.value, unit, 0.1, toward, units)
    };
    let (how, with) = match beyond.leg {
        LegKind::Climb => ("up", "fresh packs"),
        LegKind::Return => ("through the air", "the packs at land-by"),
        _ => ("through the air", "fresh packs"),
    };
    format!(
        "{} cannot be flown as planned: {} {how}, with {with} {} at most, some thrust kept for control. What ends it: {}. Plan it slower.",
        leg_name(beyond.leg),
        speed(beyond.planned, Toward::Up),
        speed(beyond.greatest, Toward::Down),
        wind::held_limit(beyond.limit)
    )
}

/// A force as the mass it holds up.
fn lifted(force: Force, toward: Toward, units: Units) -> String {
    let held = Mass::new::<kilogram>(force.value / STANDARD_GRAVITY_M_S2);
    stepped(held.value, units.get(Choice::Mass), 0.1, toward, units).to_string()
}

/// What ends the thrust, to begin a sentence.
pub const fn thrust_limit(limit: ThrustLimit) -> &'static str {
    match limit {
        ThrustLimit::BusVoltage => "Full throttle at this pack voltage",
        ThrustLimit::MotorCurrent => "The motor's current limit",
        ThrustLimit::ControllerCurrent => "The speed controller's current limit",
        ThrustLimit::BenchTable => "The greatest thrust that the bench table measured",
    }
}

/// Name of a leg.
pub const fn leg_name(leg: LegKind) -> &'static str {
    match leg {
        LegKind::WarmUp => "Warm-up",
        LegKind::Climb => "Climb",
        LegKind::Transit => "The way out",
        LegKind::OnSet => "Work on set",
        LegKind::Return => "The way home",
        LegKind::Descent => "Descent",
        LegKind::Landing => "Landing",
        LegKind::GoAround => "Go-around",
    }
}

/// Which meter the mAh are meant for.
pub fn meter_place(place: MeterPlace) -> String {
    match place {
        MeterPlace::Bus => "by the meter for all packs".to_owned(),
        MeterPlace::String(index) => format!("by the meter on string {}", index + 1),
    }
}

/// How well the propulsion is known.
pub fn evidence(evidence: &Evidence, units: Units) -> String {
    match evidence {
        Evidence::Bench { rows, mean_power_error, with_speed, other_rotor, .. } => {
            let error = stepped(mean_power_error.value, Unit::Percent, 0.1, Toward::Up, units);
            let speed = if *with_speed { "" } else { ", without rotor speed" };
            let other = other_rotor.map_or_else(String::new, |other| {
                let measured = stepped(other.measured.value, units.get(Choice::Part), 1.0, Toward::Up, units);
                let [power, thrust] = [evidence.power_spread(), evidence.thrust_spread()]
                    .map(|of| stepped(of.value, Unit::Percent, 1.0, Toward::Up, units));
                format!(
                    " But it was measured with a rotor of {measured}, this one differs: power may be {power} off, greatest thrust \
                     {thrust}. Enter this rotor's own table, or detach this one."
                )
            });
            format!(
                "From {rows} rows of the bench table{speed}: power meets it within {error} on average.{other}"
            )
        }
        Evidence::Estimate { power_spread, thrust_spread, .. } => {
            let [spread, thrust] = [power_spread, thrust_spread]
                .map(|of| stepped(of.value, Unit::Percent, 1.0, Toward::Up, units));
            format!(
                "An estimate from measured rotors of its size: power may be {spread} off, greatest thrust {thrust}. A bench table would narrow both."
            )
        }
    }
}

/// A gust below the mean wind, and what counts instead; none where they fit.
pub fn gust_below_wind(site: &Site, units: Units) -> Option<String> {
    let [gust, wind] = [site.gust_m_s, site.wind_m_s].map(|m_s| {
        let unit = units.get(Choice::Speed);
        stepped(m_s, unit, if unit == Unit::MetrePerSecond { 0.5 } else { 1.0 }, Toward::Up, units)
    });
    (site.gust_m_s < site.wind_m_s).then(|| {
        format!("{}: the gust ({gust}) is below the mean wind. Counting with a gust of {wind}.", site.name)
    })
}
