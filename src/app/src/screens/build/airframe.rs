//! The aircraft: layout, propulsion, bench table.

use leptos::prelude::*;
use liftmargin_document::guide::new_airframe;
use liftmargin_document::keys::{LAYOUTS, layout_name};
use liftmargin_document::model::numbers::{
    AIRFRAME_LAYOUT, FRAME, FRAME_POSITION, PROPULSION, SETUP_AIRFRAME,
};
use liftmargin_document::record::List;

use super::super::entry::{choice, choose, entries};
use super::super::listing::{choices_of, name_field, thing_buttons};
use super::Section;
use super::bench::BenchTable;
use super::drag::drag_from_flight;
use crate::live::{act, live_for};
use crate::parts::Choices;
use crate::store::Store;

/// Airframe of the setup.
#[component]
pub fn AirframeSection(setup: String) -> impl IntoView {
    let store = Store::here();
    let chosen = move || {
        let id = store.with_setup(|setup| setup.airframe.clone()).unwrap_or_default();
        store.bundle.with(|bundle| List::Airframes.name(bundle, &id)).map(|_| id).unwrap_or_default()
    };
    let options = move || choices_of(store, List::Airframes);
    let own = setup.clone();
    let new = act(move || {
        let id = store.add(new_airframe(), "airframe");
        choose(store, &SETUP_AIRFRAME, &own, id);
    });
    view! {
        <Section title="Airframe">
            {choice(&setup, &SETUP_AIRFRAME, "Airframe of this setup", options)}
            <p class="row"><button type="button" on:click=new>"New airframe"</button></p>
            {live_for(chosen, airframe_fields)}
        </Section>
    }
}

/// Layouts by the names of the trade.
fn layouts() -> Choices {
    LAYOUTS.iter().map(|key| ((*key).to_owned(), layout_name(key).to_owned())).collect()
}

fn airframe_fields(id: String) -> AnyView {
    view! {
        {name_field(List::Airframes, &id, "Name")}
        {choice(&id, &AIRFRAME_LAYOUT, "Rotor layout", layouts)}
        <div class="entries">{entries(&id, FRAME)}</div>
        {drag_from_flight(&id)}
        <details class="more">
            <summary>"Where the bare frame balances"</summary>
            <div class="entries">{entries(&id, FRAME_POSITION)}</div>
        </details>
        <h3>"Rotor, motor, speed controller"</h3>
        <div class="entries">{entries(&id, PROPULSION)}</div>
        <BenchTable airframe=id.clone() />
        {thing_buttons(List::Airframes, &id)}
    }
    .into_any()
}
