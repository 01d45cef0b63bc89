//! Keeping the workspace: one text under one key, written a moment after the last change and when the page is left.
//!
//! Nothing is ever overwritten unseen: a text that cannot be read is set aside first, and a text that another tab
//! wrote in the meantime is shown to the crew as a choice.

use std::time::Duration;

use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use liftmargin_document::open::BrokenRecord;
use liftmargin_document::workspace::{History, Workspace};

use super::{Store, demo_bundle, keys};
use crate::platform::storage::StorageFault;
use crate::platform::{clock, frame, page, storage};

/// How long the fingers must rest before a change is written.
const PAUSE_BEFORE_SAVE: Duration = Duration::from_millis(300);

/// How the keeping goes.
#[derive(Debug, Clone, PartialEq)]
pub enum Saving {
    /// All is kept.
    Kept,
    /// Changes wait to be written.
    Pending,
    /// The browser did not take it.
    Failed(StorageFault),
    /// Another tab wrote while this one had changes: its text.
    OtherTab(String),
}

/// A workspace that could not be read, set aside word for word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rescued {
    /// Its key in storage; empty if only the original place holds it.
    pub key: String,
    /// The text.
    pub text: String,
    /// Why it could not be read, where this visit found out.
    pub reason: Option<String>,
}

/// What this tab knows of the text in storage.
#[derive(Debug, Default)]
pub(super) struct Kept {
    stamp_ms: Option<f64>,
    timer: Option<TimeoutHandle>,
    /// The text in storage could not be set aside: writing would destroy it.
    must_not_write: bool,
}

impl Store {
    pub(super) fn load(&self) {
        match storage::get(keys::WORKSPACE) {
            Err(fault) => {
                self.bundle.set(demo_bundle());
                self.saving.set(Saving::Failed(fault));
            }
            Ok(None) => self.bundle.set(demo_bundle()),
            Ok(Some(text)) => match Workspace::read(&text) {
                Ok(workspace) => self.take(workspace),
                Err(reason) => {
                    self.set_aside(text, &reason.to_string());
                    self.bundle.set(demo_bundle());
                }
            },
        }
        let found = storage::keys_beginning(keys::RESCUE).into_iter().filter_map(|key| {
            let text = storage::get(&key).ok().flatten()?;
            Some(Rescued { key, text, reason: None })
        });
        self.rescued.update(|rescued| {
            let known: Vec<String> = rescued.iter().map(|there| there.key.clone()).collect();
            rescued.extend(found.filter(|there| !known.contains(&there.key)));
        });
    }

    fn take(&self, workspace: Workspace) {
        self.kept.update_value(|kept| kept.stamp_ms = Some(workspace.stamp_ms));
        self.units.set(workspace.units);
        self.selected.set(workspace.selected);
        self.bundle.set(workspace.bundle);
        self.broken.set(workspace.broken);
        self.history.set_value(History::new());
        self.undo_words.set(None);
        self.undo_offer.set(None);
        self.saving.set(Saving::Kept);
    }

    fn set_aside(&self, text: String, reason: &str) {
        let key = format!("{}{}", keys::RESCUE, clock::now_ms());
        let set_aside = storage::set(&key, &text).is_ok();
        self.kept.update_value(|kept| {
            kept.stamp_ms = Workspace::stamp_of(&text);
            kept.must_not_write = !set_aside;
        });
        let key = if set_aside { key } else { String::new() };
        self.rescued.set(vec![Rescued { key, text, reason: Some(reason.to_owned()) }]);
    }

    /// Lets a rescued text go, once the crew says so.
    pub fn drop_rescued(&self, key: &str) {
        if key.is_empty() {
            self.kept.update_value(|kept| kept.must_not_write = false);
            self.changed();
        } else {
            storage::remove(key);
        }
        self.rescued.update(|rescued| rescued.retain(|there| there.key != key));
    }

    /// Keeps more records that could not be read, until the crew lets them go.
    pub fn keep_broken(&self, broken: Vec<BrokenRecord>) {
        if !broken.is_empty() {
            self.broken.update(|there| there.extend(broken));
            self.changed();
        }
    }

    /// Lets the records go that could not be read, once the crew says so.
    pub fn drop_broken(&self) {
        self.broken.set(Vec::new());
        self.changed();
    }

    pub(super) fn listen(&self) {
        let store = *self;
        page::on_leaving(move || store.flush());
        storage::on_change_elsewhere(keys::WORKSPACE, move |text| {
            if let Some(text) = text {
                store.other_tab_wrote(text);
            }
        });
    }

    fn other_tab_wrote(&self, text: String) {
        match self.saving.get_untracked() {
            Saving::Kept => {
                if let Ok(workspace) = Workspace::read(&text) {
                    self.take(workspace);
                }
            }
            Saving::Pending | Saving::Failed(_) | Saving::OtherTab(_) => {
                self.saving.set(Saving::OtherTab(text));
            }
        }
    }

    /// Something changed: it is written when the fingers rest.
    pub(super) fn changed(&self) {
        let store = *self;
        if !matches!(self.saving.get_untracked(), Saving::OtherTab(_)) {
            self.saving.set(Saving::Pending);
        }
        self.kept.update_value(|kept| {
            if let Some(timer) = kept.timer.take() {
                timer.clear();
            }
            kept.timer = frame::after_unless_cleared(PAUSE_BEFORE_SAVE, move || store.flush());
        });
    }

    /// Writes now what is not written yet.
    pub fn flush(&self) {
        if !matches!(self.saving.get_untracked(), Saving::Pending | Saving::Failed(_)) {
            return;
        }
        if self.kept.with_value(|kept| kept.must_not_write) {
            self.saving.set(Saving::Failed(StorageFault::Full));
            return;
        }
        let there = storage::get(keys::WORKSPACE).ok().flatten();
        let known = self.kept.with_value(|kept| kept.stamp_ms);
        match there {
            Some(text) if Workspace::stamp_of(&text) != known => {
                self.saving.set(Saving::OtherTab(text));
            }
            _ => self.write(),
        }
    }

    fn write(&self) {
        let workspace = Workspace {
            stamp_ms: clock::now_ms(),
            selected: self.selected.get_untracked(),
            units: self.units.get_untracked(),
            bundle: self.bundle.get_untracked(),
            broken: self.broken.get_untracked(),
        };
        // What could not be read again is as good as not kept.
        let written = workspace.write().map_err(|_| StorageFault::TooLarge);
        match written.and_then(|text| storage::set(keys::WORKSPACE, &text)) {
            Ok(()) => {
                self.kept.update_value(|kept| kept.stamp_ms = Some(workspace.stamp_ms));
                self.saving.set(Saving::Kept);
            }
            Err(fault) => self.saving.set(Saving::Failed(fault)),
        }
    }

    /// The crew's choice between two tabs: this one's data.
    pub fn keep_mine(&self) {
        self.write();
    }

    /// The crew's choice between two tabs: the other one's data.
    pub fn take_theirs(&self) {
        if let Saving::OtherTab(text) = self.saving.get_untracked() {
            match Workspace::read(&text) {
                Ok(workspace) => self.take(workspace),
                Err(_) => self.write(),
            }
        }
    }
}
