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
        let envelope = stored.and_then(|text| Envelope::read(key, text).ok());
        match envelope.map(|envelope| (recording_in(&envelope), envelope)) {
            Some((Ok(record), envelope)) => self.found.push((key.to_owned(), without_text(envelope), record)),
            _ => {
                self.unread.push(Row { key: key.to_owned(), now: stored.map(str::to_owned), previous: None });
            }
        }
    }

    /// The keys of what could not be read: the copies before may stand in.
    pub fn unread(&self) -> Vec<String> {
        self.unread.iter().map(|row| row.key.clone()).collect()
    }

    /// The copy before of something that could not be read.
    pub fn read_previous(&mut self, key: &str, previous: Option<&str>) {
        for row in self.unread.iter_mut().filter(|row| row.key == key) {
            row.previous = previous.map(str::to_owned);
        }
    }

    /// Puts the recordings into another state of the data too: one to which an undo goes back.
    pub fn follow(&self, into: &mut Bundle) {
        let there: HashSet<String> = into.recordings.iter().map(|own| own.id.clone()).collect();
        let found = self.found.iter().filter_map(|(_, _, record)| record.as_ref());
        into.recordings.extend(found.filter(|own| !there.contains(&own.id)).cloned());
    }
}

/// A recording is large, and what is known of it here needs no text.
fn without_text(envelope: Envelope) -> Envelope {
    Envelope { text: None, ..envelope }
}

/// What is not of today's shape.
struct NotUnderstood;

/// The recording; none where it was deleted.
fn recording_in(envelope: &Envelope) -> Result<Option<Recording>, NotUnderstood> {
    let Some(text) = &envelope.text else { return Ok(None) };
    let value: Option<Value> = serde_json::from_str(text).ok().filter(|_| envelope.schema == SCHEMA);
    let record = value.and_then(|value| crate::shape::read(LATE.key(), &value).ok());
    record.map(Some).ok_or(NotUnderstood)
}

impl Keeper {
    /// Takes in what was read late; gives this tab's data with it, what of it is in that, and what could not be read.
    pub fn take_late(&mut self, bundle: &Bundle, mut late: Late) -> (Bundle, Late, Vec<Aside>) {
        let mut loaded = Loaded::default();
        for row in core::mem::take(&mut late.unread) {
            let Some(envelope) = self.whole(&row, &mut loaded) else { continue };
            if let Ok(record) = recording_in(&envelope) {
                late.found.push((row.key, without_text(envelope), record));
            } else {
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
