//! A combination to fly: airframe, packs, payload, flight as planned, reserve, site.

use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::profile::Profile as CoreProfile;
use serde::{Deserialize, Serialize};

use super::{Extra, Supply, parts};
use crate::fields::{Word, fields, word};

/// A combination to fly.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Setup {
    /// Reference.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// Airframe id.
    pub airframe: String,
    /// Packs on board.
    pub supply: Supply,
    /// Payload on board.
    pub load: Vec<Load>,
    /// Flight as planned.
    pub profile: Profile,
    /// What must be left.
    pub reserve: Reserve,
    /// Site id.
    pub site: String,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// An item in a setup.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Load {
    /// Item id.
    pub item: String,
    /// On board or left out.
    pub on: bool,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Flight as planned.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Profile {
    /// Motors turning before lift-off.
    pub warm_up_s: f64,
    /// Set above the launch site.
    pub height_m: f64,
    /// Set from the launch site.
    pub distance_m: f64,
    /// Climb rate.
    pub climb_rate_m_s: f64,
    /// Sink rate.
    pub descent_rate_m_s: f64,
    /// Airspeed out and home.
    pub transit_airspeed_m_s: f64,
    /// Mean power on set over hover, per cent more.
    pub manoeuvre_allowance_percent: f64,
    /// Hover before touchdown.
    pub landing_s: f64,
    /// One more approach kept in hand.
    pub go_around_s: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What must be left; the strictest rules.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Reserve {
    /// Per cent of each string's present capacity.
    pub share_percent: f64,
    /// Time at the power on set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_s: Option<f64>,
    /// Charge in each string.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_mah: Option<f64>,
    /// Least cell voltage under load.
    pub loaded_cell_floor_v: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Setup { supply, load, profile, reserve });
parts!(Load {});
parts!(Profile {});
parts!(Reserve {});

fields! {
    /// Where the set is, seen from the launch place.
    SET of Setup {
        HEIGHT = (profile.height_m, Metre, CoreProfile::HEIGHT, "Height of the set", "Above the launch site.");
        DISTANCE = (profile.distance_m, Metre, CoreProfile::DISTANCE, "Distance to the set", "From the launch site, over ground.");
    }
}

fields! {
    /// The flight as planned.
    FLIGHT of Setup {
        WARM_UP = (profile.warm_up_s, Second, CoreProfile::WARM_UP, "Warm-up", "Motors turning on the ground before lift-off.");
        CLIMB_RATE = (profile.climb_rate_m_s, MetrePerSecond, CoreProfile::CLIMB_RATE, "Climb rate", "On the way up.");
        DESCENT_RATE = (profile.descent_rate_m_s, MetrePerSecond, CoreProfile::DESCENT_RATE, "Sink rate", "On the way down; fast and straight down brings the rotors into their own wake.");
        TRANSIT_AIRSPEED = (profile.transit_airspeed_m_s, MetrePerSecond, CoreProfile::TRANSIT_AIRSPEED, "Airspeed on the way", "Out to the set and home, through the air.");
        MANOEUVRE_ALLOWANCE = (profile.manoeuvre_allowance_percent, Percent, CoreProfile::MANOEUVRE_ALLOWANCE, "Manoeuvre allowance", "Mean power on set above plain hover: 10 % for a lively shot.");
        LANDING = (profile.landing_s, Second, CoreProfile::LANDING, "Landing", "Hovering low before touchdown.");
        GO_AROUND = (profile.go_around_s, Second, CoreProfile::GO_AROUND, "Go-around", "Time for one more approach, kept in hand.");
    }
}

fields! {
    /// What must be left.
    RESERVE of Setup {
        RESERVE_SHARE = (reserve.share_percent, Percent, ReservePolicy::SHARE, "Reserve", "Share of the capacity left at touchdown. 20 % is common practice, no source.");
        LOADED_CELL_FLOOR = (reserve.loaded_cell_floor_v, Volt, ReservePolicy::LOADED_CELL_FLOOR, "Cell voltage floor", "Least voltage of a cell under load; follow the pack's maker.");
        RESERVE_TIME = (optional reserve.time_s, Second, ReservePolicy::TIME, "Reserve time", "Time left at touchdown at the power on set.");
        RESERVE_CHARGE = (optional reserve.charge_mah, MilliampereHour, ReservePolicy::CHARGE, "Reserve charge", "Charge left in each string at touchdown.");
    }
}

/// Which airframe a setup flies.
pub static SETUP_AIRFRAME: Word = word!(Setup, "the choice of airframe", airframe);
/// Which site a setup is flown at.
pub static SETUP_SITE: Word = word!(Setup, "the choice of site", site);
