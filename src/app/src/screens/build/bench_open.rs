//! A bench table opened, pasted or typed, before it is taken: what it says, what each column holds, which of several.

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::bench_csv::{Columns, ROLES, Sheet, inspect, read};
use liftmargin_document::model::{Airframe, Bench, Bundle};
use liftmargin_document::record::Record;
use liftmargin_document::words;
use liftmargin_document::workspace::bench_rows;

use super::super::listing::fault_view;
use super::bench::put_table;
use crate::live::{act, flag, live, memo, text, typed};
use crate::parts::{ChoiceField, FileButton, TextField};
use crate::platform::file;
use crate::store::Store;

/// Density where a table does not say: the standard day at sea level.
const STANDARD_DENSITY_KG_M3: f64 = 1.225;
/// Rows of the preview; the rest is counted.
const ROWS_SHOWN: usize = 12;
/// Titles over rows that are typed by hand, as a table has them.
const TYPED_TITLES: &str = "Throttle (%);Voltage (V);Current (A);Thrust (g);Speed (rpm)";
const TYPED_LABELS: [&str; 5] =
    ["Row: throttle, %", "Row: volts", "Row: amperes", "Row: thrust, g", "Row: rpm, if known"];

/// A table that is looked at, before it is taken.
#[derive(Clone, PartialEq)]
struct Opened {
    name: String,
    sheet: Arc<Sheet>,
}

/// Ways to a table, and the one that is looked at.
#[component]
pub fn OpenTable(
    /// Whose.
    airframe: String,
) -> impl IntoView {
    let opened = RwSignal::new(None::<Opened>);
    let columns = RwSignal::new(Columns::default());
    let look_at = move |name: String, text: &str| {
        let sheet = inspect(text);
        columns.set(sheet.guessed);
        opened.set(Some(Opened { name, sheet: Arc::new(sheet) }));
    };
    let from_file = file::chosen(move |file| match file {
        Some(file) => look_at(file.name, &file.text),
        None => look_at("The file".to_owned(), ""),
    });
    let paste = typed(move |text| {
        if !text.trim().is_empty() {
            look_at("Pasted table".to_owned(), &text);
        }
    });
    let by_hand = Callback::new(move |text: String| look_at("Typed table".to_owned(), &text));
    let take = move || opened.get().map(|table| take_table(&airframe, &table, columns, opened));
    view! {
        <p class="row"><FileButton label="Open a table (CSV)" accept=".csv,.tsv,.txt,text/csv" on_file=from_file /></p>
        <label class="paste">
            <span>"Or paste it here"</span>
            <textarea rows="3" spellcheck="false" on:input=paste></textarea>
        </label>
        <details class="more">
            <summary>"Or type its rows"</summary>
            {typed_rows(by_hand)}
        </details>
        {live(take)}
    }
}

/// Rows typed one by one; they are looked at as a table that was pasted.
fn typed_rows(look_at: Callback<String>) -> AnyView {
    let cells = RwSignal::new([const { String::new() }; 5]);
    let rows = RwSignal::new(TYPED_TITLES.to_owned());
    let field = |(place, label): (usize, &'static str)| {
        let value = text(move || cells.with(|cells| cells.get(place).cloned().unwrap_or_default()));
        let change = Callback::new(move |text: String| {
            cells.update(|cells| {
                if let Some(cell) = cells.get_mut(place) {
                    *cell = text;
                }
            });
        });
        view! { <TextField label value on_change=change numeric=true /> }.into_any()
    };
    let fields: Vec<AnyView> = TYPED_LABELS.into_iter().enumerate().map(field).collect();
    let add = act(move || {
        let row = cells.with_untracked(|cells| cells.join(";"));
        rows.update(|rows| *rows = format!("{rows}\n{row}"));
        cells.set([const { String::new() }; 5]);
        look_at.run(rows.get_untracked());
    });
    let again = act(move || rows.set(TYPED_TITLES.to_owned()));
    view! {
        <div class="entries">{fields}</div>
        <p class="row">
            <button type="button" on:click=add>"Add the row"</button>
            <button type="button" on:click=again>"Begin anew"</button>
        </p>
    }
    .into_any()
}

