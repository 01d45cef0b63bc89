//! Whether the browser promises to keep the crew's data for good.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::Store;
use crate::platform::persist;

impl Store {
    /// At the start: what it has promised before. Nothing is asked of a crew that has changed nothing yet.
    pub(super) fn look_whether_it_lasts(&self) {
        let store = *self;
        spawn_local(async move {
            let promised = persist::is_promised().await;
            if store.lasting.get_untracked().is_none() {
                store.lasting.set(Some(promised));
            }
        });
    }

    /// Asks the browser once to keep the data for good, after the first change of the crew's own.
    pub(super) fn ask_to_last(&self) {
        let store = *self;
        let asked = self.keeping(|keeping| core::mem::replace(&mut keeping.asked_to_last, true));
        if asked == Some(false) {
            store.lasting.set(Some(true));
            spawn_local(async move { store.lasting.set(Some(persist::ask().await)) });
        }
    }
}
