//! The modules that come after the first card: what a first visit waits for is that card, and it is fetched alone.
//!
//! Each is split off by the library: what only its views reach goes with them. Once here, a module stays for as long as
//! the page does, so an update that takes its files away cannot take a screen away.

use std::future::Future;
use std::pin::Pin;

use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use super::card::{Part, part};
use super::{Brings, Screen, first};
use crate::live::{act, live};

/// From a thing to its view.
type Views<T> = fn(T) -> AnyView;

// The results are the fetching's.
#[allow(clippy::unnecessary_wraps)]
#[wasm_split(setup, wasm_split_path = leptos::wasm_split, fallible)]
fn setup() -> Result<Views<Screen>, SplitLoaderError> {
    Ok(super::setup)
}

#[allow(clippy::unnecessary_wraps)]
#[wasm_split(crew, wasm_split_path = leptos::wasm_split, fallible)]
fn crew() -> Result<Views<Screen>, SplitLoaderError> {
    Ok(super::crew)
}

#[allow(clippy::unnecessary_wraps)]
#[wasm_split(crew, wasm_split_path = leptos::wasm_split, fallible)]
fn band() -> Result<Views<()>, SplitLoaderError> {
    Ok(super::airborne::flight_band)
}

#[allow(clippy::unnecessary_wraps)]
#[wasm_split(below, wasm_split_path = leptos::wasm_split, fallible)]
fn below() -> Result<Views<Part>, SplitLoaderError> {
    Ok(part)
}

/// How far a module is.
enum State<T> {
    /// Not asked for.
    Absent,
    /// On its way.
    Coming,
    /// Here.
    Here(Views<T>),
    /// Refused or lost on the way; it may be asked for again.
    Failed,
}

/// A way to a module.
type Fetch<T> = fn() -> Pin<Box<dyn Future<Output = Result<Views<T>, SplitLoaderError>>>>;

/// A module.
struct Module<T: 'static> {
    state: RwSignal<State<T>>,
    fetch: Fetch<T>,
}

impl<T> Clone for Module<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Module<T> {}

impl<T: Copy + Send + Sync> Module<T> {
    fn new(fetch: Fetch<T>) -> Self {
        Self { state: RwSignal::new(State::Absent), fetch }
    }

    fn fetch(self) {
        if self.state.with_untracked(|state| matches!(state, State::Coming | State::Here(_))) {
            return;
        }
        self.state.set(State::Coming);
        leptos::task::spawn_local(async move {
            let come = (self.fetch)().await;
            self.state.set(come.map_or(State::Failed, State::Here));
        });
    }

    /// The view of a thing in it, or how far it is.
    fn view(self, thing: T, name: &'static str) -> AnyView {
        self.fetch();
        live(move || {
            self.state.with(|state| match state {
                State::Here(views) => views(thing),
                State::Failed => view! {
                    <p role="alert">{format!("{name} is not on this device yet, and could not be fetched.")}</p>
                    <button type="button" on:click=act(move || self.fetch())>"Try again"</button>
                }
                .into_any(),
                State::Absent | State::Coming => {
                    view! { <p role="status">{format!("{name} is being fetched …")}</p> }.into_any()
                }
            })
        })
    }
}

/// The modules and how far each is.
#[derive(Clone, Copy)]
pub struct Modules {
    below: Module<Part>,
    setup: Module<Screen>,
    crew: Module<Screen>,
    band: Module<()>,
}

impl Modules {
    /// None is here yet.
    pub fn new() -> Self {
        Self {
            below: Module::new(|| Box::pin(below())),
            setup: Module::new(|| Box::pin(setup())),
            crew: Module::new(|| Box::pin(crew())),
            band: Module::new(|| Box::pin(band())),
        }
    }

    /// The modules of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }

    /// Fetches what is not here, so that no screen has to be waited for.
    pub fn fetch_all(self) {
        self.below.fetch();
        self.setup.fetch();
        self.crew.fetch();
        self.band.fetch();
    }

    /// The screen, or how far its module is.
    pub fn screen(self, screen: Screen) -> AnyView {
        let module = match screen.module() {
            Brings::First => return first(screen),
            Brings::Setup => self.setup,
            Brings::Crew => self.crew,
        };
        module.view(screen, screen.name())
    }

    /// The band of a flight in the air, or how far its module is.
    pub fn flight_band(self) -> AnyView {
        self.band.view((), "The flight in the air")
    }

    /// A part of the card, or how far its module is.
    pub fn part(self, part: Part) -> AnyView {
        self.below.view(part, part.name())
    }
}
