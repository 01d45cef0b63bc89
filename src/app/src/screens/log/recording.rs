//! A recording of a flight taken in: in a thread of its own, or, where there is none, in pieces between which the browser
//! breathes.

use std::sync::Arc;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_core::units::{ElectricCharge, Time};
use liftmargin_document::log::{of_recording, overlay};
use liftmargin_document::present::answer;
use liftmargin_document::trace::{Chosen, Detected, TimeForm, Trace, TraceColumns, TraceReader, look_at};
use uom::si::electric_charge::milliampere_hour;
use uom::si::time::second;

use super::super::build::SetupChoice;
use super::super::card::{card_of, setup_of};
use super::super::listing::fault_view;
use super::recorded_plot::recorded_plot;
use crate::live::{Text, act, flag, live, text};
use crate::parts::{ChoiceField, Choices, FileButton, TracePlot};
use crate::platform::aside::{Heard, ReadAside};
use crate::platform::{clock, file, frame};
use crate::store::{Answer, Store, flight_of};

/// Bytes in one piece of work: some milliseconds on a phone.
const PIECE: usize = 131_072;
/// Pieces between two tellings of how far it is.
const TOLD: usize = 8;

/// How the reading goes.
#[derive(Clone, Default)]
enum State {
    #[default]
    Nothing,
    /// Share done.
    Reading(f64),
    Fault(String),
    /// It has rows, but what they hold must be said by a person.
    Unclear(String, Arc<Detected>),
    Read(Arc<Trace>),
}

#[derive(Clone, Copy)]
struct Taking {
    state: RwSignal<State>,
    /// The file, kept to be read again by other columns.
    file: StoredValue<Option<file::File>, LocalStorage>,
    /// The thread that reads.
    aside: StoredValue<Option<ReadAside>, LocalStorage>,
    name: RwSignal<String>,
    /// A later reading or a cancel makes an earlier one stop.
    turn: StoredValue<u32>,
    step: RwSignal<Option<u32>>,
}

/// The part of the screen.
pub fn recording(store: Store) -> AnyView {
    let taking = Taking {
        state: RwSignal::new(State::Nothing),
        file: StoredValue::new_local(None),
        aside: StoredValue::new_local(None),
        name: RwSignal::new(String::new()),
        turn: StoredValue::new(0),
        step: RwSignal::new(None),
    };
    let chosen = file::chosen_file(move |opened| {
        taking.name.set(opened.name());
        taking.file.set_value(Some(opened));
        read(taking, None);
    });
    let shown = move || match taking.state.get() {
        State::Nothing => ().into_any(),
        State::Reading(share) => reading(taking, share),
        State::Fault(words) => fault_view(words),
        State::Unclear(words, detected) => unclear(taking, words, &detected),
        State::Read(trace) => told(store, taking, &trace),
    };
    view! {
        <section>
            <h2>"A recording"</h2>
            <p>"Time, voltage, current or mAh from any recorder, as CSV."</p>
            <p class="row"><FileButton label="Open a recording (CSV)" accept=".csv,.tsv,.txt,.log,text/csv" on_file=chosen /></p>
            {live(shown)}
        </section>
    }
    .into_any()
}

fn reading(taking: Taking, share: f64) -> AnyView {
    let cancel = act(move || {
        taking.turn.update_value(|turn| *turn += 1);
        taking.aside.set_value(None);
        taking.state.set(State::Nothing);
    });
    view! {
        <p role="status">{format!("Reading: {:.0} %", 100.0 * share)}</p>
        <p class="row"><button type="button" on:click=cancel>"Cancel"</button></p>
    }
    .into_any()
}

/// Reads the file by these columns, or by those that it shows itself.
fn read(taking: Taking, columns: Option<TraceColumns>) {
    let Some(file) = taking.file.get_value() else { return };
    let turn = taking.turn.try_update_value(|turn| {
        *turn += 1;
        *turn
    });
    taking.state.set(State::Reading(0.0));
    let written = columns.and_then(|columns| serde_json::to_string(&columns).ok());
    let own = file.clone();
    let aside = ReadAside::begin(&file, written.as_deref(), move |heard| {
        if taking.turn.try_get_value() != turn {
            return;
        }
        if let Heard::Share(share) = heard {
            return taking.state.set(State::Reading(share));
        }
        taking.aside.set_value(None);
        match heard {
            Heard::Done(message) => match Trace::from_message(&message) {
                Some(trace) => taking.state.set(State::Read(Arc::new(trace))),
                None => here(taking, turn, own.clone(), columns),
            },
            Heard::Fault(words) => asked(taking, turn, own.clone(), columns, words),
            Heard::Share(_) | Heard::Lost => here(taking, turn, own.clone(), columns),
        }
    });
    if aside.is_none() {
        here(taking, turn, file, columns);
    }
    taking.aside.set_value(aside);
}

