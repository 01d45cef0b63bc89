//! A number typed in the user's unit, held against core's range, with words beside it when it does not fit.

use leptos::prelude::*;
use liftmargin_core::input_range::Kind;
use liftmargin_document::fields::Number;
use liftmargin_document::present::{Draft, Units};

use super::ids;
use crate::live::{act_on, flag, memo, select_all, text, typed};

/// A number field. Hands on each good value at once; keeps a wrong text, says why, and leaves the last good value
/// in use. Values are in the file's unit.
#[component]
pub fn NumberField(
    /// What there is to say about it.
    number: &'static Number,
    /// The value in use; none for an optional one left empty.
    value: Memo<Option<f64>>,
    /// The user's units.
    units: RwSignal<Units>,
    /// Called with each new good value.
    on_change: Callback<Option<f64>>,
    /// Id of the input.
    id: Option<String>,
    /// A text that was not used, from when the field was left.
    left: Option<String>,
    /// Called with a text that is not used, and with none once it is mended.
    on_refused: Callback<Option<String>>,
) -> impl IntoView {
    let id = ids::or_fresh(id);
    let (help_id, fault_id, unit_id) = (format!("{id}-help"), format!("{id}-fault"), format!("{id}-unit"));
    let draft = RwSignal::new(Draft::new(number, value.get_untracked(), units.get_untracked()));
    if let Some(left) = left {
        draft.update(|draft| {
            // One that can be used by now was mended elsewhere.
            if draft.typed(&left, units.get_untracked()).is_some() || draft.fault().is_none() {
                *draft = Draft::new(number, value.get_untracked(), units.get_untracked());
            }
        });
    }
    follow(draft, value, units);
    let refused = memo(move || draft.with(|draft| draft.fault().map(|_| draft.text().to_owned())));
    Effect::new(move || on_refused.run(refused.get()));
    let fault = memo(move || draft.with(|draft| draft.message(units.get())).unwrap_or_default());
    let wrong = move || fault.with(|fault| !fault.is_empty());
    let take = move |text: String| {
        let news = draft.try_update(|draft| draft.typed(&text, units.get_untracked())).flatten();
        if let Some(news) = news {
            on_change.run(news);
        }
    };
    let settle = move || draft.update(|draft| draft.settle(units.get_untracked()));
    // The decimal keypad of some phones has no minus.
    let range = number.range;
    let below_zero = range.min < 0.0 || range.kind == Kind::Temperature;
    view! {
        <div class="field" class:field-wrong=flag(wrong) data-field=range.field>
            <label for=id.clone()>{number.label}</label>
            <div class="field-box">
                <input id=id type="text" autocomplete="off" spellcheck="false"
                    inputmode=if below_zero { "text" } else { "decimal" }
                    aria-describedby=format!("{unit_id} {help_id} {fault_id}")
                    aria-invalid=text(move || wrong().to_string())
                    prop:value=text(move || draft.with(|draft| draft.text().to_owned()))
                    on:focus=select_all() on:input=typed(take) on:change=act_on(settle) on:blur=act_on(settle) />
                <span class="field-unit" id=unit_id>{text(move || units.get().of(range).symbol().to_owned())}</span>
            </div>
            <p class="field-fault" id=fault_id role="status">{text(move || fault.get())}</p>
            <p class="field-help" id=help_id>{number.help}</p>
        </div>
    }
}

/// A value changed elsewhere and a change of units are shown; the field's own echo is not.
fn follow(draft: RwSignal<Draft>, value: Memo<Option<f64>>, units: RwSignal<Units>) {
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
