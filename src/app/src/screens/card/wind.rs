//! The greatest wind in which all margins are kept: searched in pieces once everything else is settled.

use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_core::card::{GreatestWind, Prepared};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use liftmargin_document::card_report::{SAMPLES, SEED};
use liftmargin_document::words::wind;

use crate::live::live;
use crate::platform::frame;
use crate::store::{Store, Track};

/// What was found: nothing yet, or the wind, which is none where calm air is too much.
type Found = RwSignal<Option<Option<GreatestWind>>>;

/// The figure.
#[component]
pub fn GreatestWindFigure(track: Track) -> impl IntoView {
    let store = Store::here();
    let found: Found = RwSignal::new(None);
    let run = StoredValue::new(0_u32);
    Effect::new(move || {
        track.settled.with(|_| ());
        let inputs =
            track.ready.with_untracked(|ready| ready.as_ref().and_then(|ready| ready.as_ref().ok().cloned()));
        run.update_value(|run| *run += 1);
        found.set(None);
        let (Some(inputs), this) = (inputs, run.get_value()) else { return };
        spawn_local(async move {
            let thresholds = Thresholds::default();
            let Ok(at) = Prepared::new(&inputs.0, &inputs.1, &thresholds) else { return };
            let mut search =
                at.greatest_wind_search(&Uncertainty::for_airframe(&inputs.0.airframe), SEED, SAMPLES);
            while let Ok(step) = search.step() {
                frame::turn().await;
                // Left, settled anew, or typed on: nobody waits for this one.
                if run.try_get_value() != Some(this) || !track.is_still(&inputs) {
                    return;
                }
                if step.is_some() {
                    found.set(step);
                    return;
                }
            }
        });
    });
    let words = move |found: Option<GreatestWind>| {
        let units = store.units.get();
        let ends = found.map(|found| format!("Beyond: {}.", wind::ends(found.ends))).unwrap_or_default();
        view! {
            <div class="answer answer-large">
                <p class="answer-label">"Works in wind"</p>
                <p class="figure-words" data-figure="greatest-wind">{wind::greatest(found.as_ref(), units)}</p>
                <p class="answer-sub">{ends}" "{wind::GLOSS}</p>
            </div>
        }
        .into_any()
    };
    view! { <section>{live(move || found.get().map(words))}</section> }
}
