//! Before and after.

use leptos::prelude::*;

/// Which way a change goes for the flight: key, sign, word.
fn way(better: Option<bool>) -> (&'static str, &'static str, &'static str) {
    match better {
        Some(true) => ("better", "\u{25b2}", " better"),
        Some(false) => ("worse", "\u{25bc}", " worse"),
        None => ("same", "=", " no change"),
    }
}

/// One figure before → after, with the change and whether it is for the better. Lay several into a `dl.deltas`.
#[component]
pub fn Delta(
    /// Name in `data-delta`, such as `land-by`.
    figure: &'static str,
    /// Label.
    label: &'static str,
    /// Before.
    before: String,
    /// After.
    after: String,
    /// The change in words, "−1 min 20 s".
    change: String,
    /// Better, worse, or neither.
    better: Option<bool>,
) -> impl IntoView {
    let (key, sign, word) = way(better);
    view! {
        <div class="delta" data-delta=figure data-way=key>
            <dt>{label}</dt>
            <dd>
                <span class="delta-before"><span class="only-read">"before "</span>{before}</span>
                <span class="delta-arrow" aria-hidden="true">"\u{2192}"</span>
                <span class="delta-after"><span class="only-read">"after "</span>{after}</span>
                <span class="delta-change">
                    <span aria-hidden="true">{sign}</span>
                    " "
                    {change}
                    <span class="only-read">{word}</span>
                </span>
            </dd>
        </div>
    }
}
