//! Which setups and sites are on the sheet.

use leptos::prelude::*;
use liftmargin_document::record::List;

use super::sorting;
use crate::live::{flag, live_each, text};
use crate::parts::SwitchRow;
use crate::screens::listing::name_of;
use crate::store::{Sheet, Store};

/// The choices, folded: mostly all setups are wanted.
#[component]
pub fn Choosing() -> impl IntoView {
    let (store, sheet) = (Store::here(), Sheet::here());
    let count = move |list: List| store.bundle.with(|bundle| list.names(bundle).len());
    let setups = move || {
        let (all, out) = (count(List::Setups), sheet.left_out.with(Vec::len));
        format!("{} of {all} setups", all.saturating_sub(out))
    };
    let sites = move || match sheet.sites.with(Vec::len) {
        0 => "each at its own site".to_owned(),
        1 => "all at one site".to_owned(),
        some => format!("all at each of {some} sites"),
    };
    let all = text(move || format!("{}; {}", setups(), sites()));
    view! {
        <details class="wide sheet-choose">
            <summary>{all}</summary>
            {sorting()}
            <h2>"Setups"</h2>
            {switches(List::Setups, sheet.left_out, true)}
            <h2>"Sites"</h2>
            <p class="quiet">"With none chosen, each setup stands at its own site; else every setup at each of these."</p>
            {switches(List::Sites, sheet.sites, false)}
        </details>
    }
}

/// A switch for each record; `chosen` holds those that are on, or those that are off.
fn switches(list: List, chosen: RwSignal<Vec<String>>, holds_off: bool) -> AnyView {
    let store = Store::here();
    let ids = move || store.bundle.with(|bundle| list.names(bundle)).into_iter().map(|(id, _)| id).collect();
    let switch = move |id: String| {
        let (own, named) = (id.clone(), id.clone());
        let on = flag(move || chosen.with(|chosen| chosen.contains(&own)) != holds_off);
        let change = Callback::new(move |on: bool| {
            chosen.update(|chosen| {
                chosen.retain(|other| *other != id);
                if on != holds_off {
                    chosen.push(id.clone());
                }
            });
        });
        let name = text(move || name_of(store, list, &named));
        view! { <SwitchRow label=name on on_change=change sub=text(String::new) /> }
    };
    live_each(ids, switch)
}
