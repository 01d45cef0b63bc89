//! Rotors and balance: each rotor's load, one rotor stopped by touch, how far to slide a thing to balance.

use leptos::prelude::*;
use liftmargin_core::card::{Card, Setup, rotors_stopped};
use liftmargin_core::frame::{Place, RotorOut, RotorRole, Spin, rotor_out, stopped as rotor_stopped};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::mass::{mass_notes, slide_to_balance};
use liftmargin_core::propulsion::OperatingPoint;
use liftmargin_core::units::Ratio;
use liftmargin_document::model::{self, Bundle};
use liftmargin_document::present::{Units, answer, rotors_left};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::{Movable, movables};
use liftmargin_document::whatif;
use liftmargin_document::words;
use liftmargin_document::words::contingency::{part_length, rotor_out as rotor_out_words, slide};
use uom::si::length::meter;

use super::super::card::{card_of, setup_of};
use super::Section;
use crate::live::{live, text};
use crate::parts::{ChoiceField, Plan, ROTOR, RotorPlan, RotorSpot, Table};
use crate::platform::page;
use crate::store::{Answer, Store};

/// Rotors and balance of the setup, with the what-if while there is one.
#[component]
pub fn RotorsSection() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let stopped = RwSignal::new(None::<usize>);
    let moved = RwSignal::new(0_usize);
    let rotors = move || {
        let count = card_of(answer.shown(store)).map_or(0, |card| card.rotor_shares.len());
        let mut choices = vec![(String::new(), "none".to_owned())];
        choices.extend((0..count).map(|index| (index.to_string(), format!("rotor {}", index + 1))));
        choices
    };
    let named = |(place, thing): (usize, Movable)| (place.to_string(), thing.name);
    let choices = move || things(store).into_iter().enumerate().map(named).collect();
    let chosen = text(move || stopped.get().map(|index| index.to_string()).unwrap_or_default());
    view! {
        <Section title="Rotors and balance">
            {live(move || seen(store, answer, |card, setup| plan(card, setup, stopped, store.units.get())))}
            <ChoiceField label="Rotor stopped (or touch it)" options=Box::new(rotors) value=chosen
                on_change=Callback::new(move |key: String| stopped.set(key.parse().ok())) />
            {live(move || remaining(store, answer, stopped.get()))}
            {live(move || seen(store, answer, |card, _| balance(card, store.units.get())))}
            <ChoiceField label="Slide this to balance" options=Box::new(choices) value=text(move || moved.get().to_string())
                on_change=Callback::new(move |key: String| moved.set(key.parse().unwrap_or_default())) />
            {live(move || seen(store, answer, |_, setup| sliding(store, setup, moved.get())))}
        </Section>
    }
}

/// A view of what is shown, where there is a card.
fn seen(store: Store, answer: Answer, draw: impl FnOnce(&Card, &Setup) -> AnyView) -> Option<AnyView> {
    let track = answer.shown(store);
    let card = card_of(track)?;
    setup_of(track, |setup| draw(&card, setup))
}

/// What can be slid, with the what-if while there is one.
fn things(store: Store) -> Vec<Movable> {
    let (id, what_if) = (store.open.get(), store.what_if.get());
    let of = |bundle: &Bundle| Some(movables(bundle, model::Setup::find(bundle, &id)?.1));
    let found = store.bundle.with(|bundle| {
        if what_if.changes.is_empty() { of(bundle) } else { of(&whatif::apply(bundle, &id, &what_if).ok()?) }
    });
    found.unwrap_or_default()
}

fn plan(card: &Card, setup: &Setup, stopped: RwSignal<Option<usize>>, units: Units) -> AnyView {
    let chosen = stopped.get();
    let centre = card.mass.centre_of_gravity;
    let out = chosen.and_then(|failed| rotor_out(&setup.airframe.layout, &centre, failed).ok());
    let words = out.map_or_else(
        || "All rotors at work: throttle of each in hover on set, packs as they are at the start.".to_owned(),
        |out| rotor_out_words(&out, card.hover.thrust_to_weight, units),
    );
    let plan = Plan {
        rotors: spots(card, setup, units),
        diameter_m: setup.airframe.unit.rotor.diameter.get::<meter>(),
        centre_of_gravity_m: (centre.forward.get::<meter>(), centre.right.get::<meter>()),
        stopped: chosen,
        summary: format!("Rotors seen from above, nose up. {words}"),
    };
    let touch = Box::new(move |event| {
        if let Some(index) = page::touched(&event, ROTOR).and_then(|place| place.parse().ok()) {
            stopped.update(|stopped| *stopped = (*stopped != Some(index)).then_some(index));
        }
    });
    view! {
        <RotorPlan plan on_touch=touch />
        <p data-figure="rotor-out" data-capability=out.map(capability) role="status">{words}</p>
    }
    .into_any()
}