/// Which columns, and taking the table.
fn take_table(
    airframe: &str,
    opened: &Opened,
    columns: RwSignal<Columns>,
    done: RwSignal<Option<Opened>>,
) -> AnyView {
    let store = Store::here();
    let Opened { name, sheet } = opened.clone();
    let table = {
        let sheet = sheet.clone();
        move || read(&sheet, &columns.get())
    };
    let fault = {
        let table = table.clone();
        memo(move || table().err().map(|fault| words::sentence(&fault.to_string())))
    };
    let own = airframe.to_owned();
    let (from, called) = (sheet.clone(), name.clone());
    let take = act(move || {
        let Ok(rows) = untrack(&table) else { return };
        let rotor = |bundle: &Bundle| {
            Airframe::find(bundle, &own).map(|(_, airframe)| airframe.propulsion.rotor_diameter_m)
        };
        let bench = Bench {
            name: called.clone(),
            air_density_kg_m3: STANDARD_DENSITY_KG_M3,
            rotor_diameter_m: from
                .rotor_m(&columns.get_untracked())
                .or_else(|| store.bundle.with_untracked(rotor)),
            rows: bench_rows(&rows),
            ..Bench::default()
        };
        put_table(store, &own, "the bench table", Some(bench));
        done.set(None);
    });
    view! {
        <section class="table-to-take" aria-label="The table">
            <p role="status">{words_on(&name, &sheet)}</p>
            {which_table(&sheet, columns)}
            {preview(&sheet, columns)}
            {stated_voltage(columns)}
            {left_out(&sheet)}
            {live(move || fault.get().map(fault_view))}
            <p class="row">
                <button type="button" class="button-strong" disabled=flag(move || fault.with(Option::is_some)) on:click=take>
                    "Use this table"
                </button>
                <button type="button" on:click=act(move || done.set(None))>"Leave it"</button>
            </p>
        </section>
    }
    .into_any()
}

fn words_on(name: &str, sheet: &Sheet) -> String {
    let more = if sheet.rows_left_out > 0 {
        format!(", {} more left out", sheet.rows_left_out)
    } else {
        String::new()
    };
    format!("{name}: {} rows{more}. Touch a title to change what its column holds.", sheet.rows.len())
}

/// The titles as choices of what stands below them, and the first rows.
fn preview(sheet: &Sheet, columns: RwSignal<Columns>) -> AnyView {
    let title = |(column, title): (usize, &String)| {
        let role = memo(move || columns.with(|columns| columns.role(column)));
        let option = move |(place, words): (usize, &'static str)| {
            view! { <option value=place.to_string() prop:selected=flag(move || role.get() == place)>{words}</option> }
                .into_any()
        };
        let options: Vec<AnyView> = ROLES.into_iter().enumerate().map(option).collect();
        let choose = typed(move |place| {
            columns.update(|columns| columns.give(column, place.parse().unwrap_or_default()));
        });
        let label = format!("What stands in \u{201c}{title}\u{201d}");
        view! {
            <th scope="col">
                <span>{title.clone()}</span>
                <select class="role" aria-label=label on:change=choose>{options}</select>
            </th>
        }
        .into_any()
    };
    let row = |row: &liftmargin_document::bench_csv::SheetRow| {
        let cell = |cell: &String| view! { <td>{cell.clone()}</td> }.into_any();
        view! { <tr>{row.cells.iter().map(cell).collect::<Vec<AnyView>>()}</tr> }.into_any()
    };
    let titles: Vec<AnyView> = sheet.headers.iter().enumerate().map(title).collect();
    let rows: Vec<AnyView> = sheet.rows.iter().take(ROWS_SHOWN).map(row).collect();
    view! {
        <div class="table-place" tabindex="0" role="group" aria-label="The table as it was read">
            <table><thead><tr>{titles}</tr></thead><tbody>{rows}</tbody></table>
        </div>
    }
    .into_any()
}

/// Which of several tables in one text.
fn which_table(sheet: &Sheet, columns: RwSignal<Columns>) -> Option<AnyView> {
    if sheet.parts.len() < 2 {
        return None;
    }
    let part = |(place, part): (usize, &liftmargin_document::bench_csv::Part)| {
        (place.to_string(), format!("{} ({} rows)", part.name, part.rows))
    };
    let none = (String::new(), "choose one".to_owned());
    let options: Vec<_> = core::iter::once(none).chain(sheet.parts.iter().enumerate().map(part)).collect();
    let value = text(move || {
        columns.with(|columns| columns.table).map(|table| table.to_string()).unwrap_or_default()
    });
    let choose = Callback::new(move |key: String| columns.update(|columns| columns.table = key.parse().ok()));
    Some(view! { <ChoiceField label="Which of the tables" options=Box::new(move || options.clone()) value on_change=choose /> }.into_any())
}

/// The voltage, where no column holds it.
fn stated_voltage(columns: RwSignal<Columns>) -> AnyView {
    let is_missing = memo(move || columns.with(|columns| columns.voltage.is_none()));
    live(move || {
        is_missing.get().then(|| {
            let value = text(move || columns.with(Columns::stated_voltage));
            let change = Callback::new(move |text: String| columns.update(|columns| columns.state_voltage(&text)));
            view! { <TextField label="Volts at the stand, for all rows" value on_change=change numeric=true /> }
        })
    })
}

fn left_out(sheet: &Sheet) -> Option<AnyView> {
    let words = sheet.left_out_words();
    (!words.is_empty()).then(|| {
        view! {
            <details class="more">
                <summary>"Not taken for rows"</summary>
                <p class="lines">{words}</p>
            </details>
        }
        .into_any()
    })
}
