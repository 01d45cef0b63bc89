//! The figures beside the answer: thrust, throttle, mass, air.

use leptos::prelude::*;
use liftmargin_document::measure::answer;

use super::card_of;
use crate::store::{Store, Track};

/// The figures beside the answer.
#[component]
pub fn Facts(track: Track) -> impl IntoView {
    let store = Store::here();
    move || {
        let card = card_of(track)?;
        let units = store.units.get();
        let hover = &card.hover;
        let none = || "none".to_owned();
        let thrust = |ratio| answer::thrust_to_weight(ratio, units).to_string();
        let throttle = |share| answer::throttle(share, units).to_string();
        let fresh = thrust(hover.thrust_to_weight);
        let land_by = hover.thrust_to_weight_at_land_by.map_or_else(none, thrust);
        let throttle_fresh = hover.throttle.map_or_else(none, throttle);
        let throttle_at_land_by = hover.throttle_at_land_by.map_or_else(none, throttle);
        let mass = answer::mass(card.mass.all_up_mass, units).to_string();
        let altitude = answer::density_altitude(card.air.density_altitude, units).to_string();
        Some(view! {
            <dl class="facts">
                <div><dt>"Thrust-to-weight"</dt><dd data-figure="thrust-to-weight">{fresh}</dd></div>
                <div><dt>"… at land-by"</dt><dd data-figure="thrust-to-weight-at-land-by">{land_by}</dd></div>
                <div><dt>"Hover throttle"</dt><dd data-figure="hover-throttle">{throttle_fresh}</dd></div>
                <div><dt>"… at land-by"</dt><dd data-figure="hover-throttle-at-land-by">{throttle_at_land_by}</dd></div>
                <div><dt>"All-up weight (AUW)"</dt><dd data-figure="all-up-mass">{mass}</dd></div>
                <div><dt>"Density altitude"</dt><dd data-figure="density-altitude">{altitude}</dd></div>
            </dl>
        })
    }
}
