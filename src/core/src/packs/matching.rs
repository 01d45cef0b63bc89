//! Which packs go together: the arrangement with the most usable charge.
//!
//! Formula: every arrangement is flown where there are few enough; those whose bound (`arrangement`) cannot beat the best so far are
//! passed over, which loses nothing. Else the greatest bound's arrangement, then exchanges of two packs as long as one gains,
//! those of like allowance first, for as many trials as the time allows; the bound then says how far off it can be at most.
//! Units: C. Source: exhaustive search, local search, textbook. Valid: as `arrangement`. Assumes: leads of all strings alike, so
//! that neither the order of strings nor that within a string matters.

use uom::si::electric_charge::coulomb;

use super::arrangement::{Arranged, MatchTask};
use crate::input_error::{InputError, SupplyFault};
use crate::units::ElectricCharge;

/// Arrangements up to which all are looked at.
const ALL_LOOKED_AT: f64 = 5_000.0;
/// Trials of the exchange.
const TRIALS: usize = 240;
/// Steps while looking, over the usual ones.
const COARSE: f64 = 0.2;

/// The packs put together.
#[derive(Debug, Clone, PartialEq)]
pub struct PackMatch {
    /// The best found.
    pub best: Arranged,
    /// The first packs in their order, string by string.
    pub in_order: Arranged,
    /// Every arrangement was looked at.
    pub is_exact: bool,
    /// No arrangement gives more.
    pub bound: ElectricCharge,
}

/// Chooses packs and puts them into strings.
///
/// # Errors
/// `InputError` naming the field; `InputError::Supply` for too few packs, or for unlike numbers of cells.
pub fn match_packs(task: &MatchTask) -> Result<PackMatch, InputError> {
    task.validate()?;
    let (needed, packs) = (task.needed(), task.packs.len());
    if packs < needed {
        return Err(InputError::Supply(SupplyFault::TooFewPacks { needed, packs }));
    }
    let places: Vec<usize> = (0..task.needed()).collect();
    let in_order = task.arranged(strings_of(&places, task.series))?;
    let allowances = task.allowances_c();
    let sorted = by_allowance(&allowances, task);
    let start = task.arranged(sorted.clone())?;
    let bound_c: f64 = bound_c(&sorted, &allowances);
    let is_exact = arrangements(task.packs.len(), task.strings, task.series) <= ALL_LOOKED_AT;
    let better = if start.usable > in_order.usable { start } else { in_order.clone() };
    let best = if is_exact { all(task, &allowances, better)? } else { exchanged(task, &allowances, better)? };
    Ok(PackMatch { best, in_order, is_exact, bound: ElectricCharge::new::<coulomb>(bound_c.max(0.0)) })
}

fn strings_of(places: &[usize], series: usize) -> Vec<Vec<usize>> {
    places.chunks(series.max(1)).map(<[usize]>::to_vec).collect()
}

/// The packs with the greatest allowances, those of like allowance together.
fn by_allowance(allowances: &[f64], task: &MatchTask) -> Vec<Vec<usize>> {
    let mut places: Vec<usize> = (0..allowances.len()).collect();
    let of = |place: &usize| allowances.get(*place).copied().unwrap_or(f64::NEG_INFINITY);
    places.sort_by(|a, b| of(b).total_cmp(&of(a)).then(a.cmp(b)));
    places.truncate(task.needed());
    strings_of(&places, task.series)
}

/// No more than this comes out of these strings.
fn bound_c(strings: &[Vec<usize>], allowances: &[f64]) -> f64 {
    let least = |string: &Vec<usize>| {
        string.iter().filter_map(|&place| allowances.get(place)).copied().fold(f64::INFINITY, f64::min)
    };
    strings.iter().map(least).sum()
}

/// How many arrangements there are: choose the packs, then part them.
fn arrangements(packs: usize, strings: usize, series: usize) -> f64 {
    let (mut count, mut left) = (1.0, packs as f64);
    for string in 0..strings {
        for place in 0..series {
            count *= left / (place as f64 + 1.0);
            left -= 1.0;
        }
        count /= string as f64 + 1.0;
    }
    count
}

