//! After touchdown: what the meter shows makes the entry.

#![allow(clippy::large_types_passed_by_value, reason = "handles, copied as a signal is")]

use leptos::prelude::*;
use liftmargin_core::airborne::ReadingDoubt;
use liftmargin_document::airborne::running;
use liftmargin_document::log::{Landing, in_the_air, land};
use liftmargin_document::model::Reading;
use liftmargin_document::model::numbers::{FLOWN_REST, METER_SHOWN};

use super::super::entry::number;
use super::super::listing::fault_view;
use super::keypad::{asked_back, doubted};
use super::state::Air;
use crate::live::{act, live, memo, text};
use crate::parts::TextField;
use crate::platform::{clock, route};
use crate::store::Store;

/// The part of the screen.
pub fn landing(store: Store, air: Air) -> AnyView {
    let last = air.flight.get_untracked();
    let start_mah =
        last.as_ref().and_then(|flight| flight.aloft.as_ref()).map_or(0.0, |aloft| aloft.meter_start_mah);
    // A meter that was reset in flight has counted the rest alone.
    let offset_mah = move || air.at.with_untracked(|at| at.as_ref().map_or(start_mah, |at| at.offset_mah));
    let down_at_s = last.as_ref().and_then(|flight| flight.aloft.as_ref()?.down_at_s).unwrap_or_default();
    let (shown, rest) = (RwSignal::new(None::<f64>), RwSignal::new(None::<f64>));
    let remark = RwSignal::new(String::new());
    let fault = RwSignal::new(None::<String>);
    let doubt = RwSignal::new(None::<ReadingDoubt>);
    let end = move || {
        let landing = Landing {
            flight_time_s: down_at_s,
            used_mah: shown.get_untracked().map(|shown| shown - offset_mah()),
            meter_after_mah: shown.get_untracked(),
            rest_cell_voltage_v: rest.get_untracked(),
            remark: remark.get_untracked(),
            now_unix_ms: clock::now_ms(),
        };
        let id = air.id();
        // All flights of the airframe are learned from.
        store.once_log_read(move || {
            if store.bundle.with_untracked(|bundle| in_the_air(bundle).is_none_or(|flight| flight.id != id)) {
                return;
            }
            match store.bundle.with_untracked(|bundle| land(bundle, &id, &landing)) {
                Ok(bundle) => {
                    store.edit_alone("the entry of this flight", Box::new(|now| *now = bundle));
                    store.flush_then(|| ());
                    route::go("/log");
                }
                Err(refused) => fault.set(Some(refused.to_string())),
            }
        });
    };
    let last_reading =
        move || Reading { time_s: down_at_s, used_mah: shown.get_untracked(), ..Reading::default() };
    // A wrong digit here would teach the log what never was.
    let write = act(move || {
        let asked = shown.get_untracked().and_then(|_| doubted(air, &last_reading()));
        let is_sound = asked.is_none();
        doubt.set(asked);
        if is_sound {
            end();
        }
    });
    // Confirmed it is a reading like any other: a meter that was reset is known by it.
    let stand_by = move || {
        let reading = Reading { confirmed: true, ..last_reading() };
        air.change("the reading", move |flight| flight.readings.push(reading));
        doubt.set(None);
        end();
    };
    let up_again = act(move || air.change_aloft("the landing", |aloft| aloft.down_at_s = None));
    let put = |signal: RwSignal<Option<f64>>| Callback::new(move |value| signal.set(value));
    view! {
        <section class="wide">
            <h2>"Landed"</h2>
            <p class="air-time" data-figure="airborne-time">{running(down_at_s)}</p>
            <p>"What the meter on board shows now, and, some minutes later, the rest voltage of a cell."</p>
            {number("landed-used".to_owned(), &METER_SHOWN, memo(move || shown.get()), put(shown))}
            {number("landed-rest".to_owned(), &FLOWN_REST.number, memo(move || rest.get()), put(rest))}
            <TextField label="Remark" value=text(move || remark.get()) on_change=Callback::new(move |text| remark.set(text)) />
            {live(move || doubt.get().map(|found| asked_back(&found, move || { doubt.set(None); shown.set(None); }, stand_by)))}
            {live(move || fault.get().map(fault_view))}
            <p class="row">
                <button type="button" class="button-strong" on:click=write>"Write the entry"</button>
                <button type="button" class="button-plain" on:click=up_again>"Not down yet"</button>
            </p>
        </section>
    }
    .into_any()
}
