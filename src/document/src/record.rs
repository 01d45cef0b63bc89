//! What the five lists of a bundle have in common: things with an id and a name.

use crate::schema::{Airframe, Bundle, Item, Pack, SCHEMA, Setup, Site};

/// A thing of one of the lists.
pub trait Record: Clone + PartialEq + 'static {
    /// The list's name in the file.
    const LIST: &'static str;
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
    /// The one with this id, with its place in the list.
    fn find<'a>(bundle: &'a Bundle, id: &str) -> Option<(usize, &'a Self)> {
        Self::list(bundle).iter().enumerate().find(|(_, thing)| thing.id() == id)
    }
    /// The one with this id, to change.
    fn find_mut<'a>(bundle: &'a mut Bundle, id: &str) -> Option<&'a mut Self> {
        Self::list_mut(bundle).iter_mut().find(|thing| thing.id() == id)
    }
}

macro_rules! records {
    ($($kind:ident in $list:ident),*) => {$(
        impl Record for $kind {
            const LIST: &'static str = stringify!($list);
            fn id(&self) -> &str { &self.id }
            fn set_id(&mut self, id: String) { self.id = id; }
            fn name(&self) -> &str { &self.name }
            fn set_name(&mut self, name: String) { self.name = name; }
            fn list(bundle: &Bundle) -> &Vec<Self> { &bundle.$list }
            fn list_mut(bundle: &mut Bundle) -> &mut Vec<Self> { &mut bundle.$list }
        }
    )*};
}

records!(Airframe in airframes, Pack in packs, Item in items, Site in sites, Setup in setups);

/// One of the five lists as a value, for code that need not be compiled anew for each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum List {
    Airframes,
    Packs,
    Items,
    Sites,
    Setups,
}

/// A list seen from outside, whatever its things are. A place beyond its end holds nothing.
pub(crate) trait Collection {
    /// Ids with their shown names, in order.
    fn names(&self) -> Vec<(String, String)>;
    /// Where the one with this id stands.
    fn place(&self, id: &str) -> Option<usize>;
    /// Gives the thing at a place another name.
    fn set_name(&mut self, place: usize, name: String);
    /// Puts in a copy of a thing of another bundle's list of this sort, under an id of its own.
    fn put_copy(&mut self, place: usize, from: &Bundle, id: &str, own_id: String);
    /// Whether the thing at a place is, but for its id, that of another bundle.
    fn is_same(&self, place: usize, from: &Bundle, id: &str) -> bool;
    /// Takes a thing out.
    fn take_out(&mut self, place: usize);
}

impl<T: Record> Collection for Vec<T> {
    fn names(&self) -> Vec<(String, String)> {
        self.iter().map(|thing| (thing.id().to_owned(), thing.name().to_owned())).collect()
    }

    fn place(&self, id: &str) -> Option<usize> {
        self.iter().position(|thing| thing.id() == id)
    }

    fn set_name(&mut self, place: usize, name: String) {
        if let Some(thing) = self.get_mut(place) {
            thing.set_name(name);
        }
    }

    fn put_copy(&mut self, place: usize, from: &Bundle, id: &str, own_id: String) {
        if let Some((_, thing)) = T::find(from, id) {
            let mut copy = thing.clone();
            copy.set_id(own_id);
            self.insert(place.min(self.len()), copy);
        }
    }

    fn is_same(&self, place: usize, from: &Bundle, id: &str) -> bool {
        let Some((there, (_, thing))) = self.get(place).zip(T::find(from, id)) else { return false };
        let mut renamed = thing.clone();
        renamed.set_id(there.id().to_owned());
        renamed == *there
    }

    fn take_out(&mut self, place: usize) {
        if place < self.len() {
            self.remove(place);
        }
    }
}

impl List {
    /// All of them; what others refer to comes before what refers to it.
    pub(crate) const ALL: [Self; 5] = [Self::Airframes, Self::Packs, Self::Items, Self::Sites, Self::Setups];

    /// Its name in the file.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Airframes => Airframe::LIST,
            Self::Packs => Pack::LIST,
            Self::Items => Item::LIST,
            Self::Sites => Site::LIST,
            Self::Setups => Setup::LIST,
        }
    }

    /// The things on it.
    pub(crate) fn of(self, bundle: &Bundle) -> &dyn Collection {
        match self {
            Self::Airframes => &bundle.airframes,
            Self::Packs => &bundle.packs,
            Self::Items => &bundle.items,
            Self::Sites => &bundle.sites,
            Self::Setups => &bundle.setups,
        }
    }

    /// The things on it, to change.
    pub(crate) fn of_mut(self, bundle: &mut Bundle) -> &mut dyn Collection {
        match self {
            Self::Airframes => &mut bundle.airframes,
            Self::Packs => &mut bundle.packs,
            Self::Items => &mut bundle.items,
            Self::Sites => &mut bundle.sites,
            Self::Setups => &mut bundle.setups,
        }
    }

    /// What a setup refers to on it.
    pub(crate) fn references(self, setup: &mut Setup) -> Vec<&mut String> {
        match self {
            Self::Airframes => vec![&mut setup.airframe],
            Self::Packs => setup.supply.strings.iter_mut().flatten().collect(),
            Self::Items => setup.load.iter_mut().map(|load| &mut load.item).collect(),
            Self::Sites => vec![&mut setup.site],
            Self::Setups => Vec::new(),
        }
    }

    /// Ids with their shown names, in order.
    pub fn names(self, bundle: &Bundle) -> Vec<(String, String)> {
        self.of(bundle).names()
    }

    /// The shown name of one thing.
    pub fn name(self, bundle: &Bundle, id: &str) -> Option<String> {
        self.names(bundle).into_iter().find(|(own, _)| own == id).map(|(_, name)| name)
    }

    /// Gives one thing another name; nothing happens where it is gone.
    pub fn set_name(self, bundle: &mut Bundle, id: &str, name: String) {
        let things = self.of_mut(bundle);
        if let Some(place) = things.place(id) {
            things.set_name(place, name);
        }
    }
}

impl Bundle {
    /// A bundle with nothing in it.
    pub fn new() -> Self {
        Self {
            liftmargin_schema: SCHEMA,
            airframes: Vec::new(),
            packs: Vec::new(),
            items: Vec::new(),
            sites: Vec::new(),
            setups: Vec::new(),
        }
    }
}

impl Default for Bundle {
    fn default() -> Self {
        Self::new()
    }
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
