//! Why a report is refused.

use core::fmt;

/// A text that is no report, or a group that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MetarFault {
    /// No text.
    Empty,
    /// Longer than a report can be.
    TooLong {
        /// Its length.
        characters: usize,
        /// The longest that is read.
        most: usize,
    },
    /// A forecast (TAF).
    Forecast,
    /// The first group is no station.
    NoStation {
        /// What stands there.
        found: String,
    },
    /// The second group is no time.
    NoTime {
        /// What stands there.
        found: String,
    },
    /// The station reports that it has no report.
    Nil,
    /// A group of a known form that cannot be.
    BadGroup {
        /// The group.
        group: String,
        /// What is wrong with it.
        reason: BadGroup,
    },
    /// Neither wind nor temperature nor pressure.
    NothingOfUse,
}

/// What can be wrong with a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BadGroup {
    /// Not of the form that its end or middle promises.
    Form,
    /// Direction above 360 degrees.
    Direction,
    /// Gust not above the mean wind.
    GustBelowMean,
    /// Faster than any wind that was measured.
    WindTooFast,
    /// Hotter or colder than was ever measured.
    Temperature,
    /// Dew point above the temperature.
    DewPointAbove,
    /// Pressure out of all records.
    Pressure,
    /// Two groups that should agree do not.
    Contradiction,
}

impl fmt::Display for MetarFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => {
                write!(f, "There is no report: paste one METAR, for example from the aerodrome nearest by.")
            }
            Self::TooLong { characters, most } => {
                write!(
                    f,
                    "{characters} characters are more than one report has (at most {most}): paste one METAR."
                )
            }
            Self::Forecast => write!(f, "This is a forecast (TAF), not a report: paste a METAR."),
            Self::NoStation { found } => write!(
                f,
                "“{found}” is not a station: a report starts with four letters, then day and time, as in EPWA 251800Z."
            ),
            Self::NoTime { found } if found.is_empty() => {
                write!(f, "The report has no time: after the station stands day and time, as in 251800Z.")
            }
            Self::NoTime { found } => {
                write!(f, "“{found}” is not a time: after the station stands day and time, as in 251800Z.")
            }
            Self::Nil => {
                write!(f, "The station has no report (NIL): take an earlier one or another station.")
            }
            Self::BadGroup { group, reason } => write!(f, "“{group}” cannot be: {reason}."),
            Self::NothingOfUse => write!(f, "The report has neither wind nor temperature nor pressure."),
        }
    }
}

impl fmt::Display for BadGroup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Form => "it is not formed like such a group",
            Self::Direction => "a direction is at most 360 degrees",
            Self::GustBelowMean => "a gust is faster than the mean wind",
            Self::WindTooFast => "no wind is that fast",
            Self::Temperature => "no air is that hot or cold",
            Self::DewPointAbove => "the dew point is never above the temperature",
            Self::Pressure => "no pressure at sea level is that high or low",
            Self::Contradiction => "another group of the report says otherwise",
        })
    }
}

impl core::error::Error for MetarFault {}
