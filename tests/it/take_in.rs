//! What comes in is shown before it is taken in, and the crew chooses: nothing is overwritten unasked.

use liftmargin_document::card_report::report;
use liftmargin_document::merge::{Keep, merge_with};
use liftmargin_document::model::Bundle;
use liftmargin_document::open_strict;
use liftmargin_document::present::{Choice, Unit, Units};
use liftmargin_document::record::{List, closed};
use liftmargin_document::take_in::{Incoming, Standing, preview};
use proptest::prelude::*;

fn demo() -> Bundle {
    open_strict(include_str!("../../demo-data/mountain-road.json")).expect("demo")
}

/// One setup as another phone has it: other lens mass, other height, other wind, one bench row, a strap more, another name.
fn theirs() -> Bundle {
    let mut theirs = closed(&demo(), "bend-follow").expect("there");
    theirs.items.iter_mut().find(|item| item.kind == "lens").expect("a lens").mass_kg += 0.4;
    theirs.sites[0].wind_m_s = 9.0;
    let rows = &mut theirs.airframes[0].propulsion.bench.as_mut().expect("a table").rows;
    rows[2].thrust_n = Some(40.0);
    let setup = &mut theirs.setups[0];
    setup.profile.height_m = 60.0;
    "Bend follow, changed".clone_into(&mut setup.name);
    let mut strap = theirs.items[0].clone();
    (strap.id, strap.name, strap.mass_kg) = ("strap".to_owned(), "Strap".to_owned(), 0.1);
    theirs.items.push(strap);
    let mut load = setup.load[0].clone();
    "strap".clone_into(&mut load.item);
    setup.load.push(load);
    theirs
}

fn of<'a>(all: &'a [Incoming], list: List, id: &str) -> &'a Standing {
    &all.iter().find(|one| one.list == list && one.id == id).expect("there").standing
}

fn lines(standing: &Standing) -> Vec<String> {
    let Standing::Different(changes) = standing else { panic!("{standing:?}") };
    changes.iter().map(|change| format!("{}: {} → {}", change.name, change.mine, change.theirs)).collect()
}

#[test]
fn regress_each_record_says_how_it_stands_and_what_differs() {
    let (mine, theirs) = (demo(), theirs());
    let all = preview(&mine, &theirs, Units::default());
    assert_eq!(all[0].list, List::Setups, "what was asked for comes first");
    assert_eq!(of(&all, List::Items, "strap"), &Standing::New);
    assert!(theirs.pack_types.iter().all(|sort| of(&all, List::PackTypes, &sort.id) == &Standing::Same));
    let setup = lines(of(&all, List::Setups, "bend-follow"));
    assert!(setup.contains(&"Name: Bend follow, 50 mm → Bend follow, changed".to_owned()), "{setup:?}");
    assert!(
        setup.iter().any(|line| line.starts_with("Height of the set: ") && line.ends_with(" → 60\u{a0}m")),
        "{setup:?}"
    );
    assert!(
        setup.iter().any(|line| line.starts_with("On board: ") && line.ends_with(", Strap")),
        "{setup:?}"
    );
    assert_eq!(
        lines(of(&all, List::Airframes, "eight")),
        ["Bench table, row 3: Bench thrust: 42.22\u{a0}N → 40\u{a0}N"]
    );
    let site = &theirs.sites[0].id;
    assert_eq!(lines(of(&all, List::Sites, site)), ["Mean wind: 18\u{a0}km/h → 32.4\u{a0}km/h"]);
    let knots = Units::default().with(Choice::Speed, Unit::Knot).expect("a unit of speed");
    let all = preview(&mine, &theirs, knots);
    assert_eq!(lines(of(&all, List::Sites, site)), ["Mean wind: 9.7\u{a0}kt → 17.5\u{a0}kt"]);
}

/// A difference below what a field shows is shown all the same.
#[test]
fn regress_two_equal_texts_never_stand_for_a_difference() {
    let (mine, mut theirs) = (demo(), closed(&demo(), "bend-follow").expect("there"));
    theirs.sites[0].wind_m_s += 1e-7;
    let all = preview(&mine, &theirs, Units::default());
    let Standing::Different(changes) = of(&all, List::Sites, &theirs.sites[0].id) else {
        panic!("different")
    };
    assert_ne!(changes[0].mine, changes[0].theirs);
}

#[test]
fn regress_the_three_choices() {
    let (mine, theirs) = (demo(), theirs());
    let keep = |keep| merge_with(&mine, &theirs, &move |_, _| keep);
    let kept = keep(Keep::Mine);
    assert_eq!(report(&kept.bundle).expect("cards"), report(&mine).expect("cards"));
    assert_eq!((kept.added, kept.left_out, kept.replaced), (1, 4, 0));
    let taken = keep(Keep::Theirs);
    assert_eq!((taken.added, taken.left_out, taken.replaced), (1, 0, 4));
    assert_eq!(taken.bundle.setups.len(), mine.setups.len());
    assert_eq!(taken.bundle.setups[0], theirs.setups[0]);
    assert_eq!(report(&taken.bundle).expect("cards")[0], report(&theirs).expect("card")[0]);
    let both = keep(Keep::Both);
    assert_eq!(both.renamed.len(), 4);
    assert_eq!(report(&both.bundle).expect("cards")[..mine.setups.len()], report(&mine).expect("cards"));
    let mut last = report(&both.bundle).expect("cards").pop().expect("theirs");
    let own = report(&theirs).expect("card").remove(0);
    (last.setup, last.site) = (own.setup.clone(), own.site.clone());
    assert_eq!(last, own, "the copy has the figures of theirs");
}

fn keep() -> impl Strategy<Value = Keep> {
    prop::sample::select(vec![Keep::Mine, Keep::Theirs, Keep::Both])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever is chosen: what is there keeps its id and place, everything referred to is there, and what was taken can
    /// be saved and opened.
    #[test]
    fn prop_any_choice_leaves_a_whole_bundle(choices in prop::collection::vec(keep(), 6)) {
        let (mine, theirs) = (demo(), theirs());
        let at = |list: List| List::ALL.iter().position(|one| *one == list).unwrap_or_default() % choices.len();
        let result = merge_with(&mine, &theirs, &|list, _| choices[at(list)]);
        for list in List::ALL {
            let (before, after) = (list.names(&mine), list.names(&result.bundle));
            prop_assert!(before.iter().zip(&after).all(|(before, after)| before.0 == after.0));
            if choices[at(list)] != Keep::Theirs {
                prop_assert_eq!(&after[..before.len()], &before[..]);
            }
        }
        let text = liftmargin_document::save(&result.bundle).expect("can be saved");
        prop_assert_eq!(open_strict(&text).expect("opens"), result.bundle.clone());
        prop_assert!(report(&result.bundle).is_ok());
    }
}
