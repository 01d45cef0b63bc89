//! Texts damaged on the disk, for each kind of record: what is whole is there, the damage is told, no text is destroyed.

use std::collections::BTreeMap;

use liftmargin_document::keep::Envelope;
use liftmargin_document::merge::merge;
use liftmargin_document::model::{Bundle, Item};
use liftmargin_document::open;
use liftmargin_document::record::List;
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

use crate::keep::{Database, Tab, kept, runs};

/// A file in which each list has records.
pub(crate) fn everything() -> Bundle {
    let bundle = open(include_str!("../saved/every-record.json")).expect("the saved file opens").bundle;
    for list in List::ALL {
        assert!(!list.names(&bundle).is_empty(), "the saved file has no {}", list.key());
    }
    bundle
}

/// The same kept, one record of each list twice over: that one has a copy before.
pub(crate) fn everything_with_copies() -> (Bundle, Database) {
    let mut database = kept(&everything());
    let mut tab = Tab::open(&database, "tab");
    for list in List::ALL {
        let (id, name) = list.names(&tab.bundle).swap_remove(0);
        list.set_name(&mut tab.bundle, &id, format!("{name}, again"));
    }
    tab.save(&mut database);
    (tab.bundle, database)
}

/// Every stored text cut, flipped, emptied, replaced by another shape or a newer schema, for each kind of record: the others
/// are there, the previous copy stands in where there is one, the damage is told, and saving again destroys no text.
#[test]
fn prop_a_damaged_text_hides_no_other() {
    let mut random = Pcg64Mcg::seed_from_u64(7);
    let (whole, database) = everything_with_copies();
    let all = by_key(&whole);
    let mut tried: BTreeMap<(&str, usize), u32> = BTreeMap::new();
    for trial in 0..runs(500) as usize {
        // Each way of harm with each list.
        let list = List::ALL[trial / DAMAGES % List::ALL.len()];
        let keys: Vec<&String> =
            all.keys().filter(|key| key.starts_with(&format!("{}/", list.key()))).collect();
        let key = keys[random.random_range(0..keys.len())];
        let mut hurt = database.clone();
        let text = damage(trial, key, &database.now[key], &mut random);
        if text == database.now[key] {
            continue;
        }
        *tried.entry((list.key(), trial % DAMAGES)).or_default() += 1;
        hurt.now.insert(key.clone(), text.clone());
        let (_, loaded) = hurt.load("reader");
        assert!(!loaded.is_empty);
        assert_eq!(loaded.aside.len(), 1, "trial {trial}: {text}");
        assert!(!loaded.aside[0].record.words.is_empty());
        let stands_in = hurt.previous.contains_key(key) && trial % DAMAGES < 3;
        let found = by_key(&loaded.bundle);
        assert_eq!(found.contains_key(key), stands_in, "trial {trial} {key} {text}");
        for (other, record) in all.iter().filter(|(other, _)| *other != key) {
            assert_eq!(found.get(other), Some(record), "trial {trial}: {key} is harmed, {other} differs");
        }
        // What was lost comes in again from a file; for things, another one takes its name.
        let mut again = Tab::open(&hurt, "again");
        match key.split_once('/') {
            Some(("items", id)) if !stands_in => {
                again.bundle.items.push(Item {
                    id: id.to_owned(),
                    name: "new".to_owned(),
                    ..Item::default()
                });
            }
            _ => again.bundle = merge(&again.bundle, &whole).bundle,
        }
        again.save(&mut hurt);
        assert!(is_kept(&hurt, &text), "trial {trial}: {text}");
        let twice = Tab::open(&hurt, "twice").keeper.changes(&Tab::open(&hurt, "twice").bundle).0;
        assert!(twice.len() <= 1, "what is set aside does not pile up");
    }
    println!("harmed texts, by list and way: {tried:?}");
}

/// Whether the record in a harmed text still stands somewhere, as it was or as a text in a record set aside.
pub(crate) fn is_kept(database: &Database, text: &str) -> bool {
    let all = format!("{database:?}");
    let record = text.split_once('\n').map_or(text, |(_, record)| record);
    let shown = format!("{record:?}");
    let quoted = serde_json::to_string(record).expect("a text is JSON");
    let quoted = format!("{quoted:?}");
    all.contains(shown.trim_matches('"')) || all.contains(&quoted[3..quoted.len() - 3])
}

/// Each record under the key that it is kept under.
fn by_key(bundle: &Bundle) -> BTreeMap<String, serde_json::Value> {
    let file = serde_json::to_value(bundle).expect("a bundle is JSON");
    let of = |list: List| {
        let records = file[list.key()].as_array().cloned().unwrap_or_default();
        records
            .into_iter()
            .map(move |record| (format!("{}/{}", list.key(), record["id"].as_str().unwrap_or("")), record))
    };
    List::ALL.into_iter().flat_map(of).collect()
}

/// Ways of harm: cut, a bit flipped, emptied, another shape, a newer schema.
pub(crate) const DAMAGES: usize = 5;

pub(crate) fn damage(trial: usize, key: &str, text: &str, random: &mut Pcg64Mcg) -> String {
    let mut envelope = Envelope::read(key, text).expect("it was whole");
    match trial % DAMAGES {
        0 => {
            let mut end = random.random_range(0..text.len());
            while !text.is_char_boundary(end) {
                end -= 1;
            }
            text[..end].to_owned()
        }
        1 => {
            let mut bytes = text.as_bytes().to_vec();
            let place = random.random_range(0..bytes.len());
            bytes[place] ^= 1 << random.random_range(0..7);
            String::from_utf8(bytes).unwrap_or_default()
        }
        2 => String::new(),
        3 => {
            envelope.text =
                Some(["[1, 2]", "null", "\"text\"", "{\"id\": 7}"][random.random_range(0..4)].to_owned());
            envelope.write(key)
        }
        _ => {
            envelope.schema = 99;
            envelope.write(key)
        }
    }
}
