//! The large figures of what is computed so far.

use leptos::prelude::*;
use liftmargin_core::card::Card;
pub use liftmargin_document::present::{Headline, flight_of};

use super::answer::{Caution, Track};

impl Track {
    /// The large figures where there is a flight: at once, and while samples are flown never bolder than after it.
    pub fn headline(&self) -> Option<Headline> {
        let sampled = self.sampled_headline()?;
        if sampled.is_complete() || sampled.fresh {
            return Some(sampled);
        }
        self.with_card(|card, caution| {
            Headline::new(card, caution.last.as_deref(), self.first.get().as_ref(), false)
        })
    }

    /// The same of samples alone: a first figure set beside a sampled one would tell of a change that is none.
    pub fn sampled_headline(&self) -> Option<Headline> {
        self.with_card(|card, caution| Headline::new(card, caution.last.as_deref(), None, caution.fresh))
    }

    fn with_card<T>(&self, read: impl FnOnce(&Card, &Caution) -> Option<T>) -> Option<T> {
        self.card.with(|card| {
            let card = card.as_ref()?.as_ref().ok()?;
            self.cautious.with(|caution| read(card, caution))
        })
    }
}
