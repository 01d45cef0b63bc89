//! A weather report pasted on Site: what it says beside what stands there, taken over by one touch and taken back by one.

use leptos::prelude::*;
use liftmargin_core::units::Length;
use liftmargin_document::metar::{
    Metar, Offered, STATION_ELEVATION, TemperatureAt, age, offers, read, temperature,
};
use liftmargin_document::model::{Bundle, Site};
use liftmargin_document::record::Record;
use liftmargin_document::words::weather;
use uom::si::length::meter;

use super::entry::number;
use super::listing::fault_view;
use crate::live::{act, live, live_while, memo, text, typed};
use crate::parts::{SegmentField, Table};
use crate::platform::clock;
use crate::store::Store;

/// What is chosen for the report that was pasted.
#[derive(Clone, Copy)]
struct Chosen {
    at: RwSignal<TemperatureAt>,
    /// Metres.
    station: RwSignal<Option<f64>>,
}

/// The panel, folded, for a site.
pub fn report_panel(site: String) -> AnyView {
    let pasted = RwSignal::new(String::new());
    let said = RwSignal::new(String::new());
    let chosen = Chosen { at: RwSignal::new(TemperatureAt::Station), station: RwSignal::new(None) };
    let report = memo(move || pasted.with(|text| (!text.trim().is_empty()).then(|| read(text))));
    let paste = typed(move |text: String| {
        said.set(String::new());
        pasted.set(text);
    });
    let shown = move || match report.get()? {
        Ok(metar) => Some(report_view(&site, &metar, chosen, said)),
        Err(fault) => Some(fault_view(format!("{fault} Nothing was changed."))),
    };
    view! {
        <details class="report">
            <summary>"Weather report (METAR)"</summary>
            <label>
                "Paste a report"
                <textarea rows="3" spellcheck="false" autocomplete="off" autocapitalize="characters" on:input=paste></textarea>
            </label>
            {live(shown)}
            <p role="status">{text(move || said.get())}</p>
        </details>
    }
    .into_any()
}

fn report_view(id: &str, metar: &Metar, chosen: Chosen, said: RwSignal<String>) -> AnyView {
    let store = Store::here();
    let found = age(metar.observed, (clock::now_ms() / 1000.0) as i64);
    let old = text(move || weather::age(found, store.units.get()));
    let notes: Vec<AnyView> =
        weather::wind_notes(metar).into_iter().map(|note| view! { <li>{note}</li> }.into_any()).collect();
    let (own, of) = (id.to_owned(), metar.clone());
    let rows = move || {
        let units = store.units.get();
        let site = store.bundle.with(|bundle| Site::find(bundle, &own).map(|(_, site)| site.clone()))?;
        let row = |offered: &Offered| {
            let theirs = offered
                .refused(units)
                .map_or_else(|| offered.shown(units), |why| format!("{}\n{why}", offered.shown(units)));
            vec![offered.name().to_owned(), offered.now(&site, units), theirs]
        };
        let rows = all(&of, chosen, &site).iter().map(row).collect();
        let head = ["Reading", "Now", "Report"].map(str::to_owned).to_vec();
        Some(view! { <Table caption="What it says".to_owned() head rows /> }.into_any())
    };
    let (own, of) = (id.to_owned(), metar.clone());
    let take = act(move || {
        let (id, metar) = (own.clone(), of.clone());
        let (at, station) = (chosen.at, chosen.station);
        let chosen = Chosen { at, station };
        let put = move |bundle: &mut Bundle| {
            if let Some(site) = Site::find_mut(bundle, &id) {
                for offered in all(&metar, chosen, &site.clone()) {
                    offered.put(site);
                }
            }
        };
        store.edit_alone("the weather report", Box::new(put));
        said.set(format!("Taken over from {}.", of.station));
    });
    view! {
        <p data-figure="report-of">{weather::observed(metar)}</p>
        <p data-figure="report-age">{old}</p>
        {metar.temperature.is_some().then(|| at_which(id, metar, chosen))}
        {live(rows)}
        <ul>{notes}</ul>
        <p class="row"><button type="button" class="button-strong" on:click=take>"Take over"</button></p>
    }
    .into_any()
}

/// Everything on offer, the chosen temperature in its place.
fn all(metar: &Metar, chosen: Chosen, site: &Site) -> Vec<Offered> {
    let station = chosen.station.get().map(Length::new::<meter>);
    let mut all: Vec<Offered> =
        temperature(metar, chosen.at.get(), station, Length::new::<meter>(site.elevation_m))
            .into_iter()
            .collect();
    all.extend(offers(metar));
    all
}

/// The station's temperature, or carried to the site's elevation: both are shown.
fn at_which(id: &str, metar: &Metar, chosen: Chosen) -> AnyView {
    let store = Store::here();
    let (own, of) = (id.to_owned(), metar.clone());
    let both = text(move || {
        let units = store.units.get();
        let elevation_m =
            store.bundle.with(|bundle| Site::find(bundle, &own).map(|(_, site)| site.elevation_m));
        let site = Length::new::<meter>(elevation_m.unwrap_or_default());
        let station = chosen.station.get().map(Length::new::<meter>);
        let shown = |at| temperature(&of, at, station, site).map(|offered| offered.shown(units));
        let there = shown(TemperatureAt::Station).unwrap_or_default();
        match shown(TemperatureAt::Site) {
            Some(here) => format!(
                "At the station {there}; at the site, with the standard lapse of 6.5 °C per 1000 m, {here}."
            ),
            None => format!(
                "At the station {there}. For the site's elevation give the station's: the report does not say it."
            ),
        }
    });
    let value =
        text(move || if chosen.at.get() == TemperatureAt::Site { "site" } else { "station" }.to_owned());
    let choose = Callback::new(move |key: String| {
        chosen.at.set(if key == "site" { TemperatureAt::Site } else { TemperatureAt::Station });
    });
    let options = [("station", "As at the station"), ("site", "Carried to the site")];
    let options = options.map(|(key, name)| (key.to_owned(), name.to_owned())).to_vec();
    let elevation = number(
        "report-station-elevation".to_owned(),
        &STATION_ELEVATION,
        memo(move || chosen.station.get()),
        Callback::new(move |value| chosen.station.set(value)),
    );
    let lacks = move || chosen.at.get() == TemperatureAt::Site && chosen.station.get().is_none();
    view! {
        {elevation}
        <p data-figure="report-temperatures">{both}</p>
        <SegmentField label="Temperature" options value on_change=choose />
        {live_while(lacks, || fault_view("The temperature stays as it is until the station's elevation is given.".to_owned()))}
    }
    .into_any()
}
