//! Build: what is flown, in sections that fold.

mod airframe;
mod bench;
mod bench_fit;
mod bench_open;
mod compare;
mod drag;
mod guide;
mod packs;
mod payload;
mod rotors;
mod setups;
mod supply;
mod sweep;
mod two_readings;

use leptos::prelude::*;
use liftmargin_document::model::numbers::{FLIGHT, RESERVE, SET};

use self::airframe::AirframeSection;
use self::compare::CompareSection;
use self::guide::GuideSection;
pub use self::guide::assumed_steps;
pub use self::packs::single_pack;
use self::payload::PayloadSection;
use self::rotors::RotorsSection;
pub use self::setups::SetupChoice;
use self::setups::SetupsSection;
use self::supply::SupplySection;
use self::sweep::SweepSection;
use super::card::flight_beside;
use super::entry::entries;
use super::settings::UndoButton;
use super::what_if::WhatIfPanel;
use crate::live::live_for;
use crate::platform::page;
use crate::store::Store;

/// The screen.
#[component]
pub fn BuildScreen() -> impl IntoView {
    let store = Store::here();
    let sections = |id: String| {
        view! {
            <GuideSection setup=id.clone() />
            <div class="stack">
                <WhatIfPanel />
                <PayloadSection setup=id.clone() />
                <SupplySection setup=id.clone() />
            </div>
            <div class="stack">
                <FlightSection setup=id.clone() />
                <RotorsSection />
                <SweepSection />
                <CompareSection />
                <AirframeSection setup=id />
            </div>
        }
    };
    view! {
        <main data-screen="build">
            <h1>"Build"</h1>
            <SetupsSection />
            {live_for(move || store.open.get(), sections)}
            <UndoButton />
            {flight_beside()}
        </main>
    }
}

/// A section that folds.
#[component]
pub fn Section(
    /// Its heading.
    title: &'static str,
    /// Unfolded at first.
    #[prop(optional)]
    open: bool,
    children: Children,
) -> impl IntoView {
    view! {
        <details class="fold" open=open>
            <summary><h2>{title}</h2></summary>
            {children()}
        </details>
    }
}

#[component]
fn FlightSection(setup: String) -> impl IntoView {
    // Where there are two columns, the second one begins with fields.
    let has_room = page::is_window("(min-width: 100em)");
    view! {
        <Section title="Flight and reserve" open=has_room.get_untracked()>
            <h3>"The set"</h3>
            <div class="entries">{entries(&setup, SET)}</div>
            <h3>"The way there and back"</h3>
            <div class="entries">{entries(&setup, FLIGHT)}</div>
            <h3>"What must be left: the strictest rules"</h3>
            <div class="entries">{entries(&setup, RESERVE)}</div>
        </Section>
    }
}
