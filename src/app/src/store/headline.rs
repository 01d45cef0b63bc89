//! The large figures of what is computed so far.

use liftmargin_core::card::Card;
pub use liftmargin_document::present::{Headline, flight_of};

use super::answer::Caution;

/// The large figures of a card that flies.
pub fn headline(card: &Card, caution: &Caution) -> Option<Headline> {
    Headline::new(card, caution.last.as_deref(), caution.fresh)
}
