//! Which screen is open, by hash: `#/card`, `#/build`, `#/site`, `#/settings`; anything else is the card.

use leptos::prelude::*;

use crate::platform::route;
pub use crate::screens::Screen;

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
