//! Import never loses or overwrites; edits can be taken back.

use liftmargin_document::DocumentError;
use liftmargin_document::edit::{copy, delete, new_setup};
use liftmargin_document::merge::merge;
use liftmargin_document::model::{Bundle, Item, Pack, PackRef};
use liftmargin_document::open_strict;
use liftmargin_document::record::{List, closed, fresh_id};
use liftmargin_document::resolve;
use proptest::prelude::*;

use super::{file_of, sample};

/// Items by content, whatever their id.
fn holds(bundle: &Bundle, item: &Item) -> bool {
    bundle.items.iter().any(|there| Item { id: item.id.clone(), ..there.clone() } == *item)
}

proptest! {
    // Each case reads and writes a whole file.
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn prop_a_merge_keeps_everything(masses in prop::collection::vec(0.0..60.0, 4), site_wind in 0.0..30.0) {
        let (into, mut from) = (sample(), sample());
        from.items.iter_mut().zip(masses).for_each(|(item, mass_kg)| item.mass_kg = mass_kg);
        from.sites[0].wind_m_s = site_wind;
        let result = merge(&into, &from);
        // What was there stands where it stood.
        prop_assert_eq!(&result.bundle.items[..into.items.len()], &into.items[..]);
        prop_assert_eq!(&result.bundle.setups[..into.setups.len()], &into.setups[..]);
        prop_assert!(from.items.iter().all(|item| holds(&result.bundle, item)));
        // The imported setup still carries its own masses.
        let imported = result.bundle.setups.last().expect("a setup");
        for (load, old) in imported.load.iter().zip(&from.setups[0].load) {
            let mass = |bundle: &Bundle, id: &str| bundle.items.iter().find(|i| i.id == id).map(|i| i.mass_kg);
            prop_assert_eq!(mass(&result.bundle, &load.item), mass(&from, &old.item));
        }
        prop_assert!(open_strict(&file_of(&result.bundle)).is_ok());
        // The same file again adds nothing.
        let again = merge(&result.bundle, &from);
        prop_assert_eq!(again.added, 0);
        prop_assert_eq!(again.bundle, result.bundle);
    }
}

#[test]
fn regress_merging_into_nothing_and_nothing_in() {
    let all = merge(&Bundle::new(), &sample());
    assert_eq!((all.bundle, all.added, all.skipped, all.renamed), (sample(), 12, 0, vec![]));
    let none = merge(&sample(), &sample());
    assert_eq!((none.bundle, none.added, none.skipped, none.renamed), (sample(), 0, 12, vec![]));
}

#[test]
fn regress_a_clashing_pack_takes_its_setup_along() {
    let mut from = sample();
    from.pack_types[0].cycles = 90;
    let result = merge(&sample(), &from);
    assert_eq!(result.renamed.len(), 2, "the pack and the setup that flies it");
    let imported = result.bundle.setups.last().expect("a setup");
    assert_eq!(imported.supply.strings[1].packs, vec![PackRef::Type("six-2".to_owned()); 2]);
    assert_eq!(imported.id, "light-2");
}

#[test]
fn regress_fresh_ids_are_free() {
    let taken = |ids: &[&str]| ids.iter().map(|id| ((*id).to_owned(), String::new())).collect::<Vec<_>>();
    assert_eq!(fresh_id(&[], "setup"), "setup");
    assert_eq!(fresh_id(&taken(&["setup", "setup-2", "setup-4"]), "setup"), "setup-3");
    assert_eq!(fresh_id(&taken(&["id"]), ""), "id-2");
}

#[test]
fn regress_a_new_setup_can_be_kept_unfinished_and_takes_the_only_choices() {
    let (bundle, id) = new_setup(&Bundle::new(), "Tomorrow");
    assert_eq!((bundle.setups[0].id.as_str(), bundle.setups[0].airframe.as_str()), (id.as_str(), ""));
    assert_eq!(open_strict(&file_of(&bundle)), Ok(bundle), "unfinished work can be kept");
    let mut one_site = sample();
    one_site.sites.truncate(1);
    let (bundle, _) = new_setup(&one_site, "Tomorrow");
    assert_eq!(bundle.setups.last().map(|setup| setup.site.clone()), Some(one_site.sites[0].id.clone()));
}