/// Every arrangement, but for those that cannot beat the best.
fn all(task: &MatchTask, allowances: &[f64], best: Arranged) -> Result<Arranged, InputError> {
    let mut looked = Looked { task, allowances, best, strings: Vec::new() };
    let free: Vec<usize> = (0..task.packs.len()).collect();
    looked.further(&free)?;
    Ok(looked.best)
}

struct Looked<'a> {
    task: &'a MatchTask,
    allowances: &'a [f64],
    best: Arranged,
    strings: Vec<Vec<usize>>,
}

impl Looked<'_> {
    /// Fills the next string from the packs that are free; its first pack comes after that of the string before, so that no
    /// arrangement comes twice.
    fn further(&mut self, free: &[usize]) -> Result<(), InputError> {
        if self.strings.len() == self.task.strings {
            let bound_c = bound_c(&self.strings, self.allowances);
            if bound_c > self.best.usable.value {
                let arranged = self.task.arranged(self.strings.clone())?;
                if arranged.usable > self.best.usable {
                    self.best = arranged;
                }
            }
            return Ok(());
        }
        for (index, &first) in free.iter().enumerate() {
            let rest: Vec<usize> = free.iter().copied().skip(index + 1).collect();
            self.fill(vec![first], &rest, 0, &rest)?;
        }
        Ok(())
    }

    fn fill(
        &mut self,
        string: Vec<usize>,
        from: &[usize],
        next: usize,
        free: &[usize],
    ) -> Result<(), InputError> {
        if string.len() == self.task.series {
            let left: Vec<usize> = free.iter().copied().filter(|place| !string.contains(place)).collect();
            self.strings.push(string);
            let deeper = self.further(&left);
            self.strings.pop();
            return deeper;
        }
        for (index, &place) in from.iter().enumerate().skip(next) {
            let mut longer = string.clone();
            longer.push(place);
            self.fill(longer, from, index + 1, free)?;
        }
        Ok(())
    }
}

/// Exchanges two packs, or one on board for one left out, as long as that gains.
fn exchanged(task: &MatchTask, allowances: &[f64], start: Arranged) -> Result<Arranged, InputError> {
    let exact = start.clone();
    let mut best = task.by_steps(start.strings, COARSE)?;
    let mut trials = 0;
    let mut gained = true;
    while gained && trials < TRIALS {
        gained = false;
        for (from, to) in exchanges(task, allowances, &best.strings) {
            if trials >= TRIALS {
                break;
            }
            let mut strings = best.strings.clone();
            let is_one_string = |string: &Vec<usize>| string.contains(&from) && string.contains(&to);
            if strings.iter().any(is_one_string) {
                continue;
            }
            for place in strings.iter_mut().flatten() {
                *place = if *place == from {
                    to
                } else if *place == to {
                    from
                } else {
                    *place
                };
            }
            if bound_c(&strings, allowances) <= best.usable.value {
                continue;
            }
            trials += 1;
            let tried = task.by_steps(strings, COARSE)?;
            if tried.usable > best.usable {
                best = tried;
                gained = true;
            }
        }
    }
    let found = task.arranged(best.strings)?;
    Ok(if found.usable > exact.usable { found } else { exact })
}

/// Pairs that can be exchanged, those of like allowance first.
fn exchanges(task: &MatchTask, allowances: &[f64], strings: &[Vec<usize>]) -> Vec<(usize, usize)> {
    let home = |place: usize| strings.iter().position(|string| string.contains(&place));
    let of = |place: usize| allowances.get(place).copied().unwrap_or(f64::NEG_INFINITY);
    let homes: Vec<Option<usize>> = (0..task.packs.len()).map(home).collect();
    let mut pairs = Vec::new();
    for (from, from_home) in homes.iter().enumerate() {
        for (to, to_home) in homes.iter().enumerate().skip(from + 1) {
            if from_home != to_home {
                pairs.push((from, to));
            }
        }
    }
    let gap = |&(from, to): &(usize, usize)| (of(from) - of(to)).abs();
    pairs.sort_by(|a, b| gap(a).total_cmp(&gap(b)));
    pairs
}
