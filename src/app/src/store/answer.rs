//! From the data to the answer, step by step, each step only when what it stands on has changed:
//! airframe (fit of its bench table) → site → setup → card at once; the cautious figures after the frame.

use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_core::air::Site;
use liftmargin_core::card::{
    Card, Cautious, Contingencies, FirstCautious, Prepared, Sampler, Samples, Setup, card,
};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use liftmargin_document::DocumentError;
use liftmargin_document::apart::{flown, question};
use liftmargin_document::card_report::{PIECE, SAMPLES, SEED};
use liftmargin_document::model::{self, Bundle};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::{ResolvedAirframe, resolve_airframe, resolve_on};
use liftmargin_document::whatif;

use super::Store;
use crate::live::{memo, memo_kept};
use crate::platform::aside;
use crate::platform::frame::{self, Rest};

/// Sampling starts when the fingers have rested so long.
const PAUSE_BEFORE_SAMPLING: Duration = Duration::from_millis(150);

/// A computed thing: none where there is nothing to compute, else the thing or why not.
pub type Computed<T> = Option<Result<T, DocumentError>>;

/// The answer for the setup as saved, and for the setup with the what-if.
#[derive(Clone, Copy)]
pub struct Answer {
    /// The airframe of the open setup, learned from its bench table.
    pub airframe: Memo<Computed<ResolvedAirframe>>,
    /// As saved.
    pub saved: Track,
    /// With the what-if; none while there is none.
    pub changed: Track,
}

/// One chain of figures.
#[derive(Clone, Copy, PartialEq)]
pub struct Track {
    /// The card.
    pub card: Memo<Computed<Arc<Card>>>,
    /// The cautious figures.
    cautious: RwSignal<Caution>,
    /// What stands in while none of them may be shown; computed only where it is asked for.
    pub first: Memo<Option<FirstCautious>>,
    /// What lists and curves are drawn from.
    pub settled: RwSignal<Option<Settled>>,
    /// The same a turn of the browser later, for the tables: no task is long.
    pub settled_later: RwSignal<Option<Settled>>,
    /// The inputs resolved.
    pub ready: Memo<Computed<Ready>>,
}

/// A card with what stands beside it: follows once the fingers rest, so that typing draws no list.
#[derive(Clone)]
pub struct Settled {
    /// The card.
    pub card: Arc<Card>,
    /// What stands beside it; none where there is no flight.
    pub beside: Option<Arc<Contingencies>>,
}

/// The cautious figures as far as they are known.
#[derive(Clone, Default)]
struct Caution {
    /// The last ones that were computed.
    last: Option<Arc<Cautious>>,
    /// What they were computed of.
    of: Option<Ready>,
}

/// All that core needs.
pub type Ready = Arc<(Setup, Site)>;

/// The question after the cautious figures of what is ready now, for a thread of its own.
type Question = Rc<dyn Fn() -> Option<String>>;

impl Answer {
    /// Starts to compute for what is open in the store.
    pub fn start(store: Store) -> Self {
        let airframe = airframe(store);
        let saved_ready = memo_kept(move || {
            let id = store.open.get();
            airframe.with(|airframe| store.bundle.with(|bundle| ready(bundle, &id, airframe.as_ref())))
        });
        let changed_ready = memo_kept(move || {
            let what_if = store.what_if.get();
            if what_if.changes.is_empty() {
                return None;
            }
            let id = store.open.get();
            airframe.with(|airframe| {
                store.bundle.with(|bundle| match whatif::apply(bundle, &id, &what_if) {
                    Ok(changed) => ready(&changed, &id, airframe.as_ref()),
                    Err(fault) => Some(Err(fault)),
                })
            })
        });
        let of_saved =
            move || store.bundle.with_untracked(|bundle| question(bundle, &store.open.get_untracked()).ok());
        let of_changed = move || {
            let (id, what_if) = (store.open.get_untracked(), store.what_if.get_untracked());
            let changed = store.bundle.with_untracked(|bundle| whatif::apply(bundle, &id, &what_if)).ok()?;
            question(&changed, &id).ok()
        };
        Self {
            airframe,
            saved: Track::start(saved_ready, Rc::new(of_saved)),
            changed: Track::start(changed_ready, Rc::new(of_changed)),
        }
    }

    /// The answer of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }

    /// The chain to show large: with the what-if while there is one.
    pub fn shown(&self, store: Store) -> Track {
        if store.has_what_if() { self.changed } else { self.saved }
    }
}

fn airframe(store: Store) -> Memo<Computed<ResolvedAirframe>> {
    let chosen = memo(move || {
        let wanted = store.with_setup(|setup| setup.airframe.clone())?;
        store
            .bundle
            .with(|bundle| model::Airframe::find(bundle, &wanted).map(|(_, airframe)| airframe.clone()))
    });
    memo(move || chosen.with(|chosen| chosen.as_ref().map(resolve_airframe)))
}

fn ready(
    bundle: &Bundle,
    id: &str,
    airframe: Option<&Result<ResolvedAirframe, DocumentError>>,
) -> Computed<Ready> {
    model::Setup::find(bundle, id)?;
    let learned = |_: &model::Airframe| match airframe {
        Some(learned) => Ok(learned.as_ref().map_err(Clone::clone)?.airframe.clone()),
        None => {
            Err(DocumentError::Missing { path: String::new(), allowed: "one of the airframes".to_owned() })
        }
    };
    Some(resolve_on(bundle, id, learned).map(Arc::new))
}

