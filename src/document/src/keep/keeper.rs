//! What this tab and the database have in common.

use std::collections::{BTreeMap, HashMap};

use serde_json::Value;

use super::envelope::Envelope;
use super::order::positions;
use super::{Change, EXTRA};
use crate::model::{Bundle, SCHEMA};
use crate::record::List;

/// What the database holds under a key, as far as this tab knows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Known {
    pub version: u64,
    pub writer: String,
    pub position: f64,
    /// The text, where it is no record of a list.
    pub text: Option<String>,
    /// Must be written again as it is: lifted from an older schema, or mended from its previous copy.
    pub is_stale: bool,
}

impl Known {
    pub(super) fn of(envelope: &Envelope) -> Self {
        let Envelope { version, writer, position, .. } = envelope.clone();
        Self { version, writer, position, text: None, is_stale: false }
    }
}

/// What this tab and the database have in common.
#[derive(Debug, Clone, Default)]
pub struct Keeper {
    pub(super) writer: String,
    /// The crew's data as this tab last read or wrote it.
    pub(super) base: Bundle,
    /// What the database holds.
    pub(super) known: BTreeMap<String, Known>,
    /// Under which key a record stands, where that is not made of its list and id.
    pub(super) keys: HashMap<(&'static str, String), String>,
    /// Keys of the records read so far, in their order, until all have their ids.
    pub(super) reading: Vec<(List, String)>,
    /// Keys that no record of this tab may use: what stands there could not be read.
    pub(super) reserved: BTreeMap<String, String>,
    /// Records that another tab changed too: theirs.
    pub(super) conflicts: BTreeMap<String, Envelope>,
    /// What was given to the database and is not known to stand there, nor not to: none to delete.
    pub(super) sent: BTreeMap<String, Option<String>>,
    /// What is no list, to be written: none to delete.
    pub(super) others: BTreeMap<String, Option<String>>,
}

/// The key of a record, where nothing unreadable stands under it.
pub(super) fn usual_key(list: List, id: &str) -> String {
    format!("{}/{id}", list.key())
}

impl Keeper {
    /// Knows nothing yet. No other tab may have the same `writer` name, which is made of letters and digits.
    pub fn new(writer: &str) -> Self {
        Self { writer: writer.to_owned(), ..Self::default() }
    }

    /// Takes this for what every tab starts from while nothing is kept. Only a difference from it counts as a change, but
    /// all of it is written with the first one.
    pub fn start_from(&mut self, bundle: &Bundle) {
        self.base = bundle.clone();
    }

    /// The name of this tab.
    pub fn writer(&self) -> &str {
        &self.writer
    }

    /// Whether records are in conflict, and the crew has not chosen yet.
    pub fn has_conflicts(&self) -> bool {
        !self.conflicts.is_empty()
    }

    /// The data as this tab and the database last had it in common.
    pub const fn base(&self) -> &Bundle {
        &self.base
    }

    /// The key of a record.
    pub(super) fn key(&self, list: List, id: &str) -> String {
        let own = self.keys.get(&(list.key(), id.to_owned())).cloned();
        let own = own.unwrap_or_else(|| usual_key(list, id));
        if !self.reserved.contains_key(&own) {
            return own;
        }
        let mut free = (2..).map(|number| format!("{own}~{number}"));
        free.find(|key| !self.reserved.contains_key(key)).unwrap_or(own)
    }

    /// Notes the key that a record stands under, where it is not the usual one.
    pub(super) fn stands_under(&mut self, list: List, id: &str, key: &str) {
        if key != usual_key(list, id) {
            self.keys.insert((list.key(), id.to_owned()), key.to_owned());
        }
    }

