//! Setups side by side, worked out one after the other in short pieces once the fingers rest.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::DocumentError;
use liftmargin_document::compare::{Column, ColumnFigures};
use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::LearnedAirframes;
use liftmargin_document::sheet::{RowWork, SheetInputs};

use crate::platform::frame;

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
        let mut work = RowWork::new(&inputs).map_err(DocumentError::of_core)?;
        let is_done = frame::in_pieces(|| work.step(), || self.is_still(run)).await;
        let is_done = is_done.map_err(DocumentError::of_core)?;
        Ok(if is_done { ColumnFigures::of(work, &inputs) } else { None })
    }
}
