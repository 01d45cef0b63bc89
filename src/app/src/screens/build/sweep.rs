//! The builder's sweep: minutes, margin and current, or time on set and turning back, while one thing is varied.

use leptos::prelude::*;
use liftmargin_document::sweep::{PLACES, SweepAxis, Sweeper};
use liftmargin_document::words::contingency::{sweep_axis, sweep_note};

use super::super::curve::{curve, sweep_plot};
use crate::live::{act_on, live, text};
use crate::parts::{ChoiceField, TracePlot, table_of};
use crate::store::{Answer, Store, Sweeping};

/// A sweep of the saved setup, drawn when the section opens, and again once the fingers rest.
#[component]
pub fn SweepSection() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let open = RwSignal::new(false);
    let axis = RwSignal::new(SweepAxis::PayloadMass);
    let step = RwSignal::new(None);
    let sweeping = Sweeping::new();
    Effect::new(move || {
        if !open.get() {
            return;
        }
        // Follows what has settled, so that typing draws nothing.
        let settled = answer.saved.settled.get();
        let (axis, id) = (axis.get(), store.open.get());
        let learned = answer.airframe.get_untracked();
        match learned.filter(|_| settled.is_some()) {
            Some(Ok(learned)) => sweeping.start(
                store.bundle.with_untracked(|bundle| Sweeper::over(bundle, &id, &learned, axis, PLACES)),
            ),
            _ => sweeping.stop(),
        }
    });
    let options = move || {
        let named =
            |axis: SweepAxis| (axis.key().to_owned(), sweep_axis(axis, store.units.get()).0.to_owned());
        SweepAxis::ALL.map(named).to_vec()
    };
    let choose = Callback::new(move |key: String| {
        if let Some(chosen) = SweepAxis::ALL.into_iter().find(|axis| axis.key() == key) {
            axis.set(chosen);
            step.set(None);
        }
    });
    let note = move || {
        store.bundle.with(|bundle| sweep_note(bundle, &store.open.get(), axis.get(), store.units.get()))
    };
    let content = move || {
        open.get().then(|| view! {
            <ChoiceField label="Vary" options=Box::new(options) value=text(move || axis.get().key().to_owned()) on_change=choose />
            {curve(sweeping, move || axis.get(), move |sweep| {
                let plot = sweep_plot(&sweep, axis.get_untracked(), store.units.get());
                let table = table_of(&plot);
                view! { <TracePlot plot step /> {table} }.into_any()
            })}
            <p class="quiet">{text(note)}</p>
        })
    };
    view! {
        <details class="fold" data-panel="sweep" on:toggle=act_on(move || open.set(true))>
            <summary><h2>"Over a range"</h2></summary>
            {live(content)}
        </details>
    }
}
