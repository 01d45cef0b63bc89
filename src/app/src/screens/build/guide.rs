//! What is still missing from the open setup, at the top, each with a touch to it; and what nobody has entered.

use leptos::prelude::*;
use liftmargin_document::guide::{Step, assumed, entered, missing};
use liftmargin_document::model::Setup;
use liftmargin_document::record::{List, Record};

use super::super::entry::element_id;
use super::super::problem::go_to_field;
use crate::live::{act, live, memo};
use crate::router::Screen;
use crate::store::Store;

/// The list; nothing where all is there and was entered.
#[component]
pub fn GuideSection(
    /// The setup.
    setup: String,
) -> impl IntoView {
    let store = Store::here();
    let own = setup.clone();
    let lacks = memo(move || {
        store.bundle.with(|bundle| {
            Setup::find(bundle, &own).map(|(_, setup)| missing(bundle, setup)).unwrap_or_default()
        })
    });
    let guesses = memo(move || assumed_steps(store, &setup));
    let row = |step: Step| {
        let screen =
            if step.list == List::Sites || step.path == "site" { Screen::Site } else { Screen::Build };
        let element = element_id(step.list.key(), &step.id, step.path);
        let go = act(move || go_to_field(screen, element.clone()));
        view! { <li><button type="button" on:click=go>{step.words}</button></li> }.into_any()
    };
    let rows = move |steps: Vec<Step>| steps.into_iter().map(row).collect::<Vec<AnyView>>();
    let lacking = move || {
        let steps = lacks.get();
        (!steps.is_empty()).then(|| {
            view! {
                <section class="note" data-guide="missing" aria-label="Still missing">
                    <h2>"Still missing"</h2>
                    <ol class="guide">{rows(steps)}</ol>
                </section>
            }
        })
    };
    let assuming = move || {
        let steps = guesses.get();
        let records: Vec<(List, String)> = steps.iter().map(|step| (step.list, step.id.clone())).collect();
        let right = act(move || {
            let records = records.clone();
            store.edit_alone(
                "the assumed figures",
                Box::new(move |bundle| {
                    for (list, id) in &records {
                        entered(bundle, *list, id, None);
                    }
                }),
            );
        });
        (!steps.is_empty()).then(|| {
            view! {
                <details class="more" data-guide="assumed">
                    <summary>{format!("Assumed, entered by nobody: {} figures", steps.len())}</summary>
                    <ol class="guide">{rows(steps)}</ol>
                    <p class="row"><button type="button" on:click=right>"All of them are right"</button></p>
                </details>
            }
        })
    };
    view! { <div class="setups">{live(lacking)} {live(assuming)}</div> }
}

/// What nobody has entered of a setup's airframe, packs and site.
pub fn assumed_steps(store: Store, setup: &str) -> Vec<Step> {
    let units = store.units.get();
    store.bundle.with(|bundle| {
        Setup::find(bundle, setup).map(|(_, setup)| assumed(bundle, setup, units)).unwrap_or_default()
    })
}
