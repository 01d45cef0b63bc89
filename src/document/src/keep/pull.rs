//! What another tab wrote, and the crew's word where both changed the same record.

use serde_json::Value;

use super::change::{put_record, same};
use super::envelope::{Envelope, name_for};
use super::keeper::Known;
use super::{BROKEN, EXTRA, Keeper};
use crate::model::{Bundle, SCHEMA, numbers};
use crate::open::BrokenRecord;
use crate::record::List;

/// Records that came from another tab.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pulled {
    /// This tab's data with them.
    pub bundle: Bundle,
    /// Which ones.
    pub records: Vec<(List, String)>,
}

/// A record that this tab and another one changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// Its key.
    pub key: String,
    /// Its list.
    pub list: List,
    /// Its shown name.
    pub name: String,
    /// What differs: the field in words, here, there.
    pub differences: Vec<(String, String, String)>,
    /// The other tab runs a newer version: this one cannot read what it wrote.
    pub is_later: bool,
}

impl Keeper {
    /// Takes in what is stored now under these keys, where this tab has not changed the same. What this tab wrote itself,
    /// and had stopped waiting for, is no other's edit: it is only known from then on.
    pub fn pull(&mut self, bundle: &Bundle, rows: &[(String, Option<String>)]) -> Pulled {
        let mut pulled = Pulled { bundle: bundle.clone(), records: Vec::new() };
        for (key, stored) in rows {
            self.sent.remove(key);
            let Some(envelope) = stored.as_deref().and_then(|text| Envelope::read(key, text).ok()) else {
                continue;
            };
            let known = self.known.get(key);
            if known.is_some_and(|known| known.version == envelope.version && known.writer == envelope.writer)
            {
                continue;
            }
            match key.split_once('/').map(|(list, _)| List::from_key(list)) {
                Some(Some(list)) => self.pull_record(list, key, envelope, &mut pulled),
                _ => self.pull_other(key, &envelope, &mut pulled.bundle),
            }
        }
        pulled
    }

    fn pull_record(&mut self, list: List, key: &str, theirs: Envelope, pulled: &mut Pulled) {
        let Some(id) = self.id_of(list, key, &pulled.bundle, &theirs) else { return };
        if theirs.writer == self.writer
            && let Some(own) = readable(list, Some(&id), &theirs)
        {
            self.learns(list, key, &id, &theirs);
            return put_record(&mut self.base, &own, list, &id);
        }
        let (mine, base) = (list.of(&pulled.bundle).place(&id), list.of(&self.base).place(&id));
        let is_untouched = match (mine, base) {
            (Some(mine), Some(base)) => list.of(&pulled.bundle).equals(mine, &self.base, base),
            (None, None) => true,
            _ => false,
        };
        let text = mine.map(|place| list.of(&pulled.bundle).value(place).to_string());
        let is_same = same(text.as_deref(), theirs.text.as_deref());
        let Some(their_bundle) = readable(list, Some(&id), &theirs) else {
            self.conflicts.insert(key.to_owned(), theirs);
            return;
        };
        if !is_untouched && !is_same {
            self.conflicts.insert(key.to_owned(), theirs);
            return;
        }
        if self.conflicts.remove(key).is_some() {
            let aside = self.conflict_key(key);
            self.let_go(&aside);
        }
        self.learns(list, key, &id, &theirs);
        put_record(&mut self.base, &their_bundle, list, &id);
        self.move_new(list, &id, theirs.position, &mut pulled.bundle, &their_bundle);
        pulled.records.push((list, id));
    }

    fn learns(&mut self, list: List, key: &str, id: &str, envelope: &Envelope) {
        self.known.insert(key.to_owned(), Known::of(envelope));
        self.stands_under(list, id, key);
    }

