//! What no card needs is read after it: by itself some moments later, or as soon as someone wants it.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::keep::Late;

use super::Store;
use crate::platform::database::{self, Copy};
use crate::platform::frame;
use crate::platform::storage::StorageFault;

/// The first card is drawn and sampled by then.
const PAUSE: Duration = Duration::from_secs(2);
/// Before another try, where the browser did not give it.
const PAUSE_AFTER_FAULT: Duration = Duration::from_secs(5);
/// Records opened between two breaths of the browser.
const PIECE: usize = 16;

type Then = Box<dyn FnOnce()>;

/// How far the reading is.
pub(super) struct Reading {
    state: State,
    then: Vec<Then>,
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    Waiting,
    Reading,
    Read,
}

impl Reading {
    pub(super) const fn new(all_read: bool) -> Self {
        Self { state: if all_read { State::Read } else { State::Waiting }, then: Vec::new() }
    }
}

impl Store {
    pub(super) fn read_late_by_itself(&self) {
        let store = *self;
        frame::after(PAUSE, move || store.read_late());
    }

    /// Goes on once everything is read: at once where it is.
    pub fn once_all_read(&self, then: impl FnOnce() + 'static) {
        let mut then: Option<Then> = Some(Box::new(then));
        self.keeping(|keeping| {
            if keeping.late.state != State::Read {
                keeping.late.then.extend(then.take());
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
        let may_start = self.keeping(|keeping| {
            let waits = keeping.late.state == State::Waiting;
            if waits {
                keeping.late.state = State::Reading;
            }
            waits
        });
        if may_start == Some(true) {
            spawn_local(async move {
                if let Ok(late) = late().await {
                    store.take_late(late);
                } else {
                    store.keeping(|keeping| keeping.late.state = State::Waiting);
                    frame::after(PAUSE_AFTER_FAULT, move || store.read_late());
                }
            });
        }
    }

    fn take_late(&self, late: Late) {
        let bundle = self.bundle.get_untracked();
        let taken = self.keeping(|keeping| {
            keeping.late.state = State::Read;
            let then = core::mem::take(&mut keeping.late.then);
            (keeping.keeper.take_late(&bundle, late), then)
        });
        let Some(((with, late, aside), then)) = taken else { return };
        self.history.update_value(|history| history.for_each(|(earlier, _)| late.follow(earlier)));
        if with != bundle {
            self.bundle.set(with);
        }
        if !aside.is_empty() {
            self.broken.update(|there| there.extend(aside));
        }
        for then in then {
            then();
        }
    }
}

async fn late() -> Result<Late, StorageFault> {
    let mut late = Late::default();
    for keys in database::late_keys().await?.chunks(PIECE) {
        for (key, stored) in database::read(keys, Copy::Now).await? {
            late.read(&key, stored.as_deref());
        }
        frame::turn().await;
    }
    for (key, previous) in database::read(&late.unread(), Copy::Previous).await? {
        late.read_previous(&key, previous.as_deref());
    }
    Ok(late)
}
