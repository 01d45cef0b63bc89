//! The large figures of what is computed so far.

use leptos::prelude::*;
use liftmargin_core::card::{Card, Cautious};
pub use liftmargin_document::present::{Headline, flight_of};

use super::answer::Track;

impl Track {
    /// The large figures where there is a flight: at once, and while samples are flown never bolder than after it.
    pub fn headline(&self) -> Option<Headline> {
        let sampled = self.sampled_headline()?;
        if sampled.is_complete() || sampled.fresh {
            return Some(sampled);
        }
        self.with_card(|card, last, _| Headline::new(card, last, self.first.get().as_ref(), false))
    }

    /// The same of samples alone: a first figure set beside a sampled one would tell of a change that is none.
    pub fn sampled_headline(&self) -> Option<Headline> {
        self.with_card(|card, last, fresh| Headline::new(card, last, None, fresh))
    }

    fn with_card<T>(&self, read: impl FnOnce(&Card, Option<&Cautious>, bool) -> Option<T>) -> Option<T> {
        let (last, fresh) = self.last_cautious();
        self.card.with(|card| read(card.as_ref()?.as_ref().ok()?, last.as_deref(), fresh))
    }
}
