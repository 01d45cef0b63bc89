//! From the file to core's parameters: units converted, every number held against core's bounds, references followed.

mod airframe;
mod fitness;
mod flight;
mod layout;
mod learned;
mod setup;
mod site;
mod supply;
mod unit;

pub use airframe::{AirframeParts, airframe_parts};
pub use fitness::fitness_thresholds;
pub use layout::LayoutParts;
pub use learned::LearnedAirframes;
pub use setup::{Movable, movables, resolve_item, resolve_setup};
pub use site::resolve_site;
pub use supply::pack_type;
pub use unit::{ResolvedAirframe, is_other_rotor, resolve_airframe};

pub(crate) use flight::{profile, reserve};
pub(crate) use supply::{counted_at, health_of_pack, rest_by_use, string_start, wiring};
pub(crate) use unit::on_rotor;

use liftmargin_core::air::Site;
use liftmargin_core::card::{Airframe, Setup};

use crate::error::DocumentError;
use crate::model::{self, Bundle};
use crate::record::Record;

/// What a reference refers to, with its place in its list.
pub(crate) fn referred<'a, T: Record>(
    bundle: &'a Bundle,
    path: &str,
    id: &str,
) -> Result<(usize, &'a T), DocumentError> {
    if id.is_empty() {
        return Err(DocumentError::Missing {
            path: path.to_owned(),
            allowed: format!("one of the {} of the file", T::LIST.key().replace('_', " ")),
        });
    }
    T::find(bundle, id)
        .ok_or_else(|| DocumentError::UnknownReference { path: path.to_owned(), id: id.to_owned() })
}

/// A setup and its site as core's parameters, with all they refer to; fits the airframe's bench table.
///
/// # Errors
/// Any fault of what the setup refers to, with its path from the file's root.
pub fn resolve(bundle: &Bundle, setup_id: &str) -> Result<(Setup, Site), DocumentError> {
    resolve_on(bundle, setup_id, |airframe| Ok(resolve_airframe(airframe)?.airframe))
}

/// As `resolve`, with an airframe that may have been resolved before: `learned` gives it, with paths below it.
///
/// # Errors
/// As `resolve`.
pub fn resolve_on(
    bundle: &Bundle,
    setup_id: &str,
    learned: impl FnOnce(&model::Airframe) -> Result<Airframe, DocumentError>,
) -> Result<(Setup, Site), DocumentError> {
    let (index, setup) = referred::<model::Setup>(bundle, "setup", setup_id)?;
    let under = |fault: DocumentError| fault.under(&format!("setups[{index}]"));
    let (place, chosen) = referred::<model::Airframe>(bundle, "airframe", &setup.airframe).map_err(under)?;
    let airframe = learned(chosen).map_err(|fault| fault.under(&format!("airframes[{place}]")))?;
    let (place, site) = referred::<model::Site>(bundle, "site", &setup.site).map_err(under)?;
    let site = resolve_site(site).map_err(|fault| fault.under(&format!("sites[{place}]")))?;
    Ok((resolve_setup(bundle, setup, &airframe)?, site))
}
