//! Saving and opening give back the same, whatever the bundle; opening never panics, whatever the text.

use core::ops::Range;

use liftmargin_core::air::Site as CoreSite;
use liftmargin_document::model::{Bundle, Item, PackString, Site, entered_once, one_by_one};
use liftmargin_document::open_strict;
use liftmargin_document::present::Units;
use liftmargin_document::words::counts_with::strings_title;
use proptest::prelude::*;

use super::{SCHEMA_1, SCHEMA_2, file_of, sample};

/// Numbers as the app writes them: to a billionth, at most fifteen digits.
fn written(range: Range<f64>) -> impl Strategy<Value = f64> {
    range.prop_map(|value| (value * 1e9).round() / 1e9)
}

fn item(index: usize) -> impl Strategy<Value = Item> {
    let kind = prop::sample::select(liftmargin_document::model::ItemKind::KEYS);
    let axis = || written(-3.0..3.0);
    (".{0,12}", kind, written(0.0..60.0), [axis(), axis(), axis()], written(0.0..1000.0)).prop_map(
        move |(name, kind, mass_kg, position_m, power_w)| Item {
            id: format!("item-{index}"),
            name,
            kind: kind.to_owned(),
            mass_kg,
            position_m,
            power_w,
            ..Item::default()
        },
    )
}

fn site() -> impl Strategy<Value = Site> {
    let elevation = written(CoreSite::ELEVATION.min..CoreSite::ELEVATION.max);
    let weather = (written(870.0..1090.0), written(-40.0..55.0), written(0.0..100.0));
    (".{0,12}", elevation, weather, written(0.0..30.0), written(0.0..45.0)).prop_map(
        |(name, elevation_m, (qnh_hpa, temperature_c, relative_humidity_percent), wind_m_s, gust_m_s)| Site {
            id: "pass".to_owned(),
            name,
            elevation_m,
            qnh_hpa,
            temperature_c,
            relative_humidity_percent,
            wind_m_s,
            gust_m_s,
            ..Site::default()
        },
    )
}

fn bundle() -> impl Strategy<Value = Bundle> {
    let more = (
        item(0),
        item(1),
        site(),
        written(0.02..20.0),
        prop::option::of(written(500.0..100_000.0)),
        any::<bool>(),
    );
    more.prop_map(|(first, second, site, mass_kg, measured, on)| {
        let mut bundle = sample();
        bundle.items.extend([first, second]);
        bundle.sites[0] = site;
        bundle.pack_types[0].mass_kg = mass_kg;
        bundle.pack_types[0].measured_capacity_mah = measured;
        bundle.setups[0].load[0].on = on;
        bundle
    })
}

proptest! {
    // Each case reads and writes a whole file.
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn prop_what_is_saved_is_opened_again(bundle in bundle()) {
        prop_assert_eq!(open_strict(&file_of(&bundle)), Ok(bundle));
    }

    #[test]
    fn prop_no_text_makes_it_panic(text in ".{0,200}") {
        prop_assert!(open_strict(&text).is_err());
    }

    #[test]
    fn prop_no_damage_to_a_file_makes_it_panic(at in 0..SCHEMA_1.len(), put in "[0-9a-z\\[\\]{}\",:.-]{0,3}") {
        // Some damage leaves a good file; then it must be one that can be saved and opened.
        let text = format!("{}{put}{}", &SCHEMA_1[..at], SCHEMA_1.get(at + 1..).unwrap_or_default());
        match open_strict(&text) {
            Ok(bundle) => prop_assert_eq!(open_strict(&file_of(&bundle)), Ok(bundle)),
            Err(error) => prop_assert!(!error.field().is_empty() && !error.allowed().is_empty()),
        }
    }
}

#[test]
fn regress_the_saved_file_of_schema_1_opens_with_all_it_holds() {
    let bundle = sample();
    let counts = [bundle.airframes.len(), bundle.pack_types.len(), bundle.items.len(), bundle.sites.len()];
    assert_eq!((counts, bundle.setups.len()), ([2, 2, 4, 2], 2));
    let bench = bundle.airframes[0].propulsion.bench.as_ref().expect("a bench table");
    assert_eq!((bench.rows[0].speed_rpm, bench.rows[1].speed_rpm), (Some(1520.0), None));
    let strings = &bundle.setups[0].supply.strings;
    assert!(strings.iter().all(|string| string.rest_cell_voltage_v == Some(4.15)));
    assert!(strings.iter().all(|string| string.temperature_c == Some(20.0)));
}

/// The whole of schema 2 is kept, and a file of schema 1 is the same once it is lifted, but for what it could not say.
#[test]
fn regress_a_file_of_schema_1_is_lifted_to_schema_2() {
    let (mut lifted, mut newer) =
        (sample(), open_strict(SCHEMA_2).expect("the saved file of schema 2 opens"));
    assert_eq!(newer.packs.len(), 2);
    assert_eq!(file_of(&newer), SCHEMA_2, "as the app writes it");
    newer.packs.clear();
    for bundle in [&mut lifted, &mut newer] {
        bundle.setups.truncate(1);
    }
    assert_eq!(lifted, newer);
}

#[test]
fn regress_equal_strings_are_entered_once() {
    let mut strings = sample().setups[0].supply.strings.clone();
    strings.push(PackString { temperature_c: Some(3.0), ..strings[0].clone() });
    let entered = entered_once(&strings);
    assert_eq!(entered.iter().map(|alike| alike.count).collect::<Vec<_>>(), [2, 1]);
    assert_eq!(one_by_one(&entered), strings);
}

#[test]
fn regress_strings_are_named_by_what_they_are_and_by_number_where_they_differ() {
    let bundle = sample();
    let units = Units::default();
    let mut strings = bundle.setups[0].supply.strings.clone();
    let all = strings_title(&bundle, &strings, 0, strings.len(), units);
    assert!(all.starts_with(&format!("{} strings of ", strings.len())), "{all}");
    strings.push(PackString { temperature_c: Some(3.0), ..strings[0].clone() });
    let titles: Vec<String> =
        [(0, 2), (2, 1)].map(|(first, count)| strings_title(&bundle, &strings, first, count, units)).into();
    assert!(titles[0].starts_with("Strings 1 to 2: "), "{}", titles[0]);
    assert!(titles[1].starts_with("String 3: ") && titles[1].contains("3\u{a0}°C"), "{}", titles[1]);
    assert_eq!(strings_title(&bundle, &strings, 3, 1, units), "");
}
