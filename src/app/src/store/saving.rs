//! Keeping the crew's data: what changed is written within a moment after the first change, record by record, and is on
//! the disk then. What other tabs write comes in; where two changed the same record, the crew is asked.

use std::collections::HashSet;
use std::rc::Rc;
use std::time::Duration;

use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use liftmargin_document::keep::{Aside, Change, Journal, Keeper, Pulled};
use liftmargin_document::open::BrokenRecord;

use super::view_state::ViewState;
use super::{Opened, Store, keys};
use crate::platform::database::Depth;
use crate::platform::storage::StorageFault;
use crate::platform::tabs::{self, Tabs};
use crate::platform::{clock, database, frame, page, storage};

/// From the first change to the writing of it and what came after.
const PAUSE_BEFORE_SAVE: Duration = Duration::from_millis(200);
/// Before another try, where the browser did not take it.
const PAUSE_AFTER_FAULT: Duration = Duration::from_secs(10);

/// How the keeping goes.
#[derive(Debug, Clone, PartialEq)]
pub enum Saving {
    /// All is kept.
    Kept,
    /// Changes wait to be written.
    Pending,
    /// The browser did not take it.
    Failed(StorageFault),
}

/// The keeping of one tab.
pub(super) struct Keeping {
    pub(super) keeper: Keeper,
    tabs: Option<Tabs>,
    timer: Option<TimeoutHandle>,
    again: Option<TimeoutHandle>,
    /// A transaction is under way.
    is_busy: bool,
    /// Counts changes, to know what came while one was written.
    changes: u64,
    /// Written by another tab, not looked at yet.
    told: Vec<String>,
    /// The page slept: everything may have changed.
    must_look: bool,
    /// To be done once all is kept.
    then: Vec<Box<dyn FnOnce()>>,
    to_remove: Vec<String>,
    /// The journal that stands in the small storage.
    journal: Option<String>,
    /// Nothing may be written: it is not known what is there.
    without: Option<StorageFault>,
    unexported_since_ms: Option<f64>,
    /// The browser was asked to keep the data for good.
    pub(super) asked_to_last: bool,
    pub(super) late: super::late::Reading,
}

impl Keeping {
    pub(super) fn start(opened: &mut Opened) -> Self {
        Self {
            keeper: core::mem::take(&mut opened.keeper),
            tabs: None,
            timer: None,
            again: None,
            is_busy: false,
            changes: 0,
            told: Vec::new(),
            must_look: false,
            then: Vec::new(),
            to_remove: core::mem::take(&mut opened.to_remove),
            journal: None,
            without: opened.without.take(),
            unexported_since_ms: opened.view.unexported_since_ms,
            asked_to_last: false,
            late: super::late::Reading::new(opened.all_read),
        }
    }

    fn changes(&mut self, store: Store) -> (Vec<Change>, Vec<String>) {
        store.bundle.with_untracked(|bundle| {
            self.keeper.keep_conflicts(bundle);
            self.keeper.changes(bundle)
        })
    }
}

impl Store {
    pub(super) fn keeping<T>(&self, work: impl FnOnce(&mut Keeping) -> T) -> Option<T> {
        self.kept.try_update_value(work)
    }

    pub(super) fn listen(&self) {
        let store = *self;
        page::on_leaving(move || store.leave());
        let tabs = Tabs::open(move |keys| {
            store.keeping(|keeping| keeping.told.extend(keys));
            store.work();
        });
        self.keeping(|keeping| keeping.tabs = Some(tabs));
        tabs::on_coming_back(move || store.look_at_everything());
        self.look_whether_it_lasts();
        self.read_late_by_itself();
        let is_there = self.keeping(|keeping| {
            // What an older version kept, or what had to be mended.
            let has_work = !keeping.to_remove.is_empty();
            keeping.without.clone().map_or(Ok(has_work), Err)
        });
        match is_there {
            Some(Err(fault)) => self.saving.set(Saving::Failed(fault)),
            Some(Ok(true)) => self.work(),
            _ => {}
        }
    }

    /// Something changed: it is written within a moment.
    pub(super) fn changed(&self) {
        let store = *self;
        let is_first = self.keeping(|keeping| {
            keeping.changes += 1;
            let is_first = keeping.unexported_since_ms.is_none();
            keeping.unexported_since_ms.get_or_insert_with(clock::now_ms);
            if keeping.timer.is_none() && !keeping.is_busy {
                keeping.timer = frame::after_unless_cleared(PAUSE_BEFORE_SAVE, move || store.work());
            }
            is_first
        });
        if self.keeping(|keeping| keeping.without.is_none()) == Some(true) {
            self.saving.set(Saving::Pending);
        }
        if is_first == Some(true) {
            self.keep_view();
        }
        self.ask_to_last();
    }

