//! A row that opens: its name, what stands beside it, and the rest once somebody asks for it.

use leptos::prelude::*;

use crate::live::{Text, act, live_while, text};

/// The rows of a group that are open, by what they hold.
pub type OpenRows = RwSignal<Vec<String>>;

/// A row. What it holds below is built only when it is opened; `platform::page::go_to` opens it for a field in it.
pub fn opening_row(
    // The beginning that the ids of its fields share.
    holds: String,
    rows: OpenRows,
    name: Text,
    beside: AnyView,
    rest: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    let own = holds.clone();
    let is_open = move || rows.with(|rows| rows.contains(&own));
    let expanded = text({
        let is_open = is_open.clone();
        move || is_open().to_string()
    });
    let own = holds.clone();
    let toggle = act(move || {
        rows.update(|rows| match rows.iter().position(|row| *row == own) {
            Some(place) => drop(rows.remove(place)),
            None => rows.push(own.clone()),
        });
    });
    view! {
        <div class="opening-row">
            <button type="button" class="opening-name" aria-expanded=expanded data-holds=holds on:click=toggle>
                <span>{name}</span>
            </button>
            {beside}
        </div>
        {live_while(is_open, rest)}
    }
    .into_any()
}
