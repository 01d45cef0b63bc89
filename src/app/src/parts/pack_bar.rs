//! The pack as one bar, in the mAh of the meter on board: work, way home, reserve.

use leptos::prelude::*;
use liftmargin_core::flight::MeterMarks;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::present::{Units, answer};

use super::svg::{Anchor, At, Svg};
use crate::live::Text;

/// What stands on the bar; all by the same meter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackMarks {
    /// Begin the way home.
    pub turn_back: ElectricCharge,
    /// Be down.
    pub land_by: ElectricCharge,
    /// The pack is empty.
    pub capacity: ElectricCharge,
    /// Used so far, in the air.
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
    pub fn sentence(&self, units: Units) -> String {
        let show = |charge| answer::charge(charge, units);
        let (turn_back, land_by) = (show(self.turn_back), show(self.land_by));
        let capacity = show(self.capacity);
        format!("Pack of {capacity}: turn back at {turn_back}, land by {land_by}, the rest is reserve.")
    }
}

/// Top edge of the bar.
const TOP: f64 = 34.0;
/// Height of the bar.
const HEIGHT: f64 = 40.0;

/// The bar.
#[component]
pub fn PackBar(
    /// The bar as drawn.
    drawing: Text,
    /// The bar in a sentence.
    sentence: Text,
) -> impl IntoView {
    view! {
        <figure class="pack-bar">
            <svg width="100%" height="124" role="img" aria-label=sentence inner_html=drawing />
            <figcaption class="pack-key">
                <span class="key key-work">"Out and on set"</span>
                <span class="key key-home">"Way home"</span>
                <span class="key key-reserve">"Reserve"</span>
            </figcaption>
        </figure>
    }
}

/// The bar as drawn.
pub fn pack_drawing(marks: PackMarks, units: Units) -> String {
    let show = |charge| answer::charge(charge, units).number;
    let (turn_back, land_by) = (marks.place(marks.turn_back), marks.place(marks.land_by));
    let mut svg = Svg::default();
    // Slanted lines, so that the reserve is told without colour.
    svg.raw(
        "<defs><pattern id=\"pack-hatch\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate(45)\"><line class=\"pack-hatch\" x1=\"0\" y1=\"0\" x2=\"0\" y2=\"8\"/>\
         </pattern></defs>",
    );
    stretch(&mut svg, "pack-work", 0.0, turn_back);
    stretch(&mut svg, "pack-home", turn_back, land_by);
    stretch(&mut svg, "pack-reserve", land_by, 100.0);
    stretch(&mut svg, "pack-hatched", land_by, 100.0);
    stretch(&mut svg, "pack-outline", 0.0, 100.0);
    if let Some(used) = marks.used {
        stretch(&mut svg, "pack-used", 0.0, marks.place(used));
    }
    flag(&mut svg, turn_back, &format!("Turn back {}", show(marks.turn_back)), true);
    flag(&mut svg, land_by, &format!("Land by {}", show(marks.land_by)), false);
    let base = At::Unit(120.0);
    svg.text("pack-end", (At::Unit(0.0), base), Anchor::Start, "0");
    let end = format!("{} mAh", show(marks.capacity));
    svg.text("pack-end", (At::Percent(100.0), base), Anchor::End, &end);
    svg.into_text()
}

fn stretch(svg: &mut Svg, class: &str, from: f64, to: f64) {
    let size = (At::Percent(to - from), At::Unit(HEIGHT));
    svg.rect(class, (At::Percent(from), At::Unit(TOP)), size);
}

/// A line through the bar with its label on the roomier side.
fn flag(svg: &mut Svg, place: f64, words: &str, above: bool) {
    let x = At::Percent(place);
    let (anchor, side) = if place > 50.0 {
        (Anchor::End, "pack-label pack-label-before")
    } else {
        (Anchor::Start, "pack-label")
    };
    let (top, bottom, baseline) =
        if above { (6.0, TOP + HEIGHT, 22.0) } else { (TOP, TOP + HEIGHT + 28.0, 97.0) };
    svg.line("pack-mark", (x, At::Unit(top)), (x, At::Unit(bottom)));
    svg.text(side, (x, At::Unit(baseline)), anchor, words);
}
