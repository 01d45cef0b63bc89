//! Changing the crew's data: every change can be taken back and is kept.

use leptos::prelude::*;
use liftmargin_document::edit;
use liftmargin_document::error::DocumentError;
use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::record::{List, Record};
use liftmargin_document::whatif::WhatIf;
use liftmargin_document::workspace::{self, History, keep};

use super::Store;

/// A change to the data.
pub type Change = Box<dyn FnOnce(&mut Bundle)>;

impl Store {
    /// Changes the data. Changes of one `group` in a row count as one; `words` say what an undo takes back.
    pub fn edit(&self, group: &str, words: &str, change: Change) {
        let before = || (self.bundle.get_untracked(), self.selected.get_untracked());
        self.history.update_value(|history| history.record(group, words, before));
        self.undo_words.set(Some(words.to_owned()));
        self.undo_offer.set(None);
        self.bundle.update(change);
        self.changed();
    }

    /// Changes the data by something that is taken back on its own: a button, not a keystroke.
    pub fn edit_alone(&self, words: &str, change: Change) {
        self.history.update_value(History::close_group);
        self.edit("alone", words, change);
        self.history.update_value(History::close_group);
    }

    /// Changes the open setup by something that is taken back on its own.
    pub fn edit_setup_alone(&self, words: &str, change: impl FnOnce(&mut Setup) + 'static) {
        let id = self.open.get_untracked();
        let change = move |bundle: &mut Bundle| {
            if let Some(setup) = Setup::find_mut(bundle, &id) {
                change(setup);
            }
        };
        self.edit_alone(words, Box::new(change));
    }

    /// A change that stands alone.
    pub(super) fn replace(&self, words: &str, bundle: Bundle) {
        self.edit_alone(words, Box::new(|now| *now = bundle));
    }

    /// Takes back the last change.
    pub fn undo(&self) {
        let Some((bundle, selected)) = self.history.try_update_value(History::take_back).flatten() else {
            return;
        };
        self.bundle.set(bundle);
        self.selected.set(selected);
        self.undo_offer.set(None);
        let words = self.history.with_value(|history| history.next_words().map(str::to_owned));
        self.undo_words.set(words);
        self.changed();
    }

    /// Adds a thing; gives its id.
    pub fn add<T: Record>(&self, thing: T, stem: &str) -> String {
        let words = format!("new {}", thing.name());
        let (bundle, id) = self.bundle.with_untracked(|bundle| edit::add(bundle, thing, stem));
        self.replace(&words, bundle);
        id
    }

    /// A setup from scratch, opened.
    pub fn new_setup(&self, name: &str) {
        let (bundle, id) = self.bundle.with_untracked(|bundle| edit::new_setup(bundle, name));
        self.replace("new setup", bundle);
        self.select(&id);
    }

    /// A copy of a thing.
    pub fn copy(&self, list: List, id: &str) {
        let Some(name) = self.bundle.with_untracked(|bundle| list.name(bundle, id)) else { return };
        let copied =
            self.bundle.with_untracked(|bundle| edit::copy(list, bundle, id, &format!("{name} (copy)")));
        let Ok((bundle, copy)) = copied else { return };
        self.replace(&format!("copy of {name}"), bundle);
        if list == List::Setups {
            self.select(&copy);
        }
    }

    /// Deletes a thing and offers to bring it back.
    ///
    /// # Errors
    /// `InUse` where setups refer to it.
    pub fn delete(&self, list: List, id: &str) -> Result<(), DocumentError> {
        let name = self.bundle.with_untracked(|bundle| list.name(bundle, id)).unwrap_or_default();
        let bundle = self.bundle.with_untracked(|bundle| edit::delete(list, bundle, id))?;
        self.replace(&format!("deleting {name}"), bundle);
        self.undo_offer.set(Some(format!("{name} deleted")));
        Ok(())
    }

    /// Puts another bundle in the place of all data, with the way back offered.
    pub fn replace_all(&self, words: &str, bundle: Bundle) {
        self.replace(words, bundle);
        self.what_if.set(WhatIf::default());
        self.undo_offer.set(Some(words.to_owned()));
    }

    /// Drops the what-if.
    pub fn reset_what_if(&self) {
        self.what_if.set(WhatIf::default());
    }

    /// Changes the open setup by the what-if.
    ///
    /// # Errors
    /// Where a change of the what-if does not fit the setup any more.
    pub fn take_over_what_if(&self) -> Result<(), DocumentError> {
        let id = self.open.get_untracked();
        let what_if = self.what_if.get_untracked();
        let bundle = self.bundle.with_untracked(|bundle| workspace::change(bundle, &id, &what_if))?;
        self.replace("changing the setup by the what-if", bundle);
        self.reset_what_if();
        self.undo_offer.set(Some("Setup changed by the what-if".to_owned()));
        Ok(())
    }

    /// Keeps the what-if as a setup of its own and opens it.
    ///
    /// # Errors
    /// Where a change of the what-if does not fit the setup any more.
    pub fn keep_what_if(&self) -> Result<(), DocumentError> {
        let id = self.open.get_untracked();
        let what_if = self.what_if.get_untracked();
        let name = self.with_setup(|setup| format!("{} (what-if)", setup.name)).unwrap_or_default();
        let (bundle, kept) = self.bundle.with_untracked(|bundle| keep(bundle, &id, &what_if, &name))?;
        self.replace("keeping the what-if", bundle);
        self.select(&kept);
        Ok(())
    }
}
