//! What differs between two records of one id, field by field, as people name and read it.

use serde_json::Value;

use crate::model::{Bundle, Setup, numbers};
use crate::present::Units;
use crate::present::entry::show_number;
use crate::record::{List, Record};
use crate::shape::shown;
use crate::words::counts_with::string_words;

/// A field that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldChange {
    /// Its name.
    pub name: String,
    /// What stands there now.
    pub mine: String,
    /// What comes in.
    pub theirs: String,
}

/// Lists that are named as a whole where they differ in length; of one part.
const PARTS: &[(&str, &str, &str)] = &[
    ("propulsion.bench.rows", "Bench table, rows", "Bench table, row"),
    ("layout.places", "Rotor places", "Rotor place"),
];

/// What differs between the records of one id in two bundles.
pub fn changes(list: List, id: &str, mine: &Bundle, theirs: &Bundle, units: Units) -> Vec<FieldChange> {
    let value = |bundle: &Bundle| {
        let place = list.of(bundle).place(id);
        place.map(|place| list.of(bundle).value(place)).unwrap_or_default()
    };
    let mut found = Found { list, sides: [mine, theirs], units, changes: Vec::new() };
    found.compare("", &value(mine), &value(theirs));
    if list == List::Setups {
        found.on_board(id);
    }
    if found.changes.is_empty() {
        let [mine, theirs] = ["mine", "theirs"].map(str::to_owned);
        found.changes.push(FieldChange { name: "Details without a name".to_owned(), mine, theirs });
    }
    found.changes
}

struct Found<'a> {
    list: List,
    sides: [&'a Bundle; 2],
    units: Units,
    changes: Vec<FieldChange>,
}

impl Found<'_> {
    fn compare(&mut self, path: &str, mine: &Value, theirs: &Value) {
        if mine == theirs || is_told_apart(self.list, path) {
            return;
        }
        if (self.list, path) == (List::Recordings, "points") {
            let [mine, theirs] = ["mine", "theirs"].map(str::to_owned);
            self.changes.push(FieldChange { name: "What was recorded".to_owned(), mine, theirs });
            return;
        }
        match (mine, theirs) {
            (Value::Object(own), Value::Object(other)) => {
                let names = own.keys().chain(other.keys().filter(|name| !own.contains_key(*name)));
                for name in names.filter(|name| *name != "id") {
                    let at = |fields: &serde_json::Map<String, Value>| {
                        fields.get(name).cloned().unwrap_or_default()
                    };
                    self.compare(&crate::model::below(path, name), &at(own), &at(other));
                }
            }
            (Value::Array(own), Value::Array(other)) if own.len() == other.len() => {
                for (index, (own, other)) in own.iter().zip(other).enumerate() {
                    self.compare(&format!("{path}[{index}]"), own, other);
                }
            }
            _ => {
                let mut words = [(mine, self.sides[0]), (theirs, self.sides[1])]
                    .map(|(value, bundle)| self.words(path, value, bundle));
                if words[0] == words[1] {
                    words = [mine, theirs].map(shown);
                }
                let [mine, theirs] = words;
                self.changes.push(FieldChange { name: name_of(self.list, path), mine, theirs });
            }
        }
    }

    /// A value as people read it.
    fn words(&self, path: &str, value: &Value, bundle: &Bundle) -> String {
        let number = numbers::at(self.list.key(), path);
        match (value, number) {
            (Value::Null, _) => "none".to_owned(),
            (Value::Number(found), Some(number)) => {
                let text = show_number(found.as_f64().unwrap_or_default(), number, self.units);
                match self.units.of(number.range).symbol() {
                    "" => text,
                    symbol => format!("{text}\u{a0}{symbol}"),
                }
            }
            (Value::Bool(yes), _) => if *yes { "yes" } else { "no" }.to_owned(),
            (Value::String(id), _) => referred(self.list, path, id, bundle).unwrap_or_else(|| shown(value)),
            (Value::Array(parts), _) => parts.len().to_string(),
            _ => shown(value),
        }
    }

    /// Payload and packs by their names: their places in the lists say nothing.
    fn on_board(&mut self, id: &str) {
        let of = |bundle: &Bundle| {
            let Some((_, setup)) = Setup::find(bundle, id) else { return <[String; 3]>::default() };
            let items = |on: bool| {
                let chosen = setup.load.iter().filter(|load| load.on == on);
                let names = chosen.filter_map(|load| List::Items.name(bundle, &load.item));
                names.collect::<Vec<_>>().join(", ")
            };
            let strings = setup.supply.strings.iter().map(|string| string_words(bundle, string, self.units));
            [items(true), items(false), strings.collect::<Vec<_>>().join("; ")]
        };
        let [mine, theirs] = self.sides.map(of);
        let names = ["On board", "Left on the ground", "Strings of packs"];
        for ((name, mine), theirs) in names.into_iter().zip(mine).zip(theirs) {
            if mine != theirs {
                let [mine, theirs] =
                    [mine, theirs].map(|text| if text.is_empty() { "none".to_owned() } else { text });
                self.changes.push(FieldChange { name: name.to_owned(), mine, theirs });
            }
        }
    }
}

/// Told by names instead of place by place.
fn is_told_apart(list: List, path: &str) -> bool {
    list == List::Setups && matches!(path, "load" | "supply.strings")
}

/// The name of what a field refers to; none for a field that refers to nothing.
fn referred(list: List, path: &str, id: &str, bundle: &Bundle) -> Option<String> {
    let to = match (list, path) {
        (List::Setups, "airframe") => List::Airframes,
        (List::Setups, "site") => List::Sites,
        (List::Packs, "pack_type") => List::PackTypes,
        _ => return None,
    };
    to.name(bundle, id)
}

/// "Bench table, row 3: Thrust".
fn name_of(list: List, path: &str) -> String {
    if path == "name" {
        return "Name".to_owned();
    }
    let part =
        PARTS.iter().find_map(|(part, all, one)| path.strip_prefix(part).map(|rest| (*all, *one, rest)));
    let label = numbers::at(list.key(), path).map(|number| number.label.to_owned());
    let word = || numbers::WORDS.iter().find(|word| word.list == list && word.path == path);
    match part {
        Some((all, _, "")) => all.to_owned(),
        Some((_, one, rest)) => {
            let index = rest.strip_prefix('[').and_then(|rest| rest.split(']').next()?.parse::<usize>().ok());
            let number = index.map(|index| format!(" {}", index + 1)).unwrap_or_default();
            format!("{one}{number}: {}", label.unwrap_or_else(|| plain(rest)))
        }
        None => label
            .or_else(|| {
                word()
                    .map(|word| raised(word.name.trim_start_matches("the ").trim_start_matches("choice of ")))
            })
            .unwrap_or_else(|| plain(path)),
    }
}

/// A path that has no name, as words.
fn plain(path: &str) -> String {
    let last = path.rsplit('.').next().unwrap_or(path);
    raised(&last.split('[').next().unwrap_or(last).replace('_', " "))
}

fn raised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
