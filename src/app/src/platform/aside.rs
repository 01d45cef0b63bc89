//! Work in a thread of its own: `aside.js` starts the app's module once more there, without a page.

use std::rc::Rc;

use leptos::prelude::document;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{File, MessageEvent, Worker, WorkerOptions, WorkerType};

/// What is heard of the work.
pub enum Heard {
    /// Share done.
    Share(f64),
    /// The outcome.
    Done(String),
    /// Why there is none, in words.
    Fault(String),
    /// The thread did not start, or broke.
    Lost,
}

/// A thread at work; ended when it is dropped.
pub struct Aside(Worker);

impl Aside {
    /// Reads a recording by these columns, or by those that it shows itself; none where the browser gives no thread.
    pub fn read_recording(
        file: &File,
        columns: Option<&str>,
        hear: impl Fn(Heard) + 'static,
    ) -> Option<Self> {
        let root = document().document_element()?;
        let script = root.get_attribute("data-aside")?;
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let aside = Self(Worker::new_with_options(&script, &options).ok()?);
        let hear = Rc::new(hear);
        let lost = Rc::clone(&hear);
        let on_message: Closure<dyn Fn(MessageEvent)> = Closure::new(move |event: MessageEvent| {
            let data = event.data();
            let of = |key: &str| js_sys::Reflect::get(&data, &key.into()).ok();
            let text = |key: &str| of(key).and_then(|value| value.as_string());
            match (of("share").and_then(|share| share.as_f64()), text("done"), text("fault")) {
                (Some(share), _, _) => hear(Heard::Share(share)),
                (_, Some(done), _) => hear(Heard::Done(done)),
                (_, _, Some(fault)) => hear(Heard::Fault(fault)),
                _ => hear(Heard::Lost),
            }
        });
        aside.0.set_onmessage(Some(on_message.into_js_value().unchecked_ref()));
        let on_error: Closure<dyn Fn(web_sys::Event)> = Closure::new(move |event: web_sys::Event| {
            event.prevent_default();
            lost(Heard::Lost);
        });
        aside.0.set_onerror(Some(on_error.into_js_value().unchecked_ref()));
        let message = js_sys::Object::new();
        let columns = columns.map_or(JsValue::UNDEFINED, JsValue::from);
        for (key, value) in
            [("module", &wasm_bindgen::module()), ("file", file.as_ref()), ("columns", &columns)]
        {
            js_sys::Reflect::set(&message, &key.into(), value).ok()?;
        }
        aside.0.post_message(&message).ok()?;
        Some(aside)
    }
}

impl Drop for Aside {
    fn drop(&mut self) {
        self.0.terminate();
    }
}
