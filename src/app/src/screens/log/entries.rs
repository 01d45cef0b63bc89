//! The entries by day: each opens to be edited, left out, deleted; one more by hand.

use leptos::prelude::*;
use liftmargin_document::fields::Field;
use liftmargin_document::log::{Landing, LogRow, by_day, by_hand, delete, edited, exclude, recording_of};
use liftmargin_document::model::Flight;
use liftmargin_document::model::numbers::{FLOWN_MINUTES, FLOWN_REST, FLOWN_USED};
use liftmargin_document::present::answer;
use liftmargin_document::present::moment;
use liftmargin_document::record::Record;
use uom::si::electric_charge::milliampere_hour;
use uom::si::f64::{ElectricCharge, Time};
use uom::si::time::second;

use super::super::build::SetupChoice;
use super::super::entry::number;
use super::super::listing::fault_view;
use super::amend::amending;
use super::lesson::lesson;
use super::recorded_plot::kept_recording;
use crate::live::{act, flag, live, live_each, memo, text};
use crate::parts::{SwitchRow, TextField};
use crate::platform::clock;
use crate::store::Store;

/// The list, newest first.
pub fn entries(store: Store, listed: Memo<Vec<LogRow>>) -> AnyView {
    let days = memo(move || listed.with(|rows| by_day(rows, clock::east_min)));
    // Above the first of each day: an entry that is put on another day stays open.
    let day = move |id: &str| {
        let is_first = |(_, ids): &&(String, Vec<String>)| ids.first().is_some_and(|first| first == id);
        days.with(|days| days.iter().find(is_first).map(|(day, _)| day.clone()))
    };
    let ids = move || listed.with(|rows| rows.iter().map(|row| row.id.clone()).collect());
    let row = move |id: String| {
        let own = id.clone();
        let day = memo(move || day(&own));
        view! {
            {live(move || day.get().map(|day| view! { <h3>{day}</h3> }))}
            {entry(store, listed, &id)}
        }
        .into_any()
    };
    view! { <section class="log" data-figure="log-entries"><h2>"Flights"</h2>{live_each(ids, row)}</section> }
        .into_any()
}

fn row_of(listed: Memo<Vec<LogRow>>, id: &str) -> Option<LogRow> {
    listed.with(|rows| rows.iter().find(|row| row.id == id).cloned())
}

fn entry(store: Store, listed: Memo<Vec<LogRow>>, id: &str) -> AnyView {
    let own = id.to_owned();
    let row = memo(move || row_of(listed, &own));
    let mah = move |value: f64| {
        answer::charge(ElectricCharge::new::<milliampere_hour>(value), store.units.get()).to_string()
    };
    let when = text(move || {
        row.with(|row| {
            row.as_ref().map_or_else(String::new, |row| {
                let east = clock::east_min(row.lift_off_unix_ms);
                format!("{}  {}", moment::clock(row.lift_off_unix_ms, east), row.name)
            })
        })
    });
    let used =
        text(move || row.with(|row| row.as_ref().and_then(|row| row.used_mah).map(mah)).unwrap_or_default());
    let beside = text(move || row.with(|row| row.as_ref().map(|row| beside(row, &mah)).unwrap_or_default()));
    let open = RwSignal::new(false);
    let own = id.to_owned();
    let form = move || open.get().then(|| form(store, row, &own));
    view! {
        <details class="log-row" data-entry=id.to_owned() on:toggle=crate::live::act_on(move || open.set(true))>
            <summary><span>{when}</span><b>{used}</b><small>{beside}</small></summary>
            {live(form)}
        </details>
    }
    .into_any()
}

/// Minutes, what was predicted, whether it held.
fn beside(row: &LogRow, mah: &dyn Fn(f64) -> String) -> String {
    let mut words = Vec::new();
    if row.in_the_air {
        words.push("in the air".to_owned());
    }
    words.extend(row.flight_time_s.map(|seconds| answer::time(Time::new::<second>(seconds))));
    words.extend(row.predicted_mah.map(|predicted| format!("predicted {}", mah(predicted))));
    words.extend(
        row.inside.map(|inside| if inside { "inside the band" } else { "outside the band" }.to_owned()),
    );
    if row.excluded {
        words.push("left out".to_owned());
    }
    words.extend(Some(row.remark.clone()).filter(|remark| !remark.is_empty()));
    words.join(" · ")
}

