//! Views and values that follow signals, each behind one type.
//!
//! Leptos compiles its machinery anew for every closure it is given, and the phone loads all of it over one bar of
//! signal. Closures that pass through here share one copy.

use std::rc::Rc;
use std::sync::Arc;

use leptos::ev;
use leptos::prelude::*;

use crate::platform::frame;

/// A text that follows signals, for use as a child or an attribute.
pub type Text = Box<dyn Fn() -> String + Send + Sync>;
/// A value made from signals, and from the value before it.
type Next<T> = Box<dyn Fn(Option<&T>) -> T + Send + Sync>;
/// A yes or no that follows signals, for use as an attribute, a property or a class.
pub type Flag = Box<dyn Fn() -> bool + Send + Sync>;

/// A part of a screen that is drawn again when a signal it reads changes. Nodes that stay the same are kept.
pub fn live<V: IntoAny>(view: impl Fn() -> V + Send + Sync + 'static) -> AnyView {
    let view: Box<dyn Fn() -> AnyView + Send + Sync> = Box::new(move || view().into_any());
    view.into_any()
}

/// A part of a screen that is there while a condition holds, and is left alone as long as it does.
pub fn live_while<V: IntoAny>(
    holds: impl Fn() -> bool + Send + Sync + 'static,
    view: impl Fn() -> V + Send + Sync + 'static,
) -> AnyView {
    let holds = memo(holds);
    live(move || if holds.get() { view().into_any() } else { ().into_any() })
}

/// A part of a screen that comes a frame after the rest.
pub fn live_later<V: IntoAny>(view: impl Fn() -> V + Send + Sync + 'static) -> AnyView {
    let is_due = RwSignal::new(false);
    frame::after_frame(move || {
        let _ = is_due.try_set(true);
    });
    live_while(move || is_due.get(), view)
}

/// A part of a screen for one thing, built anew only when another thing takes its place. Empty: nothing.
pub fn live_for<V: IntoAny>(
    id: impl Fn() -> String + Send + Sync + 'static,
    view: impl Fn(String) -> V + Send + Sync + 'static,
) -> AnyView {
    live_each(move || Some(id()).into_iter().filter(|id| !id.is_empty()).collect(), view)
}

/// A row for each id, kept as long as its id is there.
pub fn live_each<V: IntoAny>(
    ids: impl Fn() -> Vec<String> + Send + Sync + 'static,
    row: impl Fn(String) -> V + Send + Sync + 'static,
) -> AnyView {
    let ids = memo(ids);
    each(ids, Arc::new(move |id| row(id).into_any()))
}

fn each(ids: Memo<Vec<String>>, row: Arc<dyn Fn(String) -> AnyView + Send + Sync>) -> AnyView {
    view! { <For each=move || ids.get() key=Clone::clone children=move |id| row(id) /> }.into_any()
}

/// A text that follows signals.
pub fn text(text: impl Fn() -> String + Send + Sync + 'static) -> Text {
    Box::new(text)
}

/// A value one frame behind what it follows, worked out in that frame: for what is not looked at while a finger moves.
pub fn a_frame_later<T: PartialEq + Send + Sync + 'static>(
    follows: impl Fn() + 'static,
    value: impl Fn() -> T + 'static,
) -> RwSignal<T> {
    let shown = RwSignal::new(untrack(&value));
    let show = move || {
        let now = untrack(&value);
        // The first run finds what is shown already: nothing is drawn twice.
        if shown.try_with_untracked(|shown| *shown != now) == Some(true) {
            shown.set(now);
        }
    };
    in_the_frame_after(Box::new(follows), Rc::new(show));
    shown
}

/// A value made already, one frame behind: what is drawn of it is drawn then.
pub fn a_frame_behind<T: PartialEq + Clone + Send + Sync + 'static>(now: Memo<T>) -> RwSignal<T> {
    a_frame_later(move || now.with(|_| ()), move || now.get())
}

fn in_the_frame_after(follows: Box<dyn Fn()>, show: Rc<dyn Fn()>) {
    let is_due = StoredValue::new(false);
    Effect::new(move || {
        follows();
        if !is_due.get_value() {
            is_due.set_value(true);
            let show = Rc::clone(&show);
            frame::after_frame(move || {
                // Gone with its screen, it has nobody to show anything.
                if is_due.try_set_value(false).is_none() {
                    show();
                }
            });
        }
    });
}

/// A yes or no that follows signals.
pub fn flag(flag: impl Fn() -> bool + Send + Sync + 'static) -> Flag {
    Box::new(flag)
}

/// A value computed again only when a signal it reads changes, and told on only when it differs.
pub fn memo<T: PartialEq + Send + Sync + 'static>(value: impl Fn() -> T + Send + Sync + 'static) -> Memo<T> {
    let value: Next<T> = Box::new(move |_| value());
    Memo::new(value)
}

/// The same, where a value that is made anew but equal stays the one it was: what is under way for it goes on.
pub fn memo_kept<T: PartialEq + Clone + Send + Sync + 'static>(
    value: impl Fn() -> T + Send + Sync + 'static,
) -> Memo<T> {
    let value: Next<T> = Box::new(move |was| {
        let now = value();
        was.filter(|was| **was == now).cloned().unwrap_or(now)
    });
    Memo::new(value)
}

/// What a button does.
pub fn act(act: impl Fn() + Send + 'static) -> Box<dyn FnMut(ev::MouseEvent) + Send> {
    Box::new(move |_| act())
}

/// What happens on any other event.
pub fn act_on<E: 'static>(act: impl Fn() + 'static) -> Box<dyn FnMut(E)> {
    Box::new(move |_| act())
}

/// What a field does with the text in it.
pub fn typed(take: impl Fn(String) + 'static) -> Box<dyn FnMut(ev::Event)> {
    Box::new(move |event| take(event_target_value(&event)))
}

/// What a form does when it is sent, by its button or by Enter; it goes nowhere.
pub fn submitted(take: impl Fn() + 'static) -> Box<dyn FnMut(ev::SubmitEvent)> {
    Box::new(move |event| {
        event.prevent_default();
        take();
    })
}

/// What a button does that leaves the cursor, and a phone's keypad, where they are.
pub fn keeps_cursor() -> Box<dyn FnMut(ev::MouseEvent)> {
    Box::new(|event| event.prevent_default())
}

/// What a box to tick does with its state.
pub fn ticked(take: impl Fn(bool) + 'static) -> Box<dyn FnMut(ev::Event)> {
    Box::new(move |event| take(event_target_checked(&event)))
}

/// What a field does when the cursor comes: all of its text is selected, so that typing replaces it.
pub fn select_all() -> Box<dyn FnMut(ev::FocusEvent)> {
    Box::new(|event| event_target::<web_sys::HtmlInputElement>(&event).select())
}
