//! What the model says of a flight of a known length, and what power explains what was counted.
//!
//! Formula   band of four in five: used · e^(±1.2816 s), s = hypot(power, 1.5 · mass, 1 %): P ~ m^1.5 in hover
//! Units     SI; mAh where a crew reads a meter
//! Source    `flight::TimedFlight`, `correction::power_factor`; P ~ T^1.5 is ideal hover power; 1 %: common practice, no source
//! Valid     as there
//! Assumes   the deviations of `spread::Uncertainty`

use liftmargin_core::air::Site;
use liftmargin_core::aircraft::Trim;
use liftmargin_core::card::Setup;
use liftmargin_core::correction::power_factor;
use liftmargin_core::flight::TimedFlight;
use liftmargin_core::input_error::InputError;
use liftmargin_core::mass;
use liftmargin_core::profile::{Plan, plan};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::freeze::resolve_flown;
use crate::airborne::rest_voltage_after;
use crate::error::DocumentError;
use crate::model::{Bundle, Flight, Predicted};
use crate::quantity::refused;

/// Number of the model that said so; another one says it anew.
pub const MODEL: u32 = 1;
const ONE_IN_TEN: f64 = 1.2816;
const MASS_EXPONENT: f64 = 1.5;
const BESIDE: f64 = 0.01;

/// A setup at a site, ready to be flown for any time.
#[derive(Debug, Clone)]
pub struct TimedSetup {
    flight: TimedFlight,
    /// One standard deviation of what is used, as a share.
    pub spread: f64,
    /// The model's doubt of its power.
    pub power_spread: Ratio,
}

/// What the model says of a flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prediction {
    /// By the meter on board; none where the packs cannot give it.
    pub used: Option<ElectricCharge>,
    /// One standard deviation of it as a share.
    pub spread: f64,
}

impl TimedSetup {
    /// A setup at a site; none where there is no way home against the wind.
    ///
    /// # Errors
    /// `InputError` for whatever misses its range.
    pub fn new(setup: &Setup, site: &Site) -> Result<Option<Self>, InputError> {
        let balance = mass::sum(&setup.items)?;
        let trim = Trim::new(&setup.airframe, &balance)?;
        let Plan::Legs(legs) = plan(&trim, site, &setup.profile)? else { return Ok(None) };
        let uncertainty = Uncertainty::for_airframe(&setup.airframe);
        Ok(Some(Self {
            flight: TimedFlight::new(&setup.supply, &legs)?,
            spread: spread_of_use(&uncertainty),
            power_spread: uncertainty.power,
        }))
    }

    /// What a flight of this length uses.
    ///
    /// # Errors
    /// `InputError` for a time out of range.
    pub fn used(&self, airborne: Time) -> Result<Prediction, InputError> {
        let flown = self.flight.fly(airborne, Ratio::new::<ratio>(1.0))?;
        Ok(Prediction { used: flown.map(|flown| flown.used), spread: self.spread })
    }

    /// Power that explains what was counted, over the model's.
    ///
    /// # Errors
    /// As `correction::power_factor`.
    pub fn factor(&self, airborne: Time, counted: ElectricCharge) -> Result<Option<Ratio>, InputError> {
        power_factor(&self.flight, airborne, counted)
    }
}

/// One standard deviation of what a flight of known length uses, as a share.
pub fn spread_of_use(uncertainty: &Uncertainty) -> f64 {
    uncertainty.power.value.hypot(MASS_EXPONENT * uncertainty.mass.value).hypot(BESIDE)
}

/// Four in five flights use between these, mAh.
pub fn band(predicted: &Predicted) -> Option<[f64; 2]> {
    let used_mah = predicted.used_mah?;
    let reach = (ONE_IN_TEN * predicted.spread).exp();
    Some([used_mah / reach, used_mah * reach])
}

/// What the model says of a flight that was flown, and what power explains it; from its own frozen copy.
///
/// # Errors
/// `Missing` where time or charge were not entered, and whatever the copy or the figures miss.
pub fn predict(bundle: &Bundle, flight: &Flight) -> Result<Predicted, DocumentError> {
    let missing = |field: &str, allowed: &str| DocumentError::Missing {
        path: field.to_owned(),
        allowed: allowed.to_owned(),
    };
    let time_s = flight.flight_time_s.ok_or_else(|| missing("flight_time_s", "the time in the air"))?;
    let used_mah = flight.used_mah.ok_or_else(|| missing("used_mah", "what the meter counted"))?;
    let (airborne, counted) =
        (Time::new::<second>(time_s), ElectricCharge::new::<milliampere_hour>(used_mah));
    let of_core = |refusal: InputError| refused("", refusal);
    let (setup, site) = resolve_flown(bundle, flight, true)?;
    let no_way = || DocumentError::Contradiction {
        path: "flown_setup".to_owned(),
        value: "a wind above the airspeed".to_owned(),
        allowed: "a flight that comes home".to_owned(),
    };
    let as_it_was = TimedSetup::new(&setup, &site).map_err(of_core)?.ok_or_else(no_way)?;
    let said = as_it_was.used(airborne).map_err(of_core)?;
    let rest = rest_voltage_after(&setup, counted);
    let (setup, site) = resolve_flown(bundle, flight, false)?;
    let model = TimedSetup::new(&setup, &site).map_err(of_core)?.ok_or_else(no_way)?;
    let factor = model.factor(airborne, counted).map_err(of_core)?;
    Ok(Predicted {
        used_mah: said.used.map(|used| used.get::<milliampere_hour>()),
        spread: said.spread,
        power_factor: factor.map(|factor| factor.value),
        rest_cell_voltage_v: rest.map(|rest| rest.get::<volt>()),
        model: MODEL,
        ..Predicted::default()
    })
}
