//! The pack as one bar, in the mAh of the meter on board: work, way home, reserve.

use leptos::prelude::*;
use liftmargin_core::flight::MeterMarks;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::measure::{Units, answer};

use super::ids;

/// What stands on the bar; all by the same meter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackMarks {
    /// Begin the way home.
    pub turn_back: ElectricCharge,
    /// Be down.
    pub land_by: ElectricCharge,
    /// The pack is empty.
    pub capacity: ElectricCharge,
    /// Read from the meter in flight.
    pub used: Option<ElectricCharge>,
}

impl From<MeterMarks> for PackMarks {
    fn from(marks: MeterMarks) -> Self {
        Self { turn_back: marks.turn_back, land_by: marks.land_by, capacity: marks.capacity, used: None }
    }
}

impl PackMarks {
    /// Place on the bar in per cent, kept on it.
    fn place(&self, charge: ElectricCharge) -> f64 {
        if self.capacity.value > 0.0 { (charge / self.capacity).value.clamp(0.0, 1.0) * 100.0 } else { 0.0 }
    }

    /// The whole bar in a sentence.
    fn sentence(&self, units: Units) -> String {
        let show = |charge| answer::charge(charge, units);
        let (turn_back, land_by) = (show(self.turn_back), show(self.land_by));
        let capacity = show(self.capacity);
        format!("Pack of {capacity}: turn back at {turn_back}, land by {land_by}, the rest is reserve.")
    }
}

/// The bar. Nothing is drawn without marks.
#[component]
pub fn PackBar(
    /// The marks.
    #[prop(into)]
    marks: Signal<Option<PackMarks>>,
    /// The user's units.
    #[prop(into)]
    units: Signal<Units>,
) -> impl IntoView {
    move || marks.get().map(|marks| view! { <Drawn marks units=units.get() /> })
}

#[component]
fn Drawn(marks: PackMarks, units: Units) -> impl IntoView {
    let hatch = ids::or_fresh(None);
    let (turn_back, land_by) = (marks.place(marks.turn_back), marks.place(marks.land_by));
    let percent = |place: f64| format!("{place:.2}%");
    let show = |charge| answer::charge(charge, units).number;
    let used = marks.used.map(|used| {
        let x = percent(marks.place(used));
        view! { <line class="pack-used" x1=x.clone() x2=x y1="28" y2="80" /> }
    });
    view! {
        <figure class="pack-bar">
            <svg width="100%" height="124" role="img" aria-label=marks.sentence(units)>
                <Hatch id=hatch.clone() />
                <rect class="pack-work" x="0" y="34" width=percent(turn_back) height="40" />
                <rect class="pack-home" x=percent(turn_back) y="34" width=percent(land_by - turn_back) height="40" />
                <rect class="pack-reserve" x=percent(land_by) y="34" width=percent(100.0 - land_by) height="40" />
                <rect x=percent(land_by) y="34" width=percent(100.0 - land_by) height="40" fill=format!("url(#{hatch})") />
                <rect class="pack-outline" x="0" y="34" width="100%" height="40" />
                <Flag place=turn_back text=format!("Turn back {}", show(marks.turn_back)) above=true />
                <Flag place=land_by text=format!("Land by {}", show(marks.land_by)) above=false />
                {used}
                <text class="pack-end" x="0" y="120">"0"</text>
                <text class="pack-end" x="100%" y="120" text-anchor="end">
                    {format!("{} mAh", show(marks.capacity))}
                </text>
            </svg>
            <figcaption class="pack-key">
                <span class="key key-work">"Out and on set"</span>
                <span class="key key-home">"Way home"</span>
                <span class="key key-reserve">"Reserve"</span>
            </figcaption>
        </figure>
    }
}

/// Slanted lines, so that the reserve is told without colour.
#[component]
fn Hatch(id: String) -> impl IntoView {
    view! {
        <defs>
            <pattern id=id width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                <line class="pack-hatch" x1="0" y1="0" x2="0" y2="8" />
            </pattern>
        </defs>
    }
}

/// A line through the bar with its label on the roomier side.
#[component]
fn Flag(place: f64, text: String, above: bool) -> impl IntoView {
    let x = format!("{place:.2}%");
    let (anchor, shift) = if place > 50.0 { ("end", "-6") } else { ("start", "6") };
    let (top, bottom, baseline) = if above { ("6", "74", "22") } else { ("34", "102", "97") };
    view! {
        <line class="pack-mark" x1=x.clone() x2=x.clone() y1=top y2=bottom />
        <text class="pack-label" x=x dx=shift y=baseline text-anchor=anchor>{text}</text>
    }
}
