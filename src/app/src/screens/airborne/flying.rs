//! In the air: what counts, as large as it goes; alarms above all.

#![allow(clippy::large_types_passed_by_value, reason = "handles, copied as a signal is")]

use std::time::Duration;

use leptos::prelude::*;
use liftmargin_core::airborne::AlarmKind;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::airborne::{AirShown, Home, InFlight, shown};
use liftmargin_document::model::numbers::{DISTANCE, WIND};
use liftmargin_document::model::{Aloft, Touched};
use liftmargin_document::words::alarm;
use uom::si::electric_charge::milliampere_hour;

use super::super::entry::number;
use super::LeftFlight;
use super::gate::test_button;
use super::keypad::keypad;
use super::landing::landing;
use super::state::Air;
use crate::live::{Text, act, live, live_while, memo, text};
use crate::parts::{Answer, PackBar, PackMarks, Size, pack_drawing};
use crate::platform::{clock, page, sound, vibration, wake_lock};
use crate::store::Store;

/// Between two calls of an alarm that nobody has touched.
const AGAIN: Duration = Duration::from_millis(1600);

/// The part of the screen.
pub fn flying(store: Store, id: &str) -> AnyView {
    let air = Air::start(store, id);
    let awake = RwSignal::new(None::<bool>);
    let hold = move || wake_lock::hold(move |held| awake.set(Some(held)));
    hold();
    // The browser takes the lock away with the page out of sight.
    page::on_return(hold);
    on_cleanup(wake_lock::release);
    let down = memo(move || {
        air.flight
            .with(|flight| flight.as_ref().and_then(|flight| flight.aloft.as_ref()?.down_at_s))
            .is_some()
    });
    let sounding = sounding(air);
    call_again(sounding);
    sound::unlock_by_any_touch();
    view! {
        <div class="air">
            {live(move || sounding.get().first().map(|kind| banner(air, *kind, sounding.get().len())))}
            {live_while(move || !down.get(), move || in_air(store, air, awake))}
            {live_while(move || down.get(), move || landing(store, air))}
        </div>
    }
    .into_any()
}

/// What sounds now; nothing once it is down.
pub(super) fn sounding(air: Air) -> Memo<Vec<AlarmKind>> {
    memo(move || {
        let is_down = air.flight.with(|flight| {
            flight
                .as_ref()
                .is_some_and(|flight| flight.aloft.as_ref().is_none_or(|at| at.down_at_s.is_some()))
        });
        let due = air.at.with(|at| at.as_ref().map(|at| at.sounding.clone())).unwrap_or_default();
        if is_down { Vec::new() } else { due }
    })
}

/// Calls the most urgent one again and again until it is touched.
pub(super) fn call_again(sounding: Memo<Vec<AlarmKind>>) {
    clock::every(AGAIN, move || call(sounding.get_untracked().first().copied()));
}

/// Sound and vibration of an alarm.
pub(super) fn call(kind: Option<AlarmKind>) {
    let Some(kind) = kind else { return };
    match kind {
        AlarmKind::BeforeTurnBack | AlarmKind::BeforeLandBy => {
            sound::tones([660.0, 880.0]);
            vibration::vibrate(&[200]);
        }
        AlarmKind::TurnBack | AlarmKind::WeakPacks | AlarmKind::LandBy => {
            sound::tones([1760.0, 1320.0]);
            vibration::vibrate(&[400, 150, 400]);
        }
    }
}

/// The most urgent alarm; touched, it and those behind it are silent.
fn banner(air: Air, kind: AlarmKind, count: usize) -> AnyView {
    call(Some(kind));
    let touch = act(move || {
        let time_s = air.elapsed_s();
        let due = air.at.with_untracked(|at| at.as_ref().map(|at| at.sounding.clone())).unwrap_or_default();
        air.change_aloft("an alarm", move |aloft| {
            for kind in due {
                aloft.touched.retain(|touched| touched.alarm != kind.key());
                aloft.touched.push(Touched { alarm: kind.key().to_owned(), time_s, ..Touched::default() });
            }
        });
    });
    let more = (count > 1).then(|| format!("and {} before it", count - 1));
    view! {
        <button type="button" class="alarm" role="alert" data-alarm=kind.key() on:click=touch>
            <strong>{alarm(kind)}</strong> " " <span>{more}</span> <span>"Touch to silence"</span>
        </button>
    }
    .into_any()
}

