//! What a browser keeps, with the database and the tabs played by hand: nothing that was entered is lost.

#![allow(clippy::float_cmp, reason = "a kept number comes back as it was, bit by bit")]

use std::collections::BTreeMap;

use liftmargin_document::keep::{Change, Decision, Journal, Keeper, LATE, Late, Loaded, Row, needed_at_once};
use liftmargin_document::model::{Bundle, Item};
use liftmargin_document::record::{List, Record as _};
use liftmargin_document::{edit, open};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

/// The database: what stands under a key, and its previous copy.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Database {
    pub(crate) now: BTreeMap<String, String>,
    pub(crate) previous: BTreeMap<String, String>,
}

impl Database {
    pub(crate) fn rows(&self) -> Vec<Row> {
        let keys: std::collections::BTreeSet<&String> = self.now.keys().chain(self.previous.keys()).collect();
        let row = |key: &String| Row {
            key: key.clone(),
            now: self.now.get(key).cloned(),
            previous: self.previous.get(key).cloned(),
        };
        keys.into_iter().map(row).collect()
    }

    fn put(&mut self, put: &liftmargin_document::keep::Put) {
        self.now.insert(put.key.clone(), put.now.clone());
        if let Some(previous) = &put.previous {
            self.previous.insert(put.key.clone(), previous.clone());
        }
    }

    pub(crate) fn put_all(&mut self, puts: &[liftmargin_document::keep::Put]) {
        for put in puts {
            self.put(put);
        }
    }

    /// As a page does it: what is needed at once, then the rest part by part.
    pub(crate) fn load(&self, writer: &str) -> (Keeper, Loaded) {
        let (mut keeper, mut loaded) = self.load_first(writer);
        for part in LATE {
            let late = self.read_late(&keeper, part);
            let (bundle, _, aside) = keeper.take_late(&loaded.bundle, late);
            loaded.bundle = bundle;
            loaded.aside.extend(aside);
        }
        (keeper, loaded)
    }

    /// What is read before the first card.
    pub(crate) fn load_first(&self, writer: &str) -> (Keeper, Loaded) {
        let pairs: Vec<_> = self.now.iter().map(|(key, text)| (key.clone(), Some(text.clone()))).collect();
        let needed = needed_at_once(&pairs);
        let is_first = |row: &Row| {
            let is_of = |part: &[List]| is_of(part, &row.key);
            match &needed {
                None => !is_of(LATE[1]),
                Some(needed) => needed.contains(&row.key) || !LATE.into_iter().any(is_of),
            }
        };
        Keeper::load(writer, &self.rows().into_iter().filter(is_first).collect::<Vec<_>>())
    }

    /// A part of what is read after it.
    pub(crate) fn read_late(&self, keeper: &Keeper, part: &[List]) -> Late {
        let rows = self.rows();
        let rows: Vec<&Row> =
            rows.iter().filter(|row| is_of(part, &row.key) && !keeper.knows(&row.key)).collect();
        let mut late = Late::default();
        for row in &rows {
            late.read(&row.key, row.now.as_deref());
        }
        let unread = late.unread();
        for row in rows.iter().filter(|row| unread.contains(&row.key)) {
            late.read_previous(&row.key, row.previous.as_deref());
        }
        late
    }

    /// One transaction.
    pub(crate) fn commit(&mut self, changes: &[Change]) -> Vec<Decision> {
        let decided: Vec<Decision> = changes
            .iter()
            .map(|change| change.decide(self.now.get(&change.key).map(String::as_str)))
            .collect();
        for decision in &decided {
            if let Decision::Write(put, _) = decision {
                self.put(put);
            }
        }
        decided
    }
}

fn is_of(part: &[List], key: &str) -> bool {
    part.iter().any(|list| key.starts_with(&format!("{}/", list.key())))
}

/// A tab: what it knows, what it shows.
pub(crate) struct Tab {
    pub(crate) keeper: Keeper,
    pub(crate) bundle: Bundle,
    /// Keys that others said they wrote, not looked at yet.
    pub(crate) told: Vec<String>,
}

impl Tab {
    pub(crate) fn open(database: &Database, name: &str) -> Self {
        let (keeper, loaded) = database.load(name);
        Self { keeper, bundle: loaded.bundle, told: Vec::new() }
    }

    pub(crate) fn save(&mut self, database: &mut Database) -> Vec<String> {
        self.keeper.keep_conflicts(&self.bundle);
        let (changes, refused) = self.keeper.changes(&self.bundle);
        assert!(refused.is_empty());
        let decisions = database.commit(&changes);
        let written =
            changes.iter().zip(&decisions).filter(|(_, decision)| matches!(decision, Decision::Write(..)));
        let written = written.map(|(change, _)| change.key.clone()).collect();
        let unseen = self.keeper.wrote(&self.bundle, &changes, decisions);
        self.told.extend(unseen);
        if self.keeper.has_conflicts() {
            self.keeper.keep_conflicts(&self.bundle);
            let (changes, _) = self.keeper.changes(&self.bundle);
            let decisions = database.commit(&changes);
            self.keeper.wrote(&self.bundle, &changes, decisions);
        }
        written
    }