fn form(store: Store, row: Memo<Option<LogRow>>, id: &str) -> AnyView {
    let numbers = [&FLOWN_MINUTES, &FLOWN_USED, &FLOWN_REST].map(|field| flown_number(store, id, field));
    let own = id.to_owned();
    let remark = text(move || {
        store
            .bundle
            .with(|bundle| Flight::find(bundle, &own).map(|(_, flight)| flight.remark.clone()))
            .unwrap_or_default()
    });
    let own = id.to_owned();
    let remark_typed = Callback::new(move |words: String| {
        let id = own.clone();
        let group = format!("flights {id} remark");
        store.edit(
            &group,
            "the remark",
            Box::new(move |bundle| {
                if let Some(flight) = Flight::find_mut(bundle, &id) {
                    flight.remark = words;
                }
            }),
        );
    });
    let own = id.to_owned();
    let leave_out = Callback::new(move |counts: bool| {
        let id = own.clone();
        store.edit_alone(
            "leaving a flight out",
            Box::new(move |bundle| *bundle = exclude(bundle, &id, !counts, clock::now_ms())),
        );
    });
    let own = id.to_owned();
    let remove = act(move || {
        let id = own.clone();
        store.once_all_read(move || {
            store.edit_alone(
                "deleting a flight",
                Box::new(move |bundle| {
                    if let Ok(left) = delete(bundle, &id, clock::now_ms()) {
                        *bundle = left;
                    }
                }),
            );
            store.undo_offer.set(Some("Flight deleted".to_owned()));
        });
    });
    let own = id.to_owned();
    let kept = memo(move || store.bundle.with(|bundle| recording_of(bundle, &own).is_some()));
    let own = id.to_owned();
    let drawn =
        move || kept.get().then(|| view! { {kept_recording(store, &own)} {lesson(store, &own)} }.into_any());
    view! {
        {live(drawn)}
        <div class="entries">{numbers.into_iter().collect::<Vec<AnyView>>()}</div>
        {amending(store, id)}
        <TextField label="Remark" value=remark on_change=remark_typed />
        <SwitchRow label=text(|| "Counts for the correction".to_owned()) sub=text(String::new)
            on=flag(move || row.with(|row| row.as_ref().is_some_and(|row| !row.excluded))) on_change=leave_out />
        <p class="row"><button type="button" on:click=remove>"Delete this flight"</button></p>
    }
    .into_any()
}

/// A number of an entry; changed, it is predicted and learned from anew.
fn flown_number(store: Store, id: &str, field: &'static Field<Flight>) -> AnyView {
    let own = id.to_owned();
    let value = memo(move || {
        store.bundle.with(|bundle| Flight::find(bundle, &own).and_then(|(_, flight)| field.get(flight)))
    });
    let own = id.to_owned();
    let write = Callback::new(move |value: Option<f64>| {
        let id = own.clone();
        let group = format!("flights {id} {}", field.number.path);
        store.edit(
            &group,
            field.number.label,
            Box::new(move |bundle| {
                *bundle = edited(bundle, &id, clock::now_ms(), |flight| field.set(flight, value));
            }),
        );
    });
    number(super::super::entry::element_id("flights", id, field.number.path), &field.number, value, write)
}

/// One more entry, of the open setup as it stands.
pub fn by_hand_form(store: Store) -> AnyView {
    let (time, used, rest) =
        (RwSignal::new(None::<f64>), RwSignal::new(None::<f64>), RwSignal::new(None::<f64>));
    let fault = RwSignal::new(None::<String>);
    let put = |signal: RwSignal<Option<f64>>| Callback::new(move |value| signal.set(value));
    let add = act(move || {
        let now_unix_ms = clock::now_ms();
        let Some(flight_time_s) = time.get_untracked() else {
            fault.set(Some("Enter the flight time.".to_owned()));
            return;
        };
        let landing = Landing {
            flight_time_s,
            used_mah: used.get_untracked(),
            meter_after_mah: None,
            rest_cell_voltage_v: rest.get_untracked(),
            remark: String::new(),
            now_unix_ms,
        };
        let id = store.open.get_untracked();
        let start = now_unix_ms - 1000.0 * flight_time_s;
        match store.bundle.with_untracked(|bundle| by_hand(bundle, &id, start, &landing)) {
            Ok((bundle, _)) => {
                fault.set(None);
                store.edit_alone("a flight by hand", Box::new(|now| *now = bundle));
                for signal in [time, used, rest] {
                    signal.set(None);
                }
            }
            Err(refused) => fault.set(Some(refused.to_string())),
        }
    });
    view! {
        <details class="fold">
            <summary><h2>"A flight by hand"</h2></summary>
            <SetupChoice />
            <div class="entries">
                {number("hand-time".to_owned(), &FLOWN_MINUTES.number, memo(move || time.get()), put(time))}
                {number("hand-used".to_owned(), &FLOWN_USED.number, memo(move || used.get()), put(used))}
                {number("hand-rest".to_owned(), &FLOWN_REST.number, memo(move || rest.get()), put(rest))}
            </div>
            {live(move || fault.get().map(fault_view))}
            <p class="row"><button type="button" class="button-strong" on:click=add>"Add the flight"</button></p>
        </details>
    }
    .into_any()
}
