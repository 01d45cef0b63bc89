//! Sheet: setups side by side for the producer, on paper and as a file too.

mod choose;
mod row;

use leptos::prelude::*;
use liftmargin_document::sheet::{Column, csv};
use liftmargin_document::words;

use self::choose::Choosing;
use self::row::row;
use super::build::SetupChoice;
use super::sharing::SharePanel;
use crate::live::{act, flag, live, live_each, live_while, text};
use crate::parts::{ChoiceField, Choices, EmptyState};
use crate::platform::{clock, file, page};
use crate::store::{Sheet, Store};

/// The columns as they stand: each of several that belong together.
pub const HEADS: [&str; 6] =
    ["Setup", "In the air", "Pack sets", "All-up weight", "Works in wind", "Verdict"];

/// The screen.
#[component]
pub fn SheetScreen() -> impl IntoView {
    let (store, sheet) = (Store::here(), Sheet::here());
    sheet.follow(store);
    let none = move || store.bundle.with(|bundle| bundle.setups.is_empty());
    view! {
        <main data-screen="sheet">
            <h1>"Sheet"</h1>
            <p class="only-print">{clock::today()}</p>
            {live_while(none, no_setups)}
            {live_while(move || !none(), table)}
        </main>
    }
}

fn no_setups() -> AnyView {
    view! {
        <EmptyState title="There is no setup yet">
            <p>"The sheet compares setups. Start one on Build."</p>
            <p class="row"><a class="button" href="#/build">"Build a setup"</a></p>
        </EmptyState>
    }
    .into_any()
}

fn table() -> AnyView {
    let sheet = Sheet::here();
    let heads: Vec<AnyView> =
        HEADS.into_iter().map(|head| view! { <th scope="col">{head}</th> }.into_any()).collect();
    view! {
        <Choosing />
        {progress(sheet)}
        <table class="sheet wide">
            <caption class="only-read">"Setups side by side"</caption>
            <thead><tr>{heads}</tr></thead>
            <tbody>{live_each(move || sheet.keys(), move |key| row(key, sheet))}</tbody>
        </table>
        <Outputs />
        {live(weather)}
        {glosses()}
        <section class="caution wide">
            <p>
                "Estimates from what was entered. Makers' limits, local rules and licensed crews come first. Lithium packs: do not fly cold or \
                damaged ones, do not charge unattended, mind transport rules. "
                <strong>"The pilot in command decides, on the day, at the place."</strong>
            </p>
        </section>
    }
    .into_any()
}

/// How far the work has come; nothing once it is done.
fn progress(sheet: Sheet) -> AnyView {
    let (done, all) = (move || sheet.done.get(), move || sheet.rows.with(Vec::len));
    let words =
        text(
            move || {
                if done() < all() { format!("Worked out {} of {}", done(), all()) } else { String::new() }
            },
        );
    let busy = flag(move || done() < all());
    view! {
        <p class="sheet-progress" role="status" data-busy=text(move || busy().to_string())>{words}</p>
    }
    .into_any()
}

/// Sorting, paper, file.
#[component]
fn Outputs() -> impl IntoView {
    let (store, sheet) = (Store::here(), Sheet::here());
    let said = RwSignal::new(String::new());
    let save = act(move || {
        let (rows, units) = untrack(|| (sheet.shown(), store.units.get()));
        let is_saved = file::save_text("liftmargin-sheet.csv", "text/csv;charset=utf-8", &csv(&rows, units));
        let words = if is_saved {
            "Handed to the browser as liftmargin-sheet.csv."
        } else {
            "The browser took no file."
        };
        said.set(words.to_owned());
    });
    view! {
        <section class="wide">
            <p class="row">
                <button type="button" class="button-strong" on:click=act(page::print)>"Print"</button>
                <button type="button" on:click=save>"Save as a table (CSV)"</button>
            </p>
            <p role="status">{text(move || said.get())}</p>
            <div class="no-print">
                <SetupChoice />
                <SharePanel />
            </div>
        </section>
    }
}

/// The weather that the figures stand on, of each site on the sheet.
fn weather() -> AnyView {
    let (store, sheet) = (Store::here(), Sheet::here());
    let units = store.units.get();
    let mut sites: Vec<String> = sheet.rows.with(|rows| {
        let sites = rows.iter().filter_map(|row| row.key.split_once('\n'));
        sites.map(|(_, site)| site.to_owned()).collect()
    });
    sites.sort();
    sites.dedup();
    let line = |id: &String| {
        let words = store.bundle.with(|bundle| words::weather::of_site(bundle, id, units))?;
        Some(view! { <li>{words}</li> }.into_any())
    };
    let lines: Vec<AnyView> = sites.iter().filter_map(line).collect();
    view! {
        <section class="wide sheet-weather">
            <h2>"Weather that this counts with"</h2>
            <ul>{lines}</ul>
        </section>
    }
    .into_any()
}

/// What each word means.
fn glosses() -> AnyView {
    let gloss = |column: Column| {
        (!column.gloss().is_empty())
            .then(|| view! { <div><dt>{column.title()}</dt><dd>{column.gloss()}</dd></div> }.into_any())
    };
    let all: Vec<AnyView> = Column::ALL.into_iter().filter_map(gloss).collect();
    view! {
        <section class="wide sheet-words">
            <h2>"What the words mean"</h2>
            <dl>{all}</dl>
        </section>
    }
    .into_any()
}

/// What rows can be sorted by.
pub fn sorting() -> AnyView {
    let sheet = Sheet::here();
    let options = || -> Choices {
        let mut choices = vec![(String::new(), "as the setups stand".to_owned())];
        for column in Column::ALL {
            let title = column.title();
            choices.push((format!("{} up", column.key()), format!("{title}, least first")));
            choices.push((format!("{} down", column.key()), format!("{title}, most first")));
        }
        choices
    };
    let value = text(move || {
        let word = |(column, descending): (Column, bool)| {
            format!("{} {}", column.key(), if descending { "down" } else { "up" })
        };
        sheet.sorted.get().map(word).unwrap_or_default()
    });
    let choose = Callback::new(move |key: String| {
        let chosen = key.split_once(' ').and_then(|(key, way)| {
            let column = Column::ALL.into_iter().find(|column| column.key() == key)?;
            Some((column, way == "down"))
        });
        sheet.sorted.set(chosen);
    });
    view! { <ChoiceField label="Sort by" options=Box::new(options) value on_change=choose /> }.into_any()
}
