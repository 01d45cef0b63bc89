//! Uncertainty: what varies, how it is drawn, and what the samples say. The run itself is the card's.

mod doubts;
mod draw;
mod summary;

pub use doubts::Doubts;
pub use draw::{Draw, Input, draws};
pub(crate) use summary::{contributions, quantiles};
