//! Other tabs of the same page: telling them what was written, and hearing it from them.

use leptos::prelude::window_event_listener_untyped;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{BroadcastChannel, MessageEvent};

const NAME: &str = "liftmargin";

/// A way to the other tabs, where the browser has one.
pub struct Tabs(Option<BroadcastChannel>);

impl Tabs {
    /// Calls `told` with the keys that another tab has written.
    pub fn open(told: impl Fn(Vec<String>) + 'static) -> Self {
        // An old browser has none: looked for first, as its absence would throw.
        let has_one = js_sys::Reflect::has(&js_sys::global(), &"BroadcastChannel".into()).unwrap_or_default();
        let channel = has_one.then(|| BroadcastChannel::new(NAME).ok()).flatten();
        if let Some(channel) = &channel {
            let hear: Closure<dyn Fn(MessageEvent)> = Closure::new(move |event: MessageEvent| {
                let text = event.data().as_string().unwrap_or_default();
                told(text.lines().map(str::to_owned).collect());
            });
            channel.set_onmessage(Some(hear.into_js_value().unchecked_ref()));
        }
        Self(channel)
    }

    /// Tells the others which keys were written.
    pub fn tell(&self, keys: &[String]) {
        if let Some(channel) = self.0.as_ref().filter(|_| !keys.is_empty()) {
            let _ = channel.post_message(&JsValue::from(keys.join("\n")));
        }
    }
}

/// Calls `back` when the page comes to the front again: what it slept through it was not told.
pub fn on_coming_back(back: impl Fn() + 'static) {
    window_event_listener_untyped("visibilitychange", move |_| {
        if leptos::prelude::document().visibility_state() == web_sys::VisibilityState::Visible {
            back();
        }
    });
}
