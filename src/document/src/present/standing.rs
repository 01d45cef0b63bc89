//! How a setup stands, short enough for one line: land by, minutes, verdict, tightest margin; and what moved between two.
//!
//! A figure that is none says why in a word: it never stands as zero.

use liftmargin_core::card::{Card, Judgement};
use liftmargin_core::limits::{CheckKind, State};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};

use super::answer;
use super::before_after::{BeforeAfter, Way};
use super::headline::{Headline, flight_of};
use super::units::Units;
use crate::words::checks;

/// A cautious figure, or why there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading<T> {
    /// The samples are being flown.
    Computing,
    /// The setup does not fly.
    NoFlight,
    /// More than one flight in ten does not come home as planned.
    NotAssured,
    /// The figure.
    Known(T),
}

impl<T: Copy> Reading<T> {
    fn new(card: &Card, figure: Option<T>, si: fn(T) -> f64) -> Self {
        match figure {
            _ if flight_of(card).is_none() => Self::NoFlight,
            None => Self::Computing,
            Some(figure) if si(figure) <= 0.0 => Self::NotAssured,
            Some(figure) => Self::Known(figure),
        }
    }

    /// The figure as `show` writes it, or the word for none.
    pub fn words(self, show: impl FnOnce(T) -> String) -> String {
        match self {
            Self::Computing => "…".to_owned(),
            Self::NoFlight => "no flight".to_owned(),
            Self::NotAssured => "not assured".to_owned(),
            Self::Known(figure) => show(figure),
        }
    }

    const fn is_known(self) -> bool {
        matches!(self, Self::Known(_))
    }

    const fn is_computing(self) -> bool {
        matches!(self, Self::Computing)
    }

    /// Before and after, where at least one of them is no figure.
    fn change(before: Self, after: Self, show: impl Fn(T) -> String) -> BeforeAfter {
        let way = match (before.is_known(), after.is_known()) {
            _ if before.is_computing() || after.is_computing() => Way::Same,
            (true, false) => Way::Worse,
            (false, true) => Way::Better,
            _ => Way::Same,
        };
        BeforeAfter { before: before.words(&show), after: after.words(&show), change: String::new(), way }
    }
}

/// How a setup stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The verdict.
    pub state: State,
    /// Cautious, by the meter on board.
    pub land_by: Reading<ElectricCharge>,
    /// Cautious.
    pub flight_time: Reading<Time>,
    /// The worst check and its margin, where it has one.
    pub tightest: Option<(CheckKind, Option<Ratio>)>,
    /// Thrust-to-weight with full packs.
    pub thrust_to_weight: Ratio,
    /// Whether the cautious figures belong to the inputs as they are now.
    pub is_settled: bool,
}

impl Standing {
    /// Of a card, as judged, with its large figures.
    pub fn new(card: &Card, judged: &Judgement, headline: Option<Headline>) -> Self {
        let margin_of = |kind| judged.checks.iter().find(|check| check.kind == kind)?.margin;
        Self {
            state: judged.verdict.state,
            land_by: Reading::new(card, headline.and_then(|of| of.land_by), |charge| charge.value),
            flight_time: Reading::new(card, headline.and_then(|of| of.flight_time), |time| time.value),
            tightest: judged.verdict.worst.map(|kind| (kind, margin_of(kind))),
            thrust_to_weight: card.hover.thrust_to_weight,
            is_settled: headline.is_none_or(|headline| headline.fresh),
        }
    }

    /// "15 700 mAh", or why there is none.
    pub fn land_by_words(&self, units: Units) -> String {
        self.land_by.words(|charge| answer::charge(charge, units).to_string())
    }

    /// "9 min 40 s", or why there is none.
    pub fn flight_time_words(&self) -> String {
        self.flight_time.words(answer::time)
    }

    /// "Balance: 12 % margin".
    pub fn tightest_words(&self) -> String {
        match self.tightest {
            None => "none".to_owned(),
            Some((kind, None)) => checks::name(kind).to_owned(),
            Some((kind, Some(margin))) => format!("{}: {}", checks::name(kind), checks::margin_words(margin)),
        }
    }

    /// Minutes before and after.
    pub fn minutes(before: &Self, after: &Self) -> BeforeAfter {
        match (before.flight_time, after.flight_time) {
            (Reading::Known(before), Reading::Known(after)) => BeforeAfter::time(before, after),
            (before, after) => Reading::change(before, after, answer::time),
        }
    }

    /// Land-by before and after.
    pub fn landing(before: &Self, after: &Self, units: Units) -> BeforeAfter {
        match (before.land_by, after.land_by) {
            (Reading::Known(before), Reading::Known(after)) => BeforeAfter::charge(before, after, units),
            (before, after) => {
                Reading::change(before, after, |charge| answer::charge(charge, units).to_string())
            }
        }
    }

    /// The tightest margin before and after: a worse state is worse, whatever the figures say, and is named then.
    pub fn margins(before: &Self, after: &Self) -> BeforeAfter {
        let percent = |of: &Self| of.tightest.and_then(|(_, margin)| margin).map(checks::whole_percent);
        let steps = percent(before).zip(percent(after)).map_or(0, |(before, after)| after - before);
        let way = match after.state.cmp(&before.state) {
            core::cmp::Ordering::Greater => Way::Worse,
            core::cmp::Ordering::Less => Way::Better,
            core::cmp::Ordering::Equal => Way::more_is_better(steps),
        };
        let change =
            if after.state == before.state { "" } else { checks::state_word(after.state) }.to_owned();
        BeforeAfter { before: before.tightest_words(), after: after.tightest_words(), change, way }
    }

    /// What moved, in a sentence; none where nothing did, or where one of them is not settled.
    pub fn moved(before: &Self, after: &Self, units: Units) -> Option<String> {
        if !before.is_settled || !after.is_settled {
            return None;
        }
        let said = |name: &str, moved: BeforeAfter| match moved.change.as_str() {
            _ if moved.before == moved.after => None,
            "" => Some(format!("{name} {}", moved.after)),
            change => Some(format!("{name} {change}")),
        };
        let verdict = (before.state != after.state).then(|| {
            format!("verdict {}, was {}", checks::state_word(after.state), checks::state_word(before.state))
        });
        let parts = [
            verdict,
            said("flight time", Self::minutes(before, after)),
            said("land by", Self::landing(before, after, units)),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| crate::words::sentence(&parts.join("; ")))
    }
}
