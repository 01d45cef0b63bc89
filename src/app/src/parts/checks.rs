//! The checks, each with its value, limit, margin and where the limit comes from.

use leptos::prelude::*;
use liftmargin_core::limits::Check;
use liftmargin_document::present::Units;
use liftmargin_document::words::checks;

use super::state_mark::state_mark;

/// All checks in the given order.
#[component]
pub fn CheckList(
    /// The checks, worst first.
    checks: Vec<Check>,
    /// The user's units.
    units: Units,
) -> impl IntoView {
    let rows: Vec<AnyView> = checks.iter().map(|check| row(check, units)).collect();
    view! { <ul class="checks">{rows}</ul> }
}

fn row(check: &Check, units: Units) -> AnyView {
    view! {
        <li class="check" data-state=check.state.key() data-check=check.kind.key()>
            {state_mark(check.state)}
            <div class="check-words">
                <p class="check-name">{checks::name(check.kind)}</p>
                <p class="check-limit">
                    {checks::limit(check, units)} " " <span class="check-basis">{checks::basis(check.source)}</span>
                </p>
            </div>
            <div class="check-figures">
                <p class="check-value">{checks::value(check, units)}</p>
                <p class="check-room">
                    <strong>{checks::state_word(check.state)}</strong>
                    " "
                    {checks::margin(check)}
                </p>
            </div>
        </li>
    }
    .into_any()
}
