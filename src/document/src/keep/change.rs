//! A change of one record, and what becomes of it inside the database's transaction.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::envelope::Envelope;
use super::keeper::Known;
use super::{EXTRA, Keeper};
use crate::model::{Bundle, SCHEMA};
use crate::record::List;

/// One record as this tab wants it, and what it was made from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// Where it stands in the database.
    pub key: String,
    /// List and id, of a record of a list.
    pub(super) of: Option<(String, String)>,
    pub(super) schema: u32,
    pub(super) position: f64,
    /// The record's JSON; none to delete it.
    pub(super) text: Option<String>,
    /// What it was made from.
    pub(super) base: Option<String>,
    /// Version and writer of that.
    pub(super) version: u64,
    pub(super) by: String,
    /// This tab.
    pub(super) writer: String,
    /// The text of an earlier change of it by this tab, of which it is not known whether it was written.
    #[serde(default)]
    pub(super) sent: Vec<Option<String>>,
}

/// One record to be put into the database; what stood there goes to its previous copy.
#[derive(Debug, Clone, PartialEq)]
pub struct Put {
    /// Its key.
    pub key: String,
    /// What is to be stored.
    pub now: String,
    /// What is to be kept as its previous good copy; none leaves that alone.
    pub previous: Option<String>,
}

/// What becomes of a change.
#[derive(Debug, Clone, PartialEq)]
pub enum Decision {
    /// It is written.
    Write(Box<Put>, Envelope),
    /// The database holds it already.
    There(Envelope),
    /// Another tab changed the same record: nothing is written.
    Conflict(Envelope),
}

impl Change {
    /// Of a record of a list.
    pub(super) fn of(mut self, list: List, id: &str) -> Self {
        self.of = Some((list.key().to_owned(), id.to_owned()));
        self
    }

    /// What becomes of it, given what is stored under its key now.
    pub fn decide(&self, stored: Option<&str>) -> Decision {
        let read = stored.map(|stored| Envelope::read(&self.key, stored));
        // What this tab read or wrote there was whole: only the device can have damaged it since.
        let Some(Ok(there)) = read else { return self.write(self.version, None) };
        let is_known = there.version == self.version && there.writer == self.by;
        if is_known || self.is_own(&there) {
            return self.write(there.version, stored);
        }
        if same(there.text.as_deref(), self.text.as_deref()) {
            return Decision::There(there);
        }
        // A later version of the app may say in it what this one cannot see.
        if there.schema <= SCHEMA && same(there.text.as_deref(), self.base.as_deref()) {
            return self.write(there.version, stored);
        }
        Decision::Conflict(there)
    }

    /// Whether it is the change before this one, written after this tab had stopped waiting for it, or had been left.
    fn is_own(&self, there: &Envelope) -> bool {
        let is_next = there.writer == self.writer && there.version == self.version + 1;
        is_next && self.sent.iter().any(|sent| same(there.text.as_deref(), sent.as_deref()))
    }

    fn write(&self, version: u64, stored: Option<&str>) -> Decision {
        let envelope = Envelope {
            schema: self.schema,
            version: version + 1,
            position: self.position,
            writer: self.writer.clone(),
            text: self.text.clone(),
        };
        let put = Put {
            key: self.key.clone(),
            now: envelope.write(&self.key),
            previous: stored.map(str::to_owned),
        };
        Decision::Write(Box::new(put), envelope)
    }
}

/// Whether two records say the same, be their fields written in another order.
pub(super) fn same(a: Option<&str>, b: Option<&str>) -> bool {
    let read = |text: &str| serde_json::from_str::<Value>(text).ok();
    match (a, b) {
        (Some(a), Some(b)) => a == b || read(a).zip(read(b)).is_some_and(|(a, b)| a == b),
        (None, None) => true,
        _ => false,
    }
}

impl Keeper {
    /// Before a transaction: until `wrote`, `unwritten` or `pull` says more, these may stand in the database or not.
    pub fn sends(&mut self, changes: &[Change]) {
        for change in changes {
            self.sent.insert(change.key.clone(), change.text.clone());
        }
    }

    /// After a transaction of which it is certain that it wrote nothing.
    pub fn unwritten(&mut self, changes: &[Change]) {
        for change in changes {
            self.sent.remove(&change.key);
        }
    }

    /// Keys of which it is not known what stands there: to be pulled before they are written again.
    pub fn unsettled(&self) -> Vec<String> {
        self.sent.keys().cloned().collect()
    }

    /// After the transaction is complete: what it did with the changes that `changes` gave for this bundle. Gives the keys
    /// of what another tab changed and this one did not: to be pulled.
    pub fn wrote(&mut self, bundle: &Bundle, changes: &[Change], decisions: Vec<Decision>) -> Vec<String> {
        self.unwritten(changes);
        let mut unseen = Vec::new();
        for (change, decision) in changes.iter().zip(decisions) {
            match decision {
                Decision::Write(_, envelope) | Decision::There(envelope) => {
                    self.learned(change, &envelope, bundle);
                }
                Decision::Conflict(_) if change.text == change.base => unseen.push(change.key.clone()),
                Decision::Conflict(theirs) if change.of.is_some() => {
                    self.conflicts.insert(change.key.clone(), theirs);
                }
                // No record: the later word stands.
                Decision::Conflict(theirs) => {
                    self.known.insert(change.key.clone(), Known::of(&theirs));
                    self.others.remove(&change.key);
                }
            }
        }
        unseen
    }

    fn learned(&mut self, change: &Change, envelope: &Envelope, bundle: &Bundle) {
        let key = change.key.as_str();
        let mut known = Known::of(envelope);
        if let Some((list, id)) = &change.of
            && let Some(list) = List::from_key(list)
        {
            if !self.known.contains_key(key) {
                self.stands_under(list, id, key);
            }
            put_record(&mut self.base, bundle, list, id);
        } else if let Some(name) = key.strip_prefix(EXTRA) {
            match bundle.extra.get(name) {
                Some(value) => drop(self.base.extra.insert(name.to_owned(), value.clone())),
                None => drop(self.base.extra.shift_remove(name)),
            }
        } else {
            known.text.clone_from(&envelope.text);
            if self.others.get(key) == Some(&change.text) {
                self.others.remove(key);
            }
            if envelope.text.is_none() {
                self.reserved.remove(key);
            }
        }
        self.known.insert(key.to_owned(), known);
    }
}

/// A record of one bundle put into another: in its place, after the one it follows there, or out.
pub(super) fn put_record(into: &mut Bundle, from: &Bundle, list: List, id: &str) {
    let there = list.of(into).place(id);
    let Some(place) = list.of(from).place(id) else {
        if let Some(there) = there {
            list.of_mut(into).take_out(there);
        }
        return;
    };
    let at = if let Some(there) = there {
        if list.of(into).equals(there, from, place) {
            return;
        }
        list.of_mut(into).take_out(there);
        there
    } else {
        let names = list.names(from);
        let mut earlier = names.iter().take(place).rev();
        earlier.find_map(|(id, _)| list.of(into).place(id)).map_or(0, |before| before + 1)
    };
    list.of_mut(into).put_copy(at, from, id, id.to_owned());
}
