//! What the five lists of a bundle have in common: things with an id and a name.

use crate::schema::{Airframe, Bundle, Item, Pack, SCHEMA, Setup, Site};

/// A thing of one of the lists.
pub trait Listed: Clone + PartialEq + 'static {
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
}

macro_rules! listed {
    ($($kind:ident in $list:ident),*) => {$(
        impl Listed for $kind {
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

listed!(Airframe in airframes, Pack in packs, Item in items, Site in sites, Setup in setups);

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

/// An id that is not taken: the stem itself, else `stem-2`, `stem-3`, …
pub fn fresh_id(taken: &[&str], stem: &str) -> String {
    let stem = if stem.is_empty() { "id" } else { stem };
    if !taken.contains(&stem) {
        return stem.to_owned();
    }
    // One of more numbers than there are ids is free.
    (2..=taken.len() + 2)
        .map(|number| format!("{stem}-{number}"))
        .find(|id| !taken.contains(&id.as_str()))
        .unwrap_or_else(|| stem.to_owned())
}

/// The ids of a list.
pub fn ids<T: Listed>(bundle: &Bundle) -> Vec<&str> {
    T::list(bundle).iter().map(Listed::id).collect()
}
