//! The order of a list as a number on each record, so that a new record changes no other.

use core::cmp::Ordering;

/// Positions for the records of a list, in order. `known` are the numbers they have so far; those that keep the order are
/// kept, and `key` decides between equal ones.
pub(super) fn positions(known: &[(Option<f64>, &str)]) -> Vec<f64> {
    let kept = keeping_order(known);
    let mut positions = Vec::with_capacity(known.len());
    let mut place = 0;
    while place < known.len() {
        if let Some(position) = kept[place] {
            positions.push(position);
            place += 1;
            continue;
        }
        let free = kept[place..].iter().take_while(|kept| kept.is_none()).count();
        let before = positions.last().copied();
        let after = kept.get(place + free).copied().flatten();
        let (from, step) = match (before, after) {
            (None, None) => (0.0, 1.0),
            (Some(before), None) => (before.floor(), 1.0),
            (None, Some(after)) => (after.ceil() - free as f64 - 1.0, 1.0),
            (Some(before), Some(after)) => (before, (after - before) / (free as f64 + 1.0)),
        };
        positions.extend((1..=free).map(|number| from + step * number as f64));
        place += free;
    }
    let pairs = positions.iter().zip(known).map(|(position, (_, key))| (*position, *key));
    if pairs.is_sorted_by(|a, b| comes_before(*a, *b)) {
        positions
    } else {
        // Halved too often to tell them apart.
        (1..=known.len()).map(|number| number as f64).collect()
    }
}

/// The order on the list.
pub(super) fn on_the_list(a: (f64, &str), b: (f64, &str)) -> Ordering {
    a.0.total_cmp(&b.0).then_with(|| a.1.cmp(b.1))
}

fn comes_before(a: (f64, &str), b: (f64, &str)) -> bool {
    on_the_list(a, b).is_lt()
}

/// Known positions that rise from record to record; none for the others.
fn keeping_order(known: &[(Option<f64>, &str)]) -> Vec<Option<f64>> {
    let mut last: Option<(f64, &str)> = None;
    known
        .iter()
        .map(|(position, key)| {
            let here = (position.filter(|position| position.is_finite())?, *key);
            if last.is_some_and(|last| !comes_before(last, here)) {
                return None;
            }
            last = Some(here);
            Some(here.0)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_a_new_record_moves_no_other() {
        let table: &[(&[Option<f64>], &[f64])] = &[
            (&[None, None], &[1.0, 2.0]),
            (&[Some(1.0), None, Some(2.0)], &[1.0, 1.5, 2.0]),
            (&[None, Some(1.0)], &[0.0, 1.0]),
            (&[Some(1.0), Some(2.0), None], &[1.0, 2.0, 3.0]),
            (&[Some(3.0), Some(1.0), Some(2.0)], &[3.0, 4.0, 5.0]),
        ];
        for (known, expected) in table {
            let keys = ["a", "b", "c"];
            let known: Vec<_> = known.iter().copied().zip(keys).collect();
            assert_eq!(positions(&known), *expected);
        }
    }
}
