//! A state as a shape: disc with a tick, triangle with a bar, octagon with a cross. Never colour alone.

use leptos::prelude::*;
use liftmargin_core::limits::State;

use super::svg::Svg;
use crate::live::{Text, text};

/// The shape of a state; its word must stand beside it.
pub fn state_mark(state: State) -> AnyView {
    mark(text(move || drawing(state)))
}

/// The shape of a state that changes.
pub fn live_state_mark(state: Memo<State>) -> AnyView {
    mark(text(move || drawing(state.get())))
}

fn mark(drawing: Text) -> AnyView {
    view! {
        <svg class="state-mark" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false"
            inner_html=drawing />
    }
    .into_any()
}

fn drawing(state: State) -> String {
    let (outline, sign) = match state {
        State::Fine => ("M12 2a10 10 0 1 0 0 20a10 10 0 1 0 0 -20z", "M7 12.5l3.5 3.5l6.5 -8"),
        State::Watch => ("M12 2.5L23 21.5H1z", "M12 9.5v5.5M12 17.8v.7"),
        State::No => ("M8 2h8l6 6v8l-6 6H8l-6 -6V8z", "M8 8l8 8M16 8l-8 8"),
    };
    let mut svg = Svg::default();
    svg.path("state-mark-outline", outline);
    svg.path("state-mark-sign", sign);
    svg.into_text()
}
