//! Setups side by side: what differs, and what it comes to; what is the same on touch.

use leptos::prelude::*;
use liftmargin_document::compare::{CompareRow, begin_with, compare};
use liftmargin_document::record::List;

use super::super::listing::name_of;
use crate::live::{act_on, flag, live, live_each, memo, text};
use crate::parts::SwitchRow;
use crate::store::{Comparing, Store};

/// The panel; nothing is worked out before it is opened.
#[component]
pub fn CompareSection() -> impl IntoView {
    let store = Store::here();
    let open = RwSignal::new(false);
    // What the crew has chosen; before that the open setup and its neighbour.
    let picked = RwSignal::new(None::<Vec<String>>);
    let chosen = memo(move || {
        let there = store.bundle.with(|bundle| List::Setups.names(bundle));
        let wanted =
            picked.get().unwrap_or_else(|| store.bundle.with(|bundle| begin_with(bundle, &store.open.get())));
        there.into_iter().map(|(id, _)| id).filter(|id| wanted.contains(id)).collect::<Vec<_>>()
    });
    let comparing = Comparing::new();
    Effect::new(move || {
        if open.get() {
            let chosen = chosen.get();
            comparing.start(store.bundle.get(), chosen);
        }
    });
    let content = move || {
        open.get().then(|| {
            view! {
                {choosing(store, picked, chosen)}
                {live(move || table(store, comparing))}
            }
        })
    };
    view! {
        <details class="fold" data-panel="compare" on:toggle=act_on(move || open.set(true))>
            <summary><h2>"Compare setups"</h2></summary>
            {live(content)}
        </details>
    }
}

/// Which setups stand side by side.
fn choosing(store: Store, picked: RwSignal<Option<Vec<String>>>, chosen: Memo<Vec<String>>) -> AnyView {
    let ids = move || {
        store.bundle.with(|bundle| List::Setups.names(bundle)).into_iter().map(|(id, _)| id).collect()
    };
    let switch = move |id: String| {
        let (own, named) = (id.clone(), id.clone());
        let on = flag(move || chosen.with(|chosen| chosen.contains(&own)));
        let change = Callback::new(move |on: bool| {
            let mut now = chosen.get_untracked();
            now.retain(|other| *other != id);
            if on {
                now.push(id.clone());
            }
            picked.set(Some(now));
        });
        view! { <SwitchRow label=text(move || name_of(store, List::Setups, &named)) on on_change=change sub=text(String::new) /> }
    };
    let words = text(move || format!("{} setups side by side: choose", chosen.with(Vec::len)));
    view! {
        <details class="compare-choose">
            <summary>{words}</summary>
            {live_each(ids, switch)}
        </details>
    }
    .into_any()
}

fn table(store: Store, comparing: Comparing) -> AnyView {
    let columns = comparing.columns.get();
    let is_busy = columns.iter().any(|column| column.figures.is_none());
    let rows = store.bundle.with(|bundle| compare(bundle, &columns, store.units.get()));
    let (leading, same): (Vec<_>, Vec<_>) = rows.into_iter().partition(|row| row.leads);
    let names: Vec<String> =
        columns.iter().map(|column| name_of(store, List::Setups, &column.setup)).collect();
    if names.len() < 2 {
        return view! { <p class="quiet">"Choose two setups or more."</p> }.into_any();
    }
    view! {
        <div data-table="compare" aria-busy=is_busy.to_string()>
            {rows_view("What differs, and what it comes to", &names, leading)}
            <p class="quiet">"Cautious figures, each setup at its own site. \u{25b2} is the best of a row."</p>
            <details class="compare-same">
                <summary>{format!("The same in all: {} rows", same.len())}</summary>
                {rows_view("The same in all", &names, same)}
            </details>
        </div>
    }
    .into_any()
}

fn rows_view(caption: &'static str, names: &[String], rows: Vec<CompareRow>) -> AnyView {
    let heads: Vec<AnyView> =
        names.iter().map(|name| view! { <th scope="col">{name.clone()}</th> }.into_any()).collect();
    let rows: Vec<AnyView> = rows.into_iter().map(row_view).collect();
    let columns = names.len().to_string();
    view! {
        <div class="table-place compare-place" tabindex="0" role="group" aria-label=caption>
            <table class="compare" data-columns=columns>
                <caption class="only-read">{caption}</caption>
                <thead><tr><td></td>{heads}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
    .into_any()
}

fn row_view(row: CompareRow) -> AnyView {
    let cell = |(words, best): (String, bool)| {
        let (large, small) = match words.split_once('\n') {
            Some((large, small)) => (large.to_owned(), small.to_owned()),
            None => (words, String::new()),
        };
        let mark = best.then(
            || view! { <span aria-hidden="true">"\u{25b2} "</span><span class="only-read">"best: "</span> },
        );
        let small = (!small.is_empty()).then(|| view! { " " <small>{small}</small> });
        view! { <td>{mark}<b>{large}</b>{small}</td> }.into_any()
    };
    let cells: Vec<AnyView> = row.cells.into_iter().zip(row.best).map(cell).collect();
    view! { <tr data-row=row.key><th scope="row">{row.name}</th>{cells}</tr> }.into_any()
}
