//! The page itself: when the app is there, when it is left, going to a place on it.

use leptos::prelude::{
    ReadSignal, Set as _, document, on_cleanup, signal, window, window_event_listener_untyped,
};
use wasm_bindgen::JsCast;

/// Takes away the words that stand on the page until the app has something to show.
pub fn end_starting() {
    if let Some(words) = document().get_element_by_id("starting") {
        words.remove();
    }
}

/// Calls `told` when the page is hidden or left: the last moment to save.
pub fn on_leaving(told: impl Fn() + Copy + 'static) {
    // visibilitychange bubbles from the document to the window.
    window_event_listener_untyped("visibilitychange", move |_| {
        if document().visibility_state() == web_sys::VisibilityState::Hidden {
            told();
        }
    });
    window_event_listener_untyped("pagehide", move |_| told());
}

/// Calls `back` each time the page comes into sight again, until the component that asked for it is gone.
pub fn on_return(back: impl Fn() + 'static) {
    let heard = window_event_listener_untyped("visibilitychange", move |_| {
        if document().visibility_state() == web_sys::VisibilityState::Visible {
            back();
        }
    });
    on_cleanup(move || heard.remove());
}

/// Scrolls to the element with this id, unfolds what hides it, and puts the cursor into its first field. False where
/// it is not on the page; a row that would hold it is opened, so that it may be there with the next frame.
pub fn go_to(id: &str) -> bool {
    let Some(element) = document().get_element_by_id(id) else {
        open_row_of(id);
        return false;
    };
    let mut around = Some(element.clone());
    while let Some(one) = around {
        if one.tag_name() == "DETAILS" {
            let _ = one.set_attribute("open", "");
        }
        around = one.parent_element();
    }
    element.scroll_into_view();
    let field = element.query_selector("input, select").ok().flatten().unwrap_or(element);
    if let Ok(field) = field.dyn_into::<web_sys::HtmlElement>() {
        let _ = field.focus();
    }
    true
}

/// Opens the folded row whose fields begin with the longest part of this id.
fn open_row_of(id: &str) {
    let folded = |(end, _)| {
        let row = format!("[data-holds='{}'][aria-expanded='false']", id.get(..end)?);
        document().query_selector(&row).ok().flatten()
    };
    let row = id.match_indices('-').rev().find_map(folded);
    if let Some(row) = row.and_then(|row| row.dyn_into::<web_sys::HtmlElement>().ok()) {
        row.click();
    }
}

/// Whether the window is what this media query asks for, until the component that asked is gone.
pub fn is_window(query: &'static str) -> ReadSignal<bool> {
    let asked = move || window().match_media(query).ok().flatten().is_some_and(|answer| answer.matches());
    let (is, set) = signal(asked());
    let heard = window_event_listener_untyped("resize", move |_| set.set(asked()));
    on_cleanup(move || heard.remove());
    is
}

/// Calls `told` before the page is printed.
pub fn on_print(told: impl Fn() + Copy + 'static) {
    window_event_listener_untyped("beforeprint", move |_| told());
}

/// Shows the page from its top.
pub fn to_top() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// The value of a `data-` attribute of what was touched, or of what stands around it.
pub fn touched(event: &web_sys::MouseEvent, attribute: &str) -> Option<String> {
    let element = event.target()?.dyn_into::<web_sys::Element>().ok()?;
    element.closest(&format!("[data-{attribute}]")).ok()??.get_attribute(&format!("data-{attribute}"))
}

/// Opens the browser's own print.
pub fn print() {
    let _ = window().print();
}

/// Loads the page anew.
pub fn reload() {
    let _ = window().location().reload();
}
