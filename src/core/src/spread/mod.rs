//! Uncertainty: what varies, how it is drawn, and what the samples say. The run itself is the card's.

mod draw;
mod summary;
mod uncertainty;

pub use draw::{Draw, Input, draws};
pub(crate) use summary::{contributions, quantiles};
pub use uncertainty::Uncertainty;
