//! The greatest wind in which a setup keeps all its margins: one pair of mean wind and gust at which no check says no.
//!
//! Formula   the greatest w in which no check of the card says no, at mean wind w and gust max(G w, w + e); e is what the site's
//!           gust is above its mean wind. By bisection from calm to where the gust leaves its range; then by the drawn flights,
//!           downwards, where too few of them come home. A lesser mean wind with a lesser gust is inside too
//! Units     m/s at 10 m above ground, as a site is entered
//! Source    G = 1.66: 3 s gust over the 10-minute mean for land ("in-land") in Harper, Kepert and Ginger 2010, WMO/TD-No. 1555
//!           (value from memory); over the sea 1.23. Rough ground and mountains gust more: the site's own gust counts where it is more
//! Valid     the ranges of `Site::WIND` and `Site::GUST`
//! Checked?  against the checks themselves at the limit and 5 % above (tests/it/greatest_wind.rs); against no flight
//! Assumes   what fails in a wind fails in a greater one; a heavier load may hold more wind where the lean or the flow ends it

use super::cautious::Samples;
use super::params::{Card, Outcome};
use super::prepared::Prepared;
use super::wind_held::WindLimit;
use crate::air::Site;
use crate::input_error::InputError;
use crate::limits::{CheckKind, State};
use crate::spread::Uncertainty;
use crate::units::Velocity;
use uom::si::velocity::meter_per_second;

const GUST_FACTOR: f64 = 1.66;
/// 27 m/s by 2⁻¹⁰ is 0.03 m/s.
const HALVINGS: usize = 10;
/// Each takes a whole sampling: a sixty-fourth of what the card's checks allow.
const HALVINGS_BY_FLIGHTS: usize = 7;
/// Samples in one step of a search.
const PIECE: usize = 16;

/// Mean wind and gust at 10 m, and what ends them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GreatestWind {
    /// Mean wind.
    pub mean: Velocity,
    /// Gust that goes with it.
    pub gust: Velocity,
    /// What says no just beyond.
    pub ends: WindEnd,
}

/// What says no just beyond the greatest wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WindEnd {
    /// This check; of the wind that is held with what ends it.
    Check(CheckKind, Option<WindLimit>),
    /// No way home against the wind.
    NoWayHome,
    /// No flight at all.
    NoFlight,
    /// Nothing, up to the greatest gust that can be entered.
    Range,
}

/// Gust that is reckoned with at a mean wind.
pub fn gust_with(mean: Velocity, site: &Site) -> Velocity {
    let above = site.gust - site.wind;
    let by_site = if above.value > 0.0 { mean + above } else { mean };
    by_site.max(mean * GUST_FACTOR)
}

impl<'a> Prepared<'a> {
    /// The greatest wind; none where a margin is missed in calm air already. `samples` of `seed`, as of the cautious figures.
    ///
    /// # Errors
    /// As `card` and `sampler`.
    pub fn greatest_wind(
        &self,
        uncertainty: &Uncertainty,
        seed: u64,
        samples: usize,
    ) -> Result<Option<GreatestWind>, InputError> {
        let mut search = self.greatest_wind_search(uncertainty, seed, samples);
        loop {
            if let Some(found) = search.step()? {
                return Ok(found);
            }
        }
    }

    /// The same, in short steps.
    pub fn greatest_wind_search(
        &self,
        uncertainty: &Uncertainty,
        seed: u64,
        samples: usize,
    ) -> GreatestWindSearch<'a> {
        GreatestWindSearch { at: self.clone(), uncertainty: *uncertainty, seed, samples, stage: Stage::Start }
    }
}

/// A search that is done in steps of a card or some drawn flights each.
#[derive(Debug, Clone)]
pub struct GreatestWindSearch<'a> {
    at: Prepared<'a>,
    uncertainty: Uncertainty,
    seed: u64,
    samples: usize,
    stage: Stage,
}

#[derive(Debug, Clone)]
enum Stage {
    /// Nothing is known yet.
    Start,
    /// Halving by the checks of the card.
    Cards(Bracket),
    /// Halving by drawn flights; so many were drawn, and came out so, at a wind.
    Flights(Bracket, f64, usize, Samples),
    Found(Option<GreatestWind>),
}

/// The greatest wind lies between these.
#[derive(Debug, Clone, Copy)]
struct Bracket {
    holds_m_s: f64,
    fails_m_s: f64,
    ends: WindEnd,
    left: usize,
}

impl Bracket {
    fn middle_m_s(&self) -> f64 {
        f64::midpoint(self.holds_m_s, self.fails_m_s)
    }

    /// Half of it: the wind `at_m_s` holds, or something ends it.
    fn halved(self, at_m_s: f64, no: Option<WindEnd>) -> Self {
        let left = self.left.saturating_sub(1);
        match no {
            None => Self { holds_m_s: at_m_s, left, ..self },
            Some(ends) => Self { fails_m_s: at_m_s, ends, left, ..self },
        }
    }

