//! What was entered: airframe, site, packs, what is on board, then every number of setup, site and airframe.

use super::CompareRow;
use crate::fields::Entry;
use crate::model::numbers::GROUPS;
use crate::model::{Bundle, Item, Setup, entered_once};
use crate::present::Units;
use crate::present::entry::show_number;
use crate::record::{List, Record};
use crate::words::counts_with::alike_words;
use crate::words::lower_first;
use crate::words::what_if::mass;

/// Stands where nothing is entered.
const NONE: &str = "–";

pub(super) fn rows(bundle: &Bundle, setups: &[&Setup], units: Units) -> Vec<CompareRow> {
    let name = |list: List, id: &str| list.name(bundle, id).unwrap_or_else(|| NONE.to_owned());
    let cells = |of: &dyn Fn(&Setup) -> String| setups.iter().map(|setup| of(setup)).collect::<Vec<_>>();
    let [common, own] = on_board(bundle, setups, units);
    let mut rows = vec![
        CompareRow::new("airframe", "Airframe", cells(&|setup| name(List::Airframes, &setup.airframe))),
        CompareRow::new("packs", "Packs", cells(&|setup| packs(bundle, setup, units))),
        CompareRow::new("on-board", "On board", own),
        CompareRow::new("on-board-in-all", "On board in all", common),
        CompareRow::new("site", "Site", cells(&|setup| name(List::Sites, &setup.site))),
    ];
    let entries = GROUPS.iter().flat_map(|group| group.iter());
    rows.extend(entries.filter_map(|entry| number_row(bundle, setups, *entry, units)));
    // A row that is empty in all says nothing.
    rows.retain(|row| row.cells.iter().any(|cell| cell != NONE));
    rows
}

/// A number of setup, site or airframe; none of any other record.
fn number_row(bundle: &Bundle, setups: &[&Setup], entry: &dyn Entry, units: Units) -> Option<CompareRow> {
    let number = entry.number();
    let (of, id): (_, fn(&Setup) -> &str) = match entry.list() {
        List::Setups if number.path.starts_with("supply.position") => ("Packs: ", |setup| &setup.id),
        List::Setups => ("", |setup| &setup.id),
        List::Sites => ("", |setup| &setup.site),
        List::Airframes => ("Airframe: ", |setup| &setup.airframe),
        _ => return None,
    };
    let symbol = units.of(number.range).symbol();
    let cell = |setup: &&Setup| match entry.value(bundle, id(setup)) {
        None => NONE.to_owned(),
        Some(value) => format!("{}\u{a0}{symbol}", show_number(value, number, units)).trim_end().to_owned(),
    };
    let name =
        if of.is_empty() { number.label.to_owned() } else { format!("{of}{}", lower_first(number.label)) };
    Some(CompareRow::new(number.path, name, setups.iter().map(cell).collect()))
}

/// "2 strings of 2 × Six cells, as warm as the air, full".
fn packs(bundle: &Bundle, setup: &Setup, units: Units) -> String {
    let alike = entered_once(&setup.supply.strings);
    let words = alike.iter().map(|alike| alike_words(bundle, alike, units)).collect::<Vec<_>>().join("; ");
    if words.is_empty() { NONE.to_owned() } else { words }
}

/// What all have on board, and what each has that not all have.
fn on_board(bundle: &Bundle, setups: &[&Setup], units: Units) -> [Vec<String>; 2] {
    let has = |setup: &Setup, item: &str| setup.load.iter().any(|load| load.on && load.item == item);
    let words = |setup: &Setup, in_all: bool| {
        let on = setup.load.iter().filter(|load| load.on);
        let wanted = on.filter(|load| setups.iter().all(|other| has(other, &load.item)) == in_all);
        let named = wanted
            .filter_map(|load| Item::find(bundle, &load.item))
            .map(|(_, item)| format!("{}\u{a0}{}", item.name, mass(item.mass_kg, units)));
        let words = named.collect::<Vec<_>>().join(", ");
        if words.is_empty() { NONE.to_owned() } else { words }
    };
    [true, false].map(|in_all| setups.iter().map(|setup| words(setup, in_all)).collect())
}
