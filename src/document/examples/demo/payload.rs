//! Stabilisers, cameras, lenses, radios.

use liftmargin_document::model::Item;

pub fn items() -> Vec<Item> {
    vec![
        item("head-large", "Stabiliser, large", "stabiliser", 3.3, [0.0, 0.0, 0.26], 35.0),
        item("head-small", "Stabiliser, small", "stabiliser", 1.1, [0.0, 0.0, 0.18], 15.0),
        item("body-a", "Body A, full frame", "camera", 2.1, [0.02, 0.0, 0.32], 0.0),
        item("body-b", "Body B, compact", "camera", 0.75, [0.01, 0.0, 0.22], 0.0),
        item("lens-35", "Lens 35 mm", "lens", 0.55, [0.04, 0.0, 0.24], 0.0),
        item("lens-50", "Lens 50 mm", "lens", 1.05, [0.06, 0.0, 0.32], 0.0),
        item("lens-zoom", "Zoom 30 to 80 mm", "lens", 2.45, [0.09, 0.0, 0.32], 0.0),
        item("focus", "Focus motor and receiver", "other", 0.35, [0.05, 0.05, 0.3], 6.0),
        item("link-large", "Video link, long range", "radio", 0.45, [-0.12, 0.0, 0.02], 22.0),
        item("link-small", "Video link, short range", "radio", 0.2, [-0.08, 0.0, 0.02], 12.0),
    ]
}

fn item(id: &str, name: &str, kind: &str, mass_kg: f64, position_m: [f64; 3], power_w: f64) -> Item {
    Item {
        id: id.to_owned(),
        name: name.to_owned(),
        kind: kind.to_owned(),
        mass_kg,
        position_m,
        power_w,
        ..Item::default()
    }
}
