//! Which column of an opened table holds what, in which unit.

use leptos::prelude::*;
use liftmargin_document::bench_csv::{Columns, SpeedUnit, ThrottleUnit, ThrustUnit};

use crate::live::text;
use crate::parts::{ChoiceField, Choices};

const THRUST_UNITS: [ThrustUnit; 5] = [
    ThrustUnit::GramForce,
    ThrustUnit::KilogramForce,
    ThrustUnit::Newton,
    ThrustUnit::PoundForce,
    ThrustUnit::OunceForce,
];
const THROTTLE_UNITS: [ThrottleUnit; 3] =
    [ThrottleUnit::Percent, ThrottleUnit::Share, ThrottleUnit::SignalMicroseconds];

/// One question on the columns: how its answer is read and written. Every answer is a place in a list.
struct Question {
    label: &'static str,
    get: fn(&Columns) -> Option<usize>,
    set: fn(&mut Columns, Option<usize>),
    /// Names of the units that the answer is a place in; none: the columns themselves.
    units: Option<&'static [&'static str]>,
}

static QUESTIONS: [Question; 7] = [
    Question {
        label: "Thrust is in",
        get: |c| c.thrust.map(|(index, _)| index),
        set: |c, to| c.thrust = to.map(|to| (to, c.thrust.map_or(ThrustUnit::GramForce, |(_, unit)| unit))),
        units: None,
    },
    Question {
        label: "Thrust is given in",
        get: |c| place(&THRUST_UNITS, c.thrust.map(|(_, unit)| unit)),
        set: |c, to| c.thrust = c.thrust.map(|(index, unit)| (index, named(&THRUST_UNITS, to, unit))),
        units: Some(&["grams", "kilograms", "newtons", "pounds", "ounces"]),
    },
    Question { label: "Volts are in", get: |c| c.voltage, set: |c, to| c.voltage = to, units: None },
    Question { label: "Amperes are in", get: |c| c.current, set: |c, to| c.current = to, units: None },
    Question {
        label: "Throttle is in",
        get: |c| c.throttle.map(|(index, _)| index),
        set: |c, to| {
            c.throttle = to.map(|to| (to, c.throttle.map_or(ThrottleUnit::Percent, |(_, unit)| unit)));
        },
        units: None,
    },
    Question {
        label: "Throttle is given in",
        get: |c| place(&THROTTLE_UNITS, c.throttle.map(|(_, unit)| unit)),
        set: |c, to| c.throttle = c.throttle.map(|(index, unit)| (index, named(&THROTTLE_UNITS, to, unit))),
        units: Some(&["percent", "0 to 1", "µs of signal"]),
    },
    Question {
        label: "Rotor speed (rpm) is in",
        get: |c| c.speed.map(|(index, _)| index),
        set: |c, to| c.speed = to.map(|to| (to, c.speed.map_or(SpeedUnit::Rpm, |(_, unit)| unit))),
        units: None,
    },
];

fn place<T: PartialEq>(units: &[T], unit: Option<T>) -> Option<usize> {
    unit.and_then(|unit| units.iter().position(|own| *own == unit))
}

fn named<T: Copy>(units: &[T], to: Option<usize>, otherwise: T) -> T {
    to.and_then(|to| units.get(to)).copied().unwrap_or(otherwise)
}

/// Choices for every quantity of the table.
pub fn column_choices(headers: Vec<String>, columns: RwSignal<Columns>) -> AnyView {
    let titles = titled(headers);
    let ask = |question: &'static Question| {
        let options = match question.units {
            None => titles.clone(),
            Some(units) => units
                .iter()
                .enumerate()
                .map(|(place, unit)| (place.to_string(), (*unit).to_owned()))
                .collect(),
        };
        let value = text(move || {
            columns.with(|columns| (question.get)(columns)).map(|place| place.to_string()).unwrap_or_default()
        });
        let choose = Callback::new(move |key: String| {
            columns.update(|columns| (question.set)(columns, key.parse().ok()));
        });
        view! { <ChoiceField label=question.label options=Box::new(move || options.clone()) value on_change=choose /> }
            .into_any()
    };
    let questions: Vec<AnyView> = QUESTIONS.iter().map(ask).collect();
    view! { <div class="entries">{questions}</div> }.into_any()
}

fn titled(headers: Vec<String>) -> Choices {
    let none = (String::new(), "not in the table".to_owned());
    let titles = headers.into_iter().enumerate().map(|(index, title)| {
        let title = if title.is_empty() { format!("column {}", index + 1) } else { title };
        (index.to_string(), title)
    });
    core::iter::once(none).chain(titles).collect()
}
