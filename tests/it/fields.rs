//! Every number that a screen lets a crew enter: named, in its range, and the one that the file's check speaks of.

use liftmargin_document::fields::{
    BENCH_DENSITY, FLIGHT, FRAME, FRAME_POSITION, Field, ITEM, ITEM_MASS, ON_BOARD, PACK, PACK_AGE,
    PROPULSION, RESERVE, SET, SITE, WIRING,
};
use liftmargin_document::measure::labels;
use liftmargin_document::open::{open, save};
use liftmargin_document::record::Record;
use liftmargin_document::schema::Bundle;

fn saved() -> Bundle {
    open(include_str!("../saved/schema-1.json")).expect("the saved file opens")
}

/// A value goes in and comes out the same, an absent one only where it may be absent, and a value beyond the range
/// is refused by the file's check under the very path of the field.
#[track_caller]
fn check<T: Record>(fields: &[Field<T>]) {
    for field in fields {
        let mut bundle = saved();
        let range = field.range;
        assert!(labels::is_known(range.field), "{} has no name for people", range.field);
        for si in [range.min, range.max] {
            let thing = &mut T::list_mut(&mut bundle)[0];
            field.set(thing, Some(si));
            let back = field.get(thing).expect("it was put there");
            assert!(
                (back - si).abs() <= 1e-9 * si.abs().max(1.0),
                "{}: {si} came back as {back}",
                field.path
            );
        }
        let thing = &mut T::list_mut(&mut bundle)[0];
        field.set(thing, None);
        assert_eq!(field.get(thing).is_none(), field.optional, "{}", field.path);
        field.set(thing, Some(range.max * 1.5 + 1.0));
        let fault = open(&save(&bundle)).expect_err("a value beyond its range opens");
        assert_eq!(fault.field(), format!("{}[0].{}", T::LIST, field.path));
    }
}

#[test]
fn every_field_is_named_kept_and_checked_under_its_path() {
    check(&SITE);
    check(&SET);
    check(&FLIGHT);
    check(&RESERVE);
    check(&ON_BOARD);
    check(&WIRING);
    check(&PACK);
    check(&PACK_AGE);
    check(core::slice::from_ref(&ITEM_MASS));
    check(&ITEM);
    check(&FRAME);
    check(&FRAME_POSITION);
    check(&PROPULSION);
    check(core::slice::from_ref(&BENCH_DENSITY));
}

#[test]
fn a_temperature_comes_back_from_kelvin_without_noise() {
    let mut bundle = saved();
    let site = &mut bundle.sites[0];
    SITE[2].set(site, Some(293.15));
    assert_eq!(site.temperature_c.to_string(), "20");
}