    /// Keeps what may be lost.
    pub(super) fn keep_view(&self) {
        let view = ViewState {
            units: self.units.get_untracked(),
            selected: self.selected.get_untracked(),
            unexported_since_ms: self.keeping(|keeping| keeping.unexported_since_ms).flatten(),
        };
        view.write();
        self.unexported_since_ms.set(view.unexported_since_ms);
    }

    /// A file was handed to the browser with all the data in it.
    pub fn exported(&self) {
        self.keeping(|keeping| keeping.unexported_since_ms = None);
        self.keep_view();
    }

    /// Writes now what is not written yet.
    pub fn flush(&self) {
        self.work();
    }

    /// Writes what is not written yet, then goes on; not where it fails.
    pub fn flush_then(&self, then: impl FnOnce() + 'static) {
        self.keeping(|keeping| keeping.then.push(Box::new(then)));
        self.work();
    }

    /// The page is left: what is not on the disk yet is noted at once, for the next visit.
    fn leave(&self) {
        if matches!(self.saving.get_untracked(), Saving::Kept) {
            return;
        }
        let store = *self;
        self.keeping(|keeping| {
            if keeping.without.is_some() {
                return;
            }
            let (changes, _) = keeping.changes(store);
            let key = format!("{}{}", keys::JOURNAL, keeping.keeper.writer());
            if !changes.is_empty() && storage::set(&key, &Journal::write(&changes)).is_ok() {
                keeping.journal = Some(key);
            }
        });
        self.work();
    }

    /// The page slept: everything may have changed.
    fn look_at_everything(&self) {
        self.keeping(|keeping| keeping.must_look = true);
        self.work();
    }

    /// Takes in what others wrote and writes what is not written yet, one after the other until there is nothing left.
    fn work(&self) {
        let store = *self;
        let may_start = self.keeping(|keeping| {
            let timers = [keeping.timer.take(), keeping.again.take()];
            timers.into_iter().flatten().for_each(|timer| timer.clear());
            let may_start = !keeping.is_busy && keeping.without.is_none();
            keeping.is_busy |= may_start;
            may_start
        });
        if may_start == Some(true) {
            leptos::task::spawn_local(async move {
                while store.work_once().await {}
                store.keeping(|keeping| keeping.is_busy = false);
            });
        }
    }

    /// One round; whether another one is needed.
    async fn work_once(&self) -> bool {
        let store = *self;
        match self.written_elsewhere().await {
            Ok(rows) if rows.is_empty() => {}
            Ok(rows) => {
                let bundle = self.bundle.get_untracked();
                let pulled = self.keeping(|keeping| {
                    if let Some(tabs) = &keeping.tabs {
                        tabs.tell(&keeping.keeper.unsettled());
                    }
                    keeping.keeper.pull(&bundle, &rows)
                });
                if let Some(pulled) = pulled {
                    self.take_in(pulled);
                }
            }
            Err(fault) => return self.try_later(fault),
        }
        let number = self.keeping(|keeping| keeping.changes);
        let bundle = self.bundle.get_untracked();
        let Some((changes, refused)) = self.keeping(|keeping| keeping.changes(store)) else { return false };
        if changes.is_empty() {
            return self.finish(number, &refused);
        }
        let changes: Rc<[Change]> = changes.into();
        self.keeping(|keeping| keeping.keeper.sends(&changes));
        match database::commit(changes.clone(), move || store.work()).await {
            Ok(decisions) => {
                let keys: Vec<String> = changes.iter().map(|change| change.key.clone()).collect();
                self.keeping(|keeping| {
                    let unseen = keeping.keeper.wrote(&bundle, &changes, decisions);
                    keeping.told.extend(unseen);
                    if let Some(tabs) = &keeping.tabs {
                        tabs.tell(&keys);
                    }
                });
                self.tell_conflicts();
                true
            }
            Err(fault) => {
                if fault != StorageFault::Silent {
                    self.keeping(|keeping| keeping.keeper.unwritten(&changes));
                }
                self.try_later(fault)
            }
        }
    }

    fn try_later(&self, fault: StorageFault) -> bool {
        let store = *self;
        self.tell(Saving::Failed(fault));
        self.keeping(|keeping| {
            keeping.then.clear();
            keeping.again = frame::after_unless_cleared(PAUSE_AFTER_FAULT, move || store.work());
        });
        false
    }

    fn tell(&self, saving: Saving) {
        if self.saving.with_untracked(|told| *told != saving) {
            self.saving.set(saving);
        }
    }

