//! The checks, each with its value, limit, room and where the limit comes from.

use leptos::prelude::*;
use liftmargin_core::limits::Check;
use liftmargin_document::measure::{Units, checks};

use super::state_mark::{StateMark, key};

/// One check.
#[component]
pub fn CheckRow(
    /// The check.
    check: Check,
    /// The user's units.
    units: Units,
) -> impl IntoView {
    view! {
        <li class="check" data-state=key(check.state) data-check=format!("{:?}", check.kind)>
            <StateMark state=check.state />
            <div class="check-words">
                <p class="check-name">{checks::name(check.kind)}</p>
                <p class="check-limit">
                    {checks::limit(&check, units)} <span class="check-basis">{checks::basis(check.basis)}</span>
                </p>
            </div>
            <div class="check-figures">
                <p class="check-value">{checks::value(&check, units)}</p>
                <p class="check-room">
                    <strong>{checks::state_word(check.state)}</strong>
                    " "
                    {checks::room(&check)}
                </p>
            </div>
        </li>
    }
}

/// All checks in the given order.
#[component]
pub fn CheckList(
    /// The checks, worst first.
    #[prop(into)]
    checks: Signal<Vec<Check>>,
    /// The user's units.
    #[prop(into)]
    units: Signal<Units>,
) -> impl IntoView {
    let rows = move || {
        let units = units.get();
        checks.get().into_iter().map(|check| view! { <CheckRow check units /> }).collect_view()
    };
    view! { <ul class="checks">{rows}</ul> }
}