    pub(crate) fn pull(&mut self, database: &Database) {
        let rows: Vec<(String, Option<String>)> =
            self.told.drain(..).map(|key| (key.clone(), database.now.get(&key).cloned())).collect();
        self.bundle = self.keeper.pull(&self.bundle, &rows).bundle;
    }
}

/// What one has written the others hear of.
pub(crate) fn tell_others(tabs: &mut [Tab], who: usize, written: &[String]) {
    let others = tabs.iter_mut().enumerate().filter(|(other, _)| *other != who);
    others.for_each(|(_, other)| other.told.extend_from_slice(written));
}

/// The note that a page leaves of what is not on the disk yet, as it is read again.
pub(crate) fn journal(tab: &Tab) -> Journal {
    let written = Journal::write(&tab.keeper.changes(&tab.bundle).0);
    Journal::read(&written).expect("it was written")
}

/// So many runs, ten times as many in `cargo xtask endure`.
pub(crate) fn runs(usual: u64) -> u64 {
    if std::env::var_os("LIFTMARGIN_ENDURE").is_some() { usual * 10 } else { usual }
}

pub(crate) fn demo() -> Bundle {
    open(DEMO).expect("the demo opens").bundle
}

pub(crate) fn kept(bundle: &Bundle) -> Database {
    let mut database = Database::default();
    let mut tab = Tab::open(&database, "first");
    tab.bundle = bundle.clone();
    tab.save(&mut database);
    database
}

#[test]
fn prop_what_is_kept_comes_back_in_its_order() {
    let mut random = Pcg64Mcg::seed_from_u64(1);
    let mut database = kept(&demo());
    let mut tab = Tab::open(&database, "tab");
    assert_eq!(tab.bundle, demo());
    for step in 0..400 {
        change(&mut tab.bundle, &mut random, &format!("step {step}"));
        tab.save(&mut database);
        let (_, loaded) = database.load("reader");
        assert_eq!(loaded.bundle, tab.bundle, "step {step}");
        assert!(loaded.aside.is_empty());
    }
}

#[test]
fn regress_an_edit_writes_its_own_record_alone() {
    let mut database = kept(&demo());
    let mut tab = Tab::open(&database, "tab");
    assert!(tab.save(&mut database).is_empty(), "what was only read is not written");
    tab.bundle.items[1].mass_kg += 1.0;
    assert_eq!(tab.save(&mut database), [format!("items/{}", tab.bundle.items[1].id)]);
    let (bundle, id) =
        edit::copy(List::Items, &tab.bundle, &tab.bundle.items[0].id, "copy").expect("it is there");
    tab.bundle = bundle;
    assert_eq!(tab.save(&mut database), [format!("items/{id}")]);
}

/// A random edit on the items; gives the word it wrote and the one it wrote over.
pub(crate) fn change(bundle: &mut Bundle, random: &mut Pcg64Mcg, word: &str) -> Option<String> {
    let count = bundle.items.len();
    match random.random_range(0..10) {
        0 => {
            let place = random.random_range(0..=count);
            let id = format!("new-{}", word.replace(' ', "-"));
            bundle.items.insert(place, Item { id, name: word.to_owned(), ..Item::default() });
            None
        }
        1 if count > 4 => {
            let place = random.random_range(0..count);
            Some(bundle.items.remove(place).name)
        }
        2 if count > 1 => {
            let (a, b) = (random.random_range(0..count), random.random_range(0..count));
            bundle.items.swap(a, b);
            None
        }
        _ if count > 0 => {
            let place = random.random_range(0..count);
            Some(core::mem::replace(&mut bundle.items[place].name, word.to_owned()))
        }
        _ => None,
    }
}

/// Two and three tabs that edit, save, hear of each other late, die and come back: an edit may be replaced only by one
/// that was made in its sight, or the crew is told with both.
#[test]
fn prop_tabs_lose_nothing_in_silence() {
    for seed in 0..runs(40) {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let mut start = demo();
        start.items.truncate(3 + seed as usize % 3);
        let mut database = kept(&start);
        let count = 2 + seed as usize % 2;
        let mut tabs: Vec<Tab> =
            (0..count).map(|number| Tab::open(&database, &format!("tab{number}"))).collect();
        let mut entered: Vec<String> = Vec::new();
        let mut replaced: Vec<String> = Vec::new();
        for step in 0..60 {
            let which = random.random_range(0..count);
            let tab = &mut tabs[which];
            match random.random_range(0..10) {
                0..5 => {
                    let word = format!("word {seed} {step}");
                    let before: Vec<String> = tab.bundle.items.iter().map(|item| item.name.clone()).collect();
                    replaced.extend(change(&mut tab.bundle, &mut random, &word));
                    let is_new = |item: &Item| item.name == word && !before.contains(&word);
                    if tab.bundle.items.iter().any(is_new) {
                        entered.push(word);
                    }
                }
                5..8 => {
                    let written = tab.save(&mut database);
                    tell_others(&mut tabs, which, &written);
                }
                8 => tab.pull(&database),
                _ => {
                    tab.save(&mut database);
                    tabs[which] = Tab::open(&database, &format!("tab{which}-{step}"));
                }
            }
        }
        for tab in &mut tabs {
            tab.save(&mut database);
        }
        let (_, loaded) = database.load("reader");
        for word in entered.iter().filter(|word| !replaced.contains(word)) {
            let quoted = format!("\"{word}\"");
            let there = loaded.bundle.items.iter().any(|item| item.name == *word);
            let told = loaded.aside.iter().any(|aside| aside.record.text.contains(&quoted));
            assert!(there || told, "seed {seed}: {word} is lost");
        }
    }
}

