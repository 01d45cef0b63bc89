//! The plan that a flight is followed by: the card's own flight, and how far it can be trusted.
//!
//! Formula   consumption: hypot(power, 1.5 · mass, 1 %); voltage: hypot(15 mV a cell, 1.5 · resistance doubt · sag on set)
//! Units     SI
//! Source    spreads: `spread::Uncertainty`; 15 mV, and 1.5 for the slower part of the resistance that the sag leaves out:
//!           common practice, no source
//! Valid     a setup that flies
//! Assumes   as the card

use liftmargin_core::air::Site;
use liftmargin_core::airborne::{CautiousMarks, CourseDetails, PlannedCourse, TrackingSpreads, WayHome};
use liftmargin_core::aircraft::Trim;
use liftmargin_core::card::Setup;
use liftmargin_core::cell::open_circuit_voltage;
use liftmargin_core::flight::{FlightSettings, FlightTask, fly_brief};
use liftmargin_core::input_error::InputError;
use liftmargin_core::mass;
use liftmargin_core::profile::{Leg, LegDemand, Plan, Profile, plan};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::supply::MeterPlace;
use liftmargin_core::units::{ElectricCharge, ElectricPotential, Length, Ratio, Velocity};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use crate::log::spread_of_use;
use crate::model::Bundle;
use crate::record::Record;

/// What a meter's digits and the eye leave open: common practice, no source.
const METER_MAH: f64 = 15.0;
const CELL_MODEL_V: f64 = 0.015;
const WHOLE_SAG: f64 = 1.5;
/// The plan is flown once more at so many times the power, to see how the marks move.
const HARDER: f64 = 1.15;

/// The way home as it is now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Home {
    /// As planned.
    Planned,
    /// From elsewhere, or in another wind.
    Now(WayHome),
    /// None against this wind, or not with these packs: to turn back at once. Known since so many seconds after lift-off.
    None {
        /// Since then.
        since_s: f64,
    },
}

/// A plan to follow.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedFlight {
    /// The course.
    pub course: PlannedCourse,
    /// How far it can be trusted.
    pub spreads: TrackingSpreads,
}

fn legs_of(setup: &Setup, site: &Site, profile: &Profile) -> Result<Option<LegDemand>, InputError> {
    let balance = mass::sum(&setup.items)?;
    let trim = Trim::new(&setup.airframe, &balance)?;
    Ok(match plan(&trim, site, profile)? {
        Plan::Legs(legs) => Some(legs),
        Plan::NoWayHome { .. } => None,
    })
}

fn scaled(legs: &LegDemand, power: f64) -> LegDemand {
    let leg = |leg: &Leg| Leg { power: leg.power * power, ..*leg };
    LegDemand {
        outbound: legs.outbound.iter().map(leg).collect(),
        on_set: legs.on_set * power,
        homebound: legs.homebound.iter().map(leg).collect(),
    }
}

impl PlannedFlight {
    /// The plan of a setup at a site; none where it does not fly. `cautious` is of the card.
    ///
    /// # Errors
    /// `InputError` naming the first field that misses its bound.
    pub fn new(
        setup: &Setup,
        site: &Site,
        cautious: Option<CautiousMarks>,
    ) -> Result<Option<Self>, InputError> {
        let Some(legs) = legs_of(setup, site, &setup.profile)? else { return Ok(None) };
        let settings = FlightSettings::default();
        let task = FlightTask::new(&setup.supply, &legs, &setup.policy, &settings)?;
        let Ok(mut longest) = task.longest() else { return Ok(None) };
        let flight = longest.in_full();
        let harder = fly_brief(&setup.supply, &scaled(&legs, HARDER), &setup.policy, &settings)?;
        let course = PlannedCourse::of(
            &flight,
            &CourseDetails {
                meter: setup.supply.meter,
                warm_up: setup.profile.warm_up,
                cautious,
                harder: harder.ok().map(|harder| (Ratio::new::<ratio>(HARDER), harder)),
            },
        );
        let spreads = spreads(setup, &course);
        Ok(Some(Self { course, spreads }))
    }

