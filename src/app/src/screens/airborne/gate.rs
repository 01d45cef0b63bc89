//! Before lift-off: the crew's own short list, with which packs, a test of sound and light.

use leptos::prelude::*;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::airborne::{flown_on, lift_off_list, set_lift_off_list};
use liftmargin_document::ground::register::set_charged;
use liftmargin_document::ground::setup_packs::flown_packs;
use liftmargin_document::log::{LiftOff, in_the_air, lift_off};
use liftmargin_document::model::Bundle;
use liftmargin_document::model::numbers::{FLOWN_REST, METER_SHOWN};
use liftmargin_document::whatif::apply;
use uom::si::electric_charge::milliampere_hour;

use super::super::build::SetupChoice;
use super::super::card::card_of;
use super::super::entry::number;
use super::super::listing::fault_view;
use super::LeftFlight;
use crate::live::{act, flag, live, live_while, memo, text, typed};
use crate::parts::{ChoiceField, Choices, EmptyState};
use crate::platform::{clock, sound, vibration};
use crate::store::{Answer, Store, flight_of};

/// What is entered here.
#[derive(Clone, Copy)]
struct Entered {
    /// `fresh`, `on-reset` or `on-running`.
    packs: RwSignal<String>,
    rest_v: RwSignal<Option<f64>>,
    meter_mah: RwSignal<Option<f64>>,
    fault: RwSignal<Option<String>>,
}

/// The part of the screen.
pub fn gate(store: Store) -> AnyView {
    store.read_late();
    let answer = Answer::here();
    let flies = memo(move || card_of(answer.shown(store)).is_some_and(|card| flight_of(&card).is_some()));
    let entered = Entered {
        packs: RwSignal::new("fresh".to_owned()),
        rest_v: RwSignal::new(None),
        meter_mah: RwSignal::new(None),
        fault: RwSignal::new(None),
    };
    let left = LeftFlight::here();
    let start = act(move || start(store, answer, entered, left));
    let none = || {
        view! {
            <EmptyState title="This setup has no flight">
                <p>"Its card says why."</p>
                <p class="row"><a class="button" href="#/card">"To the card"</a></p>
            </EmptyState>
        }
    };
    view! {
        <SetupChoice />
        {live_while(move || !flies.get(), none)}
        {list(store)}
        {packs(store, entered)}
        {live(move || entered.fault.get().map(fault_view))}
        <section class="wide">
            <button type="button" class="button-strong lift-off" disabled=flag(move || !flies.get()) on:click=start>"Lift off"</button>
            <p class="quiet">"Starts the clock and unlocks the sound; the list may be passed over."</p>
            {test_button()}
        </section>
    }
    .into_any()
}

/// Sound, vibration and light, one touch.
pub fn test_button() -> AnyView {
    let lit = RwSignal::new(false);
    let words = RwSignal::new(String::new());
    let test = act(move || {
        let sounds = sound::unlock();
        sound::tones([880.0, 1320.0]);
        let vibrates = vibration::vibrate(&[200, 100, 200]);
        let sounds = if sounds { "You should hear two tones" } else { "This browser makes no sound" };
        let vibrates = if vibrates { "and feel it." } else { "; it does not vibrate here." };
        words.set(format!("{sounds} {vibrates}").replace(" ;", ";"));
        lit.set(true);
        crate::platform::frame::after(std::time::Duration::from_millis(1500), move || lit.set(false));
    });
    view! {
        <p class="row">
            <button type="button" class:alarm-lit=flag(move || lit.get()) on:click=test>"Test sound and light"</button>
            <span role="status">{text(move || words.get())}</span>
        </p>
    }
    .into_any()
}

fn list(store: Store) -> AnyView {
    let lines = memo(move || store.bundle.with(lift_off_list));
    let editing = RwSignal::new(false);
    let ticked = RwSignal::new(false);
    let line = move |line: String| {
        view! {
            <li><label class="tick"><input type="checkbox" prop:checked=flag(move || ticked.get()) /><span>{line}</span></label></li>
        }
        .into_any()
    };
    let part = move || {
        if editing.get() {
            let text = lines.get_untracked().join("\n");
            let take = typed(move |text| {
                let change = move |bundle: &mut Bundle| set_lift_off_list(bundle, &text);
                store.edit("lift-off list", "the list before lift-off", Box::new(change));
            });
            view! {
                <label class="paste"><span>"One line each"</span>
                    <textarea rows="6" prop:value=text on:input=take></textarea></label>
            }
            .into_any()
        } else {
            view! { <ul class="ticks">{lines.get().into_iter().map(line).collect::<Vec<AnyView>>()}</ul> }
                .into_any()
        }
    };
    view! {
        <section>
            <h2>"Before lift-off"</h2>
            {live(part)}
            <p class="row">
                {live_while(move || !editing.get(), move || view! {
                    <button type="button" on:click=act(move || ticked.set(true))>"Tick all"</button>
                })}
                <button type="button" on:click=act(move || editing.update(|editing| *editing = !*editing))>
                    {text(move || if editing.get() { "Done with the list" } else { "Edit the list" }.to_owned())}
                </button>
            </p>
        </section>
    }
    .into_any()
}

