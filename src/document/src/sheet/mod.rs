//! The producer's table: setups side by side, at one or more sites.
//!
//! The cautious minutes are those of the card: the same seed, the same samples. A charge carries one flight, down to land-by, so
//! a pack set flies once a charge; all sets together fly as often as the register of packs holds the packs of one setup.

mod columns;
mod csv;
mod on_board;
mod report;
mod work;

pub use columns::{Column, sort};
pub use csv::csv;
pub use on_board::{on_board, pack_sets};
pub use report::RowReport;
pub use work::{RowWork, SheetInputs};

use liftmargin_core::card::GreatestWind;
use liftmargin_core::limits::{State, Verdict};
use liftmargin_core::units::{Mass, Time};

use crate::model::{Bundle, Setup, Site};
use crate::record::Record;

/// One setup at one site.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Setup id.
    pub setup: String,
    /// Its name.
    pub setup_name: String,
    /// Site id.
    pub site: String,
    /// Its name.
    pub site_name: String,
    /// What is on board, in words.
    pub on_board: String,
    /// Sets of packs in the register that this setup can fly with; none where the register does not know such packs.
    pub pack_sets: Option<usize>,
    /// What is worked out; none where the setup is not finished or refused.
    pub figures: Option<Figures>,
    /// What limits it; why it does not fly; what is missing or refused.
    pub limited_by: String,
}

/// What is worked out of one setup at one site.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// One flight in ten is shorter; none where there is no flight, or more than one in ten does not come home.
    pub cautious: Option<Time>,
    /// Half of the flights are longer; none where there is no flight.
    pub typical: Option<Time>,
    /// All-up mass.
    pub all_up_mass: Mass,
    /// The greatest wind in which all margins are kept; none where calm air is too much.
    pub wind: Option<GreatestWind>,
    /// How it stands.
    pub verdict: Verdict,
    /// Whether the packs start fully charged.
    pub starts_full: bool,
}

impl Row {
    /// A row without its figures.
    pub fn new(bundle: &Bundle, setup_id: &str, site_id: &str) -> Self {
        let setup = Setup::find(bundle, setup_id).map(|(_, setup)| setup);
        let site_name = Site::find(bundle, site_id).map(|(_, site)| site.name.clone()).unwrap_or_default();
        Self {
            setup: setup_id.to_owned(),
            setup_name: setup.map(|setup| setup.name.clone()).unwrap_or_default(),
            site: site_id.to_owned(),
            site_name,
            on_board: setup.map(|setup| on_board(bundle, setup)).unwrap_or_default(),
            pack_sets: setup.and_then(|setup| pack_sets(bundle, setup)),
            figures: None,
            limited_by: String::new(),
        }
    }

    /// Flights that one set of packs makes on a charge.
    pub fn flights_per_set(&self) -> usize {
        usize::from(self.cautious().is_some())
    }

    /// Cautious minutes.
    pub fn cautious(&self) -> Option<Time> {
        self.figures.as_ref()?.cautious
    }

    /// Cautious time in the air on one charge of all sets; none where their number is not known, there is no flight, or the flight
    /// is not of full packs.
    pub fn all_sets(&self) -> Option<Time> {
        self.figures.as_ref().filter(|figures| figures.starts_full)?;
        Some(self.cautious()? * self.pack_sets? as f64)
    }

    /// How it stands; what cannot be worked out is not to be flown.
    pub fn state(&self) -> State {
        self.figures.as_ref().map_or(State::No, |figures| figures.verdict.state)
    }
}

/// Setup and site of each row: every chosen setup at every chosen site, at its own where none is chosen.
pub fn places(bundle: &Bundle, setups: &[String], sites: &[String]) -> Vec<(String, String)> {
    let chosen = setups.iter().filter_map(|id| Setup::find(bundle, id));
    chosen
        .flat_map(|(_, setup)| {
            let own = core::slice::from_ref(&setup.site);
            let at = if sites.is_empty() { own } else { sites };
            at.iter().map(|site| (setup.id.clone(), site.clone())).collect::<Vec<_>>()
        })
        .collect()
}
