//! A figure to act on.

use leptos::prelude::*;
use liftmargin_document::measure::answer::Shown;

/// How large a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Size {
    /// The one figure of the screen.
    Hero,
    /// Beside it.
    Large,
    /// One of many.
    #[default]
    Small,
}

/// A labelled figure, reachable by its `data-figure` name.
#[component]
pub fn Answer(
    /// Name in `data-figure`, such as `land-by`.
    figure: &'static str,
    /// Label.
    label: &'static str,
    /// Number and unit, already rounded to the safe side.
    value: Shown,
    /// What stands below it: which meter, which limit.
    #[prop(optional)]
    sub: String,
    /// How large.
    #[prop(optional)]
    size: Size,
) -> impl IntoView {
    let class = match size {
        Size::Hero => "answer answer-hero",
        Size::Large => "answer answer-large",
        Size::Small => "answer answer-small",
    };
    view! {
        <div class=class>
            <p class="answer-label">{label}</p>
            <p class="answer-value" data-figure=figure>
                <span class="answer-number">{value.number}</span>
                " "
                <span class="answer-unit">{value.unit}</span>
            </p>
            <p class="answer-sub">{sub}</p>
        </div>
    }
}
