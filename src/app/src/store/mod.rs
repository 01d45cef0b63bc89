//! What the app holds: the crew's data with its way back, the units, the what-if, and what they come to.
//!
//! Screens read signals and call methods; only this folder writes the browser's storage, through its door.

mod answer;
mod comparing;
mod demo;
mod edit;
mod headline;
pub mod keys;
mod lasting;
mod late;
mod offline;
mod opening;
mod refused;
mod saving;
mod sheet;
mod sweeping;
mod take_in;
mod view_state;

pub use answer::{Answer, Settled, Track};
pub use comparing::Comparing;
pub use demo::{demo_bundle, is_invented};
pub use headline::{Headline, flight_of};
pub use offline::Offline;
pub use opening::{Opened, everything_readable};
pub use refused::{Place, Refused};
pub use saving::Saving;
pub use sheet::Sheet;
pub use sweeping::{Curve, Sweeping};
pub use take_in::Coming;

use leptos::prelude::*;
use liftmargin_document::keep::{Aside, Conflict, Rescued};
use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::present::Units;
use liftmargin_document::whatif::WhatIf;
use liftmargin_document::workspace::{History, open_setup};

use crate::platform::storage;

/// The state that an undo brings back.
type Before = (Bundle, String);

/// Handles to everything the app holds.
#[derive(Clone, Copy)]
pub struct Store {
    /// The crew's data as saved.
    pub bundle: RwSignal<Bundle>,
    /// The setup wanted; `open` says which one is there.
    pub selected: RwSignal<String>,
    /// The id of the open setup; empty where there is none.
    pub open: Memo<String>,
    /// How figures are shown.
    pub units: RwSignal<Units>,
    /// Changes laid over the open setup, not saved.
    pub what_if: RwSignal<WhatIf>,
    /// Fields whose text is not used.
    pub refused: RwSignal<Vec<Refused>>,
    /// How the keeping goes.
    pub saving: RwSignal<Saving>,
    /// Texts of earlier that could not be read.
    pub rescued: RwSignal<Vec<Rescued>>,
    /// Records that could not be read, kept beside the data until the crew lets them go.
    pub broken: RwSignal<Vec<Aside>>,
    /// Records that another tab changed too.
    pub conflicts: RwSignal<Vec<Conflict>>,
    /// Whether the browser promises to keep the data, once it was asked.
    pub lasting: RwSignal<Option<bool>>,
    /// Since when the crew's own data is in no file, milliseconds since 1970.
    pub unexported_since_ms: RwSignal<Option<f64>>,
    /// What the undo bar offers to bring back, in words.
    pub undo_offer: RwSignal<Option<String>>,
    /// What the undo button would take back, in words.
    pub undo_words: RwSignal<Option<String>>,
    history: StoredValue<History<Before>>,
    kept: StoredValue<saving::Keeping, LocalStorage>,
}

impl Store {
    /// Holds what the browser kept and starts keeping.
    pub fn start(mut opened: Opened) -> Self {
        let kept = StoredValue::new_local(saving::Keeping::start(&mut opened));
        let bundle = RwSignal::new(opened.bundle);
        let selected = RwSignal::new(opened.view.selected);
        let open = move |_: Option<&String>| {
            selected.with(|selected| bundle.with(|bundle| open_setup(bundle, selected))).unwrap_or_default()
        };
        let store = Self {
            bundle,
            selected,
            open: Memo::new(open),
            units: RwSignal::new(opened.view.units),
            what_if: RwSignal::new(WhatIf::default()),
            refused: RwSignal::new(Vec::new()),
            saving: RwSignal::new(Saving::Kept),
            rescued: RwSignal::new(opened.rescued),
            broken: RwSignal::new(opened.aside),
            conflicts: RwSignal::new(Vec::new()),
            lasting: RwSignal::new(None),
            unexported_since_ms: RwSignal::new(opened.view.unexported_since_ms),
            undo_offer: RwSignal::new(None),
            undo_words: RwSignal::new(None),
            history: StoredValue::new(History::new()),
            kept,
        };
        // The other tabs' choice is not this one's, also after a reload.
        storage::set_of_tab(keys::OPEN, &store.open.get_untracked());
        store.listen();
        store
    }

    /// The store of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }

    /// Whether a what-if lies over the open setup.
    pub fn has_what_if(&self) -> bool {
        self.what_if.with(|what_if| !what_if.changes.is_empty())
    }

    /// Something of the open setup.
    pub fn with_setup<T>(&self, read: impl FnOnce(&Setup) -> T) -> Option<T> {
        let id = self.open.get();
        self.bundle.with(|bundle| bundle.setups.iter().find(|setup| setup.id == id).map(read))
    }

    /// Opens a setup; the what-if of another one is dropped.
    pub fn select(&self, id: &str) {
        if self.open.get_untracked() != id {
            self.what_if.set(WhatIf::default());
        }
        self.selected.set(id.to_owned());
        self.keep_view();
    }

    /// Shows figures in other units.
    pub fn set_units(&self, units: Units) {
        self.units.set(units);
        self.keep_view();
    }
}
