//! What comes in, before it is taken in: new, the same, or different from what is there, field by field.

mod changes;

pub use changes::{FieldChange, changes};

use crate::model::Bundle;
use crate::present::Units;
use crate::record::List;

/// How a record that comes in stands to what is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// Nothing has its id.
    New,
    /// It is there already, word for word.
    Same,
    /// Another has its id; what differs, in the order of the file.
    Different(Vec<FieldChange>),
}

/// A record that comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Incoming {
    /// Its list.
    pub list: List,
    /// Its id there.
    pub id: String,
    /// Its shown name there.
    pub name: String,
    /// How it stands to what is there.
    pub standing: Standing,
}

/// All that comes in, setups first: what a person asked for stands above what it needs.
pub fn preview(mine: &Bundle, theirs: &Bundle, units: Units) -> Vec<Incoming> {
    let mut incoming = Vec::new();
    for list in List::ALL.into_iter().rev() {
        for (id, name) in list.names(theirs) {
            let standing = match list.of(mine).place(&id) {
                None => Standing::New,
                Some(place) if list.of(mine).is_same(place, theirs, &id) => Standing::Same,
                Some(_) => Standing::Different(changes(list, &id, mine, theirs, units)),
            };
            incoming.push(Incoming { list, id, name, standing });
        }
    }
    incoming
}
