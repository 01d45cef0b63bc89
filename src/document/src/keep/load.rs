//! Everything read: what is whole comes into the bundle, the rest is told and stays where it is.

use core::cmp::Ordering;
use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::envelope::Envelope;
use super::journal::name_in;
use super::keeper::{Known, usual_key};
use super::late::ALOFT;
use super::order::on_the_list;
use super::{Aside, BROKEN, EXTRA, Keeper, RESCUED, Rescued};
use crate::migrate;
use crate::model::{Bundle, SCHEMA};
use crate::open::{BrokenRecord, give_ids};
use crate::record::List;

/// What stands under one key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The key.
    pub key: String,
    /// What is stored, if it is a text at all.
    pub now: Option<String>,
    /// Its previous copy.
    pub previous: Option<String>,
}

/// What was found.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Loaded {
    /// All that is whole.
    pub bundle: Bundle,
    /// Records that could not be read, or not in their newest copy.
    pub aside: Vec<Aside>,
    /// Texts of earlier that could not be read at all.
    pub rescued: Vec<Rescued>,
    /// Nothing was ever kept here.
    pub is_empty: bool,
}

impl Keeper {
    /// Reads all rows of the database. Nothing is lost by it: what cannot be read stays as it is until the crew lets it go.
    pub fn load(writer: &str, rows: &[Row]) -> (Self, Loaded) {
        let mut keeper = Self::new(writer);
        let mut loaded = Loaded { is_empty: rows.is_empty(), ..Loaded::default() };
        let mut records: BTreeMap<u32, Vec<(String, Envelope)>> = BTreeMap::new();
        for row in rows {
            // Nothing of the crew's: it is made anew.
            if row.key == ALOFT && Envelope::read(&row.key, row.now.as_deref().unwrap_or_default()).is_err() {
                continue;
            }
            let Some(envelope) = keeper.whole(row, &mut loaded) else { continue };
            keeper.known.insert(row.key.clone(), Known::of(&envelope));
            if envelope.text.is_none() {
                continue;
            }
            if keeper.is_beside(&row.key, &envelope, &mut loaded) {
                continue;
            }
            records.entry(envelope.schema).or_default().push((row.key.clone(), envelope));
        }
        for (schema, mut records) in records {
            records.sort_by(|(a_key, a), (b_key, b)| on_the_list((a.position, a_key), (b.position, b_key)));
            match schema.cmp(&SCHEMA) {
                Ordering::Equal => keeper.take(records, &mut loaded),
                Ordering::Greater => {
                    let words = "written by a newer version of this app; it is kept for it";
                    keeper.reserve_all(&records, words, &mut loaded);
                }
                Ordering::Less => keeper.take_lifted(schema, records, &mut loaded),
            }
        }
        keeper.number(&mut loaded.bundle);
        (keeper, loaded)
    }

    /// The newest copy that is whole.
    pub(super) fn whole(&mut self, row: &Row, loaded: &mut Loaded) -> Option<Envelope> {
        let read = |text: &Option<String>| Envelope::read(&row.key, text.as_deref()?).ok();
        if let Some(envelope) = read(&row.now) {
            return Some(envelope);
        }
        let raw = row.now.clone().unwrap_or_default();
        let previous = read(&row.previous);
        let (list, id) = row.key.split_once('/').unwrap_or(("", &row.key));
        let previous_name = previous.as_ref().and_then(|envelope| envelope.text.as_deref()).map(name_in);
        let mut record = BrokenRecord {
            list: list.to_owned(),
            id: id.to_owned(),
            name: previous_name.unwrap_or_default(),
            words: "damaged on this device; the copy before it is used".to_owned(),
            text: raw.clone(),
        };
        if previous.is_some() {
            let aside = self.set_aside(record);
            loaded.aside.push(aside);
        } else {
            "damaged on this device".clone_into(&mut record.words);
            self.reserved.insert(row.key.clone(), raw);
            loaded.aside.push(Aside { key: row.key.clone(), record });
        }
        previous
    }

