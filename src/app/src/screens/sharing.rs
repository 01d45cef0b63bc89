//! A setup from phone to phone: as a file, a link, a code that another phone's camera opens.

use leptos::prelude::*;
use liftmargin_document::open;
use liftmargin_document::record::closed;
use liftmargin_document::share::{fragment, qr::Qr, qr::qr};
use liftmargin_document::words;
use liftmargin_document::words::take_in::holds;

use crate::live::{act, act_on, live, live_while, text};
use crate::platform::{file, route, share};
use crate::store::Store;

/// What can be shared of the open setup, made when it is unfolded.
#[derive(Clone, PartialEq)]
struct Shared {
    name: String,
    holds: String,
    file: String,
    /// The whole link, or why there is none.
    link: Result<String, String>,
}

fn shared(store: Store) -> Option<Shared> {
    let id = store.open.get();
    let name = store.with_setup(|setup| setup.name.clone())?;
    store.bundle.with(|bundle| {
        let alone = closed(bundle, &id).ok()?;
        let link = fragment(bundle, &id).map(|fragment| format!("{}{fragment}", route::page()));
        Some(Shared {
            name,
            holds: holds(&alone),
            file: open::save(&alone).ok()?,
            link: link.map_err(|fault| words::sentence(&fault.to_string())),
        })
    })
}

/// The panel, folded.
#[component]
pub fn SharePanel() -> impl IntoView {
    let store = Store::here();
    let open = RwSignal::new(false);
    view! {
        <details class="share" on:toggle=act_on(move || open.set(true))>
            <summary>"Share this setup"</summary>
            {live_while(move || open.get(), move || live(move || shared(store).map(panel)))}
        </details>
    }
}

fn panel(shared: Shared) -> AnyView {
    let said = RwSignal::new(String::new());
    let (name, text_of_file) = (shared.name.clone(), shared.file.clone());
    let save = act(move || {
        let is_saved = file::save_text("liftmargin-setup.json", "application/json", &text_of_file);
        let words = if is_saved {
            "Handed to the browser as liftmargin-setup.json."
        } else {
            "The browser took no file."
        };
        said.set(words.to_owned());
    });
    let what_if = Store::here().has_what_if();
    let what_if =
        what_if.then(|| view! { <p>"Shared is the setup as saved, without the what-if."</p> }.into_any());
    let link = match shared.link {
        Ok(link) => by_link(&name, link, said),
        Err(words) => view! { <p class="fault">{words}</p> }.into_any(),
    };
    view! {
        <p data-figure="share-holds">{format!("It holds {}, and nothing else of yours.", shared.holds)}</p>
        {what_if}
        <p class="row"><button type="button" on:click=save>"Save as a file"</button></p>
        {link}
        <p role="status">{text(move || said.get())}</p>
    }
    .into_any()
}

/// The link in all its ways.
fn by_link(name: &str, link: String, said: RwSignal<String>) -> AnyView {
    let shows_code = RwSignal::new(false);
    let (copied, sent, code) = (link.clone(), link.clone(), link.clone());
    let copy = act(move || {
        share::copy_text(&copied, move |done| {
            let words = if done {
                "The link is copied."
            } else {
                "The browser does not let it be copied: select it below."
            };
            said.set(words.to_owned());
        });
    });
    let title = name.to_owned();
    let send = act(move || share::share_link(&title, &sent));
    let send = share::can_share()
        .then(|| view! { <button type="button" on:click=send>"Send the link"</button> }.into_any());
    let length = format!(
        "The link has {} letters and opens without a network where Liftmargin is installed.",
        link.len()
    );
    view! {
        <p class="row">
            <button type="button" class="button-strong" on:click=act(move || shows_code.update(|shows| *shows = !*shows))>"Show as a code"</button>
            <button type="button" on:click=copy>"Copy the link"</button>
            {send}
        </p>
        {live_while(move || shows_code.get(), move || code_view(&code))}
        <p data-figure="share-length">{length}</p>
        <label class="share-link">
            "Link"
            <textarea readonly=true spellcheck="false" data-figure="link">{link}</textarea>
        </label>
    }
    .into_any()
}

/// The code, or words on why there is none. Black on white in the dark too: cameras want it so.
fn code_view(link: &str) -> AnyView {
    match qr(link) {
        Ok(Qr { side, path }) => view! {
            <figure class="code">
                <svg viewBox=format!("0 0 {side} {side}") role="img" aria-label="The link as a code" data-figure="qr" shape-rendering="crispEdges">
                    <rect width=side height=side fill="#fff"></rect>
                    <path d=path fill="#000"></path>
                </svg>
                <figcaption>"Point the other phone's camera at it from about 30 cm, the screen bright; it opens the link."</figcaption>
            </figure>
        }
        .into_any(),
        Err(too_dense) => view! { <p class="fault" data-figure="qr">{too_dense.to_string()}</p> }.into_any(),
    }
}
