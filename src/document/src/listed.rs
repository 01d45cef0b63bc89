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
    /// The one with this id, to change.
    fn find_mut<'a>(bundle: &'a mut Bundle, id: &str) -> Option<&'a mut Self> {
        Self::list_mut(bundle).iter_mut().find(|thing| thing.id() == id)
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

/// Runs an expression with `T` as the type of a list's things.
macro_rules! of_list {
    ($list:expr, $kind:ident => $run:expr) => {
        match $list {
            List::Airframes => {
                type $kind = Airframe;
                $run
            }
            List::Packs => {
                type $kind = Pack;
                $run
            }
            List::Items => {
                type $kind = Item;
                $run
            }
            List::Sites => {
                type $kind = Site;
                $run
            }
            List::Setups => {
                type $kind = Setup;
                $run
            }
        }
    };
}
pub(crate) use of_list;

impl List {
    /// Its name in the file.
    pub const fn key(self) -> &'static str {
        of_list!(self, T => T::LIST)
    }

    /// Ids with their shown names, in order.
    pub fn names(self, bundle: &Bundle) -> Vec<(String, String)> {
        of_list!(self, T => T::list(bundle).iter().map(|thing| (thing.id.clone(), thing.name.clone())).collect())
    }

    /// The shown name of one thing.
    pub fn name(self, bundle: &Bundle, id: &str) -> Option<String> {
        of_list!(self, T => T::find(bundle, id).map(|(_, thing)| thing.name.clone()))
    }

    /// Gives one thing another name; nothing happens where it is gone.
    pub fn set_name(self, bundle: &mut Bundle, id: &str, name: String) {
        of_list!(self, T => if let Some(thing) = T::find_mut(bundle, id) { thing.name = name; });
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
