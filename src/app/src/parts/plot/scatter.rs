//! Measured points with the curve fitted to them.

use leptos::prelude::*;

use super::data::Plot;
use super::trace::Drawing;

/// Points and curves, no slider.
#[component]
pub fn ScatterFitPlot(
    /// What is drawn: a series of dots for the points, lines for the curves.
    #[prop(into)]
    plot: Signal<Plot>,
) -> impl IntoView {
    view! {
        <figure class="plot">
            <Drawing plot moment=Signal::stored(None) />
        </figure>
    }
}
