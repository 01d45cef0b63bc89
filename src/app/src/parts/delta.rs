//! Before and after.

use leptos::prelude::*;

/// Which way a change goes for the flight.
fn way(better: Option<bool>) -> (&'static str, &'static str, &'static str) {
    match better {
        Some(true) => ("better", "\u{25b2}", "better"),
        Some(false) => ("worse", "\u{25bc}", "worse"),
        None => ("same", "=", "no change"),
    }
}

/// One figure before → after, with the change and whether it is for the better. Lay several into a `dl.deltas`.
#[component]
pub fn Delta(
    /// Name in `data-delta`, such as `land-by`.
    figure: &'static str,
    /// Label.
    #[prop(into)]
    label: String,
    /// Before.
    #[prop(into)]
    before: Signal<String>,
    /// After.
    #[prop(into)]
    after: Signal<String>,
    /// The change in words, "−1 min 20 s".
    #[prop(optional, into)]
    change: Signal<String>,
    /// Better, worse, or neither.
    #[prop(into)]
    better: Signal<Option<bool>>,
) -> impl IntoView {
    view! {
        <div class="delta" data-delta=figure data-way=move || way(better.get()).0>
            <dt>{label}</dt>
            <dd>
                <span class="delta-before"><span class="only-read">"before "</span>{before}</span>
                <span class="delta-arrow" aria-hidden="true">"\u{2192}"</span>
                <span class="delta-after"><span class="only-read">"after "</span>{after}</span>
                <span class="delta-change">
                    <span aria-hidden="true">{move || way(better.get()).1}</span>
                    " "
                    {change}
                    <span class="only-read">{move || format!(" {}", way(better.get()).2)}</span>
                </span>
            </dd>
        </div>
    }
}