fn packs(store: Store, entered: Entered) -> AnyView {
    let options = || -> Choices {
        let all = [
            ("fresh", "As on the card"),
            ("on-reset", "Flying on with the same, meter reset"),
            ("on-running", "Flying on with the same, meter runs on"),
        ];
        all.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec()
    };
    let choose = Callback::new(move |key: String| {
        entered.packs.set(key.clone());
        store.once_log_read(move || {
            let airframe = store.with_setup(|setup| setup.airframe.clone()).unwrap_or_default();
            let left = store.bundle.with_untracked(|bundle| flown_on(bundle, &airframe));
            entered.rest_v.set(left.rest_cell_voltage_v);
            entered.meter_mah.set(left.meter_mah.filter(|_| key == "on-running"));
        });
    });
    let on = move || {
        let rest = Callback::new(move |value| entered.rest_v.set(value));
        let meter = Callback::new(move |value| entered.meter_mah.set(value));
        let with_meter = memo(move || entered.packs.get() == "on-running");
        view! {
            <p>"The figures start from what is left: by the rest voltage, filled in from the last flight as far as it is known."</p>
            {number("gate-rest".to_owned(), &FLOWN_REST.number, memo(move || entered.rest_v.get()), rest)}
            {live_while(move || with_meter.get(), move || view! {
                {number("gate-meter".to_owned(), &METER_SHOWN, memo(move || entered.meter_mah.get()), meter)}
            })}
        }
    };
    view! {
        <section>
            <ChoiceField label="Packs" options=Box::new(options) value=text(move || entered.packs.get()) on_change=choose />
            {live_while(move || entered.packs.with(|packs| packs != "fresh"), on)}
            {live(move || flown_before(store))}
        </section>
    }
    .into_any()
}

/// Single packs that landed and are not full by the register: charged since, by one touch.
fn flown_before(store: Store) -> Option<AnyView> {
    let (ids, words) = store.bundle.with(|bundle| flown_packs(bundle, &store.open.get()))?;
    let charge = act(move || {
        let ids = ids.clone();
        let change = move |bundle: &mut Bundle| set_charged(bundle, |pack| ids.contains(&pack.id));
        store.edit_alone("packs charged", Box::new(change));
    });
    Some(
        view! {
            <p data-figure="flown-packs">{words}</p>
            <p class="row"><button type="button" on:click=charge>"They are charged now"</button></p>
        }
        .into_any(),
    )
}

fn start(store: Store, answer: Answer, entered: Entered, left: LeftFlight) {
    sound::unlock();
    let track = answer.shown(store);
    let is_on = entered.packs.with_untracked(|packs| packs != "fresh");
    if is_on && entered.rest_v.with_untracked(Option::is_none) {
        // Full packs would be the boldest guess of all.
        entered.fault.set(Some(
            "Enter the rest voltage of a cell: nothing else tells what is left in these packs.".to_owned(),
        ));
        return;
    }
    // The card's cautious figures are of the packs on the card.
    let card = track.headline().filter(|_| !is_on);
    let mah = |charge: ElectricCharge| charge.get::<milliampere_hour>();
    let at = LiftOff {
        now_unix_ms: clock::now_ms(),
        meter_start_mah: entered.meter_mah.get_untracked().filter(|_| is_on).unwrap_or_default(),
        cautious_land_by_mah: card.and_then(|card| card.land_by).map(mah),
        cautious_turn_back_mah: card.and_then(|card| card.turn_back).map(mah),
        rest_cell_voltage_v: entered.rest_v.get_untracked().filter(|_| is_on),
    };
    let (id, what_if) = (store.open.get_untracked(), store.what_if.get_untracked());
    // The clock runs from the touch; the entry needs an id that no other has.
    store.once_log_read(move || {
        if store.bundle.with_untracked(|bundle| in_the_air(bundle).is_some()) {
            return;
        }
        let lifted = store.bundle.with_untracked(|bundle| {
            let flown = apply(bundle, &id, &what_if)?;
            lift_off(bundle, &flown, &id, at)
        });
        match lifted {
            Ok((bundle, _)) => {
                left.0.set(false);
                store.edit_alone("lift-off", Box::new(|now| *now = bundle));
                store.flush_then(|| ());
            }
            Err(fault) => entered.fault.set(Some(fault.to_string())),
        }
    });
}
