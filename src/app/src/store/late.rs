//! What no card needs is read after it: by itself some moments later, or as soon as someone wants it.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::keep::{LATE, Late};
use liftmargin_document::record::List;

use super::Store;
use crate::platform::database::{self, Copy};
use crate::platform::frame;
use crate::platform::storage::StorageFault;

/// The first card is drawn and sampled by then.
const PAUSE: Duration = Duration::from_secs(2);
/// Before another try, where the browser did not give it.
const PAUSE_AFTER_FAULT: Duration = Duration::from_secs(5);
/// Records opened between two breaths of the browser.
const PIECE: u32 = 16;

type Then = Box<dyn FnOnce()>;

/// How far the reading is.
pub(super) struct Reading {
    /// Parts of it that are read.
    parts: usize,
    is_busy: bool,
    log_is_read: RwSignal<bool>,
    /// What waits, by the part that it waits for.
    then: [Vec<Then>; LATE.len()],
}

impl Reading {
    pub(super) fn new(all_read: bool) -> Self {
        Self {
            parts: if all_read { LATE.len() } else { 0 },
            is_busy: false,
            log_is_read: RwSignal::new(all_read),
            then: [const { Vec::new() }; LATE.len()],
        }
    }
}

impl Store {
    pub(super) fn read_late_by_itself(&self) {
        let store = *self;
        frame::after(PAUSE, move || store.read_late());
    }

    /// Whether all flights and setups as flown are here; those in the air always are.
    pub fn log_is_read(&self) -> bool {
        self.keeping(|keeping| keeping.late.log_is_read).is_none_or(|is_read| is_read.get())
    }

    /// Goes on once everything is read: at once where it is.
    pub fn once_all_read(&self, then: impl FnOnce() + 'static) {
        self.once_read(LATE.len(), Box::new(then));
    }

    /// Goes on once all flights and setups as flown are read: at once where they are.
    pub fn once_log_read(&self, then: impl FnOnce() + 'static) {
        self.once_read(1, Box::new(then));
    }

    fn once_read(&self, parts: usize, then: Then) {
        let mut then = Some(then);
        self.keeping(|keeping| {
            if keeping.late.parts < parts {
                keeping.late.then[parts - 1].extend(then.take());
            }
        });
        match then {
            Some(then) => then(),
            None => self.read_late(),
        }
    }

    /// Reads now what is left to be read.
    pub fn read_late(&self) {
        let store = *self;
        let is_busy = self.keeping(|keeping| core::mem::replace(&mut keeping.late.is_busy, true));
        if is_busy == Some(false) {
            spawn_local(async move {
                while store.read_part().await {}
                store.keeping(|keeping| keeping.late.is_busy = false);
            });
        }
    }

    /// Reads the next part; whether another one may be read at once.
    async fn read_part(&self) -> bool {
        let store = *self;
        let next = self.keeping(|keeping| keeping.late.parts).and_then(|parts| LATE.get(parts));
        let Some(lists) = next else { return false };
        if let Ok(late) = self.late(lists).await {
            self.take_late(late);
            return true;
        }
        frame::after(PAUSE_AFTER_FAULT, move || store.read_late());
        false
    }

    fn take_late(&self, late: Late) {
        let bundle = self.bundle.get_untracked();
        let Some((with, late, aside)) = self.keeping(|keeping| keeping.keeper.take_late(&bundle, late))
        else {
            return;
        };
        self.history.update_value(|history| history.for_each(|(earlier, _)| late.follow(earlier)));
        if with != bundle {
            self.bundle.set(with);
        }
        if !aside.is_empty() {
            self.broken.update(|there| there.extend(aside));
        }
        let due = self.keeping(|keeping| {
            keeping.late.parts += 1;
            let due = keeping.late.then.get_mut(keeping.late.parts - 1).map(core::mem::take);
            (keeping.late.log_is_read, due.unwrap_or_default())
        });
        let Some((log_is_read, due)) = due else { return };
        log_is_read.set(true);
        for then in due {
            then();
        }
    }

    async fn late(&self, lists: &[List]) -> Result<Late, StorageFault> {
        let mut late = Late::default();
        for list in lists {
            let mut after = format!("{}/", list.key());
            loop {
                let rows = database::read_on(*list, &after, PIECE).await?;
                let Some((last, _)) = rows.last() else { break };
                after.clone_from(last);
                self.keeping(|keeping| {
                    for (key, stored) in rows.iter().filter(|(key, _)| !keeping.keeper.knows(key)) {
                        late.read(key, stored.as_deref());
                    }
                });
                frame::turn().await;
            }
        }
        for (key, previous) in database::read(&late.unread(), Copy::Previous).await? {
            late.read_previous(&key, previous.as_deref());
        }
        Ok(late)
    }
}
