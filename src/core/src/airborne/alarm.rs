//! Which alarm is due, by the clock alone: nothing is remembered but when a crew touched which.
//!
//! Formula   due from its moment on; silent while it was touched at that moment or later, so that one whose moment moves
//!           beyond the touch sounds again
//! Units     s
//! Source    own rule
//! Valid     any time
//! Assumes   times since lift-off on one clock

use super::projection::AirborneMarks;
use crate::units::Time;
use uom::si::time::second;

/// How long before turning back or landing a crew is warned, s: common practice, no source.
const WARNING_S: f64 = 60.0;

/// What an alarm says. The later ones ask for more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AlarmKind {
    /// A minute to turning back.
    BeforeTurnBack,
    /// Turn back.
    TurnBack,
    /// Packs weaker than planned: come home.
    WeakPacks,
    /// A minute to being down.
    BeforeLandBy,
    /// Be down.
    LandBy,
}

impl AlarmKind {
    /// All, the most urgent last.
    pub const ALL: [Self; 5] =
        [Self::BeforeTurnBack, Self::TurnBack, Self::WeakPacks, Self::BeforeLandBy, Self::LandBy];

    /// Its stable name in files and on the page.
    pub const fn key(self) -> &'static str {
        match self {
            Self::BeforeTurnBack => "before-turn-back",
            Self::TurnBack => "turn-back",
            Self::WeakPacks => "weak-packs",
            Self::BeforeLandBy => "before-land-by",
            Self::LandBy => "land-by",
        }
    }

    /// The one of this name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }
}

/// One alarm and its moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alarm {
    /// What it says.
    pub kind: AlarmKind,
    /// Since lift-off.
    pub due: Time,
}

/// All alarms of a flight as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Alarms {
    all: Vec<Alarm>,
}

impl Alarms {
    /// From the marks to fly by, and when packs were found weak.
    pub fn new(marks: &AirborneMarks, weak_at: Option<Time>) -> Self {
        let before = Time::new::<second>(WARNING_S);
        let mut all = vec![
            Alarm { kind: AlarmKind::BeforeTurnBack, due: marks.turn_back_at - before },
            Alarm { kind: AlarmKind::TurnBack, due: marks.turn_back_at },
            Alarm { kind: AlarmKind::BeforeLandBy, due: marks.land_by_at - before },
            Alarm { kind: AlarmKind::LandBy, due: marks.land_by_at },
        ];
        all.extend(weak_at.map(|due| Alarm { kind: AlarmKind::WeakPacks, due }));
        all.sort_by_key(|alarm| alarm.kind);
        Self { all }
    }

    /// All of them, the most urgent last.
    pub fn all(&self) -> &[Alarm] {
        &self.all
    }

    /// Those that sound now, the most urgent first. `touched` holds which was touched when.
    pub fn sounding(&self, now: Time, touched: &[(AlarmKind, Time)]) -> Vec<AlarmKind> {
        let silenced =
            |alarm: &Alarm| touched.iter().any(|(kind, at)| *kind == alarm.kind && *at >= alarm.due);
        let due = self.all.iter().rev().filter(|alarm| now >= alarm.due && !silenced(alarm));
        due.map(|alarm| alarm.kind).collect()
    }

    /// The next that is not due yet.
    pub fn next(&self, now: Time) -> Option<Alarm> {
        let ahead = self.all.iter().filter(|alarm| alarm.due > now);
        ahead.copied().min_by(|one, other| one.due.value.total_cmp(&other.due.value))
    }
}
