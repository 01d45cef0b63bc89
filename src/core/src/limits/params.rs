//! What a check says, and the thresholds it is held against.

use super::kinds::{CheckKind, Quantity};
use crate::units::{ElectricCurrent, ElectricPotential, Mass, Ratio, ThermodynamicTemperature, Velocity};

/// How a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Within the limit with margin.
    Fine,
    /// Within the limit, little margin, or a thing to watch.
    Watch,
    /// Beyond the limit.
    No,
}

impl State {
    /// Its stable name in files, reports and style sheets.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Watch => "watch",
            Self::No => "no",
        }
    }
}

/// Where a limit comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitSource {
    /// The maker of frame, motor or pack, as entered.
    Maker,
    /// The crew's own policy, as entered.
    Policy,
    /// Physics alone.
    Physics,
    /// Common practice, no source.
    CommonPractice,
}

impl LimitSource {
    /// Its stable name in files and reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Maker => "maker",
            Self::Policy => "policy",
            Self::Physics => "physics",
            Self::CommonPractice => "common-practice",
        }
    }
}

/// A value with its quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Figure {
    /// Dimensionless.
    Ratio(Ratio),
    /// A share of one, read as per cent.
    Share(Ratio),
    /// Mass.
    Mass(Mass),
    /// Current.
    Current(ElectricCurrent),
    /// Voltage of one cell.
    CellVoltage(ElectricPotential),
    /// Temperature.
    Temperature(ThermodynamicTemperature),
    /// Speed along the ground or of the wind.
    Speed(Velocity),
    /// Speed up or down.
    VerticalSpeed(Velocity),
}

impl Figure {
    /// What it is.
    pub const fn quantity(self) -> Quantity {
        match self {
            Self::Ratio(_) => Quantity::Ratio,
            Self::Share(_) => Quantity::Share,
            Self::Mass(_) => Quantity::Mass,
            Self::Current(_) => Quantity::Current,
            Self::CellVoltage(_) => Quantity::CellVoltage,
            Self::Temperature(_) => Quantity::Temperature,
            Self::Speed(_) => Quantity::Speed,
            Self::VerticalSpeed(_) => Quantity::VerticalSpeed,
        }
    }

    /// Its number in SI.
    pub const fn si(self) -> f64 {
        match self {
            Self::Ratio(q) | Self::Share(q) => q.value,
            Self::Mass(q) => q.value,
            Self::Current(q) => q.value,
            Self::CellVoltage(q) => q.value,
            Self::Temperature(q) => q.value,
            Self::Speed(q) | Self::VerticalSpeed(q) => q.value,
        }
    }
}

/// One check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// What.
    pub kind: CheckKind,
    /// How it stands.
    pub state: State,
    /// The value; none where it cannot be had (no flight).
    pub value: Option<Figure>,
    /// The limit.
    pub limit: Figure,
    /// Where the limit comes from.
    pub source: LimitSource,
    /// Margin as a share of the limit: positive inside, negative beyond.
    pub margin: Option<Ratio>,
}

/// The verdict over all checks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Verdict {
    /// The worst state.
    pub state: State,
    /// The check that is worst: least margin among those in the worst state.
    pub worst: Option<CheckKind>,
}

/// The house limits. Common practice, no source; makers' limits and local rules come first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// Thrust-to-weight below which a flight is refused.
    pub thrust_to_weight_least: Ratio,
    /// Thrust-to-weight from which it is fine.
    pub thrust_to_weight_fine: Ratio,
    /// Hover throttle up to which it is fine.
    pub hover_throttle_fine: Ratio,
    /// Hover throttle above which a flight is refused.
    pub hover_throttle_greatest: Ratio,
    /// Coldest cell temperature to take off with.
    pub pack_coldest: ThermodynamicTemperature,
    /// Cell temperature at take-off from which it is fine.
    pub pack_cold_fine: ThermodynamicTemperature,
    /// Cell temperature up to which it is fine.
    pub pack_warm_fine: ThermodynamicTemperature,
    /// Warmest cell temperature.
    pub pack_warmest: ThermodynamicTemperature,
    /// Share of a maker's limit up to which it is fine.
    pub fine_share_of_limit: Ratio,
    /// Thrust kept in hand for control, over the thrust used, when holding against wind or climbing.
    pub control_thrust_share: Ratio,
    /// The same while a gust passes.
    pub gust_control_share: Ratio,
    /// Wind over what can be held up to which holding is fine.
    pub wind_hold_fine: Ratio,
    /// Wind over the transit airspeed up to which the way home is fine.
    pub way_home_fine: Ratio,
    /// The same, above which a flight is refused.
    pub way_home_greatest: Ratio,
    /// Thrust over weight with a rotor out from which it is fine.
    pub failure_thrust_fine: Ratio,
    /// Most loaded rotor over the mean, up to which balance is fine.
    pub balance_fine: Ratio,
    /// The same, above which a flight is refused.
    pub balance_greatest: Ratio,
    /// Climb rate that must be left at land-by.
    pub climb_rate_least: Velocity,
    /// Climb rate at land-by from which it is fine.
    pub climb_rate_fine: Velocity,
    /// Share of flights that must come home as planned.
    pub comes_home_least: Ratio,
    /// The same, from which it is fine.
    pub comes_home_fine: Ratio,
    /// Reserve share from which it is fine.
    pub reserve_share_usual: Ratio,
}
