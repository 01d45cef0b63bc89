//! Work in a thread of its own: `aside.js` starts the app's module once more there, without a page.

mod recording;
mod samples;

use leptos::prelude::document;
use wasm_bindgen::JsValue;
use web_sys::{Worker, WorkerOptions, WorkerType};

pub use recording::{Heard, ReadAside};
pub use samples::answer;

/// A new thread, where the browser gives one.
fn thread() -> Option<Worker> {
    let script = document().document_element()?.get_attribute("data-aside")?;
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    Worker::new_with_options(&script, &options).ok()
}

/// Sends a message with these parts, and the module.
fn send(thread: &Worker, parts: &[(&str, &JsValue)]) -> Option<()> {
    let message = js_sys::Object::new();
    for (key, value) in parts.iter().chain(&[("module", &wasm_bindgen::module())]) {
        js_sys::Reflect::set(&message, &(*key).into(), value).ok()?;
    }
    thread.post_message(&message).ok()
}
