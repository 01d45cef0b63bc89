//! The lists that are read only after the first card: no card needs a flight that has landed, nor how it was flown, nor its
//! recording; what the log taught stands in the airframe. A flight in the air is needed at once, with what is flown: one
//! small record names the keys of both, and is written in the same transaction as the flights. Where it is missing, the log
//! of an older version is read whole at the start; where it says too little, a flight is there some moments later.
//!
//! What is late is opened one by one, which may take its time, and then all of a part enters the data at once: in between,
//! what this tab has in common with the database does not speak of it, so that it is neither written nor deleted.

use std::collections::HashSet;

use super::envelope::Envelope;
use super::keeper::{Known, usual_key};
use super::load::{Loaded, Row};
use super::order::on_the_list;
use super::pull::readable;
use super::{Aside, Change, Keeper};
use crate::model::Bundle;
use crate::record::List;

/// What is read late, part by part. A later schema must lift its records here, by `migrate::lift` of a file that holds a part
/// alone.
pub const LATE: [&[List]; 2] = [LOG, &[List::Recordings]];

/// The log without its recordings.
const LOG: &[List] = &[List::Flights, List::FlownSetups];

/// The record that names what of the log is needed at once.
pub(super) const ALOFT: &str = "file/aloft";

/// The keys of what is needed of the log at once; nothing where that is not known, so that the log must be read whole.
pub fn needed_at_once(rows: &[(String, Option<String>)]) -> Option<Vec<String>> {
    let (key, stored) = rows.iter().find(|(key, _)| key == ALOFT)?;
    let named = Envelope::read(key, stored.as_deref()?).ok()?.text?;
    Some(named.lines().map(str::to_owned).collect())
}

/// Whether a stored text is what was written.
pub fn is_whole(key: &str, stored: Option<&str>) -> bool {
    stored.is_some_and(|stored| Envelope::read(key, stored).is_ok())
}

/// What was read of a part.
#[derive(Debug, Clone, Default)]
pub struct Late {
    found: Vec<Found>,
    unread: Vec<Row>,
}

/// A record; `alone` holds nothing where it was deleted.
#[derive(Debug, Clone)]
struct Found {
    list: List,
    key: String,
    envelope: Envelope,
    alone: Bundle,
}

impl Found {
    fn read(key: &str, envelope: Envelope) -> Result<Self, Envelope> {
        let list = key.split_once('/').and_then(|(list, _)| List::from_key(list));
        let Some((list, alone)) = list.and_then(|list| Some((list, readable(list, None, &envelope)?))) else {
            return Err(envelope);
        };
        // It may be large, and what is known of it here needs no text.
        Ok(Self { list, key: key.to_owned(), envelope: Envelope { text: None, ..envelope }, alone })
    }

    fn id(&self) -> Option<String> {
        self.list.id_at(&self.alone, 0)
    }
}

