//! What stands beside the lists: records and texts that could not be read, word for word, until the crew lets them go.

use super::envelope::name_for;
use super::{BROKEN, Keeper, RESCUED, TAKEN_IN};
use crate::open::BrokenRecord;

/// A record set aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aside {
    /// Its key.
    pub key: String,
    /// Itself, and what is wrong with it.
    pub record: BrokenRecord,
}

/// A text that could not be read at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rescued {
    /// Its key.
    pub key: String,
    /// The text.
    pub text: String,
}

impl Keeper {
    /// Sets a record aside; the same one twice stands once.
    pub fn set_aside(&mut self, record: BrokenRecord) -> Aside {
        let key = format!("{BROKEN}{}", name_for(&format!("{}/{}\n{}", record.list, record.id, record.text)));
        self.set_aside_under(&key, &record);
        Aside { key, record }
    }

    pub(super) fn set_aside_under(&mut self, key: &str, record: &BrokenRecord) {
        self.keep_other(key, serde_json::to_string(record).ok());
    }

    /// Sets a text aside that could not be read at all; the same one twice stands once.
    pub fn rescue(&mut self, text: &str) -> Rescued {
        let key = format!("{RESCUED}{}", name_for(text));
        self.keep_other(&key, Some(text.to_owned()));
        Rescued { key, text: text.to_owned() }
    }

    /// Lets go what stands under this key.
    pub fn let_go(&mut self, key: &str) {
        self.keep_other(key, None);
    }

    /// Whether this text of an older version was taken in before.
    pub fn has_taken_in(&self, text: &str) -> bool {
        let name = name_for(text);
        self.known.get(TAKEN_IN).is_some_and(|known| known.text.as_ref() == Some(&name))
    }

    /// Remembers that this text of an older version is taken in, in the same transaction as what was in it.
    pub fn note_taken_in(&mut self, text: &str) {
        self.keep_other(TAKEN_IN, Some(name_for(text)));
    }

    fn keep_other(&mut self, key: &str, text: Option<String>) {
        let there = self.known.get(key);
        let is_there = match &text {
            Some(_) => there.is_some_and(|known| known.text == text),
            None => there.is_none() && !self.reserved.contains_key(key) && !self.others.contains_key(key),
        };
        if is_there {
            self.others.remove(key);
        } else {
            self.others.insert(key.to_owned(), text);
        }
    }
}
