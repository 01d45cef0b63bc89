//! The card of every setup as plain data: what the `card` example prints and the demo's expected file holds.
//!
//! Values unrounded, SI, unit in the name; mAh where a crew reads a meter.

use liftmargin_core::air::Site;
use liftmargin_core::card::{Card, Cautious, LegBeyond, Outcome, Prepared, Setup};
use liftmargin_core::limits::{Check, Figure, Quantity, Thresholds};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{ElectricCharge, Ratio};
use serde::{Deserialize, Serialize};
use uom::si::electric_charge::milliampere_hour;

use crate::error::DocumentError;
use crate::model::{self, Bundle};
use crate::present::flight_of;
use crate::quantity::refused;
use crate::resolve::{LearnedAirframes, resolve_on};

/// Seed of the sampling behind cautious figures: equal files give equal cards.
pub const SEED: u64 = 1;
/// Samples behind cautious figures.
pub const SAMPLES: usize = 256;
/// Samples in one piece of work: a few milliseconds on a phone.
pub const PIECE: usize = 16;

/// One setup at its site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct CardReport {
    pub setup: String,
    pub site: String,
    /// Middle of what can be expected; none without a flight, as all that follows from one.
    pub flight_time_s: Option<f64>,
    /// One flight in ten is shorter.
    pub cautious_flight_time_s: Option<f64>,
    pub land_by_mah: Option<f64>,
    pub cautious_land_by_mah: Option<f64>,
    pub turn_back_mah: Option<f64>,
    pub cautious_turn_back_mah: Option<f64>,
    pub all_up_mass_kg: f64,
    /// None where the packs cannot feed the hover.
    pub hover_throttle: Option<f64>,
    pub hover_throttle_at_land_by: Option<f64>,
    pub thrust_to_weight: f64,
    pub thrust_to_weight_at_land_by: Option<f64>,
    pub air_density_kg_m3: f64,
    pub density_altitude_m: f64,
    pub hover_power_w: f64,
    pub verdict: String,
    /// Key of the check that is worst.
    pub worst_check: Option<String>,
    /// Key of the limit that ends the flight.
    pub flight_limit: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub no_flight: Option<NoFlightReport>,
    pub checks: Vec<CheckReport>,
}

/// Why there is no flight.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "reason", rename_all = "kebab-case")]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub enum NoFlightReport {
    CannotHover { needed_thrust_n: f64, available_thrust_n: f64, ruled_by: String },
    NoWayHome { transit_airspeed_m_s: f64, wind_m_s: f64 },
    LegBeyond { leg: String, planned_m_s: f64, greatest_m_s: f64, ends: String },
    TooLittleCharge { limit: String, at_s: f64 },
    VoltageCollapse { leg: String, asked_power_w: f64, greatest_power_w: f64 },
}

/// One check.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct CheckReport {
    pub kind: String,
    pub state: String,
    /// In `unit`; none where it cannot be had.
    pub value: Option<f64>,
    pub limit: f64,
    pub unit: String,
    /// Where the limit comes from.
    pub basis: String,
    /// Share of the limit that is left; below zero beyond it.
    pub room: Option<f64>,
}

/// The cards of all setups, in the file's order.
///
/// # Errors
/// The first fault of any setup, with its path.
pub fn report(bundle: &Bundle) -> Result<Vec<CardReport>, DocumentError> {
    let mut airframes = LearnedAirframes::default();
    bundle.setups.iter().enumerate().map(|(index, setup)| one(bundle, index, setup, &mut airframes)).collect()
}

fn one(
    bundle: &Bundle,
    index: usize,
    setup: &model::Setup,
    airframes: &mut LearnedAirframes,
) -> Result<CardReport, DocumentError> {
    let (ready, site) = resolve_on(bundle, &setup.id, |chosen| airframes.get(chosen))?;
    let (card, cautious) =
        computed(&ready, &site).map_err(|refusal| refused(&format!("setups[{index}]"), refusal))?;
    Ok(of(&setup.id, &setup.site, &card, cautious.as_ref()))
}

fn computed(
    setup: &Setup,
    site: &Site,
) -> Result<(Card, Option<Cautious>), liftmargin_core::input_error::InputError> {
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(setup, site, &thresholds)?;
    let card = prepared.card()?;
    let cautious = match &card.outcome {
        Outcome::Flies(_) => {
            let uncertainty = Uncertainty::for_airframe(&setup.airframe);
            prepared.sampler(&uncertainty, SEED)?.and_then(|sampler| sampler.cautious(SAMPLES))
        }
        _ => None,
    };
    Ok((card, cautious))
}

