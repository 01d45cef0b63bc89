//! A database that does not answer in time: what was written nevertheless is this tab's own word, no other tab's.

use liftmargin_document::keep::Row;
use liftmargin_document::model::Bundle;
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

use crate::keep::{Database, Tab, change, demo, journal, kept, runs};

/// Gives the changes to the database and hears nothing of it; with `lands` they are written all the same.
fn send(tab: &mut Tab, database: &mut Database, lands: bool) {
    let (changes, refused) = tab.keeper.changes(&tab.bundle);
    assert!(refused.is_empty());
    tab.keeper.sends(&changes);
    if lands {
        let _ = database.commit(&changes);
    }
}

/// Looks what became of it, as before each next writing.
fn look(tab: &mut Tab, database: &Database) -> usize {
    let keys = tab.keeper.unsettled();
    let rows: Vec<_> = keys.into_iter().map(|key| (key.clone(), database.now.get(&key).cloned())).collect();
    let pulled = tab.keeper.pull(&tab.bundle, &rows);
    tab.bundle = pulled.bundle;
    pulled.records.len()
}

fn seen(database: &Database) -> Bundle {
    let (_, loaded) = database.load("reader");
    assert!(loaded.aside.is_empty(), "nothing is set aside: {:?}", loaded.aside);
    loaded.bundle
}

#[test]
fn prop_a_write_that_was_not_waited_for_is_no_other_tabs_edit() {
    for seed in 0..runs(30) {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let mut database = kept(&demo());
        let mut tab = Tab::open(&database, "tab");
        for step in 0..12 {
            let before = tab.bundle.clone();
            change(&mut tab.bundle, &mut random, &format!("step {step}"));
            send(&mut tab, &mut database, random.random_bool(0.6));
            match random.random_range(0..3) {
                // Taken back before it is known.
                0 => tab.bundle = before,
                1 => drop(change(&mut tab.bundle, &mut random, &format!("later {step}"))),
                _ => {}
            }
            let shown = tab.bundle.clone();
            assert_eq!(look(&mut tab, &database), 0, "seed {seed}: nothing comes in");
            assert_eq!(tab.bundle, shown, "seed {seed}");
            assert!(tab.keeper.unsettled().is_empty());
            tab.save(&mut database);
            assert!(!tab.keeper.has_conflicts(), "seed {seed}");
            assert_eq!(seen(&database), shown, "seed {seed}, step {step}");
        }
    }
}

#[test]
fn prop_a_page_left_while_writing_leaves_its_last_word() {
    for seed in 0..runs(30) {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let mut database = kept(&demo());
        let mut tab = Tab::open(&database, "tab");
        change(&mut tab.bundle, &mut random, "first");
        send(&mut tab, &mut database, seed % 2 == 0);
        tab.bundle.items[0].mass_kg = 3.25;
        let journal = journal(&tab);
        let mut rows: Vec<Row> = database.rows();
        let puts = journal.replay(&mut rows);
        database.put_all(&puts);
        assert_eq!(seen(&database), tab.bundle, "seed {seed}");
    }
}

#[test]
fn regress_an_old_journal_does_not_take_back_a_later_word() {
    let mut database = kept(&demo());
    let mut tab = Tab::open(&database, "tab");
    tab.bundle.items[0].mass_kg = 3.25;
    let journal = journal(&tab);
    tab.bundle.items[0].mass_kg = 4.5;
    tab.save(&mut database);
    database.put_all(&journal.replay(&mut database.rows()));
    assert_eq!(database.load("reader").1.bundle, tab.bundle);
}
