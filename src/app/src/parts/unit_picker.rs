//! The user's units, one tap each.

use leptos::prelude::*;
use liftmargin_document::measure::{Choice, DecimalMark, Units};

use super::choice::SegmentField;

/// All choices of unit, two presets, and the decimal mark.
#[component]
pub fn UnitPicker(
    /// The units in use.
    #[prop(into)]
    units: Signal<Units>,
    /// Called with the new units.
    #[prop(into)]
    on_change: Callback<Units>,
) -> impl IntoView {
    let preset =
        move |preset: Units| on_change.run(preset.with_decimal_mark(units.get_untracked().decimal_mark()));
    let mark = Signal::derive(move || match units.get().decimal_mark() {
        DecimalMark::Point => ".".to_owned(),
        DecimalMark::Comma => ",".to_owned(),
    });
    let set_mark = move |key: String| {
        let mark = if key == "," { DecimalMark::Comma } else { DecimalMark::Point };
        on_change.run(units.get_untracked().with_decimal_mark(mark));
    };
    let marks = [(".", "1.4"), (",", "1,4")].map(|(key, text)| (key.to_owned(), text.to_owned()));
    view! {
        <div class="unit-picker">
            <div class="row">
                <button type="button" on:click=move |_| preset(Units::metric())>"All metric"</button>
                <button type="button" on:click=move |_| preset(Units::us())>"All US"</button>
            </div>
            {Choice::ALL.map(|choice| view! { <OneUnit choice units on_change /> })}
            <SegmentField label="Decimal mark shown (both can be typed)" options=marks.to_vec() value=mark
                on_change=set_mark />
        </div>
    }
}

#[component]
fn OneUnit(choice: Choice, units: Signal<Units>, on_change: Callback<Units>) -> impl IntoView {
    let options = choice.options();
    let keyed = options.iter().map(|unit| (unit.symbol().to_owned(), unit.symbol().to_owned())).collect();
    let value = Signal::derive(move || units.get().get(choice).symbol().to_owned());
    let set = move |key: String| {
        let unit = options.iter().find(|unit| unit.symbol() == key);
        if let Some(new) = unit.and_then(|unit| units.get_untracked().with(choice, *unit)) {
            on_change.run(new);
        }
    };
    view! { <SegmentField label=choice.name() options=keyed value on_change=set /> }
}