/// A card as plain data.
pub fn of(setup: &str, site: &str, card: &Card, cautious: Option<&Cautious>) -> CardReport {
    let flight = flight_of(card);
    let judged = card.judged(cautious, &Thresholds::default());
    let mah = |charge: ElectricCharge| charge.get::<milliampere_hour>();
    let share = |ratio: Ratio| ratio.value;
    CardReport {
        setup: setup.to_owned(),
        site: site.to_owned(),
        flight_time_s: flight.map(|flight| flight.flight_time.value),
        cautious_flight_time_s: cautious.map(|cautious| cautious.flight_time.value),
        land_by_mah: flight.map(|flight| mah(flight.marks.land_by)),
        cautious_land_by_mah: cautious.map(|cautious| mah(cautious.land_by)),
        turn_back_mah: flight.map(|flight| mah(flight.marks.turn_back)),
        cautious_turn_back_mah: cautious.map(|cautious| mah(cautious.turn_back)),
        all_up_mass_kg: card.mass.all_up_mass.value,
        hover_throttle: card.hover.throttle.map(share),
        hover_throttle_at_land_by: card.hover.throttle_at_land_by.map(share),
        thrust_to_weight: card.hover.thrust_to_weight.value,
        thrust_to_weight_at_land_by: card.hover.thrust_to_weight_at_land_by.map(share),
        air_density_kg_m3: card.air.density.value,
        density_altitude_m: card.air.density_altitude.value,
        hover_power_w: card.hover.power.value,
        verdict: judged.verdict.state.key().to_owned(),
        worst_check: judged.verdict.worst.map(|kind| kind.key().to_owned()),
        flight_limit: flight.map(|flight| flight.limit.key().to_owned()),
        no_flight: no_flight(&card.outcome),
        checks: judged.checks.iter().map(check).collect(),
    }
}

fn no_flight(outcome: &Outcome) -> Option<NoFlightReport> {
    use liftmargin_core::flight::NoFlight;
    Some(match outcome {
        Outcome::Flies(_) => return None,
        Outcome::CannotHover { needed, available, ruled_by } => NoFlightReport::CannotHover {
            needed_thrust_n: needed.value,
            available_thrust_n: available.value,
            ruled_by: ruled_by.key().to_owned(),
        },
        Outcome::NoWayHome { airspeed, wind } => {
            NoFlightReport::NoWayHome { transit_airspeed_m_s: airspeed.value, wind_m_s: wind.value }
        }
        Outcome::LegBeyond(LegBeyond { leg, planned, greatest, limit }) => NoFlightReport::LegBeyond {
            leg: leg.key().to_owned(),
            planned_m_s: planned.value,
            greatest_m_s: greatest.value,
            ends: limit.key().to_owned(),
        },
        Outcome::NoFlight(NoFlight::TooLittleCharge { limit, at }) => {
            NoFlightReport::TooLittleCharge { limit: limit.key().to_owned(), at_s: at.value }
        }
        Outcome::NoFlight(NoFlight::VoltageCollapse { leg, asked, greatest }) => {
            NoFlightReport::VoltageCollapse {
                leg: leg.key().to_owned(),
                asked_power_w: asked.value,
                greatest_power_w: greatest.value,
            }
        }
    })
}

fn check(check: &Check) -> CheckReport {
    CheckReport {
        kind: check.kind.key().to_owned(),
        state: check.state.key().to_owned(),
        value: check.value.map(Figure::si),
        limit: check.limit.si(),
        unit: unit(check.kind.quantity()).to_owned(),
        basis: check.source.key().to_owned(),
        room: check.margin.map(|margin| margin.value),
    }
}

/// The unit of a figure in SI; dimensionless ones have the unit 1.
const fn unit(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Ratio | Quantity::Share => "1",
        Quantity::Mass => "kg",
        Quantity::Current => "A",
        Quantity::CellVoltage => "V",
        Quantity::Temperature => "K",
        Quantity::Speed | Quantity::VerticalSpeed => "m/s",
    }
}

/// A refused file as plain data.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ErrorReport {
    /// Path into the file.
    pub field: String,
    /// The value there, in the file's own unit.
    pub value: serde_json::Value,
    /// What is allowed there, in the file's own unit.
    pub allowed: String,
    /// The same in one sentence.
    pub message: String,
}

impl From<&DocumentError> for ErrorReport {
    fn from(error: &DocumentError) -> Self {
        let text = error.value();
        let number = match error {
            DocumentError::Refused { .. } | DocumentError::NewerSchema { .. } => {
                text.parse::<serde_json::Number>().ok()
            }
            _ => None,
        };
        Self {
            field: error.field().to_owned(),
            value: number.map_or(serde_json::Value::String(text), serde_json::Value::Number),
            allowed: error.allowed(),
            message: error.to_string(),
        }
    }
}
