//! Shares in order of size, as bars with their words.

use leptos::prelude::*;

use super::svg::{At, Svg};

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
    title: String,
    /// The bars.
    bars: Vec<RankedBar>,
) -> impl IntoView {
    let rows: Vec<AnyView> = bars.into_iter().map(row).collect();
    view! {
        <figure class="ranked">
            <figcaption>{title}</figcaption>
            <ol>{rows}</ol>
        </figure>
    }
}

/// A bar alone, as a share of the longest one.
pub fn bar(share: f64) -> AnyView {
    let (left, height) = ((At::Unit(0.0), At::Unit(0.0)), At::Unit(10.0));
    let mut line = Svg::default();
    line.rect("ranked-back", left, (At::Percent(100.0), height));
    line.rect("ranked-fill", left, (At::Percent(share.clamp(0.0, 1.0) * 100.0), height));
    view! { <svg class="ranked-line" width="100%" height="10" aria-hidden="true" inner_html=line.into_text() /> }
        .into_any()
}

fn row(bar: RankedBar) -> AnyView {
    let line = self::bar(bar.share);
    view! {
        <li class="ranked-bar">
            <span class="ranked-label">{bar.label}</span>
            <span class="ranked-value">{bar.value}</span>
            {line}
        </li>
    }
    .into_any()
}
