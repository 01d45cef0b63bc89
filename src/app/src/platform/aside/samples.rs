//! All samples are flown in one thread, from the first question on for as long as the page is there.

use std::cell::RefCell;
use std::collections::VecDeque;
use std::time::Duration;

use js_sys::{Function, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{MessageEvent, Worker};

use super::{send, thread};
use crate::platform::frame;

/// So long a question may take, with the start of the thread: all samples are a matter of tenths of a second.
const PATIENCE: Duration = Duration::from_secs(10);

thread_local! {
    static SAMPLES: RefCell<Samples> = const { RefCell::new(Samples::NotAsked) };
}

/// The thread for samples.
enum Samples {
    NotAsked,
    /// With those who wait for their answers, in the order of their questions.
    Runs(Worker, VecDeque<Function>),
    /// It did not start, broke, or was silent for too long: the page does without.
    Lost,
}

/// The answer of the thread for samples; none where there is no such thread.
pub async fn answer(question: &str) -> Option<String> {
    let answer = Promise::new(&mut |done, _| {
        if ask(question, &done).is_none() {
            lose();
            tell(&done, &JsValue::UNDEFINED);
        }
    });
    JsFuture::from(answer).await.ok()?.as_string()
}

fn ask(question: &str, done: &Function) -> Option<()> {
    SAMPLES.with_borrow_mut(|samples| {
        if matches!(samples, Samples::NotAsked) {
            *samples = Samples::Runs(listened_to(thread()?), VecDeque::new());
        }
        let Samples::Runs(thread, waiting) = samples else { return None };
        send(thread, &[("question", &question.into())])?;
        waiting.push_back(done.clone());
        Some(())
    })?;
    let asked = done.clone();
    frame::after(PATIENCE, move || {
        let still_waits = SAMPLES
            .with_borrow(|samples| matches!(samples, Samples::Runs(_, waiting) if waiting.contains(&asked)));
        if still_waits {
            lose();
        }
    });
    Some(())
}

fn listened_to(thread: Worker) -> Worker {
    let on_message: Closure<dyn Fn(MessageEvent)> = Closure::new(|event: MessageEvent| {
        let first = SAMPLES.with_borrow_mut(|samples| match samples {
            Samples::Runs(_, waiting) => waiting.pop_front(),
            Samples::NotAsked | Samples::Lost => None,
        });
        if let Some(done) = first {
            tell(&done, &js_sys::Reflect::get(&event.data(), &"answer".into()).unwrap_or_default());
        }
    });
    thread.set_onmessage(Some(on_message.into_js_value().unchecked_ref()));
    let on_error: Closure<dyn Fn(web_sys::Event)> = Closure::new(|event: web_sys::Event| {
        event.prevent_default();
        lose();
    });
    thread.set_onerror(Some(on_error.into_js_value().unchecked_ref()));
    thread
}

/// Gives the thread up; who waits for it hears that there is none.
fn lose() {
    if let Samples::Runs(thread, waiting) = SAMPLES.replace(Samples::Lost) {
        thread.terminate();
        for done in &waiting {
            tell(done, &JsValue::UNDEFINED);
        }
    }
}

fn tell(done: &Function, answer: &JsValue) {
    let _ = done.call1(&JsValue::UNDEFINED, answer);
}
