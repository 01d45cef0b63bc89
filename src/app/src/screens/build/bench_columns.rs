//! Which column of an opened table holds what, in which unit.

use leptos::prelude::*;
use liftmargin_document::bench_csv::{Columns, SpeedUnit, ThrottleUnit, ThrustUnit};

use super::super::listing::Choices;
use crate::parts::ChoiceField;

const THRUST_UNITS: [(ThrustUnit, &str); 5] = [
    (ThrustUnit::GramForce, "grams"),
    (ThrustUnit::KilogramForce, "kilograms"),
    (ThrustUnit::Newton, "newtons"),
    (ThrustUnit::PoundForce, "pounds"),
    (ThrustUnit::OunceForce, "ounces"),
];
const THROTTLE_UNITS: [(ThrottleUnit, &str); 3] = [
    (ThrottleUnit::Percent, "percent"),
    (ThrottleUnit::Share, "0 to 1"),
    (ThrottleUnit::SignalMicroseconds, "µs of signal"),
];

/// Choices for every quantity of the table.
#[component]
pub fn ColumnChoices(headers: Vec<String>, columns: RwSignal<Columns>) -> impl IntoView {
    let choices = StoredValue::new(titled(headers));
    let column = move |label: &'static str,
                       get: fn(&Columns) -> Option<usize>,
                       set: fn(&mut Columns, Option<usize>)| {
        let chosen =
            Signal::derive(move || columns.with(get).map(|index| index.to_string()).unwrap_or_default());
        let choose = move |key: String| columns.update(|columns| set(columns, key.parse().ok()));
        view! { <ChoiceField label options=Signal::stored(choices.get_value()) value=chosen on_change=choose /> }
    };
    view! {
        <div class="entries">
            {column("Thrust is in", |c| c.thrust.map(|(index, _)| index), |c, index| {
                c.thrust = index.map(|index| (index, c.thrust.map_or(ThrustUnit::GramForce, |(_, unit)| unit)));
            })}
            <ThrustUnitChoice columns />
            {column("Volts are in", |c| c.voltage, |c, index| c.voltage = index)}
            {column("Amperes are in", |c| c.current, |c, index| c.current = index)}
            {column("Throttle is in", |c| c.throttle.map(|(index, _)| index), |c, index| {
                c.throttle = index.map(|index| (index, c.throttle.map_or(ThrottleUnit::Percent, |(_, unit)| unit)));
            })}
            <ThrottleUnitChoice columns />
            {column("Rotor speed (rpm) is in", |c| c.speed.map(|(index, _)| index), |c, index| {
                c.speed = index.map(|index| (index, c.speed.map_or(SpeedUnit::Rpm, |(_, unit)| unit)));
            })}
        </div>
    }
}

fn titled(headers: Vec<String>) -> Choices {
    let none = (String::new(), "not in the table".to_owned());
    let titles = headers.into_iter().enumerate().map(|(index, title)| {
        let title = if title.is_empty() { format!("column {}", index + 1) } else { title };
        (index.to_string(), title)
    });
    core::iter::once(none).chain(titles).collect()
}

fn named<T>(units: &[(T, &'static str)]) -> Signal<Choices> {
    Signal::stored(units.iter().map(|(_, name)| ((*name).to_owned(), (*name).to_owned())).collect())
}

#[component]
fn ThrustUnitChoice(columns: RwSignal<Columns>) -> impl IntoView {
    let chosen = Signal::derive(move || {
        let unit = columns.with(|columns| columns.thrust.map(|(_, unit)| unit));
        THRUST_UNITS
            .iter()
            .find(|(own, _)| Some(*own) == unit)
            .map(|(_, name)| (*name).to_owned())
            .unwrap_or_default()
    });
    let choose = move |key: String| {
        if let Some((unit, _)) = THRUST_UNITS.iter().find(|(_, name)| *name == key) {
            columns.update(|columns| columns.thrust = columns.thrust.map(|(index, _)| (index, *unit)));
        }
    };
    view! { <ChoiceField label="Thrust is given in" options=named(&THRUST_UNITS) value=chosen on_change=choose /> }
}

#[component]
fn ThrottleUnitChoice(columns: RwSignal<Columns>) -> impl IntoView {
    let chosen = Signal::derive(move || {
        let unit = columns.with(|columns| columns.throttle.map(|(_, unit)| unit));
        THROTTLE_UNITS
            .iter()
            .find(|(own, _)| Some(*own) == unit)
            .map(|(_, name)| (*name).to_owned())
            .unwrap_or_default()
    });
    let choose = move |key: String| {
        if let Some((unit, _)) = THROTTLE_UNITS.iter().find(|(_, name)| *name == key) {
            columns.update(|columns| columns.throttle = columns.throttle.map(|(index, _)| (index, *unit)));
        }
    };
    view! { <ChoiceField label="Throttle is given in" options=named(&THROTTLE_UNITS) value=chosen on_change=choose /> }
}
