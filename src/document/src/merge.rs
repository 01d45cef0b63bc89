//! Import: one bundle taken into another, with nothing overwritten and nothing lost.
//!
//! A thing that is already there word for word is not doubled. A thing whose id is taken by another gets a fresh id,
//! and what refers to it follows.

use crate::listed::{Listed, fresh_id};
use crate::schema::{Airframe, Bundle, Item, Pack, Setup, Site};

/// What an import did.
#[derive(Debug, Clone, PartialEq)]
pub struct MergeResult {
    /// Both bundles in one.
    pub bundle: Bundle,
    /// Things taken in.
    pub added: usize,
    /// Things that were there already.
    pub skipped: usize,
    /// Things taken in under another id.
    pub renamed: Vec<Renamed>,
}

/// A thing that was taken in under another id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// Its list in the file.
    pub list: &'static str,
    /// Its shown name.
    pub name: String,
    /// Its id in the file it came from.
    pub from: String,
    /// Its id now.
    pub to: String,
}

/// Where the ids of one list went: from, to.
type NewIds = Vec<(String, String)>;

/// Takes `from` into `into`.
pub fn merge(into: &Bundle, from: &Bundle) -> MergeResult {
    let mut result = MergeResult { bundle: into.clone(), added: 0, skipped: 0, renamed: Vec::new() };
    let airframes = take::<Airframe>(&mut result, from, |_| ());
    let packs = take::<Pack>(&mut result, from, |_| ());
    let items = take::<Item>(&mut result, from, |_| ());
    let sites = take::<Site>(&mut result, from, |_| ());
    take::<Setup>(&mut result, from, |setup| {
        follow(&airframes, &mut setup.airframe);
        follow(&sites, &mut setup.site);
        setup.supply.strings.iter_mut().flatten().for_each(|pack| follow(&packs, pack));
        setup.load.iter_mut().for_each(|load| follow(&items, &mut load.item));
    });
    result
}

fn follow(new_ids: &NewIds, reference: &mut String) {
    if let Some((_, new_id)) = new_ids.iter().find(|(old_id, _)| old_id == reference) {
        reference.clone_from(new_id);
    }
}

/// Takes one list in; returns where its ids went.
fn take<T: Listed>(result: &mut MergeResult, from: &Bundle, rewrite: impl Fn(&mut T)) -> NewIds {
    let mut new_ids = NewIds::new();
    for thing in T::list(from) {
        let old_id = thing.id().to_owned();
        let mut thing = thing.clone();
        rewrite(&mut thing);
        if let Some(there) = same(&result.bundle, &thing) {
            new_ids.push((old_id, there));
            result.skipped += 1;
            continue;
        }
        if T::find(&result.bundle, &old_id).is_some() {
            let taken = T::list(&result.bundle).iter().chain(T::list(from)).map(Listed::id);
            let new_id = fresh_id(&taken.collect::<Vec<_>>(), &old_id);
            result.renamed.push(Renamed {
                list: T::LIST,
                name: thing.name().to_owned(),
                from: old_id.clone(),
                to: new_id.clone(),
            });
            thing.set_id(new_id.clone());
            new_ids.push((old_id, new_id));
        }
        result.added += 1;
        T::list_mut(&mut result.bundle).push(thing);
    }
    new_ids
}

/// The id of a thing with the same content, be it under its own id or, from an earlier import, under a derived one.
fn same<T: Listed>(bundle: &Bundle, thing: &T) -> Option<String> {
    let derived = format!("{}-", thing.id());
    T::list(bundle)
        .iter()
        .filter(|there| there.id() == thing.id() || there.id().starts_with(&derived))
        .find(|there| {
            let mut renamed = thing.clone();
            renamed.set_id(there.id().to_owned());
            renamed == **there
        })
        .map(|there| there.id().to_owned())
}
