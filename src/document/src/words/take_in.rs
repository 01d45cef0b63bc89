//! What comes in and what became of it, in words.

use crate::merge::MergeResult;
use crate::model::Bundle;
use crate::record::List;
use crate::take_in::{Incoming, Standing};

/// What is in a bundle: "1 setup, 1 airframe, 1 pack type, 5 items, 1 site".
pub fn holds(bundle: &Bundle) -> String {
    let of = |list: List| counted(list.names(bundle).len(), list.one());
    let parts: Vec<String> = List::ALL.into_iter().rev().filter_map(of).collect();
    if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
}

fn counted(count: usize, one: &str) -> Option<String> {
    match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {one}s")),
    }
}

/// How much of what comes in is new, the same, different: "2 new, 7 here already, 1 different".
pub fn standing(incoming: &[Incoming]) -> String {
    let count = |is: fn(&Standing) -> bool| incoming.iter().filter(|one| is(&one.standing)).count();
    let parts = [
        (count(|standing| *standing == Standing::New), "new"),
        (count(|standing| *standing == Standing::Same), "here already, word for word"),
        (count(|standing| matches!(standing, Standing::Different(_))), "different from yours"),
    ];
    let parts: Vec<String> = parts
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    if parts.is_empty() { "nothing".to_owned() } else { parts.join(", ") }
}

/// What was done: "2 taken in, 7 were there already".
pub fn done(result: &MergeResult) -> String {
    let both = result.renamed.len();
    let parts = [
        (result.added - both, "taken in"),
        (both, "taken in beside yours"),
        (result.replaced, "in the place of yours"),
        (result.left_out, "left out, yours kept"),
        (result.skipped, "were there already"),
    ];
    let parts: Vec<String> = parts
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    if parts.is_empty() { "Nothing to take in".to_owned() } else { parts.join(", ") }
}
