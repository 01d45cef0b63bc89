//! Opening keeps every record that is whole, finished or not, and shows the ones that are not.

use liftmargin_document::open::{LARGEST_FILE_BYTES, broken_as_file, open};
use liftmargin_document::record::List;
use liftmargin_document::{DocumentError, open_strict, resolve, save};
use serde_json::{Value, json};

use super::{SCHEMA_2, file_of, sample};

/// The sample with a value at a JSON pointer.
fn with(pointer: &str, value: Value) -> String {
    let mut file: Value = serde_json::from_str(SCHEMA_2).expect("JSON");
    *file.pointer_mut(pointer).expect("it is there") = value;
    file.to_string()
}

/// Each of these was saved by a screen once, and then refused by the reader with all other data.
#[test]
fn regress_what_does_not_add_up_is_a_draft_and_its_card_says_why() {
    let table = [
        ("/airframes/0/layout/coaxial_spacing_m", json!(0), "airframes[0].layout.coaxial_spacing_m"),
        ("/airframes/0/layout/kind", json!("free"), "airframes[0].layout.places"),
        ("/airframes/0/layout/kind", json!("none such"), "airframes[0].layout.kind"),
        (
            "/airframes/0/propulsion/bench/rows/0/throttle",
            json!(1.05),
            "airframes[0].propulsion.bench.rows[0].throttle",
        ),
        (
            "/airframes/0/propulsion/bench/rows/0/voltage_v",
            Value::Null,
            "airframes[0].propulsion.bench.rows[0].voltage_v",
        ),
        (
            "/airframes/0/propulsion/bench/rows/1/current_a",
            json!(9000.0),
            "airframes[0].propulsion.bench.rows[1].current_a",
        ),
        (
            "/airframes/0/propulsion/bench/rows/0/speed_rpm",
            json!(1e6),
            "airframes[0].propulsion.bench.rows[0].speed_rpm",
        ),
        ("/sites/0/temperature_c", json!(99.0), "sites[0].temperature_c"),
        ("/items/0/mass_kg", json!(-1.0), "items[0].mass_kg"),
        ("/pack_types/0/chemistry", json!("wood"), "pack_types[0].chemistry"),
        ("/setups/0/site", json!("gone"), "setups[0].site"),
        (
            "/setups/0/supply/strings/0/temperature_c",
            json!(90.0),
            "setups[0].supply.strings[0].temperature_c",
        ),
        ("/setups/0/supply/meter", json!("string-9"), "setups[0].supply.meter"),
    ];
    for (pointer, value, path) in table {
        let text = with(pointer, value);
        let opened = open(&text).expect(pointer);
        assert_eq!(opened.broken, [], "{pointer}");
        let mut drafted = opened.bundle.clone();
        if !path.contains("bench") {
            // Two rows are too few for a fit, which would be said first.
            drafted.airframes[0].propulsion.bench = None;
        }
        let fault = resolve(&drafted, "light").expect_err(pointer);
        assert_eq!(fault.field(), path, "{fault}");
        assert_eq!(open(&file_of(&opened.bundle)).map(|again| again.bundle), Ok(opened.bundle));
    }
    for lone in ["lead_gauge_awg", "lead_length_m"] {
        let mut file: Value = serde_json::from_str(SCHEMA_2).expect("JSON");
        file["setups"][0]["supply"][lone] = json!(10);
        let opened = open(&file.to_string()).expect("opens");
        let mut drafted = opened.bundle;
        drafted.airframes[0].propulsion.bench = None;
        let fault = resolve(&drafted, "light").expect_err(lone);
        assert!(fault.field().starts_with("setups[0].supply.lead_"), "{fault}");
    }
}

#[test]
fn regress_one_broken_record_hides_no_other() {
    let table = [
        ("/items/1", json!("a text"), "items", "", ""),
        ("/items/1/mass_kg", json!("heavy"), "items", "body", "Body"),
        ("/items/1/name", Value::Null, "items", "body", ""),
        ("/airframes/0/layout", json!([]), "airframes", "eight", "Eight rotors in pairs"),
        ("/setups/0/load", json!({}), "setups", "light", "Light lens on the pass"),
        ("/setups/0/supply/strings/0/packs/0", json!("six"), "setups", "light", "Light lens on the pass"),
        ("/pack_types/0/cells_in_series", json!(5.5), "pack_types", "six", "Six cells, 16 Ah"),
    ];
    for (pointer, value, list, id, name) in table {
        let opened = open(&with(pointer, value)).expect(pointer);
        let [broken] = opened.broken.as_slice() else { panic!("{pointer}: {:?}", opened.broken) };
        assert_eq!((broken.list.as_str(), broken.id.as_str(), broken.name.as_str()), (list, id, name));
        assert!(!broken.words.is_empty());
        let count = |bundle| List::ALL.iter().map(|list| list.names(bundle).len()).sum::<usize>();
        assert_eq!(count(&opened.bundle) + 1, count(&open_strict(SCHEMA_2).expect("whole")));
        // It is kept word for word, and can be taken in again.
        let again = open(&broken_as_file(&opened.broken)).expect("a file of this app");
        assert_eq!(again.broken, opened.broken);
    }
    let opened = open(&with("/sites", json!("none"))).expect("opens");
    assert_eq!((opened.bundle.sites.len(), opened.broken.len()), (0, 1));
    assert_eq!(opened.bundle.setups.len(), 2);
}

#[test]
fn regress_records_without_an_id_of_their_own_get_one() {
    let mut file: Value = serde_json::from_str(SCHEMA_2).expect("JSON");
    file["items"][1]["id"] = json!("head");
    file["items"][2]["id"] = json!("");
    let opened = open(&file.to_string()).expect("opens");
    let ids: Vec<&str> = opened.bundle.items.iter().map(|item| item.id.as_str()).collect();
    assert_eq!(ids, ["head", "head-2", "item", "lens-b"]);
    assert!(open_strict(&file_of(&opened.bundle)).is_err(), "its setup refers to what is no longer there");
}

#[test]
fn regress_what_a_browser_kept_is_a_file_too() {
    let kept = json!({ "stamp_ms": 1.0, "selected": "light", "bundle": serde_json::to_value(sample()).expect("JSON") });
    assert_eq!(open(&kept.to_string()).map(|opened| opened.bundle), Ok(sample()));
}

#[test]
fn regress_nothing_is_saved_that_cannot_be_opened() {
    let mut bundle = sample();
    bundle.sites[0].gust_m_s = f64::INFINITY;
    let fault = save(&bundle).expect_err("JSON holds no infinity");
    assert_eq!(fault.field(), "sites[0].gust_m_s");
    let mut bundle = sample();
    bundle.airframes[0].propulsion.bench.as_mut().expect("a table").air_density_kg_m3 = f64::NAN;
    assert!(save(&bundle).is_err());
    let mut large = sample();
    large.items[0].name = "x".repeat(LARGEST_FILE_BYTES);
    assert!(matches!(save(&large), Err(DocumentError::TooLarge { .. })));
}
