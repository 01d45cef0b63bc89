//! The checks, each with its value, limit, margin and where the limit comes from.

use leptos::prelude::*;
use liftmargin_core::limits::{Check, CheckKind};
use liftmargin_document::present::Units;
use liftmargin_document::words::checks;

use super::state_mark::state_mark;

/// All checks in the given order.
#[component]
pub fn CheckList(
    /// The checks, worst first.
    checks: Vec<Check>,
    /// What more there is to say of a check.
    notes: Vec<(CheckKind, String)>,
    /// The user's units.
    units: Units,
) -> impl IntoView {
    let rows: Vec<AnyView> = checks.iter().map(|check| row(check, &notes, units)).collect();
    view! { <ul class="checks">{rows}</ul> }
}

fn row(check: &Check, notes: &[(CheckKind, String)], units: Units) -> AnyView {
    let of_check = notes.iter().filter(|(kind, _)| *kind == check.kind);
    let notes: Vec<AnyView> =
        of_check.map(|(_, words)| view! { <p class="check-note">{words.clone()}</p> }.into_any()).collect();
    view! {
        <li class="check" data-state=check.state.key() data-check=check.kind.key()>
            {state_mark(check.state)}
            <div class="check-words">
                <p class="check-name">{checks::name(check.kind)}</p>
                <p class="check-limit">
                    {checks::limit(check, units)} " " <span class="check-basis">{checks::basis(check.source)}</span>
                </p>
                {notes}
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
