//! Packs before they go on board: are they fit, which go together, may they be joined, may they travel.
//!
//! Formula   `fitness`: shares of new and of the sisters' median against thresholds; `matching`: the card's own flight at a constant
//!           power for each arrangement; `joining`: strings as sources behind resistances meeting at one node; `series`: the least of
//!           what each pack may give
//! Units     SI inside
//! Source    circuit laws, textbook; thresholds are common practice, no source, unless one is named
//! Valid     the ranges of `supply` and `flight`
//! Checked   matching against all arrangements of up to 10 packs and an upper bound; joining against circuits solved by hand
//! Assumes   as `supply`; a pack is as its last reading says

mod arrangement;
mod fitness;
mod joining;
mod matching;
mod pack_reading;
mod series;
mod transport;

pub use arrangement::{Arranged, MatchTask};
pub use fitness::{Fitness, FitnessReason, FitnessThresholds, fitness};
pub use joining::{JoinLimits, JoinReason, JoinedString, Joining, JoiningString, join};
pub use matching::{PackMatch, match_packs};
pub use pack_reading::PackReading;
pub use series::{SeriesJoin, series_join};
pub use transport::{TransportClass, nominal_energy, transport_class};
