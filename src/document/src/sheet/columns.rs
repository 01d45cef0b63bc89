//! The columns: what they are called, what stands in them, and how rows are sorted by them.

use core::cmp::Ordering;

use liftmargin_core::units::Time;

use super::Row;
use crate::present::answer;
use crate::present::units::Units;
use crate::words::{checks, wind};

macro_rules! columns {
    ($($column:ident, $key:literal, $title:literal, $gloss:expr;)+) => {
        /// A column.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[allow(missing_docs, reason = "the titles are the documentation")]
        pub enum Column {
            $($column),+
        }

        impl Column {
            /// All of them, from left to right.
            pub const ALL: [Self; [$($key),+].len()] = [$(Self::$column),+];

            /// Its stable name.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$column => $key),+ }
            }

            /// What stands over it.
            pub const fn title(self) -> &'static str {
                match self { $(Self::$column => $title),+ }
            }

            /// What it means; empty where the title says all.
            pub const fn gloss(self) -> &'static str {
                match self { $(Self::$column => $gloss),+ }
            }
        }
    };
}

columns! {
    Setup, "setup", "Setup", "";
    Site, "site", "Site", "";
    OnBoard, "on-board", "On board", "";
    Cautious, "cautious", "In the air, cautious", "Plan with this one: one flight in ten is shorter. From lift-off to touchdown, with the reserve left in the packs.";
    Typical, "typical", "In the air, typical", "Half of the flights are longer, half shorter.";
    FlightsPerSet, "flights-per-set", "Flights a pack set", "A pack set is what is on board for one flight. Each flight uses its charge down to land-by, so a set flies once before it is charged again.";
    AllSets, "all-sets", "All sets, one charge", "Cautious minutes of all pack sets that the register of packs has for this setup, each charged once.";
    Mass, "mass", "All-up weight", "Everything that leaves the ground: aircraft, packs, camera.";
    Wind, "wind", "Works in wind", wind::GLOSS;
    Verdict, "verdict", "Verdict", "Fine: all checks hold. Watch: it may fly with care. No: do not take off like this.";
    LimitedBy, "limited-by", "Limited by", "What ends the flight, or why there is none.";
}

impl Row {
    /// What stands in a column, in words.
    pub fn cell(&self, column: Column, units: Units) -> String {
        let figures = self.figures.as_ref();
        let none = || "–".to_owned();
        let time = |time: Option<Time>| time.map_or_else(none, answer::time);
        match column {
            Column::Setup => self.setup_name.clone(),
            Column::Site => self.site_name.clone(),
            Column::OnBoard => self.on_board.clone(),
            Column::Cautious => match figures {
                Some(figures) if figures.cautious.is_none() && figures.typical.is_some() => {
                    "not assured".to_owned()
                }
                Some(figures) if figures.typical.is_none() => "no flight".to_owned(),
                _ => time(self.cautious()),
            },
            Column::Typical => time(figures.and_then(|figures| figures.typical)),
            Column::FlightsPerSet => figures.map_or_else(none, |_| self.flights_per_set().to_string()),
            Column::AllSets => match (self.pack_sets, self.all_sets()) {
                (Some(sets), Some(all)) => format!("{} ({})", answer::time(all), sets_words(sets)),
                (Some(sets), None) => sets_words(sets),
                (None, _) => none(),
            },
            Column::Mass => {
                figures.map_or_else(none, |figures| answer::mass(figures.all_up_mass, units).to_string())
            }
            Column::Wind => figures.map_or_else(none, |figures| wind::greatest(figures.wind.as_ref(), units)),
            Column::Verdict => {
                figures.map_or_else(|| "Not ready".to_owned(), |figures| checks::verdict(&figures.verdict))
            }
            Column::LimitedBy => self.limited_by.clone(),
        }
    }

    /// What it is sorted by where it is a number.
    fn number(&self, column: Column) -> Option<f64> {
        let figures = self.figures.as_ref();
        match column {
            Column::Cautious => self.cautious().map(|time| time.value),
            Column::Typical => figures?.typical.map(|time| time.value),
            Column::FlightsPerSet => figures.map(|_| self.flights_per_set() as f64),
            Column::AllSets => self.all_sets().map(|time| time.value),
            Column::Mass => figures.map(|figures| figures.all_up_mass.value),
            Column::Wind => figures?.wind.map(|wind| wind.mean.value),
            // Worst last: what may fly comes first.
            Column::Verdict => Some(f64::from(self.state() as u8)),
            Column::Setup | Column::Site | Column::OnBoard | Column::LimitedBy => None,
        }
    }
}

fn sets_words(sets: usize) -> String {
    if sets == 1 { "1 set".to_owned() } else { format!("{sets} sets") }
}

/// Sorts rows by a column; what has no figure comes last either way, equal ones stay in their order.
pub fn sort(rows: &mut [Row], column: Column, descending: bool) {
    let turned = |order: Ordering| if descending { order.reverse() } else { order };
    let text = |row: &Row| row.cell(column, Units::default()).to_lowercase();
    rows.sort_by(|a, b| match column {
        Column::Setup | Column::Site | Column::OnBoard | Column::LimitedBy => turned(text(a).cmp(&text(b))),
        _ => match (a.number(column), b.number(column)) {
            (Some(a), Some(b)) => turned(a.total_cmp(&b)),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => Ordering::Equal,
        },
    });
}
