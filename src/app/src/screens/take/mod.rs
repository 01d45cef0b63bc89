//! What comes in by a link or a file, before it is taken in: new, the same, different; of what differs the crew chooses.

use std::collections::HashMap;
use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::merge::Keep;
use liftmargin_document::model::Bundle;
use liftmargin_document::record::List;
use liftmargin_document::share;
use liftmargin_document::take_in::{FieldChange, Incoming, Standing, preview};
use liftmargin_document::words;
use liftmargin_document::words::take_in::{holds, standing};

use super::listing::fault_view;
use crate::live::{act, live, live_while, text};
use crate::parts::{SegmentField, Table};
use crate::platform::route;
use crate::router::Address;
use crate::store::{Coming, Store};

type Choices = RwSignal<HashMap<(List, String), Keep>>;

/// The screen: what the link in the address brings, or nothing.
#[component]
pub fn TakeScreen() -> impl IntoView {
    let Address(address) = expect_context::<Address>();
    let shown = move || {
        let link = address.get();
        match share::read(&format!("#{link}")) {
            Ok(opened) => comes(Coming { from: "The link".to_owned(), opened: Arc::new(opened) }, to_card()),
            Err(fault) => {
                let words = words::sentence(&fault.to_string());
                view! { {fault_view(format!("{words} Nothing was changed."))} <p class="row"><a class="button" href="#/card">"To the card"</a></p> }
                    .into_any()
            }
        }
    };
    view! {
        <main data-screen="take">
            <h1>"What comes in"</h1>
            {live(shown)}
        </main>
    }
}

fn to_card() -> Callback<Option<String>> {
    // The link has been answered: it is not to be asked again.
    Callback::new(|_| route::go_instead("/card"))
}

/// The preview with its choices; `over` is told what was done, or that it was left.
pub fn comes(coming: Coming, over: Callback<Option<String>>) -> AnyView {
    let store = Store::here();
    store.read_late();
    let choices: Choices = RwSignal::new(HashMap::new());
    let offered = coming.clone();
    // What is there already stands still while this is looked at, but for another tab.
    let all = move || store.bundle.with(|mine| preview(mine, &offered.opened.bundle, store.units.get()));
    let summary = format!("{}: {}.", coming.from, holds(&coming.opened.bundle));
    let unread = unread(&coming);
    let incoming = move || incoming(&all(), choices);
    let take = act(move || {
        let coming = coming.clone();
        store.once_all_read(move || {
            let words = store.take_in_chosen(&coming, &choices.get_untracked());
            over.run(Some(words));
        });
    });
    view! {
        <p data-figure="coming">{summary}</p>
        {unread}
        {live(incoming)}
        <p class="row">
            <button type="button" class="button-strong" on:click=take>"Take in"</button>
            <button type="button" on:click=act(move || over.run(None))>"Leave it"</button>
        </p>
    }
    .into_any()
}

/// What could not be read, or is kept though it is not understood.
fn unread(coming: &Coming) -> Option<AnyView> {
    let broken = coming.opened.broken.iter().map(|broken| format!("{}: {}", broken.name, broken.words));
    let unknown =
        coming.opened.unknown.iter().map(|path| format!("{path} is not understood here and kept as it is"));
    let lines: Vec<AnyView> =
        broken.chain(unknown).map(|words| view! { <li>{words}</li> }.into_any()).collect();
    (!lines.is_empty()).then(|| view! { <ul class="fault">{lines}</ul> }.into_any())
}

fn incoming(all: &[Incoming], choices: Choices) -> AnyView {
    let different: Vec<AnyView> = all.iter().filter_map(|one| different(one, choices)).collect();
    let is_some = different.len() > 1;
    let names = |standing: &Standing| {
        let named = all.iter().filter(|one| one.standing == *standing);
        named.map(|one| format!("{} ({})", one.name, one.list.one())).collect::<Vec<_>>().join(", ")
    };
    let (new, same) = (names(&Standing::New), names(&Standing::Same));
    let line = |title: &'static str, names: String| {
        (!names.is_empty()).then(|| view! { <p><strong>{title}</strong>" "{names}</p> }.into_any())
    };
    let keys: Vec<(List, String)> = all.iter().map(|one| (one.list, one.id.clone())).collect();
    view! {
        <p role="status" data-figure="standing">{words::sentence(&standing(all))}</p>
        {line("New:", new)}
        {is_some.then(|| all_at_once(keys, choices))}
        {different}
        {line("Here already, word for word:", same)}
    }
    .into_any()
}

/// One choice for everything that differs.
fn all_at_once(keys: Vec<(List, String)>, choices: Choices) -> AnyView {
    let button = move |keep: Keep, name: &'static str| {
        let keys = keys.clone();
        let set = act(move || choices.set(keys.iter().map(|key| (key.clone(), keep)).collect()));
        view! { <button type="button" on:click=set>{name}</button> }.into_any()
    };
    view! {
        <p class="row" role="group" aria-label="For all that differs">
            {button(Keep::Mine, "All: keep mine")}
            {button(Keep::Theirs, "All: take theirs")}
            {button(Keep::Both, "All: keep both")}
        </p>
    }
    .into_any()
}

fn different(one: &Incoming, choices: Choices) -> Option<AnyView> {
    let Standing::Different(changes) = &one.standing else { return None };
    let key = (one.list, one.id.clone());
    let own = key.clone();
    let value = text(move || {
        let keep = choices.with(|choices| choices.get(&own).copied()).unwrap_or(Keep::Both);
        word(keep).to_owned()
    });
    let choose = Callback::new(move |chosen: String| {
        let keep = [Keep::Mine, Keep::Theirs, Keep::Both].into_iter().find(|keep| word(*keep) == chosen);
        choices.update(|choices| {
            choices.insert(key.clone(), keep.unwrap_or(Keep::Both));
        });
    });
    let options = [(Keep::Mine, "Keep mine"), (Keep::Theirs, "Take theirs"), (Keep::Both, "Keep both")];
    let options = options.map(|(keep, name)| (word(keep).to_owned(), name.to_owned())).to_vec();
    let row = |change: &FieldChange| vec![change.name.clone(), change.mine.clone(), change.theirs.clone()];
    let head = ["Field", "Yours", "Theirs"].map(str::to_owned).to_vec();
    let view = view! {
        <section data-differs=one.id.clone()>
            <Table caption=format!("{} ({}) differs", one.name, one.list.one()) head rows=changes.iter().map(row).collect() />
            <SegmentField label="What to do" options value on_change=choose />
        </section>
    };
    Some(view.into_any())
}

const fn word(keep: Keep) -> &'static str {
    match keep {
        Keep::Mine => "mine",
        Keep::Theirs => "theirs",
        Keep::Both => "both",
    }
}

/// Whether there is anything to choose.
pub fn needs_choice(store: Store, theirs: &Bundle) -> bool {
    let units = store.units.get_untracked();
    let all = store.bundle.with_untracked(|mine| preview(mine, theirs, units));
    all.iter().any(|one| matches!(one.standing, Standing::Different(_)))
}

/// A file that was opened: taken in at once where nothing differs, else shown with its choices.
#[component]
pub fn FromFile(coming: RwSignal<Option<Coming>>, over: Callback<Option<String>>) -> impl IntoView {
    live_while(
        move || coming.with(Option::is_some),
        move || {
            let comes_in = coming.get_untracked();
            comes_in.map(|one| {
                view! { <section class="coming"><h2>"What comes in"</h2>{comes(one, over)}</section> }
                    .into_any()
            })
        },
    )
}
