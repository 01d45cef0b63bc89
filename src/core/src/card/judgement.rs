//! A card judged with its cautious figures: the verdict is the worst of all that is shown.
//!
//! Formula   "comes home as planned" = share of the drawn flights that do, against the house limit
//! Units     dimensionless
//! Source    common practice, no source: a flight that more than one in ten times does not come home is not flown
//! Valid     a setup that flies
//! Assumes   the draws of `spread`

use super::cautious::Cautious;
use super::params::{Card, Outcome};
use crate::limits::{Band, Check, CheckKind, Figure, LimitSource, Thresholds, Verdict, judge, verdict};

/// All checks, worst first, and the verdict over them.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// All checks, worst first.
    pub checks: Vec<Check>,
    /// The verdict.
    pub verdict: Verdict,
}

impl Card {
    /// The checks with what sampling found; none sampled of a flight is a flight that is not assured. A card without a
    /// flight stands as it is: it says no already.
    pub fn judged(&self, cautious: Option<&Cautious>, thresholds: &Thresholds) -> Judgement {
        let mut checks = self.checks.clone();
        if let Outcome::Flies(_) = self.outcome {
            let band = Band {
                fine: Figure::Share(thresholds.comes_home_fine),
                limit: Figure::Share(thresholds.comes_home_least),
            };
            let share = cautious.map(|cautious| Figure::Share(cautious.comes_home));
            checks.push(judge(CheckKind::ComesHome, share, band, LimitSource::CommonPractice));
        }
        let verdict = verdict(&mut checks);
        Judgement { checks, verdict }
    }
}
