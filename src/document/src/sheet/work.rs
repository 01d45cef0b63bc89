//! One row worked out in short steps: the card, the sampled flights, the search for the greatest wind.

use liftmargin_core::air::Site;
use liftmargin_core::card::{
    Airframe, Card, Cautious, GreatestWind, GreatestWindSearch, Outcome, Prepared, Sampler, Samples, Setup,
};
use liftmargin_core::input_error::InputError;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;

use super::{Figures, Row};
use crate::card_report::{PIECE, SAMPLES, SEED};
use crate::error::DocumentError;
use crate::model::{self, Bundle};
use crate::present::{Units, flight_of};
use crate::record::Record;
use crate::resolve::resolve_on;
use crate::words;

/// What core needs for one row.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetInputs {
    /// The setup.
    pub setup: Setup,
    /// The site.
    pub site: Site,
    /// The limits.
    pub thresholds: Thresholds,
}

impl SheetInputs {
    /// A setup at a site that may be another than its own; `learned` is its airframe where that was worked out before. The
    /// bundle comes back as it was.
    ///
    /// # Errors
    /// As `resolve`.
    pub fn new(
        bundle: &mut Bundle,
        setup_id: &str,
        site_id: &str,
        learned: impl FnOnce(&model::Airframe) -> Result<Airframe, DocumentError>,
    ) -> Result<Self, DocumentError> {
        let at = |bundle: &mut Bundle, site: String| {
            model::Setup::find_mut(bundle, setup_id).map(|setup| core::mem::replace(&mut setup.site, site))
        };
        let own = at(bundle, site_id.to_owned());
        let resolved = resolve_on(bundle, setup_id, learned);
        own.and_then(|own| at(bundle, own));
        let (setup, site) = resolved?;
        Ok(Self { setup, site, thresholds: Thresholds::default() })
    }
}

/// From this share of its charge on a pack counts as fully charged: a voltmeter's last digits.
const FULL: f64 = 0.98;

/// One row in the making.
#[derive(Debug)]
pub struct RowWork<'a> {
    at: Prepared<'a>,
    uncertainty: Uncertainty,
    stage: Stage<'a>,
}

#[derive(Debug)]
enum Stage<'a> {
    Start,
    Flights(Box<Card>, Box<Sampler<'a>>, usize, Samples),
    Wind(Box<Card>, Samples, Box<GreatestWindSearch<'a>>),
    Found(Box<Card>, Samples, Option<GreatestWind>),
}

impl<'a> RowWork<'a> {
    /// Begins.
    ///
    /// # Errors
    /// As `Prepared::new`.
    pub fn new(inputs: &'a SheetInputs) -> Result<Self, InputError> {
        let at = Prepared::new(&inputs.setup, &inputs.site, &inputs.thresholds)?;
        Ok(Self { at, uncertainty: Uncertainty::for_airframe(&inputs.setup.airframe), stage: Stage::Start })
    }

    /// One step on; true when all is found.
    ///
    /// # Errors
    /// As `Prepared::card`.
    pub fn step(&mut self) -> Result<bool, InputError> {
        self.stage = match core::mem::replace(&mut self.stage, Stage::Start) {
            Stage::Start => self.first()?,
            Stage::Flights(card, sampler, from, mut samples) => {
                let to = (from + PIECE).min(SAMPLES);
                samples.join(sampler.sample(from..to));
                if to < SAMPLES {
                    Stage::Flights(card, sampler, to, samples)
                } else {
                    Stage::Wind(card, samples, self.search())
                }
            }
            Stage::Wind(card, samples, mut search) => match search.step()? {
                Some(wind) => Stage::Found(card, samples, wind),
                None => Stage::Wind(card, samples, search),
            },
            found @ Stage::Found(..) => found,
        };
        Ok(matches!(self.stage, Stage::Found(..)))
    }

    fn first(&self) -> Result<Stage<'a>, InputError> {
        let card = Box::new(self.at.card()?);
        let flies = matches!(card.outcome, Outcome::Flies(_));
        let sampler = if flies { self.at.sampler(&self.uncertainty, SEED)? } else { None };
        if let Some(sampler) = sampler {
            return Ok(Stage::Flights(card, Box::new(sampler), 0, Samples::default()));
        }
        // A wind that is too much here may be less than that elsewhere: the search begins in calm air.
        Ok(Stage::Wind(card, Samples::default(), self.search()))
    }

    fn search(&self) -> Box<GreatestWindSearch<'a>> {
        Box::new(self.at.greatest_wind_search(&self.uncertainty, SEED, SAMPLES))
    }

    /// What was found: card, cautious figures, greatest wind; none before all is found.
    pub(crate) fn found(self) -> Option<(Box<Card>, Option<Cautious>, Option<GreatestWind>)> {
        let Stage::Found(card, samples, wind) = self.stage else { return None };
        Some((card, samples.summary(), wind))
    }

    /// Puts what was found into a row; nothing before all is found.
    pub fn finish(self, inputs: &SheetInputs, row: &mut Row, units: Units) {
        let Some((card, cautious, wind)) = self.found() else { return };
        let judged = card.judged(cautious.as_ref(), &inputs.thresholds);
        let flight = flight_of(&card);
        let typical = flight.map(|flight| flight.flight_time);
        let mut packs = inputs.setup.supply.strings.iter().flat_map(|string| &string.packs);
        let starts_full = packs.all(|pack| pack.state_of_charge().is_ok_and(|share| share.value >= FULL));
        row.figures = Some(Figures {
            cautious: cautious
                .map(|cautious| cautious.flight_time)
                .zip(typical)
                .map(|(cautious, typical)| cautious.min(typical))
                .filter(|cautious| cautious.value > 0.0),
            typical,
            all_up_mass: card.mass.all_up_mass,
            wind,
            verdict: judged.verdict,
            starts_full,
        });
        let policy = &inputs.setup.policy;
        row.limited_by = words::outcome(&card.outcome, policy, units)
            .or_else(|| flight.map(|flight| words::flight_limit(flight.limit, policy, units)))
            .unwrap_or_default();
        if !starts_full {
            row.limited_by = format!("packs that do not start full; {}", row.limited_by);
        }
    }
}

impl Row {
    /// The whole row at once.
    ///
    /// # Errors
    /// As `SheetInputs::new` and `RowWork`.
    pub fn work_out(&mut self, inputs: &SheetInputs, units: Units) -> Result<(), DocumentError> {
        let mut work = RowWork::new(inputs).map_err(DocumentError::of_core)?;
        while !work.step().map_err(DocumentError::of_core)? {}
        work.finish(inputs, self, units);
        Ok(())
    }

    /// Why it cannot be worked out.
    pub fn refuse(&mut self, fault: &DocumentError) {
        self.figures = None;
        self.limited_by = fault.to_string();
    }
}
