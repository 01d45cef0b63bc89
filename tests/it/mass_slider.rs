//! The mass on a slider: step zero is the setup as saved, every step is a mass that may stand, there and back.

use liftmargin_document::model::numbers::ITEM_MASS;
use liftmargin_document::open_strict;
use liftmargin_document::present::Units;
use liftmargin_document::sweep::MassOf;
use liftmargin_document::whatif::{Change, WhatIf};
use liftmargin_document::workspace::MassSlider;
use liftmargin_document::workspace::overlay::{Becomes, set_becomes};

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

#[test]
fn prop_every_step_is_there_and_back_and_zero_is_as_saved() {
    let bundle = open_strict(DEMO).expect("the demo opens");
    for units in [Units::metric(), Units::us()] {
        for setup in &bundle.setups {
            let on = setup.load.iter().filter(|load| load.on);
            let items =
                on.filter_map(|load| MassSlider::of_item(&bundle, &WhatIf::default(), &load.item, units));
            for slider in items.chain([MassSlider::of_extra(&bundle, setup, units)]) {
                assert!(slider.low <= 0 && slider.high > 10, "{slider:?}");
                for step in slider.low..=slider.high {
                    let mut what_if = WhatIf::default();
                    slider.put(&mut what_if, step);
                    assert_eq!(what_if.changes.is_empty(), step == 0, "{slider:?} {step}");
                    assert_eq!(slider.step(&what_if), step, "{slider:?}");
                    assert!(ITEM_MASS.number.check(slider.tried_kg(&what_if)).is_ok());
                    slider.put(&mut what_if, 0);
                    assert_eq!(what_if, WhatIf::default());
                }
                assert!(slider.kg(slider.low) < 0.06 && slider.top_kg() >= slider.saved_kg + 1.9);
            }
        }
    }
}

#[test]
fn regress_the_slider_is_of_what_is_flown_and_says_its_mass() {
    let bundle = open_strict(DEMO).expect("the demo opens");
    let lens = bundle.items.iter().find(|item| item.kind == "lens").expect("a lens");
    let other = bundle.items.iter().find(|item| item.kind == "lens" && item.id != lens.id).expect("another");
    let mut what_if = WhatIf::default();
    set_becomes(&mut what_if, &lens.id, Becomes::Other(other.id.clone()));
    let slider = MassSlider::of_item(&bundle, &what_if, &lens.id, Units::metric()).expect("flown");
    assert_eq!(slider.of, MassOf::Item(other.id.clone()));
    assert!(slider.words(&what_if, Units::metric()).ends_with(", as saved"));
    slider.put(&mut what_if, 6);
    assert!(slider.words(&what_if, Units::metric()).ends_with(", heavier by 0.30\u{a0}kg"));
    // The mass belongs to the other lens; the swap itself stays.
    assert!(
        matches!(&what_if.changes[..], [Change::Swap { .. }, Change::ItemMass { item, .. }] if *item == other.id)
    );
    assert_eq!(slider.of.others(&what_if).changes.len(), 1);
    set_becomes(&mut what_if, &lens.id, Becomes::Left);
    assert_eq!(MassSlider::of_item(&bundle, &what_if, &lens.id, Units::metric()), None);
}
