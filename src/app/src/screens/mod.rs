//! The screens, a folder or a file each. They read the store, show parts, and know no browser.

mod airborne;
mod answer_bar;
mod build;
mod card;
mod curve;
mod day;
mod entry;
mod heavier;
mod later;
mod listing;
mod log;
mod mass_slider;
mod notes;
mod packs;
mod problem;
mod refused_band;
mod settings;
mod sharing;
mod sheet;
mod site;
mod site_metar;
mod take;
mod unread;
mod what_if;
mod what_if_band;

pub use card::Part;
pub use later::Modules;
pub use log::read_whole;
pub use notes::Notes;
pub use refused_band::RefusedBand;
pub use what_if_band::WhatIfBand;

use airborne::AirborneScreen;
pub use airborne::LeftFlight;
use build::BuildScreen;
use card::CardScreen;
use day::DayScreen;
use leptos::prelude::*;
use log::LogScreen;
use packs::PacksScreen;
use settings::SettingsScreen;
use sheet::SheetScreen;
use site::SiteScreen;
use take::TakeScreen;

/// Where the way to a screen stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Always in view: at most four, under the thumb.
    Bar,
    /// Behind *More* on a phone, in the side bar on a laptop.
    More,
    /// In no list: another screen leads there.
    Within,
}

/// A screen a row: what stands after `#/`, its name for people, where the way to it stands, its view; in the module that
/// brings it.
macro_rules! screens {
    ($($(#[doc = $brings:expr])+ $module:ident by $views:ident {
        $($(#[doc = $says:expr])+ $screen:ident, $path:literal, $name:literal, $place:ident, $view:ident;)+
    })+) => {
        /// A screen.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Screen {
            $($($(#[doc = $says])+ $screen,)+)+
        }

        impl Screen {
            /// All of them, in the order of the lists.
            pub const ALL: [Self; [$($($path),+),+].len()] = [$($(Self::$screen),+),+];

            /// What stands after `#/`.
            pub const fn path(self) -> &'static str {
                match self { $($(Self::$screen => $path),+),+ }
            }

            /// Name for people.
            pub const fn name(self) -> &'static str {
                match self { $($(Self::$screen => $name),+),+ }
            }

            /// Where the way to it stands.
            pub const fn place(self) -> Place {
                match self { $($(Self::$screen => Place::$place),+),+ }
            }

            /// The module that brings it.
            const fn module(self) -> Brings {
                match self { $($(Self::$screen => Brings::$module),+),+ }
            }
        }

        /// The module that brings a screen: what is fetched in one piece.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        enum Brings {
            $($(#[doc = $brings])+ $module,)+
        }

        $(
            $(#[doc = $brings])+
            fn $views(screen: Screen) -> AnyView {
                $(if screen == Screen::$screen {
                    return view! { <$view /> }.into_any();
                })+
                ().into_any()
            }
        )+
    };
}

// The order: Card, Build, Site, Sheet in the bar; Packs, Day, Log, Settings behind More; Airborne within Card.
screens! {
    /// What a first visit waits for.
    First by first {
        /// One setup, here, now.
        Card, "card", "Card", Bar, CardScreen;
    }
    /// What changes a setup.
    Setup by setup {
        /// Airframe, packs, payload, flight.
        Build, "build", "Build", Bar, BuildScreen;
        /// Place and weather.
        Site, "site", "Site", Bar, SiteScreen;
    }
    /// What a crew does with its setups.
    Crew by crew {
        /// Setups side by side.
        Sheet, "sheet", "Sheet", Bar, SheetScreen;
        /// What a link or a file brings.
        Take, "take", "What comes in", Within, TakeScreen;
        /// The flight itself.
        Airborne, "airborne", "Airborne", Within, AirborneScreen;
        /// The register of packs: fit, matched, joined.
        Packs, "packs", "Packs", More, PacksScreen;
        /// Flights, sets, chargers of a day.
        Day, "day", "Day", More, DayScreen;
        /// Flights flown, and what they teach.
        Log, "log", "Log", More, LogScreen;
        /// Units, files, offline.
        Settings, "settings", "Settings", More, SettingsScreen;
    }
}

impl Screen {
    /// Whether a setup is changed on it: the answer stays in view there.
    pub const fn changes_setup(self) -> bool {
        matches!(self, Self::Build | Self::Site)
    }

    /// The one that an address asks for; anything unknown is the card.
    pub fn at(hash: &str) -> Self {
        let path = hash.trim_start_matches('/').split(['/', '?']).next().unwrap_or_default();
        Self::ALL.into_iter().find(|screen| screen.path() == path).unwrap_or(Self::Card)
    }
}

pub use unread::UnreadScreen;
