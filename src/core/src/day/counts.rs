//! The fewest of something with which something holds, where more never hurts.
//!
//! Formula: bisection on a count. Units: none. Source: textbook. Valid: `holds` true for every count above one for which it is.
//! Assumes: that order; the station's own promise, tested.

/// The least count from `from` to `to` for which it holds.
pub(super) fn fewest(from: u32, to: u32, mut holds: impl FnMut(u32) -> bool) -> Option<u32> {
    if from > to || !holds(to) {
        return None;
    }
    let (mut low, mut high) = (from, to);
    while low < high {
        let middle = low + (high - low) / 2;
        if holds(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Some(low)
}
