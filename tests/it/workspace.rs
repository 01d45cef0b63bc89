//! What a browser keeps: whole or not at all, with the way back.

use liftmargin_document::model::{Bundle, Item, Setup};
use liftmargin_document::open::open_strict;
use liftmargin_document::present::Units;
use liftmargin_document::record::Record;
use liftmargin_document::whatif::{Change, WhatIf, apply};
use liftmargin_document::workspace::overlay::{self, Becomes};
use liftmargin_document::workspace::{History, Workspace, keep, open_setup};

fn saved() -> Bundle {
    open_strict(include_str!("../saved/schema-1.json")).expect("the saved file opens")
}

#[test]
fn a_workspace_comes_back_as_it_was() {
    let workspace = Workspace {
        stamp_ms: 1.7e12,
        selected: "x".to_owned(),
        units: Units::us(),
        bundle: saved(),
        broken: Vec::new(),
    };
    let text = workspace.write().expect("it can be kept");
    assert_eq!(Workspace::read(&text).as_ref(), Ok(&workspace));
    assert_eq!(Workspace::stamp_of(&text), Some(1.7e12));
}

#[test]
fn views_fall_back_but_data_does_not() {
    let workspace = Workspace {
        stamp_ms: 1.0,
        selected: "x".to_owned(),
        units: Units::us(),
        bundle: saved(),
        broken: Vec::new(),
    };
    let text = workspace.write().expect("it can be kept");
    let other_units = text.replace("\"lb\"", "\"stone\"");
    assert_eq!(Workspace::read(&other_units).map(|read| read.units), Ok(Units::default()));
    for broken in [
        "",
        "{",
        "[]",
        "{}",
        "null",
        &text[..text.len() / 2],
        &text.replace("\"mass_kg\":", "\"mass_kg\":-x"),
    ] {
        assert!(Workspace::read(broken).is_err(), "{broken:.40} was read");
    }
}

#[test]
fn the_first_setup_opens_where_the_wanted_one_is_gone() {
    let bundle = saved();
    let last = bundle.setups.last().map(|setup| setup.id.clone());
    assert_eq!(open_setup(&bundle, last.as_deref().unwrap_or_default()), last);
    assert_eq!(open_setup(&bundle, "gone"), bundle.setups.first().map(|setup| setup.id.clone()));
    assert_eq!(open_setup(&Bundle::new(), "gone"), None);
}

#[test]
fn edits_of_one_field_in_a_row_are_taken_back_together() {
    let mut history = History::new();
    for (group, before) in [("mass", 1), ("mass", 2), ("wind", 3), ("mass", 4)] {
        history.record(group, group, || before);
    }
    assert_eq!(history.next_words(), Some("mass"));
    assert_eq!(
        [history.take_back(), history.take_back(), history.take_back(), history.take_back()],
        [Some(4), Some(3), Some(1), None]
    );
}

/// An item on board of the first setup and another of its kind.
fn swap_in(bundle: &mut Bundle) -> (String, String, String) {
    let setup = bundle.setups[0].clone();
    let from =
        setup.load.iter().find(|load| load.on).map(|load| load.item.clone()).expect("something on board");
    let (_, item) = Item::find(bundle, &from).expect("it is in the file");
    let mut other = item.clone();
    "other".clone_into(&mut other.id);
    other.mass_kg += 1.4;
    bundle.items.push(other);
    (setup.id, from, "other".to_owned())
}

#[test]
fn a_kept_what_if_is_a_setup_of_its_own_and_touches_nothing() {
    let mut bundle = saved();
    let (setup, from, to) = swap_in(&mut bundle);
    let mut what_if = WhatIf::default();
    overlay::set_becomes(&mut what_if, &from, Becomes::Other(to.clone()));
    overlay::set_mass(&mut what_if, &to, Some(2.5));
    overlay::set_extra_mass(&mut what_if, Some(0.3), [0.0, 0.0, 0.2]);
    let (kept, id) = keep(&bundle, &setup, &what_if, "Heavier").expect("the what-if fits");
    for item in &bundle.items {
        assert_eq!(Item::find(&kept, &item.id).map(|(_, there)| there), Some(item));
    }
    for there in &bundle.setups {
        assert_eq!(Setup::find(&kept, &there.id).map(|(_, there)| there), Some(there));
    }
    let mass = |bundle: &Bundle, id: &str| -> f64 {
        let (_, setup) = Setup::find(bundle, id).expect("the setup");
        let on = setup.load.iter().filter(|load| load.on);
        on.map(|load| Item::find(bundle, &load.item).expect("the item").1.mass_kg).sum()
    };
    let laid_over = apply(&bundle, &setup, &what_if).expect("the what-if fits");
    assert!((mass(&kept, &id) - mass(&laid_over, &setup)).abs() < 1e-12);
    assert_eq!(liftmargin_document::save(&kept).and_then(|text| open_strict(&text)).as_ref(), Ok(&kept));
}

#[test]
fn a_swap_taken_back_leaves_no_change() {
    let mut bundle = saved();
    let (setup, from, to) = swap_in(&mut bundle);
    let mut what_if = WhatIf::default();
    overlay::set_becomes(&mut what_if, &from, Becomes::Other(to.clone()));
    overlay::set_mass(&mut what_if, &to, Some(2.5));
    assert_eq!(overlay::becomes(&what_if, &from), Becomes::Other(to.clone()));
    assert_eq!(overlay::mass_kg(&what_if, &to), Some(2.5));
    overlay::set_becomes(&mut what_if, &from, Becomes::Left);
    assert_eq!(what_if.changes, [Change::Leave { item: from.clone() }]);
    overlay::set_becomes(&mut what_if, &from, Becomes::AsSaved);
    overlay::add(&mut what_if, &to);
    assert_eq!(overlay::added(&what_if), std::slice::from_ref(&to));
    overlay::remove(&mut what_if, &to);
    overlay::set_extra_mass(&mut what_if, Some(0.0), [0.0; 3]);
    assert_eq!(what_if, WhatIf::default());
    assert_eq!(apply(&bundle, &setup, &what_if).as_ref(), Ok(&bundle));
}
