//! Site: the place, its weather, and what the air is like there.

use leptos::prelude::*;
use liftmargin_core::air::air_above;
use liftmargin_core::units::Length;
use liftmargin_document::guide;
use liftmargin_document::model::numbers::{SET, SETUP_SITE, SITE};
use liftmargin_document::model::{Bundle, Site};
use liftmargin_document::present::{Units, answer};
use liftmargin_document::record::{List, Record};
use liftmargin_document::resolve::resolve_site;
use liftmargin_document::words;

use super::card::flight_beside;
use super::entry::{choice, choose, entries};
use super::listing::{choices_of, fault_view, name_field, thing_buttons};
use super::problem::fault_words;
use super::site_metar::report_panel;
use crate::live::{act, live, live_for, live_while, memo, text};
use crate::store::Store;

/// The screen.
#[component]
pub fn SiteScreen() -> impl IntoView {
    let store = Store::here();
    let site = move || {
        let id = store.with_setup(|setup| setup.site.clone()).unwrap_or_default();
        store.bundle.with(|bundle| List::Sites.name(bundle, &id)).map(|_| id).unwrap_or_default()
    };
    let options = move || choices_of(store, List::Sites);
    let of_setup = move |setup: String| choice(&setup, &SETUP_SITE, "Site of this setup", options);
    let new = act(move || {
        let id = store.add(guide::new_site(), "site");
        choose(store, &SETUP_SITE, &store.open.get_untracked(), id);
    });
    view! {
        <main data-screen="site">
            <h1>"Site"</h1>
            <section>
                {live_for(move || store.open.get(), of_setup)}
                <button type="button" on:click=new>"New site"</button>
            </section>
            {live_for(site, weather)}
            {live_for(move || store.open.get(), set_place)}
            {flight_beside()}
        </main>
    }
}

/// Who else counts with this site: a change of its weather changes all of them.
fn shared_by(store: Store, id: &str) -> AnyView {
    let own = id.to_owned();
    let words = text(move || store.bundle.with(|bundle| guide::shared_by(bundle, List::Sites, &own)));
    view! { <p class="quiet" data-figure="shared-by">{words}</p> }.into_any()
}

fn weather(id: String) -> AnyView {
    let store = Store::here();
    let own = id.clone();
    let air = memo(move || {
        let units = store.units.get();
        store.bundle.with(|bundle| air_there(bundle, &own, units))
    });
    view! {
        <section class="weather">
            {air_figures(air)}
            {shared_by(store, &id)}
            {name_field(List::Sites, &id, "Name of the site")}
            <div class="entries">{entries(&id, SITE)}</div>
            {report_panel(id.clone())}
            {thing_buttons(List::Sites, &id)}
        </section>
    }
    .into_any()
}

/// Density altitude, and the words below it.
type Air = (String, String);

/// What the weather comes to: built once, so that a figure follows the finger.
fn air_figures(air: Memo<Option<Result<Air, String>>>) -> AnyView {
    let of = move |read: fn(&Air) -> &String| {
        text(move || air.with(|air| air.iter().flatten().map(read).cloned().collect()))
    };
    let figures = move || {
        view! {
            <div class="answer answer-first">
                <h2>"Density altitude"</h2>
                <p class="figure" data-figure="density-altitude">{of(|air| &air.0)}</p>
                <p class="quiet">{of(|air| &air.1)}</p>
            </div>
        }
    };
    view! {
        {live_while(move || air.with(|air| matches!(air, Some(Ok(_)))), figures)}
        {live(move || air.with(|air| air.clone()?.err().map(fault_view)))}
    }
    .into_any()
}

/// The figures of the air at a site, or why there are none.
fn air_there(bundle: &Bundle, id: &str, units: Units) -> Option<Result<Air, String>> {
    let (_, site) = Site::find(bundle, id)?;
    let air = match resolve_site(site) {
        Err(refused) => return Some(Err(fault_words(&refused, units))),
        Ok(site) => air_above(&site, Length::default()),
    };
    Some(air.map_err(|refusal| words::refusal(&refusal, units)).map(|air| {
        let density = answer::air_density(air.density, units);
        let pressure = answer::pressure(air.pressure, units);
        (
            answer::density_altitude(air.density_altitude, units).to_string(),
            format!("Air density {density}, station pressure {pressure}"),
        )
    }))
}

/// Where the set is, seen from the launch site: part of the flight, at hand here too.
fn set_place(setup: String) -> AnyView {
    view! {
        <section>
            <h2>"The set, from the launch place"</h2>
            <div class="entries">{entries(&setup, SET)}</div>
        </section>
    }
    .into_any()
}