    /// Puts a record in its place, a new one by its position.
    pub(super) fn move_new(&self, list: List, id: &str, position: f64, into: &mut Bundle, from: &Bundle) {
        if list.of(into).place(id).is_some() || list.of(from).place(id).is_none() {
            return put_record(into, from, list, id);
        }
        let is_later = |(own, _): &(String, String)| {
            self.known.get(&self.key(list, own)).is_some_and(|known| known.position > position)
        };
        let at = list.names(into).iter().position(is_later).unwrap_or(usize::MAX);
        list.of_mut(into).put_copy(at, from, id, id.to_owned());
    }

    fn pull_other(&mut self, key: &str, theirs: &Envelope, bundle: &mut Bundle) {
        let mut known = Known::of(theirs);
        if let Some(name) = key.strip_prefix(EXTRA) {
            let is_own = theirs.writer == self.writer;
            if is_own || bundle.extra.get(name) == self.base.extra.get(name) {
                let value = theirs.text.as_deref().and_then(|text| serde_json::from_str::<Value>(text).ok());
                let of_the_tab = Some(&mut bundle.extra).filter(|_| !is_own);
                for extra in of_the_tab.into_iter().chain([&mut self.base.extra]) {
                    match &value {
                        Some(value) => drop(extra.insert(name.to_owned(), value.clone())),
                        None => drop(extra.shift_remove(name)),
                    }
                }
                self.known.insert(key.to_owned(), known);
            }
            return;
        }
        known.text.clone_from(&theirs.text);
        self.known.insert(key.to_owned(), known);
    }

    /// The id of the record under a key.
    fn id_of(&self, list: List, key: &str, bundle: &Bundle, theirs: &Envelope) -> Option<String> {
        let known = list.names(bundle).into_iter().chain(list.names(&self.base));
        let known = known.map(|(id, _)| id).find(|id| self.key(list, id) == key);
        known.or_else(|| {
            let value: Value = serde_json::from_str(theirs.text.as_deref()?).ok()?;
            value["id"].as_str().filter(|id| !id.is_empty()).map(str::to_owned)
        })
    }

    /// Records that this tab and another one changed, for the crew to choose.
    pub fn conflicts(&self, bundle: &Bundle) -> Vec<Conflict> {
        let told = self.conflicts.iter().filter_map(|(key, theirs)| {
            let (list, id) = key.split_once('/')?;
            let list = List::from_key(list)?;
            let id = self.id_of(list, key, bundle, theirs).unwrap_or_else(|| id.to_owned());
            let mine = list.of(bundle).place(&id).map(|place| list.of(bundle).value(place));
            let there = theirs.text.as_deref().and_then(|text| serde_json::from_str::<Value>(text).ok());
            let named = mine.as_ref().or(there.as_ref()).and_then(|value| value["name"].as_str());
            Some(Conflict {
                key: key.clone(),
                list,
                name: named.unwrap_or(&id).to_owned(),
                differences: differences(list, mine.as_ref(), there.as_ref()),
                is_later: readable(list, Some(&id), theirs).is_none(),
            })
        });
        told.collect()
    }

    /// Keeps this tab's changes of records in conflict in the database too, beside the other tab's, until the crew chooses.
    pub fn keep_conflicts(&mut self, bundle: &Bundle) {
        for key in self.conflicts.keys().cloned().collect::<Vec<_>>() {
            let aside = self.conflict_key(&key);
            let Some((list, theirs)) = self.listed(&key) else { continue };
            let Some(id) = self.id_of(list, &key, bundle, &theirs) else { continue };
            let Some(place) = list.of(bundle).place(&id) else { continue };
            let value = list.of(bundle).value(place);
            let record = BrokenRecord {
                list: list.key().to_owned(),
                name: value["name"].as_str().unwrap_or_default().to_owned(),
                id,
                words: "changed in one tab while another one changed it too".to_owned(),
                text: value.to_string(),
            };
            self.set_aside_under(&aside, &record);
        }
    }

    fn conflict_key(&self, key: &str) -> String {
        format!("{BROKEN}{}-{}", self.writer, name_for(key))
    }

