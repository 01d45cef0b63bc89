//! Which screen is open, by hash: `#/` and its path, see the table in `screens`; anything else is the card.

use leptos::prelude::*;

use crate::platform::{page, route};
pub use crate::screens::Screen;

/// What stands behind `#`, following the address.
#[derive(Clone, Copy)]
pub struct Address(pub RwSignal<String>);

/// The open screen, following the address.
pub fn open_screen() -> ReadSignal<Screen> {
    let (screen, set_screen) = signal(Screen::at(&route::hash()));
    let address = RwSignal::new(route::hash());
    provide_context(Address(address));
    route::on_change(move |hash| {
        address.set(hash.clone());
        let next = Screen::at(&hash);
        if screen.get_untracked() != next {
            set_screen.set(next);
            page::to_top();
        }
    });
    screen
}
