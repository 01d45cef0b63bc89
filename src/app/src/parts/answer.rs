//! A figure to act on.

use leptos::prelude::*;

use crate::live::Text;

/// How large a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// The one figure of the screen.
    Hero,
    /// Beside it.
    Large,
}

/// A labelled figure, reachable by its `data-figure` name.
#[component]
pub fn Answer(
    /// Name in `data-figure`, such as `land-by`.
    figure: &'static str,
    /// Label.
    label: &'static str,
    /// Number, already rounded to the safe side.
    number: Text,
    /// Its unit.
    unit: Text,
    /// What stands below it: which meter, which limit.
    sub: Text,
    /// How large.
    size: Size,
) -> impl IntoView {
    let class = match size {
        Size::Hero => "answer answer-hero",
        Size::Large => "answer answer-large",
    };
    view! {
        <div class=class>
            <p class="answer-label">{label}</p>
            <p class="answer-value" data-figure=figure>
                <span class="answer-number">{number}</span>
                " "
                <span class="answer-unit">{unit}</span>
            </p>
            <p class="answer-sub">{sub}</p>
        </div>
    }
}
