//! A number typed in the user's unit, held against core's range, with words beside it when it does not fit.

use leptos::prelude::*;
use liftmargin_core::bound::Bound;
use liftmargin_document::measure::{self, Draft, Units};

use super::ids;

/// A number field. Hands on each good value at once; keeps a wrong text, says why, and leaves the last good value
/// in use. Label and help come from the bound unless given.
#[component]
pub fn NumberField(
    /// The range; also gives label, help and unit.
    bound: &'static Bound,
    /// The value in use, SI; none for an optional one left empty.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// The user's units.
    #[prop(into)]
    units: Signal<Units>,
    /// Called with each new good value, SI.
    #[prop(into)]
    on_change: Callback<Option<f64>>,
    /// Whether an empty field is a good one.
    #[prop(optional)]
    may_be_empty: bool,
    /// Name, if not the bound's own.
    #[prop(optional_no_strip, into)]
    label: Option<String>,
    /// Help, if not the bound's own.
    #[prop(optional_no_strip, into)]
    help: Option<String>,
    /// Id of the input.
    #[prop(optional_no_strip, into)]
    id: Option<String>,
) -> impl IntoView {
    let id = ids::or_fresh(id);
    let (help_id, fault_id) = (format!("{id}-help"), format!("{id}-fault"));
    let described = format!("{id}-unit {help_id} {fault_id}");
    let draft = RwSignal::new(Draft::new(bound, value.get_untracked(), may_be_empty, units.get_untracked()));
    follow(draft, value, units);
    let fault = Memo::new(move |_| draft.with(|draft| draft.message(units.get())));
    let wrong = move || fault.with(Option::is_some);
    let typed = move |text: String| {
        let news = draft.try_update(|draft| draft.typed(&text, units.get_untracked())).flatten();
        if let Some(news) = news {
            on_change.run(news);
        }
    };
    let settle = move || draft.update(|draft| draft.settle(units.get_untracked()));
    let help = help.unwrap_or_else(|| measure::help(bound.field).to_owned());
    let unit = move || units.get().of(bound);
    let below_zero = bound.min < 0.0 || bound.kind == liftmargin_core::bound::Kind::Temperature;
    view! {
        <div class="field" class:field-wrong=wrong data-field=bound.field>
            <label for=id.clone()>{label.unwrap_or_else(|| measure::label(bound.field).to_owned())}</label>
            <div class="field-box">
                <input id=id.clone() type="text" autocomplete="off" spellcheck="false"
                    // The decimal keypad of some phones has no minus.
                    inputmode=if below_zero { "text" } else { "decimal" }
                    aria-describedby=described aria-invalid=move || wrong().to_string()
                    prop:value=move || draft.with(|draft| draft.text().to_owned())
                    on:input:target=move |ev| typed(ev.target().value())
                    on:change=move |_| settle() on:blur=move |_| settle() />
                <span class="field-unit" id=format!("{id}-unit")>{move || unit().symbol()}</span>
            </div>
            <p class="field-fault" id=fault_id role="status">{fault}</p>
            <p class="field-help" id=help_id>{help}</p>
        </div>
    }
}

/// A value changed elsewhere and a change of units are shown; the field's own echo is not.
fn follow(draft: RwSignal<Draft>, value: Signal<Option<f64>>, units: Signal<Units>) {
    Effect::new(move |_| {
        let value = value.get();
        draft.update(|draft| draft.from_outside(value, units.get_untracked()));
    });
    Effect::new(move |before: Option<Units>| {
        let units = units.get();
        if before.is_some_and(|before| before != units) {
            draft.update(|draft| draft.settle(units));
        }
        units
    });
}
