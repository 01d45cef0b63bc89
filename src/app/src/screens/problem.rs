//! A fault of the data in plain words, with the way to the field that is at fault.

use leptos::prelude::*;
use liftmargin_core::input_error::InputError;
use liftmargin_document::DocumentError;
use liftmargin_document::model::numbers::STRING;
use liftmargin_document::model::{Bundle, Setup, entered_once};
use liftmargin_document::present::{EntryFault, Units};
use liftmargin_document::record::List;
use liftmargin_document::words;

use super::entry::element_id;
use crate::live::act;
use crate::platform::{frame, page, route};
use crate::router::Screen;
use crate::store::Store;

/// A screen is there well within so many frames.
const FRAMES_FOR_A_SCREEN: usize = 30;

/// Where a field is edited.
struct Place {
    screen: Screen,
    element: String,
}

/// The fault, in words, with a link to its field.
pub fn problem(store: Store, fault: DocumentError) -> AnyView {
    let place = store.bundle.with_untracked(|bundle| place(bundle, fault.field()));
    let words = fault_words(&fault, store.units.get());
    let link = place.map(|place| {
        let go = act(move || go_to_field(place.screen, place.element.clone()));
        view! { <button type="button" on:click=go>"Go to the field"</button> }
    });
    view! {
        <section class="note note-serious" role="alert" data-note="problem">
            <h2>"No answer yet"</h2>
            <p>{words}</p>
            {link}
        </section>
    }
    .into_any()
}

/// Goes to a field on a screen, by the id of its element.
pub fn go_to_field(screen: Screen, element: String) {
    route::go(&format!("/{}", screen.path()));
    // The other screen must be there first.
    frame::until(FRAMES_FOR_A_SCREEN, move || page::go_to(&element));
}

/// A fault of the data in the user's words and units.
pub fn fault_words(fault: &DocumentError, units: Units) -> String {
    match fault {
        DocumentError::Refused {
            refusal: InputError::OutOfRange { range, .. },
            number: Some(number),
            ..
        } => EntryFault::OutOfRange { range }.words_for(number.label, range, units),
        DocumentError::Refused { refusal, .. } => words::refusal(refusal, units),
        DocumentError::Missing { allowed, .. } => format!("Still to be chosen: {allowed}."),
        DocumentError::Contradiction { path, allowed, .. } => {
            words::sentence(&format!("{} must be {allowed}", plain_name(path)))
        }
        other => words::sentence(&other.to_string()),
    }
}

/// `sites[0].gust_m_s` as `gust`.
fn plain_name(path: &str) -> String {
    let name = path.rsplit('.').next().unwrap_or(path);
    let name = name.split('[').next().unwrap_or(name);
    let units = ["_m_s", "_kg", "_m", "_c", "_percent", "_hpa", "_s", "_v", "_mah"];
    let bare = units.iter().find_map(|unit| name.strip_suffix(unit)).unwrap_or(name);
    bare.replace('_', " ")
}

/// Where the field with this path in the file is edited.
fn place(bundle: &Bundle, path: &str) -> Option<Place> {
    let (list, index, rest) = head(path)?;
    let id = List::from_key(list)?.id_at(bundle, index)?;
    if list == "setups" {
        let setup = bundle.setups.get(index)?;
        if let Some((_, load, below)) = rest.strip_prefix("load").and_then(|_| head(rest)) {
            let item = setup.load.get(load)?.item.clone();
            let field = below.trim_start_matches("item.");
            let list = if field == below { "setups" } else { "items" };
            return Some(Place { screen: Screen::Build, element: element_id(list, &item, field) });
        }
        if rest.starts_with("supply.strings") {
            let element = string_element(setup, &id, rest);
            return Some(Place { screen: Screen::Build, element });
        }
    }
    let screen = if list == "sites" || rest == "site" { Screen::Site } else { Screen::Build };
    Some(Place { screen, element: element_id(list, &id, rest) })
}

/// A number of a string, where strings that are alike stand once; else where packs are chosen.
fn string_element(setup: &Setup, id: &str, rest: &str) -> String {
    let own_field = || {
        let (string, field) = rest.strip_prefix("supply.strings[")?.split_once("].")?;
        let string: usize = string.parse().ok()?;
        let is_number = STRING.iter().any(|number| number.number.path == field);
        let mut first = 0;
        for alike in entered_once(&setup.supply.strings) {
            if (first..first + alike.count).contains(&string) && is_number {
                return Some(element_id("setups", id, &format!("supply.strings[{first}].{field}")));
            }
            first += alike.count;
        }
        None
    };
    own_field().unwrap_or_else(|| element_id("setups", id, "supply"))
}

/// `sites[2].wind_m_s` as `sites`, 2, `wind_m_s`.
fn head(path: &str) -> Option<(&str, usize, &str)> {
    let (list, rest) = path.split_once('[')?;
    let (index, rest) = rest.split_once(']')?;
    Some((list, index.parse().ok()?, rest.trim_start_matches('.')))
}