    /// What must be written so that the database holds this bundle; nothing where another tab changed the same record and
    /// the crew has not chosen yet.
    ///
    /// A number that JSON cannot hold stops its record alone: it stays as it was, and its path is told in the second list.
    pub fn changes(&self, bundle: &Bundle) -> (Vec<Change>, Vec<String>) {
        let (mut changes, mut refused) = (Vec::new(), Vec::new());
        // What every tab starts from needs no writing while nobody has changed it.
        if self.known.is_empty() && self.others.is_empty() && *bundle == self.base {
            return (changes, refused);
        }
        for list in List::ALL {
            self.changes_of(list, bundle, &mut changes, &mut refused);
        }
        let aloft = self.change_of_aloft(bundle, &changes);
        changes.extend(aloft);
        self.changes_beside(bundle, &mut changes);
        (changes, refused)
    }

    fn changes_of(&self, list: List, bundle: &Bundle, changes: &mut Vec<Change>, refused: &mut Vec<String>) {
        let (now, base) = (list.of(bundle), list.of(&self.base));
        let keyed: Vec<(String, String)> =
            list.names(bundle).into_iter().map(|(id, _)| (self.key(list, &id), id)).collect();
        let mut before: HashMap<String, usize> =
            list.names(&self.base).into_iter().enumerate().map(|(place, (id, _))| (id, place)).collect();
        let known: Vec<(Option<f64>, &str)> = keyed
            .iter()
            .map(|(key, id)| {
                let is_there = before.contains_key(id);
                (self.known.get(key).filter(|_| is_there).map(|known| known.position), key.as_str())
            })
            .collect();
        for ((place, position), (key, id)) in positions(&known).into_iter().enumerate().zip(&keyed) {
            let was = before.remove(id);
            if self.conflicts.contains_key(key) {
                continue;
            }
            let there = self.known.get(key);
            let is_same = was.is_some_and(|was| now.equals(place, &self.base, was))
                && there
                    .is_some_and(|there| there.position.to_bits() == position.to_bits() && !there.is_stale);
            if is_same {
                continue;
            }
            let value = now.value(place);
            if let Some(number) = crate::open::not_finite(list.key(), "", &value) {
                refused.push(format!("{}[{place}].{}", list.key(), number.path));
                continue;
            }
            let base = was.map(|was| base.value(was).to_string());
            changes.push(self.change(key, position, Some(value.to_string()), base).of(list, id));
        }
        for (id, was) in before {
            let key = self.key(list, &id);
            if !self.conflicts.contains_key(&key) {
                changes.push(self.change(&key, 0.0, None, Some(base.value(was).to_string())).of(list, &id));
            }
        }
    }

    /// Parts of the file beside its lists, and what is set aside.
    fn changes_beside(&self, bundle: &Bundle, changes: &mut Vec<Change>) {
        for (name, value) in &bundle.extra {
            let key = format!("{EXTRA}{name}");
            if self.base.extra.get(name) != Some(value) {
                let base = self.base.extra.get(name).map(Value::to_string);
                changes.push(self.change(&key, 0.0, Some(value.to_string()), base));
            }
        }
        for (name, value) in self.base.extra.iter().filter(|(name, _)| !bundle.extra.contains_key(*name)) {
            changes.push(self.change(&format!("{EXTRA}{name}"), 0.0, None, Some(value.to_string())));
        }
        for (key, text) in &self.others {
            let base = self.known.get(key).and_then(|known| known.text.clone());
            changes.push(self.change(key, 0.0, text.clone(), base));
        }
    }

    pub(super) fn change(
        &self,
        key: &str,
        position: f64,
        text: Option<String>,
        base: Option<String>,
    ) -> Change {
        let known = self.known.get(key);
        Change {
            key: key.to_owned(),
            of: None,
            schema: SCHEMA,
            position,
            text,
            base,
            version: known.map_or(0, |known| known.version),
            by: known.map(|known| known.writer.clone()).unwrap_or_default(),
            sent: self.sent.get(key).map(|text| vec![text.clone()]).unwrap_or_default(),
            writer: self.writer.clone(),
        }
    }
}
