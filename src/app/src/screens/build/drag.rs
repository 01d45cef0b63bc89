//! The drag area learned from one flight in calm air, to be put into the airframe by a touch.

use leptos::prelude::*;
use liftmargin_document::fields::{Entry as _, Number};
use liftmargin_document::model::Bundle;
use liftmargin_document::model::numbers::DRAG_AREA;
use liftmargin_document::present::answer as figure;
use liftmargin_document::present::drag_flight::{AIRSPEED, FLIGHT_LEAN, drag_area};
use liftmargin_document::words;

use super::super::card::card_of;
use super::super::entry;
use crate::live::{act, live, memo};
use crate::store::{Answer, Store};

/// Two readings and what they say.
pub fn drag_from_flight(airframe: &str) -> AnyView {
    let store = Store::here();
    let answer = Answer::here();
    let (airspeed, lean) = (RwSignal::new(None::<f64>), RwSignal::new(None::<f64>));
    let field = |number: &'static Number, value: RwSignal<Option<f64>>| {
        let element = entry::element_id("learn", "drag", number.path);
        entry::number(
            element,
            number,
            memo(move || value.get()),
            Callback::new(move |typed| value.set(typed)),
        )
    };
    let own = airframe.to_owned();
    let said = move || {
        let (airspeed, lean) = (airspeed.get()?, lean.get()?);
        let card = card_of(answer.shown(store))?;
        let units = store.units.get();
        Some(match drag_area(card.mass.all_up_mass, &card.air, airspeed, lean) {
            Err(refusal) => view! { <p role="status">{words::refusal(&refusal, units)}</p> }.into_any(),
            Ok(area) => {
                let id = own.clone();
                let put = act(move || {
                    let id = id.clone();
                    // Rounded up: more drag is the safe side.
                    let value = Some((area.value * 100.0).ceil() / 100.0);
                    let change = Box::new(move |bundle: &mut Bundle| DRAG_AREA.put(bundle, &id, value));
                    store.edit_alone(DRAG_AREA.number.label, change);
                });
                view! {
                    <p role="status" data-figure="learned-drag-area">
                        {format!("Drag area {}, at the mass and in the air of the setup that is open.", figure::drag_area(area, units))}
                    </p>
                    <p class="row"><button type="button" on:click=put>"Use it"</button></p>
                }
                .into_any()
            }
        })
    };
    view! {
        <details class="more">
            <summary>"Learn the drag area from one flight"</summary>
            <div class="entries">{field(&AIRSPEED, airspeed)}{field(&FLIGHT_LEAN, lean)}</div>
            {live(said)}
        </details>
    }
    .into_any()
}
