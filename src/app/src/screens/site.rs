//! Site: the place, its weather, and what the air is like there.

use leptos::prelude::*;
use liftmargin_core::air::air_above;
use liftmargin_core::units::Length;
use liftmargin_document::fields::{SET, SITE};
use liftmargin_document::measure::{answer, words};
use liftmargin_document::resolve::resolve_site;
use liftmargin_document::schema::Site;

use super::entry::{element_id, entries};
use super::listing::{NameField, ThingButtons, choices_of};
use super::problem::fault_words;
use crate::parts::ChoiceField;
use crate::store::Store;

/// The screen.
#[component]
pub fn SiteScreen() -> impl IntoView {
    let store = Store::here();
    let site = Memo::new(move |_| store.with_setup(|setup| setup.site.clone()).unwrap_or_default());
    view! {
        <main data-screen="site">
            <h1>"Site"</h1>
            <Sites site />
            {move || {
                let id = site.get();
                (!id.is_empty()).then(|| view! { <Weather id /> })
            }}
            <SetPlace />
        </main>
    }
}

#[component]
fn Sites(site: Memo<String>) -> impl IntoView {
    let store = Store::here();
    let choose = move |id: String| {
        store.edit_setup("site", "the choice of site", |setup| setup.site = id);
    };
    let new = move |_| {
        let id = store.add(standard_site(), "site");
        choose(id);
    };
    view! {
        <section>
            {move || {
                let setup = store.open.get();
                (!setup.is_empty()).then(|| view! {
                    <ChoiceField
                        id=element_id("setups", &setup, "site")
                        label="Site of this setup"
                        options={choices_of::<Site>(store)}
                        value=site
                        on_change=choose
                    />
                })
            }}
            <button type="button" on:click=new>"New site"</button>
        </section>
    }
}

/// A site on the sea shore on a standard day, to start from.
fn standard_site() -> Site {
    Site {
        id: String::new(),
        name: "New site".to_owned(),
        elevation_m: 0.0,
        qnh_hpa: 1013.25,
        temperature_c: 15.0,
        relative_humidity_percent: 50.0,
        wind_m_s: 0.0,
        gust_m_s: 0.0,
    }
}

#[component]
fn Weather(id: String) -> impl IntoView {
    view! {
        <section>
            <AirThere id=id.clone() />
            <NameField<Site> id=id.clone() label="Name of the site" />
            <div class="entries">{entries(&id, &SITE)}</div>
            <ThingButtons<Site> id />
        </section>
    }
}

/// What the weather comes to.
#[component]
fn AirThere(id: String) -> impl IntoView {
    let store = Store::here();
    let site = Memo::new(move |_| {
        store.bundle.with(|bundle| bundle.sites.iter().find(|site| site.id == id).cloned())
    });
    let air = Memo::new(move |_| {
        let site = resolve_site(&site.get()?);
        Some(site.map(|site| air_above(&site, Length::default())))
    });
    move || {
        let units = store.units.get();
        let fault = |words: String| view! { <p role="alert" class="fault">{words}</p> }.into_any();
        match air.get() {
            None => ().into_any(),
            Some(Err(refused)) => fault(fault_words(&refused, units)),
            Some(Ok(Err(refusal))) => fault(words::refusal(&refusal, units)),
            Some(Ok(Ok(air))) => view! {
                <div class="answer answer-first">
                    <h2>"Density altitude"</h2>
                    <p class="figure" data-figure="density-altitude">
                        {answer::density_altitude(air.density_altitude, units).to_string()}
                    </p>
                    <p class="quiet">
                        "Air density " {answer::air_density(air.density, units).to_string()}
                        ", station pressure " {answer::pressure(air.pressure, units).to_string()}
                    </p>
                </div>
            }
            .into_any(),
        }
    }
}

/// Where the set is, seen from the launch site: part of the flight, at hand here too.
#[component]
fn SetPlace() -> impl IntoView {
    let store = Store::here();
    move || {
        let setup = store.open.get();
        (!setup.is_empty()).then(|| {
            view! {
                <section>
                    <h2>"The set, from the launch place"</h2>
                    <div class="entries">{entries(&setup, &SET)}</div>
                </section>
            }
        })
    }
}