fn in_air(store: Store, air: Air, awake: RwSignal<Option<bool>>) -> AnyView {
    let readings =
        move || air.flight.with(|flight| flight.as_ref().map_or(0, |flight| flight.readings.len()));
    let said = memo(move || {
        air.at.with(|at| at.as_ref().map(|at| shown(at, readings(), store.units.get()))).unwrap_or_default()
    });
    let of =
        move |read: fn(&AirShown) -> &str| -> Text { text(move || said.with(|said| read(said).to_owned())) };
    let pack = text(move || {
        air.at.with(|at| at.as_ref().map(|at| pack_drawing(marks(at), store.units.get()))).unwrap_or_default()
    });
    let pack_words = text(move || {
        air.at.with(|at| at.as_ref().map(|at| marks(at).sentence(store.units.get()))).unwrap_or_default()
    });
    let no_plan = memo(move || air.at.with(Option::is_none));
    let typing = RwSignal::new(false);
    let down = move || {
        let at_s = air.elapsed_s();
        air.change_aloft("the landing", move |aloft| aloft.down_at_s = Some(at_s));
    };
    view! {
        {silent_words(air)}
        <section class="air-figures" aria-label="The flight">
            <p class="air-time" data-figure="airborne-time">{of(|said| &said.time)}</p>
            {live_while(move || no_plan.get(), || view! { <p class="fault">"What was flown cannot be followed: fly by the card's marks and the meter."</p> })}
            {live_while(move || matches!(air.home.get(), Home::None { .. }), || view! { <p class="fault" role="alert">"No way home against this wind at this airspeed: come home now."</p> })}
            <div class="hero-beside">
                <Answer figure="airborne-turn-back" label="Turn back" number=of(|said| &said.turn_back.number)
                    unit=of(|said| said.turn_back.unit) sub=of(|said| &said.turn_back_in) size=Size::Large />
                <Answer figure="airborne-land-by" label="Land by" number=of(|said| &said.land_by.number)
                    unit=of(|said| said.land_by.unit) sub=of(|said| &said.land_by_in) size=Size::Large />
            </div>
            <PackBar drawing=pack sentence=pack_words />
            <p class="air-projection" data-figure="airborne-projection" role="status">{of(|said| &said.projection)}</p>
            <p class="quiet">{of(|said| &said.used)}</p>
        </section>
        {keypad(air, typing)}
        <section>
            // Not beside the keys: a finger that slips must not end the flight.
            {live_while(move || !typing.get(), move || view! {
                <button type="button" class="button-strong" on:click=act(down)>"Landed"</button>
            })}
            {elsewhere(air)}
            {quiet_words(awake, air)}
            {test_button()}
            {leaving()}
        </section>
    }
    .into_any()
}

fn marks(at: &InFlight) -> PackMarks {
    let mah = ElectricCharge::new::<milliampere_hour>;
    PackMarks {
        turn_back: mah(at.cautious.turn_back_mah),
        land_by: mah(at.cautious.land_by_mah),
        capacity: mah(at.capacity_mah),
        used: Some(mah(at.used_mah)),
    }
}

/// Distance and wind as they are now.
fn elsewhere(air: Air) -> AnyView {
    let aloft = move |read: fn(&Aloft) -> Option<f64>| {
        memo(move || {
            air.flight.with(|flight| flight.as_ref().and_then(|flight| read(flight.aloft.as_ref()?)))
        })
    };
    let change = move |words: &str, set: fn(&mut Aloft, Option<f64>), value: Option<f64>| {
        let at_s = air.elapsed_s();
        air.change_aloft(words, move |aloft| {
            set(aloft, value);
            aloft.elsewhere_at_s = Some(at_s);
        });
    };
    let distance = Callback::new(move |value| {
        change("the distance now", |aloft, value| aloft.distance_m = value, value);
    });
    let wind =
        Callback::new(move |value| change("the wind now", |aloft, value| aloft.wind_m_s = value, value));
    view! {
        <details class="fold">
            <summary><h2>"Elsewhere, or another wind"</h2></summary>
            {number("air-distance".to_owned(), &DISTANCE.number, aloft(|aloft| aloft.distance_m), distance)}
            {number("air-wind".to_owned(), &WIND.number, aloft(|aloft| aloft.wind_m_s), wind)}
        </details>
    }
    .into_any()
}

/// What the crew should know of screen and clock.
fn quiet_words(awake: RwSignal<Option<bool>>, air: Air) -> AnyView {
    let words = move || match awake.get() {
        Some(true) => "The screen stays awake.",
        Some(false) => "This browser cannot keep the screen awake: set the phone to stay on.",
        None => "",
    };
    view! {
        <p class="quiet" data-note="awake">{text(move || words().to_owned())}</p>
        <p class="quiet" role="status">{text(move || air.clock.get())}</p>
    }
    .into_any()
}

/// A page that was opened anew in flight is silent until somebody touches it.
fn silent_words(air: Air) -> AnyView {
    let silent = memo(move || {
        air.now.track();
        !sound::is_heard()
    });
    live_while(
        move || silent.get(),
        || view! { <p class="fault" data-note="silent">"Alarms are silent here until the screen is touched once."</p> },
    )
}

/// Out of the view in two touches, never in one.
fn leaving() -> AnyView {
    let left = LeftFlight::here();
    let asked = RwSignal::new(false);
    let part = move || {
        if asked.get() {
            view! {
                <p>"The flight goes on. Its alarms sound on every screen, in a band at the top that leads back here."</p>
                <p class="row">
                    <button type="button" on:click=act(move || left.0.set(true))>"Leave it all the same"</button>
                    <button type="button" class="button-strong" on:click=act(move || asked.set(false))>"Stay"</button>
                </p>
            }
            .into_any()
        } else {
            view! { <p class="row"><button type="button" class="button-plain" on:click=act(move || asked.set(true))>"Leave this view…"</button></p> }
                .into_any()
        }
    };
    live(part)
}
