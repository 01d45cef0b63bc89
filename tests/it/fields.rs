//! Every number that a screen lets a crew enter: named, in its range, and the one that the file's check speaks of.

use std::collections::BTreeSet;

use liftmargin_document::edit::new_day;
use liftmargin_document::fields::Entry;
use liftmargin_document::model::numbers::{self, GROUPS};
use liftmargin_document::model::{Bundle, Flight};
use liftmargin_document::open::{open_strict, save};
use liftmargin_document::present::{Draft, Units};
use liftmargin_document::record::List;
use liftmargin_document::words::label;

/// The saved file, with one of each: lists that came later have none in it.
fn saved() -> Bundle {
    let saved = open_strict(include_str!("../saved/schema-2.json")).expect("the saved file opens");
    let mut bundle = new_day(&saved, "A day").0;
    bundle.flights.push(Flight { id: "flight".to_owned(), ..Flight::default() });
    bundle
}

/// A value goes in and comes out the same, an absent one only where it may be absent, and a value beyond the range
/// is refused by the file's check under the very path of the field.
#[track_caller]
fn check(entry: &'static dyn Entry) {
    let number = entry.number();
    let mut bundle = saved();
    let id = entry.list().id_at(&bundle, 0).expect("the saved file has one of each");
    for si in [number.range.min, number.range.max] {
        let value = number.unit.from_si(si);
        entry.put(&mut bundle, &id, Some(value));
        assert_eq!(entry.value(&bundle, &id), Some(value), "{}", number.path);
    }
    let kept = entry.value(&bundle, &id);
    entry.put(&mut bundle, &id, Some(f64::NAN));
    assert_eq!(entry.value(&bundle, &id), kept, "{}: no file holds what is no number", number.path);
    entry.put(&mut bundle, &id, None);
    assert_eq!(entry.value(&bundle, &id).is_none(), number.optional, "{}", number.path);
    entry.put(&mut bundle, &id, Some(number.unit.from_si(number.range.max * 1.5 + 1.0).ceil()));
    let fault = open_strict(&save(&bundle).expect("finite")).expect_err("a value beyond its range opens");
    assert_eq!(fault.field(), format!("{}[0].{}", entry.list().key(), number.path));
}

#[test]
fn every_field_is_kept_and_checked_under_its_path() {
    GROUPS.iter().flat_map(|group| group.iter()).for_each(|entry| check(*entry));
}

#[test]
fn every_number_has_a_name_of_its_own_in_its_group() {
    for group in GROUPS {
        let names: BTreeSet<_> = group.iter().map(|entry| entry.number().label).collect();
        assert_eq!(names.len(), group.len(), "one name stands twice among {names:?}");
    }
    for number in numbers::all() {
        assert!(!number.label.is_empty() && !number.help.is_empty(), "{}", number.path);
        assert_ne!(label(number.range.field), "This value");
    }
    let paths: Vec<_> = numbers::all().map(|number| number.path).collect();
    assert!(paths.len() > 50, "{} numbers", paths.len());
}

#[test]
fn every_list_has_numbers_in_the_table() {
    // Frozen copies and recordings hold no number that a crew enters.
    let without = [List::FlownSetups, List::Recordings];
    for list in List::ALL.into_iter().filter(|list| !without.contains(list)) {
        assert!(GROUPS.iter().flat_map(|group| group.iter()).any(|entry| entry.list() == list), "{list:?}");
    }
}

#[test]
fn what_is_typed_in_the_files_unit_goes_into_the_file_as_typed() {
    let mut draft = Draft::new(&numbers::TEMPERATURE.number, Some(9.0), Units::metric());
    let typed = draft.typed("20.1", Units::metric()).expect("a new value");
    assert_eq!(typed, Some(20.1));
    let mut bundle = saved();
    numbers::TEMPERATURE.set(&mut bundle.sites[0], typed);
    assert_eq!(bundle.sites[0].temperature_c.to_string(), "20.1");
}
