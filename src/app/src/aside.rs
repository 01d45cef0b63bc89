//! What `aside.js` can ask for in a thread of its own.

use js_sys::Function;
use leptos::wasm_split::{SplitLoaderError, wasm_split};
use liftmargin_document::apart;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::Blob;

use crate::platform::file;
use crate::screens::read_whole;

/// From the bytes of a recording to its message, telling the share that is done.
type Reads = fn(&[u8], Option<&str>, &dyn Fn(f64)) -> Result<String, String>;

// The result is the fetching's.
#[allow(clippy::unnecessary_wraps)]
#[wasm_split(crew, wasm_split_path = leptos::wasm_split, fallible)]
fn reads() -> Result<Reads, SplitLoaderError> {
    Ok(read_whole)
}

/// Reads a recording: gives the message of its `Trace`, or refuses with words.
///
/// # Errors
/// Why it is no recording, in words; without words where the module that reads it did not come.
#[wasm_bindgen(js_name = readRecording)]
pub async fn read_recording(file: Blob, columns: Option<String>, tell: Function) -> Result<String, JsValue> {
    let bytes = file::bytes(&file).await.ok_or(file::UNREADABLE)?;
    let reads = reads().await.map_err(|_| JsValue::UNDEFINED)?;
    let told = |share: f64| drop(tell.call1(&JsValue::NULL, &share.into()));
    reads(&bytes, columns.as_deref(), &told).map_err(JsValue::from)
}

/// Flies the samples that a question asks for; none where it is refused, and the page finds why by itself.
#[wasm_bindgen(js_name = flySamples)]
pub fn fly_samples(question: &str) -> Option<String> {
    apart::answer(question).ok()
}
