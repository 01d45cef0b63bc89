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

/// A row's place on the sheet.
#[derive(Clone, PartialEq)]
pub struct SheetRow {
    /// Setup and site in one word.
    pub key: String,
    /// What stands there.
    pub row: ArcRwSignal<Row>,
}

/// So many rows are drawn before the browser gets its turn.
const DRAWN_AT_ONCE: usize = 4;

/// What is chosen for the sheet, and what was worked out.
#[derive(Clone, Copy)]
pub struct Sheet {
    /// Setups left out.
    pub left_out: RwSignal<Vec<String>>,
    /// Sites; none is each setup's own.
    pub sites: RwSignal<Vec<String>>,
    /// Sorted by this, downwards or not; none is the order of the setups.
    pub sorted: RwSignal<Option<(Column, bool)>>,
    /// The rows, in the order of the setups: each by itself, so that one that is worked out touches no other.
    pub rows: RwSignal<Vec<SheetRow>>,
    /// How many are worked out.
    pub done: RwSignal<usize>,
    /// The longest typical minutes so far, s: the bars are shares of it.
    pub longest_s: RwSignal<f64>,
    /// So many rows are drawn: a few more at each turn.
    drawn: RwSignal<usize>,
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
            longest_s: RwSignal::new(0.0),
            drawn: RwSignal::new(0),
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
            let (bundle, units) = (store.bundle.with(Bundle::equipment), store.units.get());
            let sites: Vec<String> = self.sites.get();
            let left_out = self.left_out.get();
            let names = bundle.setups.iter().map(|setup| setup.id.clone());
            let setups: Vec<String> = names.filter(|id| !left_out.contains(id)).collect();
            let rows = places(&bundle, &setups, &sites).into_iter();
            let place = |(setup, site): (String, String)| SheetRow {
                row: ArcRwSignal::new(Row::new(&bundle, &setup, &site)),
                key: format!("{setup}\n{site}"),
            };
            let rows: Vec<SheetRow> = rows.map(place).collect();
            let is_there =
                |new: &SheetRow| self.rows.with_untracked(|old| old.iter().any(|old| old.key == new.key));
            // Other rows are drawn a few at a turn again; the same ones stay.
            if !rows.iter().all(is_there) {
                self.drawn.set(0);
            }
            self.rows.set(rows);
            self.done.set(0);
            self.longest_s.set(0.0);
            let run = self.run.get_value() + 1;
            self.run.set_value(run);
            spawn_local(self.work(run, bundle, units));
        });
        on_cleanup(move || self.run.update_value(|run| *run += 1));
    }

    /// Row by row; ends unheard once other rows are wanted.
    async fn work(self, run: u32, mut bundle: Bundle, units: Units) {
        let mut learned = LearnedAirframes::default();
        let places = self.rows.get_untracked();
        while self.drawn.get_untracked() < places.len() {
            self.drawn.update(|drawn| *drawn += DRAWN_AT_ONCE);
            frame::turn().await;
            if self.run.get_value() != run {
                return;
            }
        }
        for (index, place) in places.into_iter().enumerate() {
            let mut row = place.row.get_untracked();
            let inputs =
                SheetInputs::new(&mut bundle, &row.setup, &row.site, |airframe| learned.get(airframe));
            frame::turn().await;
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
            let typical = row.figures.as_ref().and_then(|figures| figures.typical);
            if typical.is_some_and(|time| time.value > self.longest_s.get_untracked()) {
                self.longest_s.set(typical.map_or(0.0, |time| time.value));
            }
            place.row.set(row);
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
        let mut rows: Vec<Row> =
            self.rows.with(|places| places.iter().map(|place| place.row.get_untracked()).collect());
        if let Some((column, descending)) = self.sorted.get().filter(|_| self.done.get() == rows.len()) {
            sort(&mut rows, column, descending);
        }
        rows
    }

    /// Keys of the rows that are drawn, in the order in which they are shown.
    pub fn keys(self) -> Vec<String> {
        let mut keys =
            self.rows.with(|places| places.iter().map(|place| place.key.clone()).collect::<Vec<_>>());
        if self.sorted.with(Option::is_some) {
            let shown = self.shown().into_iter();
            keys = shown.map(|row| format!("{}\n{}", row.setup, row.site)).collect();
        }
        keys.truncate(self.drawn.get());
        keys
    }
}