impl Track {
    fn start(ready: Memo<Computed<Ready>>, question: Question) -> Self {
        let card = memo(move || {
            ready.with(|ready| {
                ready.as_ref().map(|ready| {
                    let inputs = ready.as_ref().map_err(Clone::clone)?;
                    let (setup, site) = inputs.as_ref();
                    card(setup, site, &Thresholds::default()).map(Arc::new).map_err(refused)
                })
            })
        });
        let track = Self {
            card,
            cautious: RwSignal::new(Caution::default()),
            first: first(ready),
            settled: RwSignal::new(None),
            settled_later: RwSignal::new(None),
            ready,
        };
        track.sample_after_rest(question);
        track
    }

    /// Once the fingers rest: sampling, then what stands beside the card.
    fn sample_after_rest(self, question: Question) {
        let rest = Rc::new(Rest::new(PAUSE_BEFORE_SAMPLING));
        Effect::new(move || {
            let inputs =
                self.ready.with(|ready| ready.as_ref().and_then(|ready| ready.as_ref().ok().cloned()));
            let question = Rc::clone(&question);
            rest.after(move || {
                spawn_local(async move {
                    match inputs {
                        Some(inputs) => self.sample(inputs, &*question).await,
                        None => self.nothing(),
                    }
                });
            });
        });
    }

    fn nothing(self) {
        self.cautious.set(Caution::default());
        self.settled.set(None);
        self.settled_later.set(None);
    }

    /// Flies all samples, then settles; ends unheard once the inputs are others.
    async fn sample(self, inputs: Ready, question: &dyn Fn() -> Option<String>) {
        if !self.is_still(&inputs) {
            return;
        }
        let last = match apart(question()).await {
            Some(flown) => flown,
            None => self.flown_here(&inputs).await,
        };
        if !self.is_still(&inputs) {
            return;
        }
        self.cautious.set(Caution { last: last.map(Arc::new), of: Some(inputs.clone()) });
        frame::turn().await;
        if !self.is_still(&inputs) {
            return;
        }
        let settled = self.settle(&inputs);
        for follows in [self.settled, self.settled_later] {
            frame::turn().await;
            if !self.is_still(&inputs) {
                return;
            }
            follows.set(settled.clone());
        }
    }

    /// Where there is no thread for it: in short pieces, so that the next keystroke never waits for them.
    async fn flown_here(self, inputs: &Ready) -> Option<Cautious> {
        let thresholds = Thresholds::default();
        let sampler = sampler(inputs, &thresholds)?;
        let mut samples = Samples::default();
        for from in (0..SAMPLES).step_by(PIECE) {
            samples.join(sampler.sample(from..(from + PIECE).min(SAMPLES)));
            frame::turn().await;
            if !self.is_still(inputs) {
                return None;
            }
        }
        samples.summary()
    }

    fn settle(self, inputs: &Ready) -> Option<Settled> {
        let card = self.card.with_untracked(|card| card.as_ref()?.as_ref().ok().cloned())?;
        let thresholds = Thresholds::default();
        let at = Prepared::new(&inputs.0, &inputs.1, &thresholds);
        let beside = at.and_then(|at| at.contingencies()).ok().flatten().map(Arc::new);
        Some(Settled { card, beside })
    }

    /// Follows all that a card shows, for what works it out later.
    pub fn follow(self) {
        self.ready.with(|_| ());
        self.card.with(|_| ());
        self.cautious.with(|_| ());
    }

    /// The cautious figures computed last, and whether they are of the inputs as they are now.
    pub fn last_cautious(self) -> (Option<Arc<Cautious>>, bool) {
        let caution = self.cautious.get();
        let fresh = self.ready.with(|now| match (now, &caution.of) {
            (Some(Ok(now)), Some(of)) => Arc::ptr_eq(now, of),
            (Some(Ok(_)), None) | (None | Some(Err(_)), Some(_)) => false,
            (None | Some(Err(_)), None) => true,
        });
        (caution.last, fresh)
    }

    /// Whether the inputs are still these: what is computed of others is of no use.
    pub fn is_still(self, inputs: &Ready) -> bool {
        self.ready.with_untracked(|now| matches!(now, Some(Ok(now)) if Arc::ptr_eq(now, inputs)))
    }
}

/// The cautious figures that a thread of its own finds; nothing where there is no such thread.
pub(super) async fn apart(question: Option<String>) -> Option<Option<Cautious>> {
    flown(&aside::answer(&question?).await?)
}

/// Flies the inputs with their doubt; none where they do not fly, or the doubt is out of its range.
fn sampler<'a>(inputs: &'a Ready, thresholds: &'a Thresholds) -> Option<Sampler<'a>> {
    let (setup, site) = inputs.as_ref();
    let uncertainty = Uncertainty::for_airframe(&setup.airframe);
    Prepared::new(setup, site, thresholds).and_then(|at| at.sampler(&uncertainty, SEED)).ok().flatten()
}

fn first(ready: Memo<Computed<Ready>>) -> Memo<Option<FirstCautious>> {
    memo(move || {
        let inputs = ready.get()?.ok()?;
        sampler(&inputs, &Thresholds::default())?.first().ok().flatten()
    })
}

/// A refusal that only core's stations could find, as the document's error.
fn refused(refusal: liftmargin_core::input_error::InputError) -> DocumentError {
    DocumentError::of_core(refusal)
}
