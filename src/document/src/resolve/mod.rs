//! From the file to core's parameters: units converted, every number held against core's bounds, references followed.

mod airframe;
mod flight;
mod layout;
mod setup;
mod site;
mod supply;

pub use airframe::{AirframeParts, airframe_parts, bench};
pub use layout::LayoutParts;
pub use setup::{resolve_item, resolve_setup, usual_drag_area};
pub use site::resolve_site;
pub use supply::pack;

pub(crate) use flight::{profile, reserve};
pub(crate) use site::numbers as site_numbers;
pub(crate) use supply::wiring;

use crate::error::DocumentError;
use crate::listed::Listed;
use crate::schema::Bundle;

/// What a reference refers to, with its place in its list.
pub(crate) fn referred<'a, T: Listed>(
    bundle: &'a Bundle,
    path: &str,
    id: &str,
) -> Result<(usize, &'a T), DocumentError> {
    if id.is_empty() {
        return Err(DocumentError::Missing {
            path: path.to_owned(),
            allowed: format!("one of the {} of the file", T::LIST),
        });
    }
    T::find(bundle, id)
        .ok_or_else(|| DocumentError::UnknownReference { path: path.to_owned(), id: id.to_owned() })
}
