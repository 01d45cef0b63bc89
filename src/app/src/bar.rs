//! The way to every screen: a bar of four and *More* under the thumb, all of them beside the screen on a laptop.

use leptos::ev;
use leptos::prelude::*;

use crate::live::{act, text};
use crate::screens::{Place, Screen};

/// The links; what stands behind *More* is one list, which the style sheet also shows as part of a side bar.
#[component]
pub fn Bar(
    /// The open screen.
    screen: ReadSignal<Screen>,
) -> impl IntoView {
    let more = RwSignal::new(false);
    let link = move |to: &Screen| {
        let to = *to;
        let current = text(move || if screen.get() == to { "page" } else { "false" }.to_owned());
        let close = act(move || more.set(false));
        view! { <a href=format!("#/{}", to.path()) aria-current=current on:click=close><span>{to.name()}</span></a> }
            .into_any()
    };
    let links = move |place: Place| -> Vec<AnyView> {
        Screen::ALL.iter().filter(|screen| screen.place() == place).map(link).collect()
    };
    let escape = move |event: ev::KeyboardEvent| {
        if event.key() == "Escape" {
            more.set(false);
        }
    };
    let word = move |yes: fn(bool, Screen) -> bool, is: &'static str, is_not: &'static str| {
        text(move || if yes(more.get(), screen.get()) { is } else { is_not }.to_owned())
    };
    view! {
        <nav class="bar" aria-label="Screens" on:keydown=escape>
            {links(Place::Bar)}
            <button type="button" class="bar-more" aria-controls="more-screens"
                aria-expanded=word(|open, _| open, "true", "false")
                data-current=word(|_, screen| screen.place() == Place::More, "yes", "no")
                on:click=act(move || more.update(|open| *open = !*open))><span>"More"</span></button>
            // Touched anywhere else, the list goes.
            <div class="bar-away" data-open=word(|open, _| open, "yes", "no") on:click=act(move || more.set(false))></div>
            <div class="bar-list" id="more-screens" data-open=word(|open, _| open, "yes", "no")>{links(Place::More)}</div>
        </nav>
    }
}
