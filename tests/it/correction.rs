//! What flights teach: against an independent quadrature, the conjugate normal case by hand, and simulated crews.

use crate::table::{Table, assert_close};
use liftmargin_core::correction::{Correction, Flown, Prior, Scatter, learn};
use liftmargin_core::units::{Ratio, Time};
use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;
use uom::si::ratio::ratio;
use uom::si::time::day;

fn share(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

fn flown(factor: f64) -> Flown {
    Flown { power_factor: share(factor), reading: share(0.0), age: Time::default() }
}

fn known(scale: f64, degrees_of_freedom: f64) -> Scatter {
    Scatter { scale: share(scale), scale_doubt: share(0.0), degrees_of_freedom: share(degrees_of_freedom) }
}

#[track_caller]
fn learned(factors: &[f64], spread: f64, scatter: &Scatter) -> Correction {
    let flights: Vec<Flown> = factors.iter().copied().map(flown).collect();
    learn(&flights, &Prior { spread: share(spread) }, scatter, None).expect("inside the ranges")
}

/// scipy, see tests/references/correction/SOURCE.md.
#[test]
fn val_scipy_quantiles_of_the_posterior() {
    for row in Table::read("correction/table.csv").rows() {
        let factors: Vec<f64> =
            row.text("factors").split(' ').map(|factor| factor.parse().unwrap()).collect();
        let scatter = known(row.number("scale"), row.number("degrees_of_freedom"));
        let got = learned(&factors, row.number("prior_spread"), &scatter);
        let pairs = [
            (got.interval_90[0], "q05"),
            (got.interval_80[0], "q10"),
            (got.median, "median"),
            (got.interval_80[1], "q90"),
            (got.interval_90[1], "q95"),
        ];
        for (got, column) in pairs {
            assert_close(got.value, row.number(column), 2e-4, &format!("{} {column}", row.text("case")));
        }
    }
}

/// Normal prior, normal likelihood (any textbook of Bayesian statistics): precision 1/0.1² + 4/0.04² = 2600, mean
/// (4 ȳ/0.04²)/2600 with ȳ = ln 1.06, deviation 1/√2600.
#[test]
fn val_conjugate_normal_by_hand() {
    let got = learned(&[1.06; 4], 0.1, &known(0.04, 1e9));
    let mean = 2500.0 / 2600.0 * 1.06_f64.ln();
    let deviation = 1.0 / 2600.0_f64.sqrt();
    assert_close(got.median.value, mean.exp(), 1e-5, "median");
    assert_close(got.spread.value, deviation, 1e-3, "deviation");
    // 1.2816 and 1.6449 deviations: table of the normal distribution.
    assert_close(got.interval_80[1].value, (mean + 1.2816 * deviation).exp(), 1e-4, "90 %");
    assert_close(got.interval_90[0].value, (mean - 1.6449 * deviation).exp(), 1e-4, "5 %");
}

#[test]
fn regress_without_flights_it_is_the_models_own_spread() {
    let got = learned(&[], 0.08, &Scatter::default());
    assert_close(got.median.value, 1.0, 1e-6, "median");
    assert_close(got.spread.value, 0.08, 1e-3, "spread");
    assert!(got.applied().value <= 1.0 + 1e-9 && got.odd.is_empty());
}

/// One wild flight in ten moves the factor by less than 1 %, and is shown as odd with how far it lies.
#[test]
fn regress_a_wild_flight_is_shown_and_hardly_counts() {
    let nine = [1.05, 1.07, 1.04, 1.08, 1.06, 1.05, 1.03, 1.07, 1.06];
    let calm = learned(&nine, 0.1, &Scatter::default());
    for wild in [0.4, 0.7, 1.5, 2.5] {
        let mut ten = nine.to_vec();
        ten.insert(4, wild);
        let got = learned(&ten, 0.1, &Scatter::default());
        assert!((got.median / calm.median).value - 1.0 < 0.01, "{wild}: {:?}", got.median);
        assert!((calm.median / got.median).value - 1.0 < 0.01, "{wild}: {:?}", got.median);
        let [odd] = got.odd.as_slice() else { panic!("{wild}: {:?}", got.odd) };
        assert_eq!(odd.flight, 4);
        assert_eq!(odd.over_the_others.value > 1.0, wild > 1.0);
        assert!(odd.deviations.value > 3.0);
    }
}

/// Student's t by Bailey's polar method (1994, from memory).
fn student(generator: &mut Pcg32, degrees_of_freedom: f64) -> f64 {
    loop {
        let (u, v): (f64, f64) =
            (2.0 * generator.random::<f64>() - 1.0, 2.0 * generator.random::<f64>() - 1.0);
        let w = u * u + v * v;
        if w > 0.0 && w < 1.0 {
            return u * (degrees_of_freedom * (w.powf(-2.0 / degrees_of_freedom) - 1.0) / w).sqrt();
        }
    }
}

fn normal(generator: &mut Pcg32) -> f64 {
    let (u, v): (f64, f64) = (1.0 - generator.random::<f64>(), generator.random());
    (-2.0 * u.ln()).sqrt() * (core::f64::consts::TAU * v).cos()
}

/// 2,000 crews of one to eight flights, drawn as the model says: nine in ten intervals hold the truth. Two deviations of
/// that share are 1.3 %.
#[test]
fn prop_intervals_hold_the_truth_as_often_as_they_say() {
    let scatter = Scatter::default();
    let (mut held_90, mut held_80) = (0, 0);
    let mut generator = Pcg32::seed_from_u64(12);
    for trial in 0..2000 {
        let truth = 0.1 * normal(&mut generator);
        let scale = scatter.scale.value * (scatter.scale_doubt.value * normal(&mut generator)).exp();
        let factors: Vec<f64> = (0..=trial % 8)
            .map(|_| (truth + scale * student(&mut generator, 4.0)).exp().clamp(0.25, 4.0))
            .collect();
        let got = learned(&factors, 0.1, &scatter);
        let holds =
            |interval: [Ratio; 2]| interval[0].value <= truth.exp() && truth.exp() <= interval[1].value;
        held_90 += usize::from(holds(got.interval_90));
        held_80 += usize::from(holds(got.interval_80));
    }
    assert!((1760..=1840).contains(&held_90), "90 % interval: {held_90} of 2000");
    assert!((1550..=1650).contains(&held_80), "80 % interval: {held_80} of 2000");
}

/// A model 10 % wrong, six flights with the usual scatter: within 2 % in the middle of two hundred crews.
#[test]
fn regress_six_flights_mend_a_model_ten_percent_wrong() {
    let mut generator = Pcg32::seed_from_u64(7);
    for wrong in [0.9_f64, 1.1] {
        let mut misses: Vec<f64> = (0..200)
            .map(|_| {
                let six: Vec<f64> = (0..6).map(|_| wrong * (0.03 * normal(&mut generator)).exp()).collect();
                (learned(&six, 0.12, &Scatter::default()).median.value / wrong - 1.0).abs()
            })
            .collect();
        misses.sort_by(f64::total_cmp);
        assert!(misses[100] < 0.02, "median miss {}", misses[100]);
    }
}

#[test]
fn regress_old_flights_fade() {
    let old = Flown { age: Time::new::<day>(365.0), ..flown(1.2) };
    let flights = [old, old, old, flown(1.0), flown(1.01), flown(0.99)];
    let prior = Prior { spread: share(0.1) };
    let all = learn(&flights, &prior, &Scatter::default(), None).unwrap();
    let fading = learn(&flights, &prior, &Scatter::default(), Some(Time::new::<day>(30.0))).unwrap();
    assert!(fading.median.value < 1.01 && all.median.value > 1.03, "{:?} {:?}", fading.median, all.median);
}

#[test]
fn regress_values_out_of_range_are_refused() {
    let prior = Prior { spread: share(0.1) };
    for (flights, field) in [(vec![flown(0.1)], "power_factor"), (vec![flown(f64::NAN)], "power_factor")] {
        let refused = learn(&flights, &prior, &Scatter::default(), None).expect_err("refused");
        assert_eq!(refused.field(), field);
    }
    let refused = learn(&[], &Prior { spread: share(0.0) }, &Scatter::default(), None).expect_err("refused");
    assert_eq!(refused.field(), "model_spread");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Less power than the model's is credited only where it is assured; more counts in full.
    #[test]
    fn prop_no_correction_is_bolder_than_its_doubt(
        factors in proptest::collection::vec(0.5..2.0f64, 0..12), spread in 0.02..0.2f64,
    ) {
        let got = learned(&factors, spread, &Scatter::default());
        prop_assert!(got.applied() >= got.median.min(share(1.0)));
        prop_assert!(got.applied() >= got.interval_80[1].min(share(1.0)));
        prop_assert!(got.interval_90[0] <= got.interval_80[0] && got.interval_80[0] <= got.median);
        prop_assert!(got.median <= got.interval_80[1] && got.interval_80[1] <= got.interval_90[1]);
        prop_assert!(got.spread.value > 0.0 && got.spread.value < 0.5);
    }

    /// More of the same flight moves the middle towards it.
    #[test]
    fn prop_more_flights_pull_further(factor in 1.02..1.3f64) {
        let few = learned(&[factor; 2], 0.1, &Scatter::default());
        let many = learned(&[factor; 6], 0.1, &Scatter::default());
        prop_assert!(many.median >= few.median && many.spread <= few.spread);
    }
}
