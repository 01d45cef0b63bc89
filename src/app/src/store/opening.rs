//! What the browser kept, read before anything is drawn. A read that fails is never taken for "nothing there".

use liftmargin_document::keep::{Aside, Journal, Keeper, Put, Rescued, Row};
use liftmargin_document::merge::merge;
use liftmargin_document::model::Bundle;
use liftmargin_document::workspace::Workspace;

use super::view_state::ViewState;
use super::{demo_bundle, keys};
use crate::platform::database::Depth;
use crate::platform::storage::StorageFault;
use crate::platform::{clock, database, storage};

/// What was found.
pub struct Opened {
    pub(super) keeper: Keeper,
    pub(super) bundle: Bundle,
    pub(super) aside: Vec<Aside>,
    pub(super) rescued: Vec<Rescued>,
    pub(super) view: ViewState,
    /// Keys of the small storage that hold nothing any more once the database holds it all.
    pub(super) to_remove: Vec<String>,
    /// The database cannot be read, and the crew works on without it: nothing is written.
    pub(super) without: Option<StorageFault>,
    /// Nothing is left to be read late.
    pub(super) all_read: bool,
}

impl Opened {
    /// Reads everything.
    ///
    /// # Errors
    /// `StorageFault` where it cannot be told what is there.
    pub async fn read() -> Result<Self, StorageFault> {
        let journals: Vec<(String, Journal)> = storage::keys_beginning(keys::JOURNAL)
            .into_iter()
            .filter_map(|key| Some((key.clone(), Journal::read(&storage::get(&key).ok()??)?)))
            .collect();
        let old = storage::get(keys::OLD_WORKSPACE);
        // The journal may speak of anything, and so may what an older version kept.
        let all_read = !journals.is_empty() || !matches!(old, Ok(None));
        let depth = if all_read { Depth::All } else { Depth::First };
        let (journal_keys, journals): (Vec<String>, Vec<Journal>) = journals.into_iter().unzip();
        let replay = move |rows: &mut Vec<Row>| -> Vec<Put> {
            journals.iter().flat_map(|journal| journal.replay(rows)).collect()
        };
        let rows = database::read_all(depth, Box::new(replay)).await?;
        for key in &journal_keys {
            storage::remove(key);
        }
        let writer = format!("{:x}-{:x}", clock::now_ms() as u64, (js_sys::Math::random() * 1e9) as u64);
        let (keeper, loaded) = Keeper::load(&writer, &rows);
        let mut opened = Self {
            keeper,
            bundle: loaded.bundle,
            aside: loaded.aside,
            rescued: loaded.rescued,
            view: ViewState::read(),
            to_remove: Vec::new(),
            without: None,
            all_read: all_read || loaded.is_empty,
        };
        match old {
            // With nothing in the database everything may be in there.
            Err(fault) if loaded.is_empty => return Err(fault),
            Ok(None) if loaded.is_empty => opened.show_demo(),
            Err(_) | Ok(None) => {}
            Ok(Some(text)) => opened.take_in_old(&text, loaded.is_empty),
        }
        opened.take_in_old_rescues();
        Ok(opened)
    }

    /// The demo, with nothing written at all.
    pub fn without(fault: StorageFault) -> Self {
        Self {
            keeper: Keeper::new("none"),
            bundle: demo_bundle(),
            aside: Vec::new(),
            rescued: Vec::new(),
            view: ViewState::default(),
            to_remove: Vec::new(),
            without: Some(fault),
            all_read: true,
        }
    }

    fn show_demo(&mut self) {
        self.bundle = demo_bundle();
        self.keeper.start_from(&self.bundle);
    }

    /// The one text of an older version, which stays until the database holds all of it.
    fn take_in_old(&mut self, text: &str, is_empty: bool) {
        self.to_remove.push(keys::OLD_WORKSPACE.to_owned());
        if self.keeper.has_taken_in(text) {
            return;
        }
        if let Ok(old) = Workspace::read(text) {
            // In the same order and under the same ids where there is nothing else.
            self.bundle = if is_empty { old.bundle } else { merge(&self.bundle, &old.bundle).bundle };
            let aside = old.broken.into_iter().map(|record| self.keeper.set_aside(record));
            self.aside.extend(aside);
            if is_empty {
                self.view.units = old.units;
                self.view.selected = old.selected;
            }
        } else {
            if is_empty {
                self.show_demo();
            }
            self.rescue(text);
        }
        self.keeper.note_taken_in(text);
    }

    fn take_in_old_rescues(&mut self) {
        for key in storage::keys_beginning(keys::OLD_RESCUE) {
            if let Ok(Some(text)) = storage::get(&key) {
                self.rescue(&text);
                self.to_remove.push(key);
            }
        }
    }

    /// The same text several times stands once.
    fn rescue(&mut self, text: &str) {
        let rescued = self.keeper.rescue(text);
        if !self.rescued.contains(&rescued) {
            self.rescued.push(rescued);
        }
    }
}

/// All that can still be read, word for word, for a file: nobody knows what is in it.
pub async fn everything_readable() -> String {
    let rows = database::read_all(Depth::All, Box::new(|_| Vec::new())).await.unwrap_or_default();
    let bundle = Keeper::load("export", &rows).1.bundle;
    let old = storage::get(keys::OLD_WORKSPACE).ok().flatten();
    match (rows.is_empty(), old) {
        (true, Some(text)) => text,
        _ => liftmargin_document::save(&bundle).unwrap_or_default(),
    }
}
