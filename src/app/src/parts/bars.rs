//! Shares in order of size, as bars with their words.

use leptos::prelude::*;

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct RankedBar {
    /// Name.
    pub label: String,
    /// Share of the longest bar, 0 to 1.
    pub share: f64,
    /// The figure in words.
    pub value: String,
}

/// Bars, the largest first as given.
#[component]
pub fn RankedBars(
    /// What the bars show.
    #[prop(into)]
    title: String,
    /// The bars.
    #[prop(into)]
    bars: Signal<Vec<RankedBar>>,
) -> impl IntoView {
    let bar = |bar: RankedBar| {
        let width = format!("{:.1}%", bar.share.clamp(0.0, 1.0) * 100.0);
        view! {
            <li class="ranked-bar">
                <span class="ranked-label">{bar.label}</span>
                <span class="ranked-value">{bar.value}</span>
                <svg class="ranked-line" width="100%" height="10" aria-hidden="true">
                    <rect class="ranked-back" x="0" y="0" width="100%" height="10" />
                    <rect class="ranked-fill" x="0" y="0" width=width height="10" />
                </svg>
            </li>
        }
    };
    view! {
        <figure class="ranked">
            <figcaption>{title}</figcaption>
            <ol>{move || bars.get().into_iter().map(bar).collect_view()}</ol>
        </figure>
    }
}
