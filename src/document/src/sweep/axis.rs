//! What can be varied, where it is now, and the range that is looked at.

use crate::error::DocumentError;
use crate::model::{Airframe, Bundle, Item, Pack, PackRef, PackType, Setup, Site};
use crate::record::Record;
use crate::resolve::referred;

/// What is varied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SweepAxis {
    /// Mass of all payload on board, kg; every item scaled alike.
    PayloadMass,
    /// Diameter of all rotors, m; nothing else of the aircraft. A bench table counts as one of another rotor.
    RotorDiameter,
    /// Mean wind at 10 m, m/s, with the gusts that the greatest wind is worked out with.
    Wind,
    /// Distance to the set, m.
    Distance,
    /// Elevation of the site, m; QNH as it is, temperature by the standard lapse from where it is.
    Elevation,
    /// Temperature of air and packs, °C.
    Temperature,
    /// Strings in parallel, all like the first.
    Strings,
    /// Capacity of every pack, mAh, with its mass in proportion and its resistance inversely so.
    PackCapacity,
}

impl SweepAxis {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::PayloadMass,
        Self::RotorDiameter,
        Self::Wind,
        Self::Distance,
        Self::Elevation,
        Self::Temperature,
        Self::Strings,
        Self::PackCapacity,
    ];

    /// Stable key.
    pub const fn key(self) -> &'static str {
        match self {
            Self::PayloadMass => "payload-mass",
            Self::RotorDiameter => "rotor-diameter",
            Self::Wind => "wind",
            Self::Distance => "distance",
            Self::Elevation => "elevation",
            Self::Temperature => "temperature",
            Self::Strings => "strings",
            Self::PackCapacity => "pack-capacity",
        }
    }

    /// Whether it changes the way there and back rather than the aircraft in hover.
    pub const fn is_of_the_way(self) -> bool {
        matches!(self, Self::Wind | Self::Distance)
    }
}

/// Where a setup stands on an axis.
pub(super) fn place_now(bundle: &Bundle, setup: &Setup, axis: SweepAxis) -> Result<f64, DocumentError> {
    let site = || referred::<Site>(bundle, "site", &setup.site).map(|(_, site)| site);
    let airframe = || referred::<Airframe>(bundle, "airframe", &setup.airframe).map(|(_, airframe)| airframe);
    Ok(match axis {
        SweepAxis::PayloadMass => payload_kg(bundle, setup),
        SweepAxis::RotorDiameter => airframe()?.propulsion.rotor_diameter_m,
        SweepAxis::Wind => site()?.wind_m_s,
        SweepAxis::Distance => setup.profile.distance_m,
        SweepAxis::Elevation => site()?.elevation_m,
        SweepAxis::Temperature => site()?.temperature_c,
        SweepAxis::Strings => setup.supply.strings.len() as f64,
        SweepAxis::PackCapacity => {
            let first = setup.supply.strings.first().and_then(|string| string.packs.first());
            first_type(bundle, first)?.capacity_mah
        }
    })
}

fn first_type<'a>(bundle: &'a Bundle, pack: Option<&PackRef>) -> Result<&'a PackType, DocumentError> {
    let of = match pack {
        None => "",
        Some(PackRef::Type(id)) => id.as_str(),
        Some(PackRef::Pack(id)) => referred::<Pack>(bundle, "supply.strings", id)?.1.pack_type.as_str(),
    };
    referred::<PackType>(bundle, "supply.strings", of).map(|(_, of)| of)
}

fn payload_kg(bundle: &Bundle, setup: &Setup) -> f64 {
    let on_board = setup.load.iter().filter(|load| load.on);
    on_board.filter_map(|load| Item::find(bundle, &load.item)).map(|(_, item)| item.mass_kg).sum()
}

/// With the gusts that go with more, gusts leave their range.
const WIND_TOP_M_S: f64 = 27.0;

/// Just inside and just outside of what counts as the rotor that a table was measured with: the doubt jumps there.
const BESIDE_THE_MEASURED: [f64; 4] = [1.0 - 0.0051, 1.0 - 0.0049, 1.0 + 0.0049, 1.0 + 0.0051];

/// Common practice, no source: what a builder would look at around the present place.
pub(super) fn usual_places(
    bundle: &Bundle,
    setup: &Setup,
    axis: SweepAxis,
    now: f64,
    places: usize,
) -> Vec<f64> {
    let (from, to) = match axis {
        SweepAxis::PayloadMass => (0.0, (2.0 * now).max(1.0)),
        SweepAxis::RotorDiameter => (0.7 * now, 1.3 * now),
        SweepAxis::Wind => (0.0, (2.0 * now).clamp(15.0, WIND_TOP_M_S.max(now))),
        SweepAxis::Distance => (0.0, (2.0 * now).max(1000.0)),
        SweepAxis::Elevation => (0.0_f64.min(now), 5000.0),
        SweepAxis::Temperature => (-20.0, 45.0),
        SweepAxis::Strings => return (1..=8).map(f64::from).collect(),
        SweepAxis::PackCapacity => (0.4 * now, 2.5 * now),
    };
    let mut all = evenly(from, to, places);
    if axis == SweepAxis::RotorDiameter
        && let Some((_, airframe)) = Airframe::find(bundle, &setup.airframe)
        && let Some(measured_m) = airframe.measured_rotor_m()
    {
        let beside = BESIDE_THE_MEASURED.map(|share| share * measured_m);
        all.extend(beside.into_iter().filter(|place| (from..=to).contains(place)));
    }
    all
}

/// So many places from end to end.
pub(super) fn evenly(from: f64, to: f64, places: usize) -> Vec<f64> {
    let steps = places.max(2) - 1;
    (0..=steps).map(|step| from + (to - from) * step as f64 / steps as f64).collect()
}
