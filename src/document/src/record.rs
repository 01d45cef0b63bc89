//! What all lists of a bundle have in common: records with an id, a name, and references to others.
//!
//! Import, deletion, "used by", copies and the export of one setup with what it needs are written once, on this.

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::error::DocumentError;
use crate::model::{
    Airframe, Bundle, DayPlan, Flight, FlownSetup, Item, Pack, PackRef, PackType, Recording, Setup, Site,
};

/// Looks at a reference, or changes it.
pub type Visit<'a> = &'a mut dyn FnMut(List, &mut String);

/// A stored record.
pub trait Record: Clone + PartialEq + Default + Serialize + DeserializeOwned + 'static {
    /// The list it stands on.
    const LIST: List;
    /// Its id.
    fn id(&self) -> &str;
    /// Gives it another id.
    fn set_id(&mut self, id: String);
    /// Its shown name.
    fn name(&self) -> &str;
    /// Gives it another name.
    fn set_name(&mut self, name: String);
    /// Its list.
    fn list(bundle: &Bundle) -> &Vec<Self>;
    /// Its list, to change.
    fn list_mut(bundle: &mut Bundle) -> &mut Vec<Self>;
    /// Shows each reference to another record, with the list that it refers to.
    fn references(&mut self, visit: Visit<'_>);
    /// The one with this id, with its place in the list.
    fn find<'a>(bundle: &'a Bundle, id: &str) -> Option<(usize, &'a Self)> {
        Self::list(bundle).iter().enumerate().find(|(_, record)| record.id() == id)
    }
    /// The one with this id, to change.
    fn find_mut<'a>(bundle: &'a mut Bundle, id: &str) -> Option<&'a mut Self> {
        Self::list_mut(bundle).iter_mut().find(|record| record.id() == id)
    }
}

/// The lists: what others refer to comes before what refers to it.
macro_rules! lists {
    ($($list:ident: $kind:ident in $field:ident, $one:literal, may be missing: $newer:literal, $references:expr;)*) => {
        /// One of the lists as a value, for code that need not be compiled anew for each.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[allow(missing_docs, reason = "the names are the documentation")]
        pub enum List {
            $($list),*
        }

        impl List {
            /// All of them; what others refer to comes before what refers to it.
            pub const ALL: [Self; [$(Self::$list),*].len()] = [$(Self::$list),*];

            /// Its name in the file.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$list => stringify!($field)),* }
            }

            /// What one record of it is called.
            pub const fn one(self) -> &'static str {
                match self { $(Self::$list => $one),* }
            }

            /// Whether a file of today's schema may lack it: a list that came later without a schema number of its own.
            pub(crate) const fn may_be_missing(self) -> bool {
                match self { $(Self::$list => $newer),* }
            }

            /// The records on it.
            pub(crate) fn of(self, bundle: &Bundle) -> &dyn Collection {
                match self { $(Self::$list => &bundle.$field),* }
            }

            /// The records on it, to change.
            pub(crate) fn of_mut(self, bundle: &mut Bundle) -> &mut dyn Collection {
                match self { $(Self::$list => &mut bundle.$field),* }
            }
        }

        $(impl Record for $kind {
            const LIST: List = List::$list;
            fn id(&self) -> &str { &self.id }
            fn set_id(&mut self, id: String) { self.id = id; }
            fn name(&self) -> &str { &self.name }
            fn set_name(&mut self, name: String) { self.name = name; }
            fn list(bundle: &Bundle) -> &Vec<Self> { &bundle.$field }
            fn list_mut(bundle: &mut Bundle) -> &mut Vec<Self> { &mut bundle.$field }
            fn references(&mut self, visit: Visit<'_>) {
                let references: fn(&mut Self, Visit<'_>) = $references;
                references(self, visit);
            }
        })*
    };
}