/// Why the other thread did not read it; with its columns to choose from where it has rows.
fn asked(taking: Taking, turn: Option<u32>, file: file::File, columns: Option<TraceColumns>, words: String) {
    spawn_local(async move {
        let bytes = file::bytes(&file).await.unwrap_or_default();
        if taking.turn.try_get_value() == turn {
            taking.state.set(unread(&bytes, columns, words));
        }
    });
}

/// The same on the page's own thread, where there is no other.
fn here(taking: Taking, turn: Option<u32>, file: file::File, columns: Option<TraceColumns>) {
    let is_wanted = move || taking.turn.try_get_value() == turn;
    spawn_local(async move {
        let bytes = file::bytes(&file).await;
        if !is_wanted() {
            return;
        }
        let Some(bytes) = bytes else {
            return taking.state.set(State::Fault(file::UNREADABLE.to_owned()));
        };
        let mut reader = TraceReader::new(columns);
        for (place, piece) in bytes.chunks(PIECE).enumerate() {
            reader.push(piece);
            frame::turn().await;
            if !is_wanted() {
                return;
            }
            if place % TOLD == 0 {
                taking.state.set(State::Reading(share(place, bytes.len())));
            }
        }
        frame::turn().await;
        let read = match reader.settle() {
            Ok(mut settling) => {
                while settling.step() {
                    frame::turn().await;
                }
                State::Read(Arc::new(settling.done()))
            }
            Err(fault) => unread(&bytes, columns, fault.to_string()),
        };
        if is_wanted() {
            taking.state.set(read);
        }
    });
}

/// The whole at once, for a thread of its own, by columns as `read` writes them: the message of what it says, or why it is no
/// recording.
///
/// # Errors
/// Why it is no recording, in words.
pub fn read_whole(bytes: &[u8], columns: Option<&str>, tell: &dyn Fn(f64)) -> Result<String, String> {
    let columns: Option<TraceColumns> = columns.and_then(|written| serde_json::from_str(written).ok());
    let mut reader = TraceReader::new(columns);
    for (place, piece) in bytes.chunks(PIECE).enumerate() {
        reader.push(piece);
        if place % TOLD == 0 {
            tell(share(place, bytes.len()));
        }
    }
    let trace = reader.finish().map_err(|fault| fault.to_string())?;
    trace.into_message().ok_or_else(|| file::UNREADABLE.to_owned())
}

fn share(place: usize, bytes: usize) -> f64 {
    (place * PIECE) as f64 / bytes.max(1) as f64
}

/// Why it was not read; with its columns to choose from where it has rows.
fn unread(bytes: &[u8], columns: Option<TraceColumns>, words: String) -> State {
    match look_at(bytes) {
        Ok(mut detected) => {
            detected.columns = columns.unwrap_or(detected.columns);
            State::Unclear(words, Arc::new(detected))
        }
        Err(_) => State::Fault(words),
    }
}

fn unclear(taking: Taking, words: String, detected: &Detected) -> AnyView {
    view! {
        {fault_view(words)}
        <p>{taking.name.get_untracked()}": say which column holds what."</p>
        {columns(taking, detected, true)}
    }
    .into_any()
}

fn told(store: Store, taking: Taking, trace: &Arc<Trace>) -> AnyView {
    let totals = &trace.totals;
    let units = store.units.get_untracked();
    let mut facts = vec![
        ("Rows", totals.rows.to_string()),
        ("Duration", answer::time(Time::new::<second>(totals.duration_s))),
    ];
    let mah = |value: f64| answer::charge(ElectricCharge::new::<milliampere_hour>(value), units).to_string();
    facts.extend(totals.used_mah.map(|used| ("Used", mah(used))));
    facts.extend(totals.energy_wh.map(|energy| ("Energy", format!("{energy:.0} Wh"))));
    facts.extend(totals.lowest_voltage_v.map(|volts| ("Lowest voltage", format!("{volts:.1} V"))));
    facts.extend(totals.greatest_current_a.map(|amps| ("Greatest current", format!("{amps:.0} A"))));
    let fact = |(name, value): (&'static str, String)| {
        view! { <div><dt>{name}</dt><dd>{value}</dd></div> }.into_any()
    };
    let facts: Vec<AnyView> = facts.into_iter().map(fact).collect();
    let notes: Vec<AnyView> =
        trace.notes.iter().map(|note| view! { <li>{note.to_string()}</li> }.into_any()).collect();
    let track = Answer::here().saved;
    let flight = card_of(track);
    let flight = flight.as_deref().and_then(flight_of);
    let meter = setup_of(track, |setup| setup.supply.meter);
    let plot = recorded_plot(overlay(&trace.points, flight.zip(meter.as_ref())), units.decimal_mark());
    let own = Arc::clone(trace);
    let may = own.totals.used_mah.is_some() && own.totals.duration_s >= 10.0;
    let fault = RwSignal::new(None::<String>);
    let make = act(move || fault.set(entry(store, taking, &own).err()));
    view! {
        <p>{taking.name.get_untracked()}</p>
        <dl class="facts" data-figure="recording">{facts}</dl>
        <ul>{notes}</ul>
        {columns(taking, &trace.detected, false)}
        <TracePlot plot step=taking.step />
        <SetupChoice />
        {live(move || fault.get().map(fault_view))}
        <p class="row">
            <button type="button" class="button-strong" disabled=flag(move || !may) on:click=make>"Make an entry of it"</button>
            <button type="button" on:click=act(move || taking.state.set(State::Nothing))>"Leave it"</button>
        </p>
    }
    .into_any()
}

