//! Which packs go together: against every arrangement of up to ten packs, the bound, and chosen cases.

use liftmargin_core::packs::{MatchTask, match_packs};
use liftmargin_core::supply::Pack;
use proptest::prelude::*;
use uom::si::electric_charge::{ampere_hour, coulomb};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::f64::{ElectricCharge, ElectricPotential, ElectricalResistance, Power};
use uom::si::power::watt;
use uom::si::time::second;

use crate::rig;

/// Capacity in Ah, milliohms of a cell, rest voltage of a cell.
type Known = (f64, f64, f64);

fn pack((capacity_ah, cell_milliohm, cell_v): Known) -> Pack {
    let mut pack = Pack { cells_in_series: 6, ..rig::pack(12.0, 1.5) };
    pack.mass *= 0.5;
    pack.health.measured_capacity = Some(ElectricCharge::new::<ampere_hour>(capacity_ah));
    pack.health.measured_cell_resistance = Some(ElectricalResistance::new::<milliohm>(cell_milliohm));
    pack.rest_voltage = Some(ElectricPotential::new::<volt>(6.0 * cell_v));
    pack
}

fn task(packs: &[Known], strings: usize, series: usize) -> MatchTask {
    let rig = rig::two_strings();
    MatchTask {
        packs: packs.iter().copied().map(pack).collect(),
        strings,
        series,
        string_resistance: rig.string_resistance,
        bus_resistance: rig.bus_resistance,
        // About 2 C out of each string.
        power: Power::new::<watt>(500.0 * (strings * series) as f64),
        policy: rig::reserve(0.2),
    }
}

/// Every way to put packs into strings, each once, told apart from the search: all permutations, kept where sorted.
fn every(packs: usize, strings: usize, series: usize) -> Vec<Vec<Vec<usize>>> {
    fn deeper(
        taken: &mut Vec<usize>,
        packs: usize,
        needed: usize,
        series: usize,
        all: &mut Vec<Vec<Vec<usize>>>,
    ) {
        let place = taken.len();
        if place == needed {
            all.push(taken.chunks(series).map(<[usize]>::to_vec).collect());
            return;
        }
        for next in 0..packs {
            let rises_in_string = place.is_multiple_of(series) || taken[place - 1] < next;
            let rises_by_string = !place.is_multiple_of(series) || place == 0 || taken[place - series] < next;
            if !taken.contains(&next) && rises_in_string && rises_by_string {
                taken.push(next);
                deeper(taken, packs, needed, series, all);
                taken.pop();
            }
        }
    }
    let mut all = Vec::new();
    deeper(&mut Vec::new(), packs, strings * series, series, &mut all);
    all
}

fn known() -> impl Strategy<Value = Known> {
    (9.0..12.2_f64, 1.0..4.0_f64, 4.10..4.2_f64)
}

/// The search's best is the best of all, by the same flights.
fn check_against_all(packs: &[Known], strings: usize, series: usize) {
    let task = task(packs, strings, series);
    let found = match_packs(&task).expect("in range");
    let all = every(packs.len(), strings, series);
    let best = all.iter().map(|arrangement| task.arranged(arrangement.clone()).expect("in range").usable);
    let best = best.fold(ElectricCharge::default(), ElectricCharge::max);
    assert!(found.is_exact && best.value > 0.0);
    assert_eq!(found.best.usable, best, "{} arrangements", all.len());
    assert!(found.bound.value >= best.value * (1.0 - 1e-6));
    assert!(found.best.usable >= found.in_order.usable);
    assert_eq!(task.arranged(found.best.strings.clone()).expect("in range").usable, best);
}

#[test]
fn every_counts_them_all() {
    // 4 packs into 2 pairs: 3. 6 into 3 pairs: 15. 5 packs, 4 of them into 2 pairs: 15. 10 into 5 pairs: 945.
    assert_eq!(
        [every(4, 2, 2), every(6, 3, 2), every(5, 2, 2), every(10, 5, 2)].map(|all| all.len()),
        [3, 15, 15, 945]
    );
}

// Brute force: as many packs as ten, all shapes.
#[test]
fn val_brute_force_ten_packs() {
    let packs: Vec<Known> = (0..10)
        .map(|index| {
            let at = f64::from(index);
            (
                10.0 + 2.0 * (at * 0.37).sin(),
                1.5 + 1.2 * (at * 1.9).cos().abs(),
                4.16 + 0.03 * (at * 0.83).sin(),
            )
        })
        .collect();
    for (strings, series) in [(5, 2), (2, 4), (3, 3)] {
        check_against_all(&packs, strings, series);
    }
    check_against_all(&packs[..9], 4, 2);
    check_against_all(&packs[..8], 8, 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn prop_brute_force_up_to_eight(packs in prop::collection::vec(known(), 4..9), shape in 0..4_usize) {
        let (strings, series) = [(2, 2), (2, 1), (4, 1), (1, 4)][shape];
        check_against_all(&packs, strings, series);
    }

    // Where not every arrangement is looked at: never worse than in order, nor better than the bound, each pack once.
    #[test]
    fn prop_many_packs(packs in prop::collection::vec(known(), 16..25)) {
        let task = task(&packs, 4, 3);
        let found = match_packs(&task).expect("in range");
        prop_assert!(!found.is_exact);
        prop_assert!(found.best.usable >= found.in_order.usable);
        prop_assert!(found.best.usable.value <= found.bound.value * (1.0 + 1e-6));
        // The bound knows no resistance; still it is near.
        prop_assert!(found.best.usable.value >= found.bound.value * 0.9, "{:?} of {:?}", found.best.usable, found.bound);
        let mut places: Vec<usize> = found.best.strings.concat();
        places.sort_unstable();
        places.dedup();
        prop_assert_eq!(places.len(), 12);
        prop_assert_eq!(&found, &match_packs(&task).expect("in range"));
    }
}

// By hand: two strong and two weak packs. In order each string has a weak one and both stop at it; matched, one string is strong.
#[test]
fn like_goes_with_like() {
    let (strong, weak) = ((12.0, 1.5, 4.2), (10.0, 1.5, 4.2));
    let found = match_packs(&task(&[strong, weak, strong, weak], 2, 2)).expect("in range");
    assert_eq!(found.best.strings, [[0, 2], [1, 3]]);
    let gained = (found.best.usable - found.in_order.usable).get::<ampere_hour>();
    // 0.8 of 2 · 10 Ah against at most 0.8 of (12 + 10) Ah: the strong string carries more, not quite all of it.
    assert!((1.0..1.6).contains(&gained), "{gained} Ah");
    assert!(found.best.time.get::<second>() > found.in_order.time.get::<second>());
    assert!(found.bound.get::<coulomb>() > 0.0);
}

#[test]
fn what_cannot_be_matched_is_refused() {
    let packs = [(12.0, 1.5, 4.2); 3];
    assert_eq!(match_packs(&task(&packs, 2, 2)).expect_err("three packs").field(), "supply");
    assert_eq!(match_packs(&task(&packs, 0, 2)).expect_err("no string").field(), "strings_in_parallel");
    let mut unlike = task(&[(12.0, 1.5, 4.2); 4], 2, 2);
    unlike.packs[1].cells_in_series = 7;
    assert_eq!(match_packs(&unlike).expect_err("unlike").field(), "supply");
}
