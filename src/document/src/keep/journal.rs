//! The last word of a page that is being left: what it could not wait to see in the database, for the next visit to put
//! there. It is written where writing is done at once, but reaches the disk late: a second net, not the first.

use super::change::{Change, Decision, Put};
use super::envelope::name_for;
use super::load::Row;
use super::{BROKEN, Envelope};
use crate::model::SCHEMA;
use crate::open::BrokenRecord;

/// Changes of a page that was left.
#[derive(Debug, Clone, PartialEq)]
pub struct Journal(Vec<Change>);

impl Journal {
    /// As a text to keep.
    pub fn write(changes: &[Change]) -> String {
        let text = serde_json::to_string(changes).unwrap_or_default();
        format!("{} {text}", name_for(&text))
    }

    /// From a kept text; nothing where it is not what was written.
    pub fn read(text: &str) -> Option<Self> {
        let (name, text) = text.split_once(' ')?;
        (name == name_for(text)).then(|| serde_json::from_str(text).ok().map(Self))?
    }

    /// Brings the rows up to date; gives what is to be put into the database in the same transaction. Where another tab
    /// has changed the same record since, this one's is set aside.
    pub fn replay(&self, rows: &mut Vec<Row>) -> Vec<Put> {
        let mut puts = Vec::new();
        for change in &self.0 {
            let stored = rows.iter().find(|row| row.key == change.key).and_then(|row| row.now.as_deref());
            let put = match change.decide(stored) {
                Decision::There(_) => continue,
                Decision::Write(put, _) => *put,
                Decision::Conflict(_) => match aside(change) {
                    Some(put) => put,
                    None => continue,
                },
            };
            match rows.iter_mut().find(|row| row.key == put.key) {
                Some(row) => row.now = Some(put.now.clone()),
                None => rows.push(Row { key: put.key.clone(), now: Some(put.now.clone()), previous: None }),
            }
            puts.push(put);
        }
        puts
    }
}

fn aside(change: &Change) -> Option<Put> {
    let (list, id) = change.of.clone()?;
    let text = change.text.clone()?;
    let record = BrokenRecord {
        list,
        name: name_in(&text),
        id,
        words: "changed here while another tab changed it too; the other tab's stands".to_owned(),
        text,
    };
    let text = serde_json::to_string(&record).ok()?;
    let key = format!("{BROKEN}{}", name_for(&text));
    let envelope = Envelope {
        schema: SCHEMA,
        version: 1,
        position: 0.0,
        writer: change.writer.clone(),
        text: Some(text),
    };
    Some(Put { now: envelope.write(&key), key, previous: None })
}

/// The shown name in a record's JSON.
pub(super) fn name_in(text: &str) -> String {
    let value: serde_json::Value = serde_json::from_str(text).unwrap_or_default();
    value["name"].as_str().unwrap_or_default().to_owned()
}
