//! The register as CSV: pasted, opened, written.

use leptos::prelude::*;
use liftmargin_document::ground::pack_csv;

use crate::live::{act, text, typed};
use crate::parts::FileButton;
use crate::platform::file;
use crate::store::Store;

/// Paste, open, export.
pub fn csv_in_out() -> AnyView {
    let store = Store::here();
    let (pasted, said) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let take = move |words: &str| said.set(taken_in(store, words));
    let open = file::chosen(move |opened| match opened {
        Some(opened) => take(&opened.text),
        None => said.set("The file could not be read.".to_owned()),
    });
    let write = act(move || {
        let units = store.units.get_untracked();
        let words = store.bundle.with_untracked(|bundle| pack_csv::write(bundle, units));
        let is_out = file::save_text("packs.csv", "text/csv;charset=utf-8", &words);
        said.set(
            if is_out { "Handed to the browser as packs.csv." } else { "The browser took no file." }
                .to_owned(),
        );
    });
    view! {
        <details class="more">
            <summary>"Packs from and to a table (CSV)"</summary>
            <p>"First row: label, and any of type, cycles, capacity_mah, resistance_mohm, cells_mohm, cells_v, used_mah, measured, bought, retired, remark. Cells are parted by /."</p>
            <div class="field">
                <label for="packs-csv">"Rows to paste"</label>
                <textarea id="packs-csv" rows="4" spellcheck="false" on:input=typed(move |words| pasted.set(words))></textarea>
            </div>
            <p class="row">
                <button type="button" on:click=act(move || take(&pasted.get_untracked()))>"Take in the rows"</button>
                <FileButton label="Open a CSV file" accept=".csv,text/csv,text/plain" on_file=open />
                <button type="button" on:click=write>"Export as CSV"</button>
            </p>
            <p role="status" data-figure="csv">{text(move || said.get())}</p>
        </details>
    }
    .into_any()
}

fn taken_in(store: Store, words: &str) -> String {
    match store.bundle.with_untracked(|bundle| pack_csv::read(bundle, words)) {
        Err(fault) => format!("Nothing was taken in: {fault}."),
        Ok(taken) => {
            let (added, changed) = (taken.added, taken.changed);
            let bundle = taken.bundle;
            store.edit_alone("packs from a table", Box::new(move |now| *now = bundle));
            let refused = if taken.refused.is_empty() {
                String::new()
            } else {
                format!(" Left out: {}.", taken.refused.join("; "))
            };
            format!("{added} packs added, {changed} brought up to date.{refused}")
        }
    }
}
