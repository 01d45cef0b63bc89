//! Mass limits of aviation law as neutral facts, to be checked against the rules of the place.
//!
//! Formula   within if m < limit
//! Units     kg; 1 lb = 0.453 592 37 kg exactly
//! Source    beside each limit
//! Valid     as the texts stood when read; what they mean for a flight is for the crew and its authority
//! Assumes   the law's take-off mass is the all-up mass, everything on board counted. The two limits lie 52 g apart
//!           (55 lb = 24.948 kg): neither stands for the other

use super::params::MassAndBalance;
use crate::input_error::InputError;
use crate::units::Mass;
use uom::si::mass::kilogram;

/// A mass that some rule names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassNote {
    /// Stable key.
    pub key: &'static str,
    /// The mass named, kg.
    limit_kg: f64,
    /// Whether the rule asks for less than the limit, so that the limit itself is beyond.
    pub strictly_below: bool,
    /// Rule and paragraph.
    pub source: &'static str,
    /// What the rule says, in plain words.
    pub words: &'static str,
}

impl MassNote {
    /// The mass named.
    pub fn limit(&self) -> Mass {
        Mass::new::<kilogram>(self.limit_kg)
    }

    /// Whether this all-up mass is within the limit.
    pub fn is_within(&self, all_up_mass: Mass) -> bool {
        if self.strictly_below { all_up_mass < self.limit() } else { all_up_mass <= self.limit() }
    }
}

/// The limits known.
pub const MASS_NOTES: [MassNote; 2] = [
    MassNote {
        key: "us-55-lb",
        limit_kg: 55.0 * 0.453_592_37,
        strictly_below: true,
        source: "14 CFR 107.3, small unmanned aircraft",
        words: "In the United States a small unmanned aircraft weighs less than 55 lb on take-off, everything on board counted.",
    },
    MassNote {
        key: "eu-25-kg",
        limit_kg: 25.0,
        strictly_below: true,
        source: "Regulation (EU) 2019/947, Article 4(1)",
        words: "In the European Union the open category takes aircraft with a take-off mass of less than 25 kg.",
    },
];

/// A limit held against an all-up mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassNoteState {
    /// The limit.
    pub note: &'static MassNote,
    /// Whether the mass is within it.
    pub is_within: bool,
    /// Limit less mass; negative beyond it.
    pub margin: Mass,
}

/// Every known limit held against this all-up mass, lightest limit first.
///
/// # Errors
/// `InputError::OutOfRange` for the mass.
pub fn mass_notes(all_up_mass: Mass) -> Result<Vec<MassNoteState>, InputError> {
    MassAndBalance::ALL_UP_MASS.check(all_up_mass.value)?;
    let state = |note: &'static MassNote| MassNoteState {
        note,
        is_within: note.is_within(all_up_mass),
        margin: note.limit() - all_up_mass,
    };
    Ok(MASS_NOTES.iter().map(state).collect())
}
