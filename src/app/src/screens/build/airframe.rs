//! The aircraft: layout, propulsion, bench table.

use leptos::prelude::*;
use liftmargin_document::fields::{FRAME, FRAME_POSITION, PROPULSION};
use liftmargin_document::keys::LAYOUTS;
use liftmargin_document::listed::Listed;
use liftmargin_document::schema::{Airframe, Layout, Propulsion};

use super::super::entry::{element_id, entries};
use super::super::listing::Choices;
use super::super::listing::{NameField, ThingButtons, choices_of};
use super::Section;
use super::bench::BenchTable;
use crate::parts::ChoiceField;
use crate::store::Store;

/// Airframe of the setup.
#[component]
pub fn AirframeSection(setup: String) -> impl IntoView {
    let store = Store::here();
    let chosen = Memo::new(move |_| store.with_setup(|setup| setup.airframe.clone()).unwrap_or_default());
    let choose = move |id: String| {
        store.edit_setup("airframe", "the choice of airframe", |setup| setup.airframe = id);
    };
    let new = move |_| choose(store.add(new_airframe(), "airframe"));
    view! {
        <Section title="Airframe">
            <ChoiceField
                id=element_id("setups", &setup, "airframe")
                label="Airframe of this setup"
                options={choices_of::<Airframe>(store)}
                value=chosen
                on_change=choose
            />
            <p class="row"><button type="button" on:click=new>"New airframe"</button></p>
            {move || {
                let id = chosen.get();
                let there = store.bundle.with_untracked(|bundle| Airframe::find(bundle, &id).is_some());
                there.then(|| view! { <AirframeFields id /> })
            }}
        </Section>
    }
}

/// A mid-size flat quad to start from; every figure is to be replaced by the maker's.
fn new_airframe() -> Airframe {
    Airframe {
        id: String::new(),
        name: "New airframe".to_owned(),
        layout: Layout {
            kind: "quad-cross".to_owned(),
            arm_length_m: 0.5,
            coaxial_spacing_m: 0.0,
            places: Vec::new(),
        },
        frame_mass_kg: 5.0,
        frame_position_m: [0.0; 3],
        mass_limit_kg: None,
        drag_area_m2: None,
        propulsion: Propulsion {
            rotor_diameter_m: 0.55,
            rotor_pitch_m: Some(0.2),
            velocity_constant_rpm_v: Some(150.0),
            motor_resistance_ohm: None,
            no_load_current_a: None,
            motor_current_limit_a: 50.0,
            controller_current_limit_a: 60.0,
            bench: None,
        },
    }
}

#[component]
fn AirframeFields(id: String) -> impl IntoView {
    view! {
        <NameField<Airframe> id=id.clone() label="Name" />
        <LayoutChoice airframe=id.clone() />
        <div class="entries">{entries(&id, &FRAME)}</div>
        <details class="more">
            <summary>"Where the bare frame balances"</summary>
            <div class="entries">{entries(&id, &FRAME_POSITION)}</div>
        </details>
        <h3>"Rotor, motor, speed controller"</h3>
        <div class="entries">{entries(&id, &PROPULSION)}</div>
        <BenchTable airframe=id.clone() />
        <ThingButtons<Airframe> id />
    }
}

#[component]
fn LayoutChoice(airframe: String) -> impl IntoView {
    let store = Store::here();
    let own = airframe.clone();
    let chosen = Signal::derive(move || {
        let kind = store
            .bundle
            .with(|bundle| Airframe::find(bundle, &own).map(|(_, there)| there.layout.kind.clone()));
        kind.unwrap_or_default()
    });
    let choices: Choices = LAYOUTS.iter().map(|key| ((*key).to_owned(), key.replace('-', " "))).collect();
    let own = airframe.clone();
    let choose = move |kind: String| {
        store.edit_thing::<Airframe>(&own, "layout", "the layout", |there| there.layout.kind = kind);
    };
    let id = element_id("airframes", &airframe, "layout.kind");
    view! { <ChoiceField id label="Rotor layout" options=Signal::stored(choices) value=chosen on_change=choose /> }
}