    fn listed(&self, key: &str) -> Option<(List, Envelope)> {
        let list = List::from_key(key.split_once('/')?.0)?;
        Some((list, self.conflicts.get(key)?.clone()))
    }

    /// The crew's word: this tab's stands, or the other's. Gives this tab's data then.
    pub fn settle(&mut self, bundle: &Bundle, key: &str, mine: bool) -> Pulled {
        let mut pulled = Pulled { bundle: bundle.clone(), records: Vec::new() };
        let Some((list, theirs)) = self.listed(key) else { return pulled };
        let Some(id) = self.id_of(list, key, bundle, &theirs) else { return pulled };
        let their_bundle = readable(list, Some(&id), &theirs);
        if !mine && their_bundle.is_none() {
            return pulled;
        }
        let their_bundle = their_bundle.unwrap_or_default();
        self.conflicts.remove(key);
        let aside = self.conflict_key(key);
        self.let_go(&aside);
        self.known.insert(key.to_owned(), Known { is_stale: mine, ..Known::of(&theirs) });
        put_record(&mut self.base, &their_bundle, list, &id);
        if !mine {
            self.move_new(list, &id, theirs.position, &mut pulled.bundle, &their_bundle);
            pulled.records.push((list, id));
        }
        pulled
    }
}

impl Pulled {
    /// Puts the same records into an earlier state, so that going back to it takes back only this tab's work.
    pub fn follow(&self, earlier: &mut Bundle) {
        for (list, id) in &self.records {
            put_record(earlier, &self.bundle, *list, id);
        }
    }
}

/// A bundle with the record alone, under this id or its own; empty where it was deleted; none where this version cannot read it.
pub(super) fn readable(list: List, id: Option<&str>, envelope: &Envelope) -> Option<Bundle> {
    let mut bundle = Bundle::new();
    if envelope.schema != SCHEMA {
        return None;
    }
    if let Some(text) = &envelope.text {
        let value: Value = serde_json::from_str(text).ok()?;
        list.of_mut(&mut bundle).push_value(&value).ok()?;
        if let Some(id) = id {
            list.of_mut(&mut bundle).set_id(0, id.to_owned());
        }
    }
    Some(bundle)
}

/// Field by field, with both values.
fn differences(list: List, mine: Option<&Value>, theirs: Option<&Value>) -> Vec<(String, String, String)> {
    let mut found = Vec::new();
    match (mine, theirs) {
        (Some(mine), Some(theirs)) => compare(list, "", mine, theirs, &mut found),
        (mine, theirs) => {
            let words = |value: Option<&Value>| if value.is_some() { "there" } else { "deleted" }.to_owned();
            found.push((list.one().to_owned(), words(mine), words(theirs)));
        }
    }
    found
}

fn compare(list: List, path: &str, mine: &Value, theirs: &Value, found: &mut Vec<(String, String, String)>) {
    if mine == theirs {
        return;
    }
    match (mine, theirs) {
        (Value::Object(mine), Value::Object(theirs)) => {
            let names = mine.keys().chain(theirs.keys().filter(|name| !mine.contains_key(*name)));
            for name in names {
                let below = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                let of = |side: &serde_json::Map<String, Value>| side.get(name).cloned().unwrap_or_default();
                compare(list, &below, &of(mine), &of(theirs), found);
            }
        }
        (Value::Array(mine), Value::Array(theirs)) if mine.len() == theirs.len() => {
            for (place, (mine, theirs)) in mine.iter().zip(theirs).enumerate() {
                compare(list, &format!("{path}[{place}]"), mine, theirs, found);
            }
        }
        _ => {
            let label = numbers::at(list.key(), path)
                .map_or_else(|| path.replace(['_', '.'], " "), |number| number.label.to_owned());
            found.push((label, plain(mine), plain(theirs)));
        }
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::Null => "none".to_owned(),
        Value::String(text) => text.clone(),
        Value::Array(parts) => format!("{} entries", parts.len()),
        Value::Object(_) => "other".to_owned(),
        other => other.to_string(),
    }
}
