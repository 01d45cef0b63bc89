//! A state as a shape: disc with a tick, triangle with a bar, octagon with a cross. Never colour alone.

use leptos::prelude::*;
use liftmargin_core::limits::State;

use crate::live::text;

/// The shape of a state; its word must stand beside it.
pub fn state_mark(state: State) -> AnyView {
    let (outline, sign) = paths(state);
    mark(
        view! { <path class="state-mark-outline" d=outline /> <path class="state-mark-sign" d=sign /> }
            .into_any(),
    )
}

/// The shape of a state that changes: the same two nodes in another form.
pub fn live_state_mark(state: Memo<State>) -> AnyView {
    let of = move |path: fn((&'static str, &'static str)) -> &'static str| {
        text(move || path(paths(state.get())).to_owned())
    };
    mark(
        view! {
            <path class="state-mark-outline" d=of(|paths| paths.0) />
            <path class="state-mark-sign" d=of(|paths| paths.1) />
        }
        .into_any(),
    )
}

fn mark(paths: AnyView) -> AnyView {
    view! {
        <svg class="state-mark" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false">
            {paths}
        </svg>
    }
    .into_any()
}

/// Outline and sign.
const fn paths(state: State) -> (&'static str, &'static str) {
    match state {
        State::Fine => ("M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0 -20z", "M7 12.5l3.5 3.5l6.5 -8"),
        State::Watch => ("M12 2.5L23 21.5H1z", "M12 9.5v5.5M12 17.8v.7"),
        State::No => ("M8 2h8l6 6v8l-6 6H8l-6 -6V8z", "M8 8l8 8M16 8l-8 8"),
    }
}
