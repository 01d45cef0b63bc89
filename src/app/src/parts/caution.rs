//! Words of caution that belong beside what they speak of.

use leptos::prelude::*;

/// A block of cautions.
#[component]
pub fn Caution(
    /// What it is about.
    #[prop(into)]
    title: String,
    /// The words.
    children: Children,
) -> impl IntoView {
    view! {
        <aside class="caution">
            <h3>{title}</h3>
            {children()}
        </aside>
    }
}
