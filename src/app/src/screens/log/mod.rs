//! Log: flights flown, what they teach, recordings taken in.

mod amend;
mod correction;
mod entries;
mod lesson;
mod outside;
mod plots;
mod recorded_plot;
mod recording;

pub use recording::read_whole;

use leptos::prelude::*;
use liftmargin_document::log::{LogFilter, LogRow, coverage, rows};
use liftmargin_document::record::List;

use crate::live::{live, live_while, memo, text};
use crate::parts::{ChoiceField, EmptyState};
use crate::store::Store;

/// The screen.
#[component]
pub fn LogScreen() -> impl IntoView {
    let store = Store::here();
    store.read_late();
    let filter = RwSignal::new(LogFilter::default());
    let listed = memo(move || store.bundle.with(|bundle| filter.with(|filter| rows(bundle, filter))));
    let nothing = memo(move || store.bundle.with(|bundle| bundle.flights.is_empty()));
    let none = || {
        view! {
            <EmptyState title="No flight yet">
                <p>"A landing on Airborne writes one here; or enter it by hand below."</p>
            </EmptyState>
        }
    };
    view! {
        <main data-screen="log">
            <h1>"Log"</h1>
            // What the log teaches, and what an entry changes, takes all of it.
            {live_while(move || !store.log_is_read(), || view! { <p role="status">"Reading the log…"</p> })}
            {live_while(move || store.log_is_read(), move || view! {
                {live_while(move || nothing.get(), none)}
                {live_while(move || !nothing.get(), move || view! {
                    {filters(store, filter)}
                    {said(listed)}
                    {entries::entries(store, listed)}
                })}
                {correction::corrections(store)}
                {entries::by_hand_form(store)}
                {recording::recording(store)}
                {outside::outside(store, filter)}
            })}
        </main>
    }
}

fn filters(store: Store, filter: RwSignal<LogFilter>) -> AnyView {
    let all = move |list: List| {
        move || {
            let mut choices = vec![(String::new(), "all".to_owned())];
            choices.extend(store.bundle.with(|bundle| list.names(bundle)));
            choices
        }
    };
    let airframe = Callback::new(move |id: String| filter.update(|filter| filter.airframe = id));
    let setup = Callback::new(move |id: String| filter.update(|filter| filter.setup = id));
    view! {
        <section class="log-filter">
            <ChoiceField label="Airframe" options=Box::new(all(List::Airframes)) value=text(move || filter.with(|filter| filter.airframe.clone())) on_change=airframe />
            <ChoiceField label="Setup" options=Box::new(all(List::Setups)) value=text(move || filter.with(|filter| filter.setup.clone())) on_change=setup />
        </section>
    }
    .into_any()
}

/// Coverage, and the plots once there are flights that were predicted.
fn said(listed: Memo<Vec<LogRow>>) -> AnyView {
    let store = Store::here();
    let words = memo(move || listed.with(|rows| coverage(rows).words()));
    let drawn = move || listed.with(|rows| plots::plots(rows, store.units.get().decimal_mark()));
    view! {
        <section>
            <p data-figure="log-coverage">{text(move || words.get())}</p>
            {live(drawn)}
        </section>
    }
    .into_any()
}