impl Late {
    /// Opens what is stored under one key.
    pub fn read(&mut self, key: &str, stored: Option<&str>) {
        let envelope = stored.and_then(|text| Envelope::read(key, text).ok());
        match envelope.map(|envelope| Found::read(key, envelope)) {
            Some(Ok(found)) => self.found.push(found),
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

    /// Puts the records into another state of the data too: one to which an undo goes back.
    pub fn follow(&self, into: &mut Bundle) {
        for list in LATE.into_iter().flatten() {
            self.put(*list, into);
        }
    }

    fn put(&self, list: List, into: &mut Bundle) {
        let there: HashSet<String> = list.names(into).into_iter().map(|(id, _)| id).collect();
        for found in self.found.iter().filter(|found| found.list == list) {
            let Some(id) = found.id().filter(|id| !there.contains(id)) else { continue };
            list.of_mut(into).put_copy(usize::MAX, &found.alone, &id, id.clone());
        }
    }
}

impl Keeper {
    /// Whether what stands under a key was read, or written, by this tab.
    pub fn knows(&self, key: &str) -> bool {
        self.known.contains_key(key) || self.reserved.contains_key(key)
    }

    /// Takes in what was read late; gives this tab's data with it, what of it is in that, and what could not be read.
    pub fn take_late(&mut self, bundle: &Bundle, mut late: Late) -> (Bundle, Late, Vec<Aside>) {
        let mut loaded = Loaded::default();
        for row in core::mem::take(&mut late.unread) {
            if self.knows(&row.key) {
                continue;
            }
            let Some(envelope) = self.whole(&row, &mut loaded) else { continue };
            match Found::read(&row.key, envelope) {
                Ok(found) => late.found.push(found),
                Err(envelope) => {
                    let words = "not understood by this version of the app; it is kept as it is";
                    self.reserve(&row.key, &envelope, words, &mut loaded);
                }
            }
        }
        // What this tab wrote or took in meanwhile is newer.
        late.found.retain(|found| !self.knows(&found.key));
        late.found.sort_by(|a, b| on_the_list((a.envelope.position, &a.key), (b.envelope.position, &b.key)));
        self.note(bundle, &mut late, &mut loaded);
        let mut with = bundle.clone();
        let mut base = core::mem::take(&mut self.base);
        for into in [&mut with, &mut base] {
            for list in LATE.into_iter().flatten() {
                if late.found.iter().any(|found| found.list == *list) {
                    self.put_around(*list, &late, into);
                }
            }
        }
        self.base = base;
        (with, late, loaded.aside)
    }

    /// Knows all that was found; of two records with one id the second is set beside.
    fn note(&mut self, bundle: &Bundle, late: &mut Late, loaded: &mut Loaded) {
        let mut taken: HashSet<String> = HashSet::new();
        for list in LATE.into_iter().flatten() {
            taken.extend(list.names(bundle).into_iter().map(|(id, _)| usual_key(*list, &id)));
        }
        for found in &mut late.found {
            self.known.insert(found.key.clone(), Known::of(&found.envelope));
            let Some(id) = found.id() else { continue };
            if id.is_empty() || !taken.insert(usual_key(found.list, &id)) {
                let text = Some(found.list.of(&found.alone).value(0).to_string());
                let words = format!("two of one id ({}); this one is kept beside", found.list.one());
                self.reserve(&found.key, &Envelope { text, ..found.envelope.clone() }, &words, loaded);
                found.alone = Bundle::new();
            } else {
                self.stands_under(found.list, &id, &found.key);
            }
        }
    }

    /// Puts what was found into a list, and what stood there in its place among it: by its position, else at the end.
    fn put_around(&self, list: List, late: &Late, into: &mut Bundle) {
        let there = list.names(into);
        let mut own = Bundle::new();
        for (id, _) in &there {
            list.of_mut(&mut own).put_copy(usize::MAX, into, id, id.clone());
            list.of_mut(into).take_out(0);
        }
        late.put(list, into);
        for (id, _) in there {
            let known = self.known.get(&self.key(list, &id));
            self.move_new(list, &id, known.map_or(f64::INFINITY, |known| known.position), into, &own);
        }
    }

    /// What must be written so that the flights in the air are found at once. It goes with a change of the flights alone:
    /// two tabs that do not agree about a flight would else answer each other for ever.
    pub(super) fn change_of_aloft(&self, bundle: &Bundle, changes: &[Change]) -> Option<Change> {
        let is_of_flights = |change: &Change| change.key.starts_with("flights/");
        let there = self.known.get(ALOFT);
        if bundle.flights.is_empty() && there.is_none()
            || there.is_some() && !changes.iter().any(is_of_flights)
        {
            return None;
        }
        let aloft = bundle.flights.iter().filter(|flight| flight.aloft.is_some());
        let keys = aloft.flat_map(|flight| {
            [self.key(List::Flights, &flight.id), self.key(List::FlownSetups, &flight.flown_setup)]
        });
        let named = keys.collect::<Vec<_>>().join("\n");
        let base = there.and_then(|known| known.text.clone());
        (base.as_ref() != Some(&named)).then(|| self.change(ALOFT, 0.0, Some(named), base))
    }
}
