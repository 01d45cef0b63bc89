//! The file: what a crew saves, exchanges and exports. Unit in each number's name; ids refer across lists.
//!
//! One file a record: its shape, its numbers with range, name and help, and what it refers to. `resolve` turns a setup
//! into core's parameters. Fields that this version does not know are kept in `extra` and written back.

mod airframe;
mod bench;
mod day_plan;
mod fitness;
mod flight;
mod flown_setup;
mod item;
mod pack;
mod pack_type;
mod recording;
mod setup;
mod site;
mod supply;

pub mod numbers;

pub use airframe::{Airframe, Layout, Learned, Place, Propulsion};
pub use bench::{Bench, BenchRow};
pub use day_plan::{DayPlan, DaySets, SupplyKind, WantedFlight};
pub use fitness::FitnessLimits;
pub use flight::{Aloft, Flight, Predicted, Reading, Touched};
pub use flown_setup::{FlownSetup, Frozen};
pub use item::{Item, ItemKind};
pub use pack::Pack;
pub use pack_type::PackType;
pub use recording::{Points, Recording};
pub use setup::{Load, Profile, Reserve, Setup};
pub use site::Site;
pub use supply::{EqualStrings, PackRef, PackString, Supply, entered_once, one_by_one};

use serde::{Deserialize, Serialize};

/// The schema number written today.
pub const SCHEMA: u32 = 2;

/// Fields of a later version, kept as they came.
pub type Extra = serde_json::Map<String, serde_json::Value>;

/// Everything a crew keeps. A new list stands here, in `record::List`, and in a file of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bundle {
    /// Schema number.
    pub liftmargin_schema: u32,
    /// Aircraft.
    #[serde(default)]
    pub airframes: Vec<Airframe>,
    /// Sorts of pack.
    #[serde(default)]
    pub pack_types: Vec<PackType>,
    /// Single packs.
    #[serde(default)]
    pub packs: Vec<Pack>,
    /// Payload: stabilisers, cameras, lenses, radios.
    #[serde(default)]
    pub items: Vec<Item>,
    /// Places.
    #[serde(default)]
    pub sites: Vec<Site>,
    /// Combinations to fly.
    #[serde(default)]
    pub setups: Vec<Setup>,
    /// Setups as they were flown.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flown_setups: Vec<FlownSetup>,
    /// The log, and a flight in the air.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flights: Vec<Flight>,
    /// Recordings of flights, for drawing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub recordings: Vec<Recording>,
    /// Days as wanted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub day_plans: Vec<DayPlan>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

impl Bundle {
    /// A copy of what is flown with, and where: without the log and the recordings of a season.
    #[must_use]
    pub fn equipment(&self) -> Self {
        Self {
            airframes: self.airframes.clone(),
            pack_types: self.pack_types.clone(),
            packs: self.packs.clone(),
            items: self.items.clone(),
            sites: self.sites.clone(),
            setups: self.setups.clone(),
            ..Self::new()
        }
    }

    /// A bundle with nothing in it.
    pub fn new() -> Self {
        Self {
            liftmargin_schema: SCHEMA,
            airframes: Vec::new(),
            pack_types: Vec::new(),
            packs: Vec::new(),
            items: Vec::new(),
            sites: Vec::new(),
            setups: Vec::new(),
            flown_setups: Vec::new(),
            flights: Vec::new(),
            recordings: Vec::new(),
            day_plans: Vec::new(),
            extra: Extra::new(),
        }
    }
}

impl Default for Bundle {
    fn default() -> Self {
        Self::new()
    }
}

/// Each table that a screen shows as one.
pub static GROUPS: &[crate::fields::Group] = &[
    numbers::FRAME,
    numbers::FRAME_POSITION,
    numbers::PROPULSION,
    numbers::BENCH,
    numbers::PACK_TYPE,
    numbers::TYPE_AGE,
    numbers::FITNESS,
    numbers::PACK,
    numbers::ITEM,
    numbers::ITEM_WEIGHT,
    numbers::SITE,
    numbers::SET,
    numbers::FLIGHT,
    numbers::RESERVE,
    numbers::WIRING,
    numbers::SUPPLY_POSITION,
    numbers::FLOWN,
    numbers::DAY_PAUSES,
    numbers::DAY_CHARGERS,
];

/// Fields that this version does not know, by their paths.
pub(crate) trait Unknown {
    /// Notes those of this part, which stands at `path`.
    fn unknown(&self, path: &str, found: &mut Vec<String>);
}

impl<T: Unknown> Unknown for Vec<T> {
    fn unknown(&self, path: &str, found: &mut Vec<String>) {
        self.iter().enumerate().for_each(|(index, part)| part.unknown(&format!("{path}[{index}]"), found));
    }
}

impl<T: Unknown> Unknown for Option<T> {
    fn unknown(&self, path: &str, found: &mut Vec<String>) {
        if let Some(part) = self {
            part.unknown(path, found);
        }
    }
}

/// A path one field further.
pub(crate) fn below(path: &str, field: &str) -> String {
    if path.is_empty() { field.to_owned() } else { format!("{path}.{field}") }
}

/// A part with unknown fields of its own, and its parts that may have some.
macro_rules! parts {
    ($kind:ident { $($part:ident),* }) => {
        impl $crate::model::Unknown for $kind {
            fn unknown(&self, path: &str, found: &mut Vec<String>) {
                let named = self.extra.iter().filter(|(_, value)| !value.is_null());
                found.extend(named.map(|(name, _)| $crate::model::below(path, name)));
                $($crate::model::Unknown::unknown(
                    &self.$part,
                    &$crate::model::below(path, stringify!($part)),
                    found,
                );)*
            }
        }
    };
}
pub(crate) use parts;

parts!(Bundle {
    airframes,
    pack_types,
    packs,
    items,
    sites,
    setups,
    flown_setups,
    flights,
    recordings,
    day_plans
});

/// Left out of the file where it is nothing.
#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands on a reference")]
pub(crate) fn is_zero(count: &u32) -> bool {
    *count == 0
}
