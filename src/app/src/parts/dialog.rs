//! A question that holds everything else until it is answered.

use leptos::{html, prelude::*};

use super::ids;

/// A modal dialog. Escape and the closing button ask to close it.
#[component]
pub fn Dialog(
    /// Whether it is open.
    #[prop(into)]
    open: Signal<bool>,
    /// Title.
    #[prop(into)]
    title: String,
    /// Called when it should close.
    #[prop(into)]
    on_close: Callback<()>,
    /// Content.
    children: Children,
) -> impl IntoView {
    let element = NodeRef::<html::Dialog>::new();
    let title_id = ids::or_fresh(None);
    Effect::new(move |_| {
        let Some(dialog) = element.get() else { return };
        match (open.get(), dialog.open()) {
            // Refused only when it is not in the page any more.
            (true, false) => drop(dialog.show_modal()),
            (false, true) => dialog.close(),
            _ => {}
        }
    });
    let close = move || on_close.run(());
    view! {
        <dialog node_ref=element class="dialog" aria-labelledby=title_id.clone() on:close=move |_| close()>
            <header class="dialog-head">
                <h2 id=title_id.clone()>{title}</h2>
                <button type="button" class="button-plain" aria-label="Close" on:click=move |_| close()>"\u{00d7}"</button>
            </header>
            {children()}
        </dialog>
    }
}
