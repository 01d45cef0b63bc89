//! Before and after.

use leptos::prelude::*;
use liftmargin_document::present::Way;

use crate::live::{Text, text};

/// Which way a change goes for the flight: key, sign, word.
const fn shown(way: Way) -> (&'static str, &'static str, &'static str) {
    match way {
        Way::Better => ("better", "\u{25b2}", " better"),
        Way::Worse => ("worse", "\u{25bc}", " worse"),
        Way::Same => ("same", "=", " no change"),
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
    before: Text,
    /// After.
    after: Text,
    /// The change in words, "−1 min 20 s".
    change: Text,
    /// Better, worse, or neither.
    way: Memo<Way>,
) -> impl IntoView {
    let of = move |part: fn((&'static str, &'static str, &'static str)) -> &'static str| {
        text(move || part(shown(way.get())).to_owned())
    };
    view! {
        <div class="delta" data-delta=figure data-way=of(|way| way.0)>
            <dt>{label}</dt>
            <dd>
                <span class="delta-before"><span class="only-read">"before "</span><span data-figure=format!("before-{figure}")>{before}</span></span>
                <span class="delta-arrow" aria-hidden="true">"\u{2192}"</span>
                <span class="delta-after"><span class="only-read">"after "</span><span data-figure=format!("after-{figure}")>{after}</span></span>
                <span class="delta-change">
                    <span aria-hidden="true">{of(|way| way.1)}</span>
                    " "
                    {change}
                    <span class="only-read">{of(|way| way.2)}</span>
                </span>
            </dd>
        </div>
    }
}
