//! What the browser keeps cannot be read. It may all be there: nothing is shown in its place and nothing is written.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::live::{act, live};
use crate::platform::database::{self, Copy};
use crate::platform::storage::StorageFault;
use crate::platform::{file, frame, page};
use crate::store::everything_readable;

/// So long a storage that does not answer is left alone before it is asked again.
const PAUSE: Duration = Duration::from_secs(2);

/// Starts anew once the storage answers, unless the crew has gone on without it.
fn start_once_it_answers(without: RwSignal<bool>) {
    frame::after(PAUSE, move || {
        spawn_local(async move {
            // Whatever stands there: that it is answered is what counts.
            let answers = database::read(&["any".to_owned()], Copy::Now).await.is_ok();
            match without.try_get_untracked() {
                Some(false) if answers => page::reload(),
                Some(false) => start_once_it_answers(without),
                _ => {}
            }
        });
    });
}

/// The page.
#[component]
pub fn UnreadScreen(
    /// Why.
    fault: StorageFault,
    /// Set when the crew goes on without its data.
    without: RwSignal<bool>,
) -> impl IntoView {
    let words = RwSignal::new(String::new());
    let save = act(move || {
        spawn_local(async move {
            let text = everything_readable().await;
            words.set(if text.is_empty() {
                "Nothing could be read, so there is no file.".to_owned()
            } else if file::save_text("liftmargin.json", "application/json", &text) {
                "Handed to the browser as liftmargin.json.".to_owned()
            } else {
                "The browser took no file.".to_owned()
            });
        });
    });
    // Only slow, it may be: nobody has to touch anything for it.
    let is_silent = fault == StorageFault::Silent;
    if is_silent {
        start_once_it_answers(without);
    }
    let asked_again = is_silent
        .then(|| view! { <p>"It is asked again every few seconds; the app starts once it answers."</p> });
    view! {
        <main data-screen="unread">
            <h1>"Your data cannot be read at the moment"</h1>
            <section class="note note-serious" role="alert" data-note="unread">
                <p>{format!("Reason: {fault}.")}</p>
                <p>
                    "This does not mean that it is lost: nothing has been changed. Close other tabs of Liftmargin, allow this page to keep data, leave a private window, then try again."
                </p>
                {asked_again}
                <p class="row"><button type="button" on:click=act(page::reload)>"Try again"</button></p>
                <p class="row"><button type="button" on:click=save>"Save what can be read as a file"</button></p>
                {live(move || view! { <p role="status">{words.get()}</p> })}
                <p class="row">
                    <button type="button" on:click=act(move || without.set(true))>
                        "Go on with the invented demo; nothing will be kept"
                    </button>
                </p>
            </section>
        </main>
    }
}
