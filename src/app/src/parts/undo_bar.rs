//! What was just done, and the way back.

use leptos::prelude::*;

use crate::live::{act, live};

/// A bar above the navigation with one button to undo.
#[component]
pub fn UndoBar(
    /// What was done; none hides the bar.
    text: RwSignal<Option<String>>,
    /// Called to undo.
    on_undo: Callback<()>,
) -> impl IntoView {
    let bar = move |words: String| {
        view! {
            <div class="undo-bar">
                <p>{words}</p>
                <button type="button" class="button-strong" on:click=act(move || on_undo.run(()))>"Undo"</button>
                <button type="button" class="button-plain" aria-label="Hide this note"
                    on:click=act(move || text.set(None))>"\u{00d7}"</button>
            </div>
        }
    };
    view! { <div class="undo-place" role="status">{live(move || text.get().map(bar))}</div> }
}
