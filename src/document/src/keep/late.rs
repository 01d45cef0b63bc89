//! The list that is read only after the first card: recordings are large, and no card needs one.
//!
//! They are opened one by one, which may take its time, and then all of them enter the data at once: in between, what this
//! tab has in common with the database does not speak of them, so that they are neither written nor deleted.

use std::collections::HashSet;

use serde_json::Value;

use super::envelope::Envelope;
use super::keeper::Known;
use super::load::{Loaded, Row};
use super::order::on_the_list;
use super::{Aside, Keeper};
use crate::model::{Bundle, Recording, SCHEMA};
use crate::record::{List, Record};

/// The list that is read late. A later schema must lift its records here, by `migrate::lift` of a file that holds them alone.
pub const LATE: List = List::Recordings;

/// What was read of it.
#[derive(Debug, Clone, Default)]
pub struct Late {
    found: Vec<(String, Envelope, Option<Recording>)>,
    unread: Vec<Row>,
}

impl Late {
    /// Opens what is stored under one key.
    pub fn read(&mut self, key: &str, stored: Option<&str>) {
        let unread = || Row { key: key.to_owned(), now: stored.map(str::to_owned), previous: None };
        let Some(mut envelope) = stored.and_then(|text| Envelope::read(key, text).ok()) else {
            return self.unread.push(unread());
        };
        let text = envelope.text.take();
        let value = |text: &String| serde_json::from_str::<Value>(text).ok();
        let record = text.as_ref().map(|text| crate::shape::read(LATE.key(), &value(text)?).ok());
        match record {
            Some(Some(record)) if envelope.schema == SCHEMA => {
                self.found.push((key.to_owned(), envelope, Some(record)));
            }
            None => self.found.push((key.to_owned(), envelope, None)),
            Some(_) => self.unread.push(unread()),
        }
    }

    /// Puts the recordings into another state of the data too: one to which an undo goes back.
    pub fn follow(&self, into: &mut Bundle) {
        let there: HashSet<String> = into.recordings.iter().map(|own| own.id.clone()).collect();
        let found = self.found.iter().filter_map(|(_, _, record)| record.as_ref());
        into.recordings.extend(found.filter(|own| !there.contains(&own.id)).cloned());
    }
}

impl Keeper {
    /// Takes in what was read late; gives this tab's data with it, what of it is in that, and what could not be read.
    pub fn take_late(&mut self, bundle: &Bundle, mut late: Late) -> (Bundle, Late, Vec<Aside>) {
        let mut loaded = Loaded::default();
        for row in core::mem::take(&mut late.unread) {
            if let Some(envelope) = self.whole(&row, &mut loaded) {
                let words = "not understood by this version of the app; it is kept as it is";
                self.reserve(&row.key, &envelope, words, &mut loaded);
            }
        }
        // What this tab wrote or took in meanwhile is newer.
        late.found.retain(|(key, _, _)| !self.known.contains_key(key));
        late.found
            .sort_by(|(a_key, a, _), (b_key, b, _)| on_the_list((a.position, a_key), (b.position, b_key)));
        let mut taken: HashSet<String> = bundle.recordings.iter().map(|own| own.id().to_owned()).collect();
        for (key, envelope, record) in &mut late.found {
            self.known.insert(key.clone(), Known::of(envelope));
            let Some(own) = record else { continue };
            if own.id.is_empty() || !taken.insert(own.id.clone()) {
                let text = serde_json::to_string(own).ok();
                let words = "two recordings with one id; this one is kept beside";
                self.reserve(key, &Envelope { text, ..envelope.clone() }, words, &mut loaded);
                *record = None;
            } else if *key != format!("{}/{}", LATE.key(), own.id) {
                self.keys.insert((LATE.key(), own.id.clone()), key.clone());
            }
        }
        let mut with = bundle.clone();
        for into in [&mut with, &mut self.base] {
            let new = core::mem::take(&mut into.recordings);
            late.follow(into);
            into.recordings.extend(new);
        }
        (with, late, loaded.aside)
    }
}