lists! {
    Airframes: Airframe in airframes, "airframe", may be missing: false, |_, _| {};
    PackTypes: PackType in pack_types, "pack type", may be missing: false, |_, _| {};
    Packs: Pack in packs, "pack", may be missing: false, |pack, visit| visit(List::PackTypes, &mut pack.pack_type);
    Items: Item in items, "item", may be missing: false, |_, _| {};
    Sites: Site in sites, "site", may be missing: false, |_, _| {};
    Setups: Setup in setups, "setup", may be missing: false, |setup, visit| {
        visit(List::Airframes, &mut setup.airframe);
        for pack in setup.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
            match pack {
                PackRef::Type(id) => visit(List::PackTypes, id),
                PackRef::Pack(id) => visit(List::Packs, id),
            }
        }
        setup.load.iter_mut().for_each(|load| visit(List::Items, &mut load.item));
        visit(List::Sites, &mut setup.site);
    };
    FlownSetups: FlownSetup in flown_setups, "setup as flown", may be missing: true, |_, _| {};
    Flights: Flight in flights, "flight", may be missing: true, |flight, visit| {
        visit(List::Airframes, &mut flight.airframe);
        visit(List::FlownSetups, &mut flight.flown_setup);
    };
    Recordings: Recording in recordings, "recording", may be missing: true, |recording, visit| {
        visit(List::Flights, &mut recording.flight);
    };
    DayPlans: DayPlan in day_plans, "day", may be missing: true, |day, visit| {
        day.sets.iter_mut().for_each(|sets| visit(List::Setups, &mut sets.setup));
        day.flights.iter_mut().for_each(|flight| visit(List::Setups, &mut flight.setup));
    };
}

