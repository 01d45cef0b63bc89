//! Nothing here yet, and what to do about it.

use leptos::prelude::*;

/// An empty place with its next step.
#[component]
pub fn EmptyState(
    /// What is missing.
    title: &'static str,
    /// The next step: words, links, buttons.
    children: Children,
) -> impl IntoView {
    view! {
        <section class="empty">
            <h2>{title}</h2>
            {children()}
        </section>
    }
}