    /// The way home from where the crew says it is, in the wind that it says, since a moment; as planned where it says neither.
    ///
    /// # Errors
    /// As `way_home`.
    pub fn home(
        setup: &Setup,
        site: &Site,
        (distance_m, wind_m_s): (Option<f64>, Option<f64>),
        since_s: f64,
    ) -> Result<Home, InputError> {
        if distance_m.is_none() && wind_m_s.is_none() {
            return Ok(Home::Planned);
        }
        let distance = distance_m.map_or(setup.profile.distance, Length::new::<meter>);
        let wind = wind_m_s.map_or(site.wind, Velocity::new::<meter_per_second>);
        Ok(Self::way_home(setup, site, distance, wind)?.map_or(Home::None { since_s }, Home::Now))
    }

    /// The way home from another distance, in another mean wind at 10 m; none where there is no way home against it, or
    /// the packs would not last for it even from the start.
    ///
    /// # Errors
    /// `InputError` for a distance or a wind out of range.
    pub fn way_home(
        setup: &Setup,
        site: &Site,
        distance: Length,
        wind: Velocity,
    ) -> Result<Option<WayHome>, InputError> {
        let there = Site { wind, gust: site.gust.max(wind), ..*site };
        let profile = Profile { distance, ..setup.profile };
        let Some(now) = legs_of(setup, &there, &profile)? else { return Ok(None) };
        // It is out there already: getting there costs nothing more.
        let legs = LegDemand { outbound: Vec::new(), ..now };
        let flown = fly_brief(&setup.supply, &legs, &setup.policy, &FlightSettings::default())?;
        Ok(flown.ok().map(|flown| WayHome {
            used: flown.marks.land_by - flown.marks.turn_back,
            time: flown.land_by_at - flown.turn_back_at,
        }))
    }
}

fn spreads(setup: &Setup, course: &PlannedCourse) -> TrackingSpreads {
    let uncertainty = Uncertainty::for_airframe(&setup.airframe);
    let share = |value: f64, range: &liftmargin_core::input_range::InputRange| {
        Ratio::new::<ratio>(value.max(range.min).min(range.max))
    };
    let cells: u32 = setup
        .supply
        .strings
        .first()
        .map_or(0, |string| string.packs.iter().map(|pack| pack.cells_in_series).sum());
    let of_resistance = WHOLE_SAG * uncertainty.resistance.value * course.sag_on_set.value;
    let voltage = (CELL_MODEL_V * f64::from(cells)).hypot(of_resistance);
    TrackingSpreads::usual(
        share(spread_of_use(&uncertainty), &TrackingSpreads::SHARE),
        share(uncertainty.capacity.value, &TrackingSpreads::SHARE),
        ElectricCharge::new::<milliampere_hour>(METER_MAH),
        ElectricPotential::new::<volt>(voltage.max(TrackingSpreads::VOLTAGE.min)),
    )
}

/// Rest voltage of one cell of the first string when so much more of its charge is used; none without packs. Used in parts
/// alike where the meter reads the bus.
pub fn rest_voltage_after(setup: &Setup, used: ElectricCharge) -> Option<ElectricPotential> {
    let supply = &setup.supply;
    let true_used = used / (1.0 + supply.meter.scale_error.value);
    let of_string = match supply.meter.place {
        MeterPlace::Bus => true_used / supply.strings.len().max(1) as f64,
        MeterPlace::String(_) => true_used,
    };
    let pack = supply.strings.first()?.packs.first()?;
    let (capacity, start) = (pack.present_capacity().ok()?, pack.state_of_charge().ok()?);
    let left = (start.value - (of_string / capacity).value).clamp(0.0, 1.0);
    open_circuit_voltage(pack.cell.chemistry, Ratio::new::<ratio>(left)).ok()
}

/// A bundle in which every string of a setup starts at this rest voltage of a cell: what is flown on with.
#[must_use]
pub fn starting_at(bundle: &Bundle, setup_id: &str, rest_cell_voltage_v: f64) -> Bundle {
    let mut started = bundle.clone();
    if let Some(setup) = crate::model::Setup::find_mut(&mut started, setup_id) {
        for string in &mut setup.supply.strings {
            string.rest_cell_voltage_v = Some(rest_cell_voltage_v);
        }
    }
    started
}
