//! A flight that was flown, or is being flown: what the log holds.

use liftmargin_core::input_range::{InputRange, Kind};
use serde::{Deserialize, Serialize};

use super::{Extra, parts};
use crate::fields::{Number, fields};
use crate::present::Unit;
use crate::trace::TraceTotals;

/// A flight.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Flight {
    /// Reference.
    pub id: String,
    /// Shown name: the setup's as it was.
    pub name: String,
    /// Airframe id: whose correction it belongs to.
    pub airframe: String,
    /// Setup id as it was; the setup may be gone or changed since.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub setup: String,
    /// Id of the frozen copy of what was flown.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub flown_setup: String,
    /// Shown name of the place.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Milliseconds since 1970 by the wall clock, world time.
    pub lift_off_unix_ms: f64,
    /// From lift-off to touchdown; none while it is in the air.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flight_time_s: Option<f64>,
    /// Of this flight, by the meter on board.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_mah: Option<f64>,
    /// What the meter showed after it: where it runs on, more than this flight used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub meter_after_mah: Option<f64>,
    /// Of one cell, at rest after the flight.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_cell_voltage_v: Option<f64>,
    /// Read off in flight.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<Reading>,
    /// What the crew wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub remark: String,
    /// A person has decided that it teaches nothing.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub excluded: bool,
    /// `airborne`, `by-hand` or `trace`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// What the card said of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub predicted: Option<Predicted>,
    /// Totals of its recording, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recording: Option<TraceTotals>,
    /// While it is in the air.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aloft: Option<Aloft>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// One reading of the meter on board.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Reading {
    /// Since lift-off.
    pub time_s: f64,
    /// As the meter showed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub used_mah: Option<f64>,
    /// Of the bus, under load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voltage_v: Option<f64>,
    /// Asked back, and the crew stood by it.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub confirmed: bool,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What the model said of a flight of this length, and what it takes to explain the flight.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Predicted {
    /// By the meter on board, with the correction that was in force.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub used_mah: Option<f64>,
    /// One standard deviation of it as a share.
    #[serde(default)]
    pub spread: f64,
    /// Power that explains what was counted, over the uncorrected model's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power_factor: Option<f64>,
    /// Of a cell after it, with the charge that was counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rest_cell_voltage_v: Option<f64>,
    /// Which model said so: another one says it anew.
    #[serde(default)]
    pub model: u32,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What belongs to a flight in the air.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Aloft {
    /// What the meter showed before the motors started.
    #[serde(default)]
    pub meter_start_mah: f64,
    /// The card's cautious land-by, of a meter that was zero then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cautious_land_by_mah: Option<f64>,
    /// The card's cautious turn-back, likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cautious_turn_back_mah: Option<f64>,
    /// With packs that were flown before on the same charge.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub flies_on: bool,
    /// Distance now, where it is another than planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub distance_m: Option<f64>,
    /// Mean wind at 10 m now, where it is another than planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<f64>,
    /// When distance or wind were last changed: seconds since lift-off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elsewhere_at_s: Option<f64>,
    /// On the ground since, not entered yet: seconds since lift-off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub down_at_s: Option<f64>,
    /// Alarms touched, the latest of each kind.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub touched: Vec<Touched>,
    /// By how much the wall clock jumped in all, as far as it was noticed.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub clock_jumped_s: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands on a reference")]
fn is_nothing(value: &f64) -> bool {
    *value == 0.0
}

/// An alarm that was touched.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Touched {
    /// Its key.
    pub alarm: String,
    /// Since lift-off.
    pub time_s: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Flight { readings, predicted, aloft });
parts!(Reading {});
parts!(Predicted {});
parts!(Aloft { touched });
parts!(Touched {});

/// Ten seconds to four hours.
pub(crate) static FLOWN_TIME: InputRange = InputRange::new("flown_time", Kind::Duration, 10.0, 14_400.0);
/// 10 mAh to 1,000 Ah.
pub(crate) static FLOWN_CHARGE: InputRange = InputRange::new("flown_charge", Kind::Charge, 36.0, 3.6e6);
/// The widest of all chemistries.
static FLOWN_REST_VOLTAGE: InputRange = InputRange::new("rest_voltage", Kind::Potential, 2.5, 4.37);

/// What the meter on board shows, whatever it started from.
pub static METER_SHOWN: Number = Number {
    path: "meter_shown_mah",
    unit: Unit::MilliampereHour,
    range: &FLOWN_CHARGE,
    optional: true,
    label: "Meter on board",
    help: "As it shows now.",
};

fields! {
    /// What was read after a flight.
    FLOWN of Flight {
        FLOWN_MINUTES = (optional flight_time_s, Second, FLOWN_TIME, "Flight time", "From lift-off to touchdown.");
        FLOWN_USED = (optional used_mah, MilliampereHour, FLOWN_CHARGE, "Used", "Of this flight alone, by the meter on board.");
        FLOWN_REST = (optional rest_cell_voltage_v, Volt, FLOWN_REST_VOLTAGE, "Rest voltage after", "Of one cell, some minutes after landing, nothing drawn.");
    }
}