    /// What other tabs may have written since this one looked, and what became of writing that was not waited for.
    async fn written_elsewhere(&self) -> Result<Vec<(String, Option<String>)>, StorageFault> {
        let asked = self.keeping(|keeping| {
            let mut keys = keeping.keeper.unsettled();
            keys.append(&mut keeping.told);
            (core::mem::take(&mut keeping.must_look), keys)
        });
        let Some((must_look, keys)) = asked else { return Ok(Vec::new()) };
        // Recordings never change; what is not read yet is read as it will be then.
        let depth = if self.log_is_read() { Depth::Log } else { Depth::First };
        let read = read(must_look.then_some(depth), &keys).await;
        if read.is_err() {
            self.keeping(|keeping| {
                keeping.must_look |= must_look;
                keeping.told.extend(keys);
            });
        }
        read
    }

    /// All is on the disk, unless something came in between.
    fn finish(&self, number: Option<u64>, refused: &[String]) -> bool {
        let is_new = self.keeping(|keeping| {
            Some(keeping.changes) != number || !keeping.told.is_empty() || keeping.must_look
        });
        if is_new == Some(true) {
            return true;
        }
        let done = self.keeping(|keeping| {
            let old = core::mem::take(&mut keeping.to_remove);
            old.iter().chain(&keeping.journal.take()).for_each(|key| storage::remove(key));
            core::mem::take(&mut keeping.then)
        });
        self.tell(match refused.first() {
            None => Saving::Kept,
            Some(path) => Saving::Failed(StorageFault::Refused(format!("{path} is no number"))),
        });
        done.into_iter().flatten().for_each(|then| then());
        false
    }

    fn take_in(&self, pulled: Pulled) {
        if !pulled.records.is_empty() {
            self.history.update_value(|history| history.for_each(|(earlier, _)| pulled.follow(earlier)));
            self.bundle.set(pulled.bundle);
        }
        self.tell_conflicts();
    }

    fn tell_conflicts(&self) {
        let bundle = self.bundle.get_untracked();
        let conflicts = self.keeping(|keeping| keeping.keeper.conflicts(&bundle)).unwrap_or_default();
        if self.conflicts.with_untracked(|there| *there != conflicts) {
            self.conflicts.set(conflicts);
        }
    }

    /// The crew's choice between two tabs that changed the same record.
    pub fn settle(&self, key: &str, mine: bool) {
        let bundle = self.bundle.get_untracked();
        if let Some(pulled) = self.keeping(|keeping| keeping.keeper.settle(&bundle, key, mine)) {
            self.take_in(pulled);
        }
        self.changed();
    }

    /// Lets a text go that could not be read, once the crew says so.
    pub fn drop_rescued(&self, key: &str) {
        self.rescued.update(|rescued| rescued.retain(|there| there.key != key));
        self.keeping(|keeping| keeping.keeper.let_go(key));
        self.changed();
    }

    /// Keeps more records that could not be read, until the crew lets them go.
    pub fn keep_broken(&self, broken: Vec<BrokenRecord>) {
        if broken.is_empty() {
            return;
        }
        let aside = self.keeping(|keeping| -> Vec<Aside> {
            broken.into_iter().map(|record| keeping.keeper.set_aside(record)).collect()
        });
        self.broken.update(|there| {
            let new = aside.unwrap_or_default().into_iter();
            let new: Vec<Aside> = new.filter(|aside| !there.contains(aside)).collect();
            there.extend(new);
        });
        self.changed();
    }

    /// Lets the records go that could not be read, once the crew says so.
    pub fn drop_broken(&self) {
        let broken = self.broken.get_untracked();
        self.keeping(|keeping| broken.iter().for_each(|aside| keeping.keeper.let_go(&aside.key)));
        self.broken.set(Vec::new());
        self.changed();
    }
}

/// What is stored under these keys, and of all so much.
async fn read(all: Option<Depth>, keys: &[String]) -> Result<Vec<(String, Option<String>)>, StorageFault> {
    let mut rows = Vec::new();
    if let Some(depth) = all {
        let rest = database::read_all(depth, Box::new(|_| Vec::new())).await?;
        rows.extend(rest.into_iter().map(|row| (row.key, row.now)));
    }
    if !keys.is_empty() {
        rows.extend(database::read(keys, database::Copy::Now).await?);
        // What is not there is an answer too.
        let there: HashSet<String> = rows.iter().map(|(key, _)| key.clone()).collect();
        rows.extend(keys.iter().filter(|key| !there.contains(*key)).map(|key| (key.clone(), None)));
    }
    Ok(rows)
}
