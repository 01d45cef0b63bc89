//! Files: one saved to the device, one opened from it.

use std::rc::Rc;

use js_sys::Array;
use leptos::prelude::document;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

pub use web_sys::File;

/// Said where the device does not give a file.
pub const UNREADABLE: &str = "The file could not be read from the device.";

/// Offers a text as a file to keep. False where the browser refuses.
pub fn save_text(name: &str, mime: &str, text: &str) -> bool {
    try_save(name, mime, text).is_ok()
}

fn try_save(name: &str, mime: &str, text: &str) -> Result<(), JsValue> {
    let options = web_sys::BlobPropertyBag::new();
    options.set_type(mime);
    let blob = web_sys::Blob::new_with_str_sequence_and_options(&Array::of1(&text.into()), &options)?;
    let address = web_sys::Url::create_object_url_with_blob(&blob)?;
    let link: web_sys::HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    web_sys::Url::revoke_object_url(&address)
}

/// A file that was opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenedFile {
    /// Its name.
    pub name: String,
    /// Its content; bytes that are no UTF-8 become replacement marks.
    pub text: String,
}

/// Hands each file chosen in a file field to `opened`, and clears the field so that the same file can be chosen again.
pub fn chosen(opened: impl Fn(Option<OpenedFile>) + 'static) -> Box<dyn FnMut(web_sys::Event)> {
    let opened: Rc<dyn Fn(Option<OpenedFile>)> = Rc::new(opened);
    Box::new(move |event| read_chosen(&event, Rc::clone(&opened)))
}

/// As `chosen`, with the file as the browser holds it: `bytes` reads it.
pub fn chosen_file(opened: impl Fn(File) + 'static) -> Box<dyn FnMut(web_sys::Event)> {
    Box::new(move |event| {
        let Some(field) =
            event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok())
        else {
            return;
        };
        let Some(file) = field.files().and_then(|files| files.get(0)) else { return };
        opened(file);
        field.set_value("");
    })
}

/// All of a file; none where the device does not give it.
pub async fn bytes(file: &web_sys::Blob) -> Option<Vec<u8>> {
    let bytes = JsFuture::from(file.array_buffer()).await.ok()?;
    Some(js_sys::Uint8Array::new(&bytes).to_vec())
}

fn read_chosen(event: &web_sys::Event, opened: Rc<dyn Fn(Option<OpenedFile>)>) {
    let Some(field) = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok())
    else {
        return;
    };
    let Some(file) = field.files().and_then(|files| files.get(0)) else { return };
    leptos::task::spawn_local(async move {
        let text = JsFuture::from(file.text()).await.ok().and_then(|text| text.as_string());
        field.set_value("");
        opened(text.map(|text| OpenedFile { name: file.name(), text }));
    });
}
