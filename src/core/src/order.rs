//! Sorting by number, once for the whole crate: each sort of another type would be compiled anew, and the phone loads it.

/// The things by rising key, equal keys in their given order. The first number rules, the second breaks its ties.
pub(crate) fn sorted<T: Clone>(things: &[T], key: impl Fn(&T) -> (u8, f64)) -> Vec<T> {
    let mut order: Vec<(u8, f64, usize)> =
        things.iter().map(&key).enumerate().map(|(place, (first, second))| (first, second, place)).collect();
    rise(&mut order);
    order.into_iter().filter_map(|(.., place)| things.get(place).cloned()).collect()
}

fn rise(order: &mut [(u8, f64, usize)]) {
    order.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
}

/// Numbers, rising.
pub(crate) fn rising(numbers: &[f64]) -> Vec<f64> {
    sorted(numbers, |number| (0, *number))
}
