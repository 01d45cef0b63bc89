//! Fields whose text is refused or empty: kept when their screen is left, so that no screen hides it.

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::fields::{Entry, Number};
use liftmargin_document::model::Bundle;
use liftmargin_document::present::Draft;
use liftmargin_document::record::List;

use super::Store;
use crate::router::Screen;

/// The name of what a field is of and the value that counts; none where that is gone.
type Counts = Arc<dyn Fn(&Bundle) -> Option<(String, Option<f64>)> + Send + Sync>;

/// A field as it is found again, whatever screen is open.
#[derive(Clone)]
pub struct Place {
    /// The id of its element.
    pub element: String,
    /// The screen that it is on.
    pub screen: Screen,
    /// What there is to say about it.
    pub number: &'static Number,
    counts: Counts,
}

/// A field whose text is not used.
#[derive(Clone)]
pub struct Refused {
    /// The field.
    pub place: Place,
    /// What stands in it.
    text: String,
}

impl Place {
    /// A field of a record.
    pub fn of(element: String, field: &'static dyn Entry, id: &str) -> Self {
        let id = id.to_owned();
        let counts = move |bundle: &Bundle| Some((field.list().name(bundle, &id)?, field.value(bundle, &id)));
        let screen = if field.list() == List::Sites { Screen::Site } else { Screen::Build };
        Self::part(element, screen, field.number(), counts)
    }

    /// Another field: of a part of a record, or of a what-if.
    pub fn part(
        element: String,
        screen: Screen,
        number: &'static Number,
        counts: impl Fn(&Bundle) -> Option<(String, Option<f64>)> + Send + Sync + 'static,
    ) -> Self {
        Self { element, screen, number, counts: Arc::new(counts) }
    }
}

impl Store {
    /// A field has a text that is not used, or none any more.
    pub fn refuse(&self, place: &Place, text: Option<String>) {
        if text.is_none() && self.refused_text(place).is_none() {
            return;
        }
        self.refused.update(|all| {
            all.retain(|one| one.place.element != place.element);
            all.extend(text.map(|text| Refused { place: place.clone(), text }));
        });
    }

    /// The text that a field had when its screen was left, where it was not used.
    pub fn refused_text(&self, place: &Place) -> Option<String> {
        self.refused.with_untracked(|all| {
            all.iter().find(|one| one.place.element == place.element).map(|one| one.text.clone())
        })
    }

    /// Every refused field of what is still there, with what is wrong and which value counts.
    pub fn refusals(&self) -> Vec<(Place, String)> {
        let units = self.units.get();
        let said = |one: Refused| {
            let (name, value) = self.bundle.with(|bundle| (one.place.counts)(bundle))?;
            let mut draft = Draft::new(one.place.number, value, units);
            draft.typed(&one.text, units);
            Some((one.place, format!("{name}: {}", draft.message(units)?)))
        };
        self.refused.get().into_iter().filter_map(said).collect()
    }
}