/// What each remaining rotor does with one stopped, once the fingers rest.
fn remaining(store: Store, answer: Answer, stopped: Option<usize>) -> Option<AnyView> {
    let failed = stopped?;
    let track = answer.shown(store);
    track.settled.get()?;
    let units = store.units.get();
    let left = track.ready.with(|ready| {
        let ready = ready.as_ref()?.as_ref().ok()?;
        let (setup, site) = ready.as_ref();
        let out = rotors_stopped(setup, site, &rotor_stopped(&setup.airframe.layout, &[failed])).ok()?;
        rotors_left(&out, setup, units)
    })?;
    let head = ["Rotor", "Holds up", "Throttle", "Current"].map(str::to_owned).to_vec();
    let rows = left.rows.into_iter().map(|row| row.to_vec()).collect();
    let caption = format!("With rotor {} stopped, on set in still air.", failed + 1);
    let view = view! {
        <div data-figure="rotors-left">
            <Table caption head rows />
            <p>{left.sentence}</p>
        </div>
    };
    Some(view.into_any())
}

fn capability(out: RotorOut) -> &'static str {
    use liftmargin_core::frame::Capability;
    match out.hold.capability {
        Capability::HoldsLevelAndHeading => "holds-level-and-heading",
        Capability::HoldsLevelTurning { .. } => "holds-level-turning",
        Capability::CannotHoldLevel => "cannot-hold-level",
    }
}

/// Each rotor with its throttle in hover on set, packs as they are at the start: a lower rotor works harder in the
/// wake of its upper one.
fn spots(card: &Card, setup: &Setup, units: Units) -> Vec<RotorSpot> {
    let volts = |rotor: &OperatingPoint| rotor.motor_voltage.value;
    let most = card.hover.rotors.iter().map(volts).fold(f64::MIN_POSITIVE, f64::max);
    // Packs that cannot feed the hover have no throttle for it: all there is.
    let highest = card.hover.throttle.unwrap_or_else(|| Ratio::from(1.0));
    let thresholds = Thresholds::default();
    let spot = |(place, rotor): (&Place, &OperatingPoint)| {
        let throttle = highest * (volts(rotor) / most);
        RotorSpot {
            forward_m: place.position.forward.get::<meter>(),
            right_m: place.position.right.get::<meter>(),
            clockwise: place.spin == Spin::Clockwise,
            upper: match place.role {
                RotorRole::Single => None,
                RotorRole::Upper => Some(true),
                RotorRole::Lower => Some(false),
            },
            load: throttle.value,
            state: thresholds.throttle_state(throttle),
            load_words: answer::throttle(throttle, units).to_string(),
        }
    };
    setup.airframe.layout.places.iter().zip(&card.hover.rotors).map(spot).collect()
}

fn balance(card: &Card, units: Units) -> AnyView {
    let centre = card.mass.centre_of_gravity;
    let offset = |by: liftmargin_core::units::Length, ahead: &str, back: &str| {
        format!("{} {}", part_length(by.abs(), units), if by.value < 0.0 { back } else { ahead })
    };
    let most = card.rotor_shares.iter().map(|share| share.value).fold(0.0, f64::max);
    let over_mean = most * card.rotor_shares.len() as f64;
    let words = format!(
        "Centre of gravity {}, {}, {}. The most loaded rotor carries {} % of the mean.",
        offset(centre.forward, "forward", "backward"),
        offset(centre.right, "right", "left"),
        offset(centre.down, "below the rotors", "above the rotors"),
        (over_mean * 100.0).ceil(),
    );
    let note = |state: &liftmargin_core::mass::MassNoteState| {
        let verb = if state.is_within { "Below" } else { "Not below" };
        let limit = answer::mass(state.note.limit(), units);
        let line =
            format!("{verb} {limit}: {} ({}). Check your local rules.", state.note.words, state.note.source);
        view! { <li>{line}</li> }.into_any()
    };
    let notes: Vec<AnyView> =
        mass_notes(card.mass.all_up_mass).unwrap_or_default().iter().map(note).collect();
    view! {
        <p data-figure="balance">{words}</p>
        <ul class="quiet">{notes}</ul>
    }
    .into_any()
}

fn sliding(store: Store, setup: &Setup, moved: usize) -> AnyView {
    let units = store.units.get();
    let items = things(store).into_iter().nth(moved).map(|thing| thing.items).unwrap_or_default();
    let words = match slide_to_balance(&setup.items, &items) {
        Ok(by) => slide(&by, units),
        Err(refusal) => format!("It cannot be balanced by this alone: {}", words::refusal(&refusal, units)),
    };
    view! { <p data-figure="slide" role="status">{words}</p> }.into_any()
}
