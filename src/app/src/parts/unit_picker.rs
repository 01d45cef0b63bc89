//! The user's units, one tap each.

use leptos::prelude::*;
use liftmargin_document::present::{Choice, DecimalMark, Units};

use super::choice::SegmentField;
use crate::live::{act, text};

/// All choices of unit, two presets, and the decimal mark.
#[component]
pub fn UnitPicker(
    /// The units in use.
    units: RwSignal<Units>,
    /// Called with the new units.
    on_change: Callback<Units>,
) -> impl IntoView {
    let preset =
        move |preset: Units| on_change.run(preset.with_decimal_mark(units.get_untracked().decimal_mark()));
    let mark = text(move || match units.get().decimal_mark() {
        DecimalMark::Point => ".".to_owned(),
        DecimalMark::Comma => ",".to_owned(),
    });
    let set_mark = Callback::new(move |key: String| {
        let mark = if key == "," { DecimalMark::Comma } else { DecimalMark::Point };
        on_change.run(units.get_untracked().with_decimal_mark(mark));
    });
    let marks = [(".", "1.4"), (",", "1,4")].map(|(key, text)| (key.to_owned(), text.to_owned()));
    let choices: Vec<AnyView> = Choice::ALL.into_iter().map(|choice| one(choice, units, on_change)).collect();
    view! {
        <div class="unit-picker">
            <div class="row">
                <button type="button" on:click=act(move || preset(Units::metric()))>"All metric"</button>
                <button type="button" on:click=act(move || preset(Units::us()))>"All US"</button>
            </div>
            {choices}
            <SegmentField label="Decimal mark shown (both can be typed)" options=marks.to_vec() value=mark
                on_change=set_mark />
        </div>
    }
}

fn one(choice: Choice, units: RwSignal<Units>, on_change: Callback<Units>) -> AnyView {
    let options = choice.options();
    let keyed = options.iter().map(|unit| (unit.symbol().to_owned(), unit.symbol().to_owned())).collect();
    let value = text(move || units.get().get(choice).symbol().to_owned());
    let set = Callback::new(move |key: String| {
        let unit = options.iter().find(|unit| unit.symbol() == key);
        if let Some(new) = unit.and_then(|unit| units.get_untracked().with(choice, *unit)) {
            on_change.run(new);
        }
    });
    view! { <SegmentField label=choice.name() options=keyed value on_change=set /> }.into_any()
}
