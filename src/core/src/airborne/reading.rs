//! What a crew reads off, and why it may be asked back.

use crate::units::{ElectricCharge, ElectricPotential, Time};

/// One reading of the meter on board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterReading {
    /// Since lift-off.
    pub time: Time,
    /// What the meter shows.
    pub used: Option<ElectricCharge>,
    /// Bus voltage under load.
    pub voltage: Option<ElectricPotential>,
    /// The crew was asked back and stands by it. A meter that then shows less than before was reset.
    pub is_confirmed: bool,
}

/// Why a reading is asked back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReadingDoubt {
    /// Earlier than the one before, or before lift-off.
    Earlier {
        /// When the one before was.
        last: Time,
    },
    /// Not a number that a meter shows.
    NoNumber,
    /// Less than the meter showed before.
    LowerThanLast {
        /// What it showed.
        last: ElectricCharge,
    },
    /// More than the packs hold.
    AboveCapacity {
        /// On the meter when nothing is left.
        capacity: ElectricCharge,
    },
    /// Ten times what was expected since the last reading, or more.
    FarAboveExpected {
        /// What the meter should show.
        expected: ElectricCharge,
    },
    /// More than twice, or less than two fifths, of what was expected since the last reading.
    Unlikely {
        /// What the meter should show.
        expected: ElectricCharge,
    },
    /// A voltage that these packs cannot have.
    VoltageBeyondPacks {
        /// Least.
        least: ElectricPotential,
        /// Greatest.
        greatest: ElectricPotential,
    },
}

impl ReadingDoubt {
    /// Its stable name in files and reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Earlier { .. } => "earlier-than-last",
            Self::NoNumber => "no-number",
            Self::LowerThanLast { .. } => "lower-than-last",
            Self::AboveCapacity { .. } => "above-capacity",
            Self::FarAboveExpected { .. } => "far-above-expected",
            Self::Unlikely { .. } => "unlikely",
            Self::VoltageBeyondPacks { .. } => "voltage-beyond-packs",
        }
    }

    /// Whether a crew may stand by it: no meter runs before its time or shows no number.
    pub const fn may_be_confirmed(self) -> bool {
        !matches!(self, Self::Earlier { .. } | Self::NoNumber)
    }
}