#[test]
fn regress_another_tabs_record_comes_in_and_an_undo_leaves_it() {
    let mut database = kept(&demo());
    let (mut a, mut b) = (Tab::open(&database, "a"), Tab::open(&database, "b"));
    let before = b.bundle.clone();
    b.bundle.items[0].mass_kg = 7.0;
    b.save(&mut database);
    a.bundle.items[1].mass_kg = 9.0;
    let told = a.save(&mut database);
    let rows: Vec<_> = told.iter().map(|key| (key.clone(), database.now.get(key).cloned())).collect();
    let pulled = b.keeper.pull(&b.bundle, &rows);
    assert_eq!((pulled.bundle.items[0].mass_kg, pulled.bundle.items[1].mass_kg), (7.0, 9.0));
    let mut undone = before.clone();
    pulled.follow(&mut undone);
    b.bundle = undone;
    b.save(&mut database);
    let (_, loaded) = database.load("reader");
    let masses = (loaded.bundle.items[0].mass_kg, loaded.bundle.items[1].mass_kg);
    assert_eq!(masses, (before.items[0].mass_kg, 9.0));
}

#[test]
fn regress_the_same_record_is_told_with_both_values_and_either_may_stand() {
    for mine in [true, false] {
        let mut database = kept(&demo());
        let (mut a, mut b) = (Tab::open(&database, "a"), Tab::open(&database, "b"));
        a.bundle.items[0].mass_kg = 1.25;
        a.save(&mut database);
        b.bundle.items[0].mass_kg = 1.5;
        b.save(&mut database);
        let told = b.keeper.conflicts(&b.bundle);
        assert_eq!(told.len(), 1);
        let (_, here, there) = &told[0].differences[0];
        assert_eq!((here.as_str(), there.as_str()), ("1.5", "1.25"));
        assert_eq!(database.load("reader").1.aside.len(), 1, "this tab's value is kept beside the other");
        b.bundle = b.keeper.settle(&b.bundle, &told[0].key, mine).bundle;
        b.save(&mut database);
        let (_, loaded) = database.load("reader");
        assert_eq!(loaded.bundle.items[0].mass_kg, if mine { 1.5 } else { 1.25 });
        assert!(loaded.aside.is_empty());
        assert!(b.keeper.conflicts(&b.bundle).is_empty());
    }
}

#[test]
fn regress_a_journal_is_the_last_word_of_a_page_that_was_left() {
    let mut database = kept(&demo());
    let mut tab = Tab::open(&database, "tab");
    tab.bundle.items[0].mass_kg = 3.25;
    let journal = journal(&tab);
    let mut rows = database.rows();
    let puts = journal.replay(&mut rows);
    database.put_all(&puts);
    assert_eq!(database.load("reader").1.bundle, tab.bundle);
    assert!(journal.replay(&mut database.rows()).is_empty(), "the second time there is nothing to do");
    // Another tab wrote the same record in the meantime.
    let mut other = Tab::open(&database, "other");
    other.bundle.items[0].mass_kg = 5.0;
    other.save(&mut database);
    let puts = journal.replay(&mut database.rows());
    database.put_all(&puts);
    let (_, loaded) = database.load("reader");
    assert_eq!(loaded.bundle.items[0].mass_kg, 5.0);
    assert!(loaded.aside[0].record.text.contains("3.25"));
    assert!(Journal::read("1234 []").is_none());
}

#[test]
fn regress_fields_of_a_newer_version_are_kept_through_an_older_one() {
    let mut bundle = demo();
    bundle.extra.insert("kites".to_owned(), serde_json::json!([{"id": "k"}]));
    bundle.items[0].extra.insert("colour".to_owned(), "red".into());
    let mut database = kept(&bundle);
    let mut tab = Tab::open(&database, "old");
    tab.bundle.items[0].mass_kg = 1.75;
    tab.save(&mut database);
    let (_, loaded) = database.load("reader");
    assert_eq!(loaded.bundle.extra, bundle.extra);
    assert_eq!(loaded.bundle.items[0].extra, bundle.items[0].extra);
    assert_eq!(Item::find(&loaded.bundle, &bundle.items[0].id).map(|(_, item)| item.mass_kg), Some(1.75));
}
