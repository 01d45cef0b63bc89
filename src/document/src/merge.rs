//! Import: one bundle taken into another, with nothing overwritten and nothing lost.
//!
//! A thing that is already there word for word is not doubled. A thing whose id is taken by another is, as the crew chooses,
//! left out, put in the place of the other, or taken in under a fresh id; what refers to it follows.

use crate::model::{Airframe, Bundle};
use crate::record::{List, Record as _, fresh_id};

/// What an import did.
#[derive(Debug, Clone, PartialEq)]
pub struct MergeResult {
    /// Both bundles in one.
    pub bundle: Bundle,
    /// Records taken in.
    pub added: usize,
    /// Records that were there already.
    pub skipped: usize,
    /// Records left out because the one that is there was kept.
    pub left_out: usize,
    /// Records put in the place of what was there.
    pub replaced: usize,
    /// Records taken in under another id.
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

impl MergeResult {
    /// The id that a thing of the other bundle has now.
    pub fn id_now(&self, list: List, id: &str) -> String {
        let renamed = self.renamed.iter().find(|renamed| renamed.list == list.key() && renamed.from == id);
        renamed.map_or_else(|| id.to_owned(), |renamed| renamed.to.clone())
    }
}

/// What becomes of a thing whose id is taken by another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Keep {
    /// The one that is there stays, the other is left out.
    Mine,
    /// The other stands in its place.
    Theirs,
    /// The other gets a fresh id.
    Both,
}

/// Where the ids of one list went: from, to.
type NewIds = Vec<(String, String)>;

/// Takes `from` into `into`: of two things with one id both are kept.
pub fn merge(into: &Bundle, from: &Bundle) -> MergeResult {
    merge_with(into, from, &|_, _| Keep::Both)
}

/// As `merge`; of two things with one id is kept what `choose` says, by list and id.
pub fn merge_with(into: &Bundle, from: &Bundle, choose: &dyn Fn(List, &str) -> Keep) -> MergeResult {
    let mut result = MergeResult {
        bundle: into.clone(),
        added: 0,
        skipped: 0,
        left_out: 0,
        replaced: 0,
        renamed: Vec::new(),
    };
    let mut from = from.clone();
    take_corrections(&mut from, into);
    // What refers to others comes later, when all that it refers to has its final id.
    for list in List::ALL {
        let new_ids = take(list, &mut result, &from, choose);
        for referring in List::ALL {
            referring.of_mut(&mut from).references(&mut |to, reference| {
                if to == list {
                    follow(&new_ids, reference);
                }
            });
        }
    }
    for (name, value) in from.extra {
        result.bundle.extra.entry(name).or_insert(value);
    }
    result
}

/// An airframe that differs in nothing but what its flights have taught is the same: what is learned here stands, and is
/// learned anew with the flights that come in.
fn take_corrections(from: &mut Bundle, into: &Bundle) {
    for airframe in &mut from.airframes {
        let Some((_, own)) = Airframe::find(into, &airframe.id) else { continue };
        let alike = Airframe { correction: own.correction.clone(), ..airframe.clone() };
        if alike == *own {
            *airframe = alike;
        }
    }
}

fn follow(new_ids: &NewIds, reference: &mut String) {
    if let Some((_, new_id)) = new_ids.iter().find(|(old_id, _)| old_id == reference) {
        reference.clone_from(new_id);
    }
}

/// Takes one list in; returns where its ids went.
fn take(list: List, result: &mut MergeResult, from: &Bundle, choose: &dyn Fn(List, &str) -> Keep) -> NewIds {
    let mut new_ids = NewIds::new();
    let incoming = list.names(from);
    for (old_id, name) in &incoming {
        let there = list.names(&result.bundle);
        if let Some(same) = same(list, &result.bundle, &there, from, old_id) {
            new_ids.push((old_id.clone(), same));
            result.skipped += 1;
            continue;
        }
        let mut id = old_id.clone();
        if let Some(place) = there.iter().position(|(own, _)| own == old_id) {
            match choose(list, old_id) {
                Keep::Both => {}
                Keep::Mine => {
                    result.left_out += 1;
                    continue;
                }
                Keep::Theirs => {
                    result.replaced += 1;
                    let things = list.of_mut(&mut result.bundle);
                    things.take_out(place);
                    things.put_copy(place, from, old_id, id);
                    continue;
                }
            }
            id = fresh_id(&[there, incoming.clone()].concat(), old_id);
            result.renamed.push(Renamed {
                list: list.key(),
                name: name.clone(),
                from: old_id.clone(),
                to: id.clone(),
            });
            new_ids.push((old_id.clone(), id.clone()));
        }
        result.added += 1;
        list.of_mut(&mut result.bundle).put_copy(usize::MAX, from, old_id, id);
    }
    new_ids
}

/// The id of a thing with the same content, be it under its own id or, from an earlier import, under a derived one.
fn same(
    list: List,
    bundle: &Bundle,
    there: &[(String, String)],
    from: &Bundle,
    old_id: &str,
) -> Option<String> {
    let derived = format!("{old_id}-");
    let could_be = |id: &str| id == old_id || id.starts_with(&derived);
    let mut candidates = there.iter().enumerate().filter(|(_, (id, _))| could_be(id));
    let found = candidates.find(|(place, _)| list.of(bundle).is_same(*place, from, old_id));
    found.map(|(_, (id, _))| id.clone())
}
