//! A curve worked out place by place, its samples in a thread of their own, so that no touch waits for it; never shown as of
//! inputs that it is not of.

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::DocumentError;
use liftmargin_document::sweep::{PointWork, Sweep, SweepPoint, Sweeper};

use super::answer::apart;
use crate::platform::frame;

/// What is worked out.
#[derive(Clone, PartialEq)]
pub enum Curve {
    /// Nothing was asked.
    Nothing,
    /// So many places are in.
    Working(usize),
    /// The curve, and whether all its limits are found too.
    Drawn(Sweep, bool),
    /// Why there is none.
    Fault(DocumentError),
}

/// One curve at a time, as long as the part of the screen that made it is there.
#[derive(Clone, Copy)]
pub struct Sweeping {
    /// What is worked out so far.
    pub curve: RwSignal<Curve>,
    run: StoredValue<u32>,
}

impl Sweeping {
    /// Nothing asked.
    pub fn new() -> Self {
        Self { curve: RwSignal::new(Curve::Nothing), run: StoredValue::new(0) }
    }

    /// Works a curve out in the place of the one before.
    pub fn start(self, sweeper: Result<Sweeper, DocumentError>) {
        let run = self.run.get_value() + 1;
        self.run.set_value(run);
        match sweeper {
            Ok(sweeper) => {
                self.curve.set(Curve::Working(0));
                spawn_local(self.work(run, sweeper));
            }
            Err(fault) => self.curve.set(Curve::Fault(fault)),
        }
    }

    /// Ends what is being worked out.
    pub fn stop(self) {
        self.run.update_value(|run| *run += 1);
        self.curve.set(Curve::Nothing);
    }

    fn is_still(self, run: u32) -> bool {
        self.run.try_get_value() == Some(run)
    }

    fn tell(self, curve: Curve) {
        let _ = self.curve.try_set(curve);
    }

    async fn work(self, run: u32, mut sweeper: Sweeper) {
        while let Some(at) = sweeper.wanted() {
            frame::turn().await;
            let point = self.point(run, &sweeper, at).await;
            if !self.is_still(run) {
                return;
            }
            let was_place = !sweeper.wants_verdict_only();
            if let Err(fault) = sweeper.take(point) {
                return self.tell(Curve::Fault(fault));
            }
            if was_place {
                let so_far = sweeper.so_far();
                let all_in = sweeper.wants_verdict_only();
                self.tell(if all_in {
                    Curve::Drawn(so_far.clone(), false)
                } else {
                    Curve::Working(so_far.points.len())
                });
            }
        }
        self.tell(Curve::Drawn(sweeper.so_far().clone(), true));
    }

    async fn point(self, run: u32, sweeper: &Sweeper, at: f64) -> Result<SweepPoint, DocumentError> {
        let inputs = sweeper.inputs(at)?;
        frame::turn().await;
        let mut work =
            PointWork::new(&inputs, sweeper.wants_verdict_only()).map_err(DocumentError::of_core)?;
        if work.is_sampled()
            && let Some(flown) = apart(sweeper.question(at).ok()).await
        {
            return Ok(work.finish_with(at, flown.as_ref()));
        }
        frame::in_pieces(|| Ok::<_, DocumentError>(work.step()), || self.is_still(run)).await?;
        Ok(work.finish(at))
    }
}
