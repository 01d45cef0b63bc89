//! Which screen is open, by hash: `#/card`, `#/build`, `#/site`, `#/settings`; anything else is the card.

use leptos::prelude::*;

use crate::platform::route;

/// A screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Screen {
    /// One setup, here, now.
    Card,
    /// Airframe, packs, payload, flight.
    Build,
    /// Place and weather.
    Site,
    /// Units, files, offline.
    Settings,
}

impl Screen {
    /// All of them, as the bar lists them.
    pub const ALL: [Self; 4] = [Self::Card, Self::Build, Self::Site, Self::Settings];

    /// What stands after `#/`.
    pub const fn path(self) -> &'static str {
        match self {
            Self::Card => "card",
            Self::Build => "build",
            Self::Site => "site",
            Self::Settings => "settings",
        }
    }

    /// Name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Card => "Card",
            Self::Build => "Build",
            Self::Site => "Site",
            Self::Settings => "Settings",
        }
    }

    fn at(hash: &str) -> Self {
        let path = hash.trim_start_matches('/').split(['/', '?']).next().unwrap_or_default();
        Self::ALL.into_iter().find(|screen| screen.path() == path).unwrap_or(Self::Card)
    }
}

/// The open screen, following the address.
pub fn open_screen() -> ReadSignal<Screen> {
    let (screen, set_screen) = signal(Screen::at(&route::hash()));
    route::on_change(move |hash| {
        let next = Screen::at(&hash);
        if screen.get_untracked() != next {
            set_screen.set(next);
        }
    });
    screen
}
