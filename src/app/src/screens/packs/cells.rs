//! At the charging table: one pack after another, the next cell by one touch.

use leptos::prelude::*;
use liftmargin_document::ground::cell_entry::{CellReading, cells_of};
use liftmargin_document::ground::register;
use liftmargin_document::model::{Bundle, Pack};
use liftmargin_document::record::{List, Record};

use super::super::listing::{choices_of, fault_view};
use super::{edit_pack, one_more, today};
use crate::live::{act, keeps_cursor, live, memo, submitted, text, typed};
use crate::parts::{ChoiceField, SegmentField};
use crate::store::Store;

/// The entry.
pub fn charging_table() -> AnyView {
    let store = Store::here();
    let chosen = RwSignal::new(String::new());
    let pack = memo(move || {
        let wanted = chosen.get();
        store.bundle.with(|bundle| {
            let known = Pack::find(bundle, &wanted).map(|(_, pack)| pack.id.clone());
            known.or_else(|| List::Packs.id_at(bundle, 0)).unwrap_or_default()
        })
    });
    let (cell, typed_text) = (RwSignal::new(0_usize), RwSignal::new(String::new()));
    let kind = RwSignal::new(CellReading::Voltage);
    let to = move |id: String| {
        chosen.set(id);
        cell.set(0);
        typed_text.set(String::new());
    };
    let new = act(move || to(one_more(store)));
    let next_pack = act(move || {
        let next = store.bundle.with_untracked(|bundle| {
            let place = Pack::find(bundle, &pack.get_untracked()).map_or(0, |(place, _)| place + 1);
            List::Packs.id_at(bundle, place).or_else(|| List::Packs.id_at(bundle, 0))
        });
        to(next.unwrap_or_default());
    });
    let choose = Callback::new(to);
    let readings = [("voltage", "Rest voltage, V"), ("resistance", "Resistance, mΩ")];
    let kinds = readings.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec();
    let kind_key =
        text(move || if kind.get() == CellReading::Voltage { "voltage" } else { "resistance" }.to_owned());
    let choose_kind = Callback::new(move |key: String| {
        kind.set(if key == "voltage" { CellReading::Voltage } else { CellReading::Resistance });
        cell.set(0);
        typed_text.set(String::new());
    });
    let fault = RwSignal::new(None::<String>);
    let keep = submitted(move || fault.set(keep_and_go_on(pack, kind, cell, typed_text).err()));
    let label = text(move || format!("Cell {}", cell.get() + 1));
    view! {
        <section class="no-print">
            <h2>"At the charging table"</h2>
            <ChoiceField label="Pack" options=Box::new(move || choices_of(store, List::Packs))
                value=text(move || pack.get()) on_change=choose />
            <SegmentField label="Reading" options=kinds value=kind_key on_change=choose_kind />
            <form class="cell-entry" on:submit=keep>
            <div class="field">
                <label for="next-cell">{label}</label>
                <div class="field-box">
                    <input id="next-cell" type="text" inputmode="decimal" enterkeyhint="next" autocomplete="off" prop:value=text(move || typed_text.get())
                        on:input=typed(move |words| typed_text.set(words)) />
                </div>
            </div>
            <p class="row">
                <button type="submit" class="button-strong" on:mousedown=keeps_cursor()>"Next cell"</button>
                <button type="button" on:mousedown=keeps_cursor() on:click=next_pack>"Next pack"</button>
                <button type="button" on:mousedown=keeps_cursor() on:click=new>"New pack"</button>
            </p>
            </form>
            <p class="row">
                <button type="button" on:click=act(move || charged(Some(pack.get_untracked())))>"This one is charged"</button>
                <button type="button" on:click=act(|| charged(None))>"All are charged"</button>
            </p>
            {live(move || fault.get().map(fault_view))}
            <p data-figure="cells" role="status">{live(move || so_far(pack, kind))}</p>
        </section>
    }
    .into_any()
}

/// One pack, or all, come full from the charger.
fn charged(id: Option<String>) {
    let change = move |bundle: &mut Bundle| {
        register::set_charged(bundle, |pack| id.as_ref().is_none_or(|id| *id == pack.id));
    };
    Store::here().edit_alone("packs charged", Box::new(change));
}

/// Keeps a good reading and goes to the next cell; a text that is none stays where it is.
fn keep_and_go_on(
    pack: Memo<String>,
    kind: RwSignal<CellReading>,
    cell: RwSignal<usize>,
    typed_text: RwSignal<String>,
) -> Result<(), String> {
    let (id, at, reading) = (pack.get_untracked(), cell.get_untracked(), kind.get_untracked());
    let value = reading.typed(&typed_text.get_untracked(), Store::here().units.get_untracked())?;
    let day = today();
    edit_pack(&id, "cells", move |pack| {
        reading.put(pack, at, value);
        pack.measured = day;
    });
    let cells = Store::here().bundle.with_untracked(|bundle| cells_of(bundle, &id));
    cell.set(if at + 1 < cells { at + 1 } else { 0 });
    typed_text.set(String::new());
    Ok(())
}

/// What is entered of the pack.
fn so_far(pack: Memo<String>, kind: RwSignal<CellReading>) -> String {
    let store = Store::here();
    store.bundle.with(|bundle| {
        let Some((_, own)) = Pack::find(bundle, &pack.get()) else { return "No pack yet.".to_owned() };
        let cells: Vec<String> = kind.get().of(own).iter().map(f64::to_string).collect();
        let of = cells_of(bundle, &own.id);
        format!("{}: {} of {of} cells {}", own.name, cells.len(), cells.join(" "))
    })
}
