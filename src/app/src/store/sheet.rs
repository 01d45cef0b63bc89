//! What the sheet shows: chosen once, there again when the screen is opened again, worked out in pieces.

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::DocumentError;
use liftmargin_document::model::Bundle;
use liftmargin_document::present::Units;
use liftmargin_document::resolve::LearnedAirframes;
use liftmargin_document::sheet::{Column, Row, RowWork, SheetInputs, places, sort};

use super::Store;
use crate::platform::frame;

/// What is chosen for the sheet, and what was worked out.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// Setups left out.
    pub left_out: RwSignal<Vec<String>>,
    /// Sites; none is each setup's own.
    pub sites: RwSignal<Vec<String>>,
    /// Sorted by this, downwards or not; none is the order of the setups.
    pub sorted: RwSignal<Option<(Column, bool)>>,
    /// The rows, in the order of the setups.
    pub rows: RwSignal<Vec<Row>>,
    /// How many are worked out.
    pub done: RwSignal<usize>,
    run: StoredValue<u32>,
}

impl Sheet {
    /// Nothing chosen: every setup at its own site.
    pub fn new() -> Self {
        Self {
            left_out: RwSignal::new(Vec::new()),
            sites: RwSignal::new(Vec::new()),
            sorted: RwSignal::new(None),
            rows: RwSignal::new(Vec::new()),
            done: RwSignal::new(0),
            run: StoredValue::new(0),
        }
    }

    /// The sheet of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }

    /// Works out what is chosen now, and again whenever something it stands on changes, as long as the screen is there.
    pub fn follow(self, store: Store) {
        Effect::new(move || {
            let (bundle, units) = (store.bundle.get(), store.units.get());
            let sites: Vec<String> = self.sites.get();
            let left_out = self.left_out.get();
            let names = bundle.setups.iter().map(|setup| setup.id.clone());
            let setups: Vec<String> = names.filter(|id| !left_out.contains(id)).collect();
            let rows = places(&bundle, &setups, &sites).into_iter();
            self.rows.set(rows.map(|(setup, site)| Row::new(&bundle, &setup, &site)).collect());
            self.done.set(0);
            let run = self.run.get_value() + 1;
            self.run.set_value(run);
            spawn_local(self.work(run, bundle, units));
        });
        on_cleanup(move || self.run.update_value(|run| *run += 1));
    }

    /// Row by row; ends unheard once other rows are wanted.
    async fn work(self, run: u32, mut bundle: Bundle, units: Units) {
        let mut learned = LearnedAirframes::default();
        for index in 0..self.rows.with_untracked(Vec::len) {
            let Some(mut row) = self.rows.with_untracked(|rows| rows.get(index).cloned()) else { return };
            let inputs =
                SheetInputs::new(&mut bundle, &row.setup, &row.site, |airframe| learned.get(airframe));
            let worked = match inputs {
                Ok(inputs) => self.row(run, &mut row, &inputs, units).await,
                Err(fault) => Err(fault),
            };
            if let Err(fault) = worked {
                row.refuse(&fault);
            }
            frame::turn().await;
            if self.run.get_value() != run {
                return;
            }
            self.rows.update(|rows| {
                if let Some(place) = rows.get_mut(index) {
                    *place = row;
                }
            });
            self.done.set(index + 1);
        }
    }

    async fn row(
        self,
        run: u32,
        row: &mut Row,
        inputs: &SheetInputs,
        units: Units,
    ) -> Result<(), DocumentError> {
        let mut work = RowWork::new(inputs).map_err(DocumentError::of_core)?;
        let is_done = frame::in_pieces(|| work.step(), || self.run.get_value() == run).await;
        if is_done.map_err(DocumentError::of_core)? {
            work.finish(inputs, row, units);
        }
        Ok(())
    }

    /// The rows as they are shown: sorted once all are worked out, so that none jumps away under the finger.
    pub fn shown(self) -> Vec<Row> {
        let mut rows = self.rows.get();
        if let Some((column, descending)) = self.sorted.get().filter(|_| self.done.get() == rows.len()) {
            sort(&mut rows, column, descending);
        }
        rows
    }
}