#[test]
fn regress_a_copy_stands_beside_its_original() {
    let (mut bundle, id) = copy(List::Setups, &sample(), "light", "Light again").expect("copies");
    assert_eq!((bundle.setups[1].id.as_str(), id.as_str()), ("light-2", "light-2"));
    assert_eq!(bundle.setups[1].name, "Light again");
    assert_eq!(bundle.setups[1].load, bundle.setups[0].load);
    List::Items.set_name(&mut bundle, "lens-a", "Lens A".to_owned());
    assert_eq!(List::Items.name(&bundle, "lens-a").as_deref(), Some("Lens A"));
    let unknown = copy(List::Sites, &bundle, "sea", "Sea").expect_err("unknown");
    assert_eq!((unknown.field(), unknown.value().as_str()), ("sites", "sea"));
}

#[test]
fn regress_what_a_setup_uses_is_not_deleted() {
    let bundle = sample();
    let used = [
        (List::Airframes, "eight"),
        (List::PackTypes, "six"),
        (List::Items, "lens-b"),
        (List::Sites, "pass"),
    ];
    for (list, id) in used {
        let error = delete(list, &bundle, id).expect_err("refused");
        assert!(
            matches!(&error, DocumentError::InUse { used_by, .. } if used_by == &["Light lens on the pass"]),
            "{error}"
        );
    }
    let without = delete(List::PackTypes, &bundle, "five").expect("deletes");
    assert_eq!(without.pack_types.len() + 1, bundle.pack_types.len());
    assert!(delete(List::Setups, &without, "light").is_ok_and(|left| left.setups.len() == 1));
}

/// The sample with one pack of its own on board of the first setup.
fn with_a_single_pack() -> Bundle {
    let mut bundle = sample();
    bundle.packs.push(Pack {
        id: "six-07".to_owned(),
        name: "Six cells, number 7".to_owned(),
        pack_type: "six".to_owned(),
        cycles: 120,
        ..Pack::default()
    });
    bundle.setups[0].supply.strings[1].packs[0] = PackRef::Pack("six-07".to_owned());
    bundle
}

#[test]
fn regress_a_single_pack_is_used_by_setups_and_uses_its_type() {
    let mut bundle = with_a_single_pack();
    assert!(delete(List::Packs, &bundle, "six-07").is_err());
    let users = List::PackTypes.used_by(&bundle, "six");
    assert_eq!(users.iter().map(|(list, _)| *list).collect::<Vec<_>>(), [List::Packs, List::Setups]);
    // Another pack of the same id comes in beside it, with the setup that flies it.
    let before = bundle.clone();
    bundle.packs[0].cycles = 3;
    bundle.pack_types[0].mass_kg = 1.9;
    let merged = merge(&before, &bundle).bundle;
    let ids: Vec<_> = merged.packs.iter().map(|pack| (pack.id.as_str(), pack.pack_type.as_str())).collect();
    assert_eq!(ids, [("six-07", "six"), ("six-07-2", "six-2")]);
    let flown = &merged.setups.last().expect("the imported setup").supply.strings;
    assert_eq!(flown[1].packs[0], PackRef::Pack("six-07-2".to_owned()));
    assert_eq!(flown[0].packs[0], PackRef::Type("six-2".to_owned()));
}

#[test]
fn regress_one_setup_goes_out_with_exactly_what_it_needs() {
    let bundle = with_a_single_pack();
    let alone = closed(&bundle, "light").expect("it is there");
    let counts = List::ALL.map(|list| list.names(&alone).len());
    assert_eq!(counts[..6], [1, 1, 1, 4, 1, 1], "no odd airframe, no five cells, no valley");
    assert_eq!(open_strict(&file_of(&alone)), Ok(alone.clone()));
    let (mut whole, mut part) = (bundle, alone);
    for one in [&mut whole, &mut part] {
        one.airframes[0].propulsion.bench = None;
    }
    assert_eq!(resolve(&part, "light"), resolve(&whole, "light"));
    assert!(closed(&part, "unfinished").is_err());
}
