//! One row: a setup at a site.

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::present::Units;
use liftmargin_document::sheet::{Column, Row};
use liftmargin_document::words::{checks, wind};

use super::HEADS;
use crate::live::{act, live, memo};
use crate::parts::{bar, state_mark};
use crate::store::{Sheet, Store};

/// A row by its key, drawn anew when it changes.
pub fn row(key: String, sheet: Sheet) -> AnyView {
    let store = Store::here();
    let (setup, site) = key.split_once('\n').unwrap_or((&key, ""));
    let (setup, site) = (setup.to_owned(), site.to_owned());
    // Other rows may take their places under the same keys.
    let found = memo(move || {
        sheet.rows.with(|places| places.iter().find(|place| place.key == key).map(|place| place.row.clone()))
    });
    let cells = move || {
        let row = found.get()?.get();
        // What is not worked out has no bar.
        let longest_s = if row.figures.is_some() { sheet.longest_s.get() } else { 0.0 };
        Some(cells(&row, longest_s, store.units.get()))
    };
    view! { <tr data-setup=setup data-site=site>{live(cells)}</tr> }.into_any()
}

fn cells(row: &Row, longest_s: f64, units: Units) -> AnyView {
    let of = |column| row.cell(column, units);
    let is_there = row.figures.is_some();
    let waits = !is_there && row.limited_by.is_empty();
    let minutes = if waits { "…".to_owned() } else { of(Column::Cautious) };
    let share = row.cautious().map_or(0.0, |time| if longest_s > 0.0 { time.value / longest_s } else { 0.0 });
    let typical = row.figures.as_ref().and_then(|figures| figures.typical).map(|_| match row.state() {
        // Minutes beside a No are no promise.
        State::No => "not to be flown like this".to_owned(),
        State::Fine | State::Watch => format!("typical {}", of(Column::Typical)),
    });
    let ends = row
        .figures
        .as_ref()
        .and_then(|figures| figures.wind)
        .map(|found| format!("Beyond: {}.", wind::ends(found.ends)));
    let (store, id) = (Store::here(), row.setup.clone());
    let open = act(move || store.select(&id));
    let state = row.state();
    let verdict = if is_there { checks::state_word(state) } else { "Not ready" };
    let flies = typical.is_some();
    let limit = if flies { format!("Limited by: {}", row.limited_by) } else { row.limited_by.clone() };
    view! {
        <th scope="row">
            <a href="#/card" on:click=open>{row.setup_name.clone()}</a>
            <span class="sheet-site">{row.site_name.clone()}</span>
            <small>{row.on_board.clone()}</small>
        </th>
        {cell(1, "cautious", state.key(), minutes, typical.unwrap_or_default(), bar(share))}
        {cell(2, "pack-sets", "", packs(row, units), String::new(), ().into_any())}
        {cell(3, "all-up-mass", "", of(Column::Mass), String::new(), ().into_any())}
        {cell(4, "greatest-wind", "", of(Column::Wind), ends.unwrap_or_default(), ().into_any())}
        <td data-head=HEADS[5] data-state=state.key()>
            <span class="sheet-verdict">{state_mark(state)}<strong data-figure="verdict">{if waits { "…" } else { verdict }}</strong></span>
            <small>{if is_there { of(Column::Verdict) } else { String::new() }}</small>
            <small data-figure="limited-by">{limit}</small>
        </td>
    }
    .into_any()
}

/// "1 flight a charge; 3 sets: 31 min".
fn packs(row: &Row, units: Units) -> String {
    if row.figures.is_none() {
        return "–".to_owned();
    }
    let flights = row.cell(Column::FlightsPerSet, units);
    let flights =
        if flights == "1" { "1 flight a charge".to_owned() } else { format!("{flights} flights a charge") };
    if row.pack_sets.is_none() {
        flights
    } else {
        format!("{flights}; all: {}", row.cell(Column::AllSets, units))
    }
}

fn cell(
    head: usize,
    figure: &'static str,
    state: &'static str,
    words: String,
    small: String,
    drawing: AnyView,
) -> AnyView {
    view! {
        <td data-head=HEADS[head] data-state=state>
            <span class="sheet-figure" data-figure=figure>{words}</span>
            {drawing}
            <small>{small}</small>
        </td>
    }
    .into_any()
}
