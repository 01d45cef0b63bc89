//! The figures beside the answer: thrust, throttle, mass, air.

use leptos::prelude::*;
use liftmargin_core::card::Card;
use liftmargin_document::measure::{Units, answer};

/// The figures beside the answer.
pub fn facts(card: &Card, units: Units) -> AnyView {
    let hover = &card.hover;
    let none = || "none".to_owned();
    let thrust = |ratio| answer::thrust_to_weight(ratio, units).to_string();
    let throttle = |share| answer::throttle(share, units).to_string();
    let facts = [
        ("thrust-to-weight", "Thrust-to-weight", thrust(hover.thrust_to_weight)),
        (
            "thrust-to-weight-at-land-by",
            "… at land-by",
            hover.thrust_to_weight_at_land_by.map_or_else(none, thrust),
        ),
        ("hover-throttle", "Hover throttle", hover.throttle.map_or_else(none, throttle)),
        ("hover-throttle-at-land-by", "… at land-by", hover.throttle_at_land_by.map_or_else(none, throttle)),
        ("all-up-mass", "All-up weight (AUW)", answer::mass(card.mass.all_up_mass, units).to_string()),
        (
            "density-altitude",
            "Density altitude",
            answer::density_altitude(card.air.density_altitude, units).to_string(),
        ),
    ];
    let fact = |(figure, name, value): (&'static str, &'static str, String)| {
        view! { <div><dt>{name}</dt><dd data-figure=figure>{value}</dd></div> }.into_any()
    };
    let rows: Vec<AnyView> = facts.into_iter().map(fact).collect();
    view! { <dl class="facts">{rows}</dl> }.into_any()
}
