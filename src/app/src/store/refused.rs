//! Fields whose text is refused or empty: kept when their screen is left, so that no screen hides it.

use leptos::prelude::*;
use liftmargin_document::fields::Entry;
use liftmargin_document::present::Draft;

use super::Store;

/// A field whose text is not used.
#[derive(Clone)]
pub struct Refused {
    /// The field.
    pub field: &'static dyn Entry,
    /// The id of its record.
    pub id: String,
    /// What stands in it.
    pub text: String,
}

impl Refused {
    fn is_of(&self, field: &'static dyn Entry, id: &str) -> bool {
        self.id == id && self.field.list() == field.list() && self.field.number().path == field.number().path
    }
}

impl Store {
    /// A field has a text that is not used, or none any more.
    pub fn refuse(&self, field: &'static dyn Entry, id: &str, text: Option<String>) {
        let has_one = |all: &Vec<Refused>| all.iter().any(|one| one.is_of(field, id));
        if text.is_none() && !self.refused.with_untracked(has_one) {
            return;
        }
        self.refused.update(|all| {
            all.retain(|one| !one.is_of(field, id));
            all.extend(text.map(|text| Refused { field, id: id.to_owned(), text }));
        });
    }

    /// The text that a field had when its screen was left, where it was not used.
    pub fn refused_text(&self, field: &'static dyn Entry, id: &str) -> Option<String> {
        self.refused
            .with_untracked(|all| all.iter().find(|one| one.is_of(field, id)).map(|one| one.text.clone()))
    }

    /// Every refused field of what is still there, with what is wrong and which value counts.
    pub fn refusals(&self) -> Vec<(Refused, String)> {
        let units = self.units.get();
        let said = |one: Refused| {
            let name = self.bundle.with(|bundle| one.field.list().name(bundle, &one.id))?;
            let value = self.bundle.with(|bundle| one.field.value(bundle, &one.id));
            let mut draft = Draft::new(one.field.number(), value, units);
            draft.typed(&one.text, units);
            let words = format!("{name}: {}", draft.message(units)?);
            Some((one, words))
        };
        self.refused.get().into_iter().filter_map(said).collect()
    }
}
