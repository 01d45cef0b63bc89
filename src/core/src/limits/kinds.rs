//! What is checked: one row a kind, with its key in files, the side its limit is on, and the quantity it speaks of.

/// The side a limit is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Not to fall below: a small value is the bad one.
    Floor,
    /// Not to exceed: a large value is the bad one.
    Ceiling,
}

/// The sort of quantity a check speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Dimensionless.
    Ratio,
    /// A share of one, read as per cent.
    Share,
    /// Mass.
    Mass,
    /// Current.
    Current,
    /// Voltage of one cell.
    CellVoltage,
    /// Temperature.
    Temperature,
    /// Speed along the ground or of the wind.
    Speed,
    /// Speed up or down.
    VerticalSpeed,
}

macro_rules! check_kinds {
    ($($(#[doc = $says:expr])+ $kind:ident, $key:literal, $direction:ident, $quantity:ident;)+) => {
        /// What is checked.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum CheckKind {
            $($(#[doc = $says])+ $kind,)+
        }

        impl CheckKind {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$kind),+];

            /// Its stable name in files and reports.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$kind => $key),+ }
            }

            /// The side its limit is on.
            pub const fn direction(self) -> Direction {
                match self { $(Self::$kind => Direction::$direction),+ }
            }

            /// What its value and limit are.
            pub const fn quantity(self) -> Quantity {
                match self { $(Self::$kind => Quantity::$quantity),+ }
            }
        }
    };
}

check_kinds! {
    /// Greatest thrust over weight with full packs.
    ThrustToWeightFresh, "thrust-to-weight-fresh", Floor, Ratio;
    /// Greatest thrust over weight at the voltage of land-by.
    ThrustToWeightAtLandBy, "thrust-to-weight-at-land-by", Floor, Ratio;
    /// Hover throttle at the voltage of land-by.
    HoverThrottleAtLandBy, "hover-throttle-at-land-by", Ceiling, Share;
    /// Level hover with the worst single rotor stopped.
    RotorOut, "rotor-out", Floor, Ratio;
    /// Flight home with the worst single string lost.
    StringOut, "string-out", Floor, CellVoltage;
    /// Motor current in hover, most loaded rotor, against the motor's limit.
    MotorCurrent, "motor-current", Ceiling, Current;
    /// Greatest C rate of any pack against its rating.
    CRate, "c-rate", Ceiling, Share;
    /// Least loaded cell voltage against the floor.
    LoadedCellVoltage, "loaded-cell-voltage", Floor, CellVoltage;
    /// Cell temperature at the start against the cold limit.
    PackCold, "pack-cold", Floor, Temperature;
    /// Greatest predicted cell temperature against the hot limit.
    PackHot, "pack-hot", Ceiling, Temperature;
    /// Mean wind on set against the greatest wind that can be held with thrust in reserve.
    WindHold, "wind-hold", Ceiling, Speed;
    /// Gust on set against the greatest that can be held.
    GustHold, "gust-hold", Ceiling, Speed;
    /// The wind on the way home against what the transit airspeed leaves.
    WayHome, "way-home", Ceiling, Speed;
    /// Airspeed in transit against the greatest that the aircraft can fly at land-by.
    TransitSpeed, "transit-speed", Ceiling, Speed;
    /// Centre-of-gravity offset: the most loaded rotor's share over the mean share.
    Balance, "balance", Ceiling, Ratio;
    /// Climb rate available at land-by.
    ClimbReserve, "climb-reserve", Floor, VerticalSpeed;
    /// All-up mass against the frame's own limit.
    AllUpMass, "all-up-mass", Ceiling, Mass;
    /// Sink rate against the onset of the vortex ring state.
    DescentRate, "descent-rate", Ceiling, VerticalSpeed;
    /// Share of the flights drawn from the doubt in the inputs that come home as planned.
    ComesHome, "comes-home", Floor, Share;
    /// The reserve at land-by.
    Reserve, "reserve", Floor, Share;
}
