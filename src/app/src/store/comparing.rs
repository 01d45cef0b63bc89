//! Setups side by side, worked out one after the other in short pieces once the fingers rest.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::DocumentError;
use liftmargin_document::compare::{Column, ColumnFigures, ColumnWork};
use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::LearnedAirframes;
use liftmargin_document::sheet::SheetInputs;

use crate::platform::{clock, frame};

/// So long a piece of work may take before the browser gets its turn: half a frame.
const PIECE_MS: f64 = 8.0;
/// Work begins when nothing was changed for so long.
const REST: Duration = Duration::from_millis(300);

/// What is compared, as long as the part of the screen that made it is there.
#[derive(Clone, Copy)]
pub struct Comparing {
    /// A column a setup, as far as they are worked out.
    pub columns: RwSignal<Vec<Column>>,
    run: StoredValue<u32>,
}

impl Comparing {
    /// Nothing to compare.
    pub fn new() -> Self {
        Self { columns: RwSignal::new(Vec::new()), run: StoredValue::new(0) }
    }

    /// Works these out in the place of those before.
    pub fn start(self, bundle: Bundle, setups: Vec<String>) {
        let run = self.run.get_value() + 1;
        self.run.set_value(run);
        self.columns.set(setups.into_iter().map(|setup| Column { setup, figures: None }).collect());
        frame::after(REST, move || {
            if self.is_still(run) {
                spawn_local(self.work(run, bundle));
            }
        });
    }

    fn is_still(self, run: u32) -> bool {
        self.run.try_get_value() == Some(run)
    }

    async fn work(self, run: u32, mut bundle: Bundle) {
        let mut learned = LearnedAirframes::default();
        let setups = self.columns.try_with_untracked(|columns| {
            columns.iter().map(|column| column.setup.clone()).collect::<Vec<_>>()
        });
        for (place, id) in setups.unwrap_or_default().into_iter().enumerate() {
            frame::turn().await;
            let figures = self.figures(run, &mut bundle, &id, &mut learned).await;
            if !self.is_still(run) {
                return;
            }
            let _ = self.columns.try_update(|columns| {
                if let Some(column) = columns.get_mut(place) {
                    column.figures = figures.transpose();
                }
            });
        }
    }

    /// None where others are wanted by now.
    async fn figures(
        self,
        run: u32,
        bundle: &mut Bundle,
        id: &str,
        learned: &mut LearnedAirframes,
    ) -> Result<Option<ColumnFigures>, DocumentError> {
        let site = Setup::find(bundle, id).map(|(_, setup)| setup.site.clone()).unwrap_or_default();
        let inputs = SheetInputs::new(bundle, id, &site, |airframe| learned.get(airframe))?;
        frame::turn().await;
        let mut work = ColumnWork::new(&inputs).map_err(DocumentError::of_core)?;
        let mut begun = clock::now_ms();
        while !work.step().map_err(DocumentError::of_core)? {
            if clock::now_ms() - begun > PIECE_MS {
                frame::turn().await;
                begun = clock::now_ms();
            }
            if !self.is_still(run) {
                return Ok(None);
            }
        }
        Ok(work.finish())
    }
}