    /// The greatest that the card's checks allow is flown first: mostly that is all.
    fn by_flights(self) -> Stage {
        let greatest_m_s = self.holds_m_s;
        let below = Self { holds_m_s: 0.0, fails_m_s: greatest_m_s, left: HALVINGS_BY_FLIGHTS, ..self };
        Stage::Flights(below, greatest_m_s, 0, Samples::default())
    }
}

impl GreatestWindSearch<'_> {
    /// One step on; the answer when it is found, whose absence says that calm air is too much.
    ///
    /// # Errors
    /// As `card` and `sampler`.
    pub fn step(&mut self) -> Result<Option<Option<GreatestWind>>, InputError> {
        self.stage = match core::mem::replace(&mut self.stage, Stage::Found(None)) {
            Stage::Start => self.first()?,
            Stage::Cards(bracket) if bracket.left == 0 => bracket.by_flights(),
            Stage::Cards(bracket) => {
                let middle_m_s = bracket.middle_m_s();
                Stage::Cards(bracket.halved(middle_m_s, self.no_at(middle_m_s)?))
            }
            Stage::Flights(bracket, at_m_s, from, samples) => self.fly_on(bracket, at_m_s, from, samples)?,
            found @ Stage::Found(_) => found,
        };
        Ok(match &self.stage {
            Stage::Found(found) => Some(*found),
            _ => None,
        })
    }

    fn first(&self) -> Result<Stage, InputError> {
        if self.no_at(0.0)?.is_some() {
            return Ok(Stage::Found(None));
        }
        let site = self.at.site;
        let above_m_s = (site.gust - site.wind).value.max(0.0);
        let top_m_s = Site::WIND.max.min(Site::GUST.max / GUST_FACTOR).min(Site::GUST.max - above_m_s);
        let bracket = |holds_m_s, ends| Bracket { holds_m_s, fails_m_s: top_m_s, ends, left: HALVINGS };
        Ok(match self.no_at(top_m_s)? {
            None => bracket(top_m_s, WindEnd::Range).by_flights(),
            Some(ends) => Stage::Cards(bracket(0.0, ends)),
        })
    }

    /// What of the card says no at a mean wind.
    fn no_at(&self, wind_m_s: f64) -> Result<Option<WindEnd>, InputError> {
        let site = self.with_wind(wind_m_s);
        let card = Prepared::new(self.at.setup, &site, self.at.thresholds)?.card()?;
        Ok((card.verdict.state == State::No).then(|| end_of(&card)))
    }

    /// Some more drawn flights at a wind; when they are all flown, or too few can come home any more, on to the next wind.
    fn fly_on(
        &self,
        bracket: Bracket,
        at_m_s: f64,
        from: usize,
        mut samples: Samples,
    ) -> Result<Stage, InputError> {
        let site = self.with_wind(at_m_s);
        let to = (from + PIECE).min(self.samples);
        let at = Prepared::new(self.at.setup, &site, self.at.thresholds)?;
        if let Some(sampler) = at.sampler(&self.uncertainty, self.seed)? {
            samples.join(sampler.sample(from..to));
        }
        let least = self.at.thresholds.comes_home_least.value;
        let too_many = samples.not_home() as f64 > (1.0 - least) * self.samples as f64;
        if to < self.samples && !too_many {
            return Ok(Stage::Flights(bracket, at_m_s, to, samples));
        }
        let holds = samples.summary().is_some_and(|cautious| cautious.comes_home.value >= least);
        let is_first = at_m_s >= bracket.fails_m_s;
        let bracket = if holds && is_first {
            Bracket { holds_m_s: at_m_s, left: 0, ..bracket }
        } else {
            bracket.halved(at_m_s, (!holds).then_some(WindEnd::Check(CheckKind::ComesHome, None)))
        };
        if bracket.left > 0 {
            return Ok(Stage::Flights(bracket, bracket.middle_m_s(), 0, Samples::default()));
        }
        Ok(Stage::Found((bracket.holds_m_s > 0.0).then(|| {
            let Site { wind, gust, .. } = self.with_wind(bracket.holds_m_s);
            GreatestWind { mean: wind, gust, ends: bracket.ends }
        })))
    }

    fn with_wind(&self, wind_m_s: f64) -> Site {
        let wind = Velocity::new::<meter_per_second>(wind_m_s);
        Site { wind, gust: gust_with(wind, self.at.site), ..*self.at.site }
    }
}

/// What of a card that says no ends the wind.
fn end_of(card: &Card) -> WindEnd {
    match &card.outcome {
        Outcome::NoWayHome { .. } => WindEnd::NoWayHome,
        Outcome::NoFlight(_) | Outcome::LegBeyond(_) | Outcome::CannotHover { .. } => WindEnd::NoFlight,
        Outcome::Flies(_) => {
            let kind = card.verdict.worst.unwrap_or(CheckKind::WindHold);
            let held = card.wind.and_then(|wind| match kind {
                CheckKind::WindHold => wind.mean,
                CheckKind::GustHold => wind.gust,
                _ => None,
            });
            WindEnd::Check(kind, held.map(|held| held.limit))
        }
    }
}
