//! A recording is read in a thread that ends with it.

use std::rc::Rc;

use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{File, MessageEvent, Worker};

use super::{send, thread};

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

/// A thread that reads; ended when it is dropped.
pub struct ReadAside(Worker);

impl ReadAside {
    /// Reads a recording by these columns, or by those that it shows itself; none where the browser gives no thread.
    pub fn begin(file: &File, columns: Option<&str>, hear: impl Fn(Heard) + 'static) -> Option<Self> {
        let aside = Self(thread()?);
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
        let columns = columns.map_or(JsValue::UNDEFINED, JsValue::from);
        send(&aside.0, &[("file", file.as_ref()), ("columns", &columns)])?;
        Some(aside)
    }
}

impl Drop for ReadAside {
    fn drop(&mut self) {
        self.0.terminate();
    }
}
