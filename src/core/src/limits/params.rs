//! What a check says, and the thresholds it is held against.

use crate::units::{
    ElectricCurrent, ElectricPotential, Length, Mass, Power, Ratio, ThermodynamicTemperature, Time, Velocity,
};

/// What is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum CheckKind {
    /// Greatest thrust over weight with full packs.
    ThrustToWeightFresh,
    /// Greatest thrust over weight at the voltage of land-by.
    ThrustToWeightAtLandBy,
    /// Hover throttle at the voltage of land-by.
    HoverThrottleAtLandBy,
    /// Level hover with the worst single rotor stopped.
    RotorOut,
    /// Flight home with the worst single string lost.
    StringOut,
    /// Motor current in hover, most loaded rotor, against the motor's limit.
    MotorCurrent,
    /// Greatest C rate of any pack against its rating.
    CRate,
    /// Least loaded cell voltage against the floor.
    LoadedCellVoltage,
    /// Cell temperature at the start against the cold limit.
    PackCold,
    /// Greatest predicted cell temperature against the hot limit.
    PackHot,
    /// Mean wind on set against the greatest wind that can be held with thrust in reserve.
    WindHold,
    /// Gust on set against the same.
    GustHold,
    /// Transit airspeed against the wind: whether the way home can be flown.
    WayHome,
    /// Centre-of-gravity offset: the most loaded rotor's share over the mean share.
    Balance,
    /// Climb rate available at land-by.
    ClimbReserve,
    /// All-up mass against the frame's own limit.
    AllUpMass,
    /// Sink rate against the onset of the vortex ring state.
    DescentRate,
    /// The reserve at land-by.
    Reserve,
}

/// How a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Within the limit with room.
    Fine,
    /// Within the limit, little room, or a thing to watch.
    Watch,
    /// Beyond the limit.
    No,
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

/// A value with its quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Figure {
    /// Dimensionless.
    Ratio(Ratio),
    /// Mass.
    Mass(Mass),
    /// Current.
    Current(ElectricCurrent),
    /// Voltage of one cell.
    CellVoltage(ElectricPotential),
    /// Temperature.
    Temperature(ThermodynamicTemperature),
    /// Speed.
    Speed(Velocity),
    /// Length.
    Length(Length),
    /// Time.
    Time(Time),
    /// Power.
    Power(Power),
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
    pub basis: LimitSource,
    /// Room as a share of the limit: positive inside, negative beyond.
    pub room: Option<Ratio>,
}

/// The verdict over all checks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Verdict {
    /// The worst state.
    pub state: State,
    /// The check that is worst: least room among those in the worst state.
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
    /// Reserve share from which it is fine.
    pub reserve_share_usual: Ratio,
}