/// An entry of the open setup with the recording beside it.
fn entry(store: Store, taking: Taking, trace: &Trace) -> Result<(), String> {
    let (id, name) = (store.open.get_untracked(), taking.name.get_untracked());
    let made = store.bundle.with_untracked(|bundle| of_recording(bundle, &id, &name, trace, clock::now_ms()));
    let (bundle, _) = made.map_err(|fault| fault.to_string())?;
    store.edit_alone("a flight of a recording", Box::new(|now| *now = bundle));
    taking.state.set(State::Nothing);
    Ok(())
}

/// Every column chosen by hand.
fn columns(taking: Taking, detected: &Detected, is_open: bool) -> AnyView {
    let detected = Arc::new(detected.clone());
    let titles: Vec<String> = (0..detected.titles.len()).map(|column| detected.shown(column)).collect();
    let options = move || -> Choices {
        let none = (String::new(), "none".to_owned());
        std::iter::once(none)
            .chain(titles.iter().enumerate().map(|(index, title)| (index.to_string(), title.clone())))
            .collect()
    };
    let now = detected.columns;
    let again = move |change: &dyn Fn(&mut TraceColumns)| {
        let mut columns = now;
        change(&mut columns);
        read(taking, Some(columns));
    };
    let key = |column: Option<usize>| -> Text {
        text(move || column.map(|column| column.to_string()).unwrap_or_default())
    };
    let of = Arc::clone(&detected);
    let figure = move |label: &'static str,
                       name: &'static str,
                       chosen: Option<Chosen>,
                       put: fn(&mut TraceColumns, Option<Chosen>),
                       options: Box<dyn Fn() -> Choices + Send + Sync>| {
        let of = Arc::clone(&of);
        let change = Callback::new(move |key: String| {
            let column = key.parse().ok().map(|column| of.as_figure(name, column));
            again(&|columns| put(columns, column));
        });
        view! { <ChoiceField label options value=key(chosen.map(|chosen| chosen.column)) on_change=change /> }
            .into_any()
    };
    let form = now.time.map_or(TimeForm::Seconds, |(_, form)| form);
    let time = Callback::new(move |key: String| {
        again(&|columns| columns.time = key.parse().ok().map(|column| detected.as_time(column)));
    });
    let forms = || {
        TimeForm::ALL.iter().map(|(_, name)| ((*name).to_owned(), (*name).to_owned())).collect::<Choices>()
    };
    let form_chosen = Callback::new(move |name: String| {
        again(&|columns| {
            columns.time =
                columns.time.map(|(column, old)| (column, TimeForm::from_name(&name).unwrap_or(old)));
        });
    });
    view! {
        <details class="fold" open=is_open>
            <summary><h2>"Columns"</h2></summary>
            <ChoiceField label="Time" options=Box::new(options.clone()) value=key(now.time.map(|(column, _)| column)) on_change=time />
            <ChoiceField label="Form of the time" options=Box::new(forms) value=text(move || form.name().to_owned()) on_change=form_chosen />
            {figure("Voltage", "voltage", now.voltage, |columns, chosen| columns.voltage = chosen, Box::new(options.clone()))}
            {figure("Current", "current", now.current, |columns, chosen| columns.current = chosen, Box::new(options.clone()))}
            {figure("Used", "used", now.used, |columns, chosen| columns.used = chosen, Box::new(options.clone()))}
            {figure("Altitude", "altitude", now.altitude, |columns, chosen| columns.altitude = chosen, Box::new(options.clone()))}
            {figure("Speed", "speed", now.speed, |columns, chosen| columns.speed = chosen, Box::new(options))}
        </details>
    }
    .into_any()
}
