//! A what-if changes a copy and nothing else.

use liftmargin_document::DocumentError;
use liftmargin_document::model::{Bundle, PackRef, PackString, Setup};
use liftmargin_document::whatif::{Change, WhatIf, apply};
use proptest::prelude::*;

use super::sample;

/// Mass of the payload on board in kilograms.
fn payload_kg(bundle: &Bundle, setup: &Setup) -> f64 {
    let on = setup.load.iter().filter(|load| load.on);
    on.filter_map(|load| bundle.items.iter().find(|item| item.id == load.item)).map(|item| item.mass_kg).sum()
}

fn string(types: &[&str]) -> PackString {
    let packs = types.iter().map(|id| PackRef::Type((*id).to_owned())).collect();
    PackString { packs, ..PackString::default() }
}

fn changes() -> [Change; 7] {
    let id = str::to_owned;
    [
        Change::Swap { from: id("lens-a"), to: id("lens-b") },
        Change::Add { item: id("lens-b") },
        Change::Leave { item: id("head") },
        Change::ItemMass { item: id("body"), mass_kg: 2.4 },
        Change::ExtraMass { mass_kg: 1.5, position_m: [0.1, 0.0, 0.2] },
        Change::Packs { strings: vec![string(&["five", "five"])] },
        Change::Site { site: id("valley") },
    ]
}

#[test]
fn regress_each_change_shows_on_the_scale() {
    // 2.9 + 1.9 + 0.6 kg on board; the changed sum is worked out by hand from the file.
    let expected = [6.7, 7.3, 2.5, 5.9, 6.9, 5.4, 5.4];
    for (change, expected) in changes().into_iter().zip(expected) {
        let what_if = WhatIf { changes: vec![change.clone()] };
        let after = apply(&sample(), "light", &what_if).expect("applies");
        let payload = payload_kg(&after, &after.setups[0]);
        assert!((payload - expected).abs() < 1e-9, "{change:?}: {payload}, expected {expected}");
    }
}

#[test]
fn regress_packs_and_site_are_changed() {
    let [.., packs, site] = changes();
    let after = apply(&sample(), "light", &WhatIf { changes: vec![packs, site] }).expect("applies");
    assert_eq!(after.setups[0].supply.strings, [string(&["five", "five"])]);
    assert_eq!(after.setups[0].site, "valley");
}

#[test]
fn regress_a_change_to_nothing_is_refused() {
    let id = str::to_owned;
    let table = [
        (Change::Swap { from: id("lens-b"), to: id("lens-a") }, "changes[0].from"),
        (Change::Swap { from: id("lens-a"), to: id("lens-z") }, "changes[0].to"),
        (Change::Add { item: id("") }, "changes[0].item"),
        (Change::Leave { item: id("lens-b") }, "changes[0].item"),
        (Change::ItemMass { item: id("body"), mass_kg: f64::NAN }, "changes[0].mass_kg"),
        (Change::ExtraMass { mass_kg: 61.0, position_m: [0.0; 3] }, "changes[0].mass_kg"),
        (Change::ExtraMass { mass_kg: 1.0, position_m: [0.0, 9.0, 0.0] }, "changes[0].position_m[1]"),
        (Change::Packs { strings: vec![string(&["seven"])] }, "changes[0].strings[0].packs[0]"),
        (Change::Site { site: id("sea") }, "changes[0].site"),
    ];
    for (change, field) in table {
        let error = apply(&sample(), "light", &WhatIf { changes: vec![change] }).expect_err(field);
        assert_eq!(error.field(), field);
    }
    let nobody = apply(&sample(), "nobody", &WhatIf::default());
    assert!(matches!(nobody, Err(DocumentError::UnknownReference { .. })));
}

proptest! {
    #[test]
    fn prop_the_saved_setup_is_never_changed(picks in prop::collection::vec(0..7usize, 0..6)) {
        let (before, all) = (sample(), changes());
        let what_if = WhatIf { changes: picks.iter().map(|pick| all[*pick].clone()).collect() };
        // Some sequences cannot be applied (an item left out twice); those change nothing either.
        if let Ok(after) = apply(&before, "light", &what_if) {
            prop_assert_eq!(&after.setups[1], &before.setups[1]);
            prop_assert_eq!(&after.airframes, &before.airframes);
            prop_assert_eq!(after == before, picks.is_empty());
        }
        prop_assert_eq!(before, sample());
    }
}
