//! When, of which setup and where an entry was: put right later.

use leptos::prelude::*;
use liftmargin_document::log::{edited, was_at_site, was_of_setup};
use liftmargin_document::model::{Bundle, Flight};
use liftmargin_document::present::moment;
use liftmargin_document::record::{List, Record};

use super::super::listing::fault_view;
use crate::live::{Text, live, text};
use crate::parts::{ChoiceField, Choices, TextField};
use crate::platform::clock;
use crate::store::Store;

/// The part of an entry's form.
pub fn amending(store: Store, id: &str) -> AnyView {
    let fault = RwSignal::new(None::<String>);
    view! {
        {lift_off(store, id, fault)}
        {chosen(store, id, List::Setups, fault)}
        {chosen(store, id, List::Sites, fault)}
        {live(move || fault.get().map(fault_view))}
    }
    .into_any()
}

fn of_flight<T: Default>(store: Store, id: &str, read: fn(&Flight) -> T) -> T {
    store.bundle.with(|bundle| Flight::find(bundle, id).map(|(_, flight)| read(flight))).unwrap_or_default()
}

fn lift_off(store: Store, id: &str, fault: RwSignal<Option<String>>) -> AnyView {
    let own = id.to_owned();
    let shown = text(move || {
        let unix_ms = of_flight(store, &own, |flight| flight.lift_off_unix_ms);
        moment::minute(unix_ms, clock::east_min(unix_ms))
    });
    let own = id.to_owned();
    let typed = Callback::new(move |words: String| {
        // As if it were world time first: the phone's distance from it may be another at that date.
        let Some(near_ms) = moment::from_iso(&words) else {
            fault.set(Some("Lift-off: a day and a time, such as 2026-11-26 14:05.".to_owned()));
            return;
        };
        fault.set(None);
        let unix_ms = near_ms - 60_000.0 * clock::east_min(near_ms);
        let id = own.clone();
        let group = format!("flights {id} lift-off");
        store.edit(
            &group,
            "the lift-off",
            Box::new(move |bundle| {
                *bundle = edited(bundle, &id, clock::now_ms(), |flight| flight.lift_off_unix_ms = unix_ms);
            }),
        );
    });
    view! { <TextField label="Lift-off" value=shown on_change=typed /> }.into_any()
}

/// The setup or the site, chosen anew; what the entry has stands first, be it gone from the list.
fn chosen(store: Store, id: &str, list: List, fault: RwSignal<Option<String>>) -> AnyView {
    let is_setup = list == List::Setups;
    let own = id.to_owned();
    let there = move || {
        let read: fn(&Flight) -> String =
            if is_setup { |flight| flight.name.clone() } else { |flight| flight.place.clone() };
        of_flight(store, &own, read)
    };
    let options = move || -> Choices {
        let mut choices = vec![(String::new(), format!("{} (as flown)", there()))];
        choices.extend(store.bundle.with(|bundle| list.names(bundle)));
        choices
    };
    let own = id.to_owned();
    let choose = Callback::new(move |chosen: String| {
        if chosen.is_empty() {
            return;
        }
        let put = if is_setup { was_of_setup } else { was_at_site };
        let amended: Result<Bundle, _> =
            store.bundle.with_untracked(|bundle| put(bundle, &own, &chosen, clock::now_ms()));
        match amended {
            Ok(amended) => {
                fault.set(None);
                store.edit_alone("what was flown", Box::new(|now| *now = amended));
            }
            Err(refused) => fault.set(Some(refused.to_string())),
        }
    });
    let label = if is_setup { "It was the setup" } else { "It was at" };
    let nothing: Text = text(String::new);
    view! { <ChoiceField label options=Box::new(options) value=nothing on_change=choose /> }.into_any()
}
