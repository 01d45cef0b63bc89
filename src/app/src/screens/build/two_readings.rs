//! A cell's resistance by two readings under load, to be put into the pack type by a touch.

use leptos::prelude::*;
use liftmargin_document::fields::{Entry as _, Number};
use liftmargin_document::model::numbers::{CELL_RESISTANCE, PACK_RESISTANCE_KIND};
use liftmargin_document::model::{Bundle, PackType};
use liftmargin_document::present::two_readings::{READINGS, cell_resistance};
use liftmargin_document::present::{Unit, answer};
use liftmargin_document::record::Record as _;
use liftmargin_document::words;

use super::super::entry;
use crate::live::{act, live, memo};
use crate::store::Store;

/// Two readings and what they say of one pack type's cells.
pub fn resistance_by_readings(pack_type: &str) -> AnyView {
    let store = Store::here();
    let typed: [RwSignal<Option<f64>>; 4] = core::array::from_fn(|_| RwSignal::new(None));
    let field = |(number, value): (&'static Number, RwSignal<Option<f64>>)| {
        let element = entry::element_id("learn", pack_type, number.path);
        entry::number(
            element,
            number,
            memo(move || value.get()),
            Callback::new(move |typed| value.set(typed)),
        )
    };
    let fields: Vec<AnyView> = READINGS.iter().zip(typed).map(field).collect();
    let own = pack_type.to_owned();
    let said = move || {
        let [low_v, low_a, high_v, high_a] = typed.map(|value| value.get());
        let typed = [low_v?, low_a?, high_v?, high_a?];
        let cells =
            store.bundle.with(|bundle| PackType::find(bundle, &own).map(|(_, of)| of.cells_in_series))?;
        let units = store.units.get();
        Some(match cell_resistance(typed, cells) {
            Err(refusal) => view! { <p role="status">{words::refusal(&refusal, units)}</p> }.into_any(),
            Ok(found) => {
                let id = own.clone();
                let put = act(move || {
                    let id = id.clone();
                    // Rounded up: more resistance is the safe side.
                    let milliohm = (Unit::Milliohm.from_si(found.resistance.value) * 100.0).ceil() / 100.0;
                    let change = Box::new(move |bundle: &mut Bundle| {
                        CELL_RESISTANCE.put(bundle, &id, Some(milliohm));
                        PACK_RESISTANCE_KIND.set(bundle, &id, String::new());
                    });
                    store.edit_alone(CELL_RESISTANCE.number.label, change);
                });
                let doubt = answer::doubt(found.spread, units);
                view! {
                    <p role="status" data-figure="measured-resistance">
                        {format!("{} a cell, give or take {doubt}.", answer::cell_resistance(found.resistance, units))}
                    </p>
                    <p class="row"><button type="button" on:click=put>"Use it"</button></p>
                }
                .into_any()
            }
        })
    };
    view! {
        <details class="more">
            <summary>"Measure the cell resistance by two readings"</summary>
            <p class="quiet">"Hover at two throttles, or with and without payload, and note volts and amps of this pack each time. Charge above a third."</p>
            <div class="entries">{fields}</div>
            {live(said)}
        </details>
    }
    .into_any()
}