    /// What is no record of a list.
    fn is_beside(&mut self, key: &str, envelope: &Envelope, loaded: &mut Loaded) -> bool {
        let text = envelope.text.clone().unwrap_or_default();
        if let Some(name) = key.strip_prefix(EXTRA) {
            let value = serde_json::from_str(&text).unwrap_or_default();
            loaded.bundle.extra.insert(name.to_owned(), value);
            return true;
        }
        let is_record = key.split_once('/').is_some_and(|(list, _)| List::from_key(list).is_some());
        if is_record {
            return false;
        }
        if let Some(known) = self.known.get_mut(key) {
            known.text = Some(text.clone());
        }
        if key.starts_with(BROKEN) {
            let unreadable = || BrokenRecord {
                list: String::new(),
                id: String::new(),
                name: String::new(),
                words: "set aside".to_owned(),
                text: text.clone(),
            };
            let record = serde_json::from_str(&text).unwrap_or_else(|_| unreadable());
            loaded.aside.push(Aside { key: key.to_owned(), record });
        } else if key.starts_with(RESCUED) {
            loaded.rescued.push(Rescued { key: key.to_owned(), text });
        }
        true
    }

    /// Records of today's schema, in their order.
    fn take(&mut self, records: Vec<(String, Envelope)>, loaded: &mut Loaded) {
        for (key, envelope) in records {
            let Some(list) = key.split_once('/').and_then(|(list, _)| List::from_key(list)) else { continue };
            let text = envelope.text.as_deref().unwrap_or_default();
            let value: Value = serde_json::from_str(text).unwrap_or_default();
            match list.of_mut(&mut loaded.bundle).push_value(&value) {
                Ok(()) => self.read_in_order(list, &key),
                Err(fault) => self.reserve(&key, &envelope, &fault.to_string(), loaded),
            }
        }
    }

    /// Remembers the key of the next record of a list until `number` knows its id.
    fn read_in_order(&mut self, list: List, key: &str) {
        self.reading.push((list, key.to_owned()));
    }

    fn reserve_all(&mut self, records: &[(String, Envelope)], words: &str, loaded: &mut Loaded) {
        for (key, envelope) in records {
            self.reserve(key, envelope, words, loaded);
        }
    }

    pub(super) fn reserve(&mut self, key: &str, envelope: &Envelope, words: &str, loaded: &mut Loaded) {
        let text = envelope.text.clone().unwrap_or_default();
        let (list, id) = key.split_once('/').unwrap_or(("", key));
        self.reserved.insert(key.to_owned(), text.clone());
        let record = BrokenRecord {
            list: list.to_owned(),
            id: id.to_owned(),
            name: name_in(&text),
            words: words.to_owned(),
            text,
        };
        loaded.aside.push(Aside { key: key.to_owned(), record });
    }

    /// Records of an older schema, lifted together; all of them are written again.
    fn take_lifted(&mut self, schema: u32, records: Vec<(String, Envelope)>, loaded: &mut Loaded) {
        let mut file = Map::from_iter([(migrate::NUMBER.to_owned(), schema.into())]);
        for (key, envelope) in &records {
            let list = key.split_once('/').map_or("", |(list, _)| list);
            let value =
                serde_json::from_str(envelope.text.as_deref().unwrap_or_default()).unwrap_or_default();
            let records = file.entry(list).or_insert_with(|| Value::Array(Vec::new()));
            if let Some(records) = records.as_array_mut() {
                records.push(value);
            }
        }
        let Ok(lifted) = migrate::lift(Value::Object(file)) else {
            let words = "of an older version, not understood";
            self.reserve_all(&records, words, loaded);
            return;
        };
        let mut left: Vec<String> = records.into_iter().map(|(key, _)| key).collect();
        for list in List::ALL {
            for value in lifted[list.key()].as_array().into_iter().flatten() {
                let id = value["id"].as_str().unwrap_or_default();
                let key = usual_key(list, id);
                match list.of_mut(&mut loaded.bundle).push_value(value) {
                    Ok(()) => {
                        self.read_in_order(list, &key);
                        left.retain(|there| *there != key);
                        if let Some(known) = self.known.get_mut(&key) {
                            known.is_stale = true;
                        }
                    }
                    Err(fault) => {
                        let aside = self.set_aside(BrokenRecord::new(list, value, &fault));
                        loaded.aside.push(aside);
                    }
                }
            }
        }
        for key in left {
            self.others.insert(key, None);
        }
    }

    /// Ids of their own for all records, and the keys that belong to them.
    fn number(&mut self, bundle: &mut Bundle) {
        give_ids(bundle);
        let reading = core::mem::take(&mut self.reading);
        for list in List::ALL {
            let keys = reading.iter().filter(|(of, _)| *of == list).map(|(_, key)| key);
            for ((id, _), key) in list.names(bundle).into_iter().zip(keys) {
                self.stands_under(list, &id, key);
            }
        }
        self.base = bundle.clone();
    }
}