/// A list seen from outside, whatever its records are. A place beyond its end holds nothing.
pub(crate) trait Collection {
    /// Ids with their shown names, in order.
    fn names(&self) -> Vec<(String, String)>;
    /// Where the one with this id stands.
    fn place(&self, id: &str) -> Option<usize>;
    /// Gives the record at a place another id.
    fn set_id(&mut self, place: usize, id: String);
    /// Gives the record at a place another name.
    fn set_name(&mut self, place: usize, name: String);
    /// Puts in a copy of a record of another bundle's list of this sort, under an id of its own.
    fn put_copy(&mut self, place: usize, from: &Bundle, id: &str, own_id: String);
    /// Whether the record at a place is, but for its id, that of another bundle.
    fn is_same(&self, place: usize, from: &Bundle, id: &str) -> bool;
    /// Takes a record out.
    fn take_out(&mut self, place: usize);
    /// Shows each reference of each record.
    fn references(&mut self, visit: Visit<'_>);
    /// Shows each reference of the record at a place.
    fn references_at(&mut self, place: usize, visit: Visit<'_>);
    /// Reads one more record to its end; the error's path is below the record.
    fn push_value(&mut self, value: &Value) -> Result<(), DocumentError>;
    /// The record at a place as JSON.
    fn value(&self, place: usize) -> Value;
    /// Whether the record at a place equals, id and all, the one at a place of another bundle's list of this sort.
    fn equals(&self, place: usize, other: &Bundle, other_place: usize) -> bool;
}

impl<T: Record> Collection for Vec<T> {
    fn names(&self) -> Vec<(String, String)> {
        self.iter().map(|record| (record.id().to_owned(), record.name().to_owned())).collect()
    }

    fn place(&self, id: &str) -> Option<usize> {
        self.iter().position(|record| record.id() == id)
    }

    fn set_id(&mut self, place: usize, id: String) {
        if let Some(record) = self.get_mut(place) {
            record.set_id(id);
        }
    }

    fn set_name(&mut self, place: usize, name: String) {
        if let Some(record) = self.get_mut(place) {
            record.set_name(name);
        }
    }

    fn put_copy(&mut self, place: usize, from: &Bundle, id: &str, own_id: String) {
        if let Some((_, record)) = T::find(from, id) {
            let mut copy = record.clone();
            copy.set_id(own_id);
            self.insert(place.min(self.len()), copy);
        }
    }

    fn is_same(&self, place: usize, from: &Bundle, id: &str) -> bool {
        let Some((there, (_, record))) = self.get(place).zip(T::find(from, id)) else { return false };
        let mut renamed = record.clone();
        renamed.set_id(there.id().to_owned());
        renamed == *there
    }

    fn take_out(&mut self, place: usize) {
        if place < self.len() {
            self.remove(place);
        }
    }

    fn references(&mut self, visit: Visit<'_>) {
        for record in self {
            record.references(visit);
        }
    }

    fn references_at(&mut self, place: usize, visit: Visit<'_>) {
        if let Some(record) = self.get_mut(place) {
            record.references(visit);
        }
    }

    fn push_value(&mut self, value: &Value) -> Result<(), DocumentError> {
        self.push(crate::shape::read(T::LIST.key(), value)?);
        Ok(())
    }

    fn value(&self, place: usize) -> Value {
        self.get(place).and_then(|record| serde_json::to_value(record).ok()).unwrap_or_default()
    }

    fn equals(&self, place: usize, other: &Bundle, other_place: usize) -> bool {
        self.get(place).zip(T::list(other).get(other_place)).is_some_and(|(own, other)| own == other)
    }
}

impl List {
    /// Ids and names of its records, in order.
    pub fn names(self, bundle: &Bundle) -> Vec<(String, String)> {
        self.of(bundle).names()
    }

    /// The name of one record.
    pub fn name(self, bundle: &Bundle, id: &str) -> Option<String> {
        self.names(bundle).into_iter().find(|(own, _)| own == id).map(|(_, name)| name)
    }

    /// The id of the record at a place.
    pub fn id_at(self, bundle: &Bundle, place: usize) -> Option<String> {
        self.names(bundle).into_iter().nth(place).map(|(id, _)| id)
    }

    /// The list with this name in the file.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|list| list.key() == key)
    }

    /// Gives one record another name; nothing happens where it is gone.
    pub fn set_name(self, bundle: &mut Bundle, id: &str, name: String) {
        let records = self.of_mut(bundle);
        if let Some(place) = records.place(id) {
            records.set_name(place, name);
        }
    }

    /// Who refers to a record: list and name of each.
    pub fn used_by(self, bundle: &Bundle, id: &str) -> Vec<(Self, String)> {
        let mut bundle = bundle.clone();
        let mut users = Vec::new();
        for list in Self::ALL {
            for (place, (_, name)) in list.names(&bundle).into_iter().enumerate() {
                let mut refers = false;
                list.of_mut(&mut bundle)
                    .references_at(place, &mut |to, reference| refers |= to == self && reference == id);
                if refers {
                    users.push((list, name));
                }
            }
        }
        users
    }
}

/// Exactly what one setup needs: itself, what it refers to, and what that refers to.
///
/// # Errors
/// `UnknownReference` for an unknown setup.
pub fn closed(bundle: &Bundle, setup_id: &str) -> Result<Bundle, DocumentError> {
    let unknown = || DocumentError::UnknownReference { path: "setups".to_owned(), id: setup_id.to_owned() };
    let place = List::Setups.of(bundle).place(setup_id).ok_or_else(unknown)?;
    let mut needed = vec![(List::Setups, setup_id.to_owned())];
    let mut own = bundle.equipment();
    List::Setups.of_mut(&mut own).references_at(place, &mut |list, id| needed.push((list, id.clone())));
    // What is referred to comes earlier in the order of the lists: one way back through it finds everything.
    for list in List::ALL.into_iter().rev().filter(|list| *list != List::Setups) {
        for (place, (id, _)) in list.names(bundle).into_iter().enumerate() {
            if needed.contains(&(list, id)) {
                list.of_mut(&mut own).references_at(place, &mut |list, id| needed.push((list, id.clone())));
            }
        }
    }
    let mut alone = Bundle::new();
    for list in List::ALL {
        for (id, _) in list.names(bundle).into_iter().filter(|(id, _)| needed.contains(&(list, id.clone()))) {
            list.of_mut(&mut alone).put_copy(usize::MAX, bundle, &id.clone(), id);
        }
    }
    Ok(alone)
}

/// An id that none of these ids with their names has: the stem itself, else `stem-2`, `stem-3`, …
pub fn fresh_id(taken: &[(String, String)], stem: &str) -> String {
    let stem = if stem.is_empty() { "id" } else { stem };
    let is_free = |id: &str| taken.iter().all(|(own, _)| own != id);
    if is_free(stem) {
        return stem.to_owned();
    }
    // One of more numbers than there are ids is free.
    (2..=taken.len() + 2)
        .map(|number| format!("{stem}-{number}"))
        .find(|id| is_free(id))
        .unwrap_or_else(|| stem.to_owned())
}
