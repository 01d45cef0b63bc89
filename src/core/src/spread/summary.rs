//! What the samples say: middle, cautious, and which input the doubt comes from.
//!
//! Formula   middle = median; cautious = 10th percentile (linear between order statistics, Hyndman and Fan's
//!           definition 7, from memory); share of doubt = squared correlation of input and result, over their sum
//! Units     the result's own
//! Source    as named
//! Valid     at least one sample
//! Assumes   inputs drawn independently

use super::draw::Input;
use crate::units::Ratio;
use uom::si::ratio::ratio;

/// One flight in ten is worse.
const CAUTIOUS_SHARE: f64 = 0.1;

/// Middle and cautious value of one result, in the result's SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Quantiles {
    pub median: f64,
    pub cautious: f64,
}

/// Quantiles of samples where a small value is the bad one; none without samples.
pub(crate) fn quantiles(samples: &[f64]) -> Option<Quantiles> {
    let mut samples = samples.to_vec();
    samples.sort_by(f64::total_cmp);
    Some(Quantiles { median: at_share(&samples, 0.5)?, cautious: at_share(&samples, CAUTIOUS_SHARE)? })
}

fn at_share(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = share * last as f64;
    let below = place as usize;
    let low = sorted.get(below)?;
    let high = sorted.get(below + 1).unwrap_or(low);
    Some(low + (high - low) * (place - below as f64))
}

/// How much of the doubt each input brings, largest first, sum one; empty where nothing varies.
pub(crate) fn contributions(deviations: &[[f64; 6]], results: &[f64]) -> Vec<(Input, Ratio)> {
    let squared: Vec<(Input, f64)> = Input::ALL
        .into_iter()
        .enumerate()
        .map(|(index, input)| {
            let column: Vec<f64> = deviations.iter().filter_map(|row| row.get(index).copied()).collect();
            (input, squared_correlation(&column, results))
        })
        .collect();
    let sum: f64 = squared.iter().map(|(_, share)| share).sum();
    if sum <= 0.0 {
        return Vec::new();
    }
    let mut shares: Vec<_> =
        squared.into_iter().map(|(input, s)| (input, Ratio::new::<ratio>(s / sum))).collect();
    shares.sort_by(|(_, a), (_, b)| b.value.total_cmp(&a.value));
    shares
}

fn squared_correlation(x: &[f64], y: &[f64]) -> f64 {
    let count = x.len().min(y.len()) as f64;
    let mean = |values: &[f64]| values.iter().sum::<f64>() / count;
    let (mean_x, mean_y) = (mean(x), mean(y));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (x, y) in x.iter().zip(y) {
        xx += (x - mean_x) * (x - mean_x);
        yy += (y - mean_y) * (y - mean_y);
        xy += (x - mean_x) * (y - mean_y);
    }
    if xx > 0.0 && yy > 0.0 { xy * xy / (xx * yy) } else { 0.0 }
}
