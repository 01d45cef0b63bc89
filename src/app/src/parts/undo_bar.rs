//! What was just done, and the way back.

use leptos::prelude::*;

/// A bar above the navigation with one button to undo.
#[component]
pub fn UndoBar(
    /// What was done; none hides the bar.
    #[prop(into)]
    text: Signal<Option<String>>,
    /// Called to undo.
    #[prop(into)]
    on_undo: Callback<()>,
    /// Called to let the bar go.
    #[prop(into)]
    on_dismiss: Callback<()>,
) -> impl IntoView {
    let bar = move |text: String| {
        view! {
            <div class="undo-bar">
                <p>{text}</p>
                <button type="button" class="button-strong" on:click=move |_| on_undo.run(())>"Undo"</button>
                <button type="button" class="button-plain" aria-label="Hide this note"
                    on:click=move |_| on_dismiss.run(())>"\u{00d7}"</button>
            </div>
        }
    };
    view! { <div class="undo-place" role="status">{move || text.get().map(bar)}</div> }
}
