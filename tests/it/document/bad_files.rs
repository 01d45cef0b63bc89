//! One file for each way to be wrong: the error names field, value and what is allowed, in the file's own units.

use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::open::LARGEST_FILE_BYTES;
use liftmargin_document::{DocumentError, open, open_strict};
use serde_json::{Value, json};

use super::{SCHEMA_2, file_of};

/// The sample with the value at a JSON pointer replaced (or, with null, taken out).
fn with(pointer: &str, value: Value) -> String {
    let mut file: Value = serde_json::from_str(SCHEMA_2).expect("JSON");
    let (parent, key) = pointer.rsplit_once('/').expect("a pointer");
    match (file.pointer_mut(parent).expect("a parent"), value) {
        (Value::Object(fields), Value::Null) => drop(fields.remove(key)),
        (Value::Object(fields), value) => drop(fields.insert(key.to_owned(), value)),
        (Value::Array(things), value) => things[key.parse::<usize>().expect("an index")] = value,
        _ => panic!("{pointer} has no parent"),
    }
    file.to_string()
}

fn check(text: &str, field: &str, value: &str, allowed: &str) {
    let error = open_strict(text).expect_err(field);
    assert_eq!((error.field(), error.value().as_str(), error.allowed().as_str()), (field, value, allowed));
    assert!(!error.to_string().is_empty());
}

#[test]
fn regress_each_bad_value_is_named_with_its_range() {
    let table: &[(&str, Value, &str, &str, &str)] = &[
        ("/items/0/mass_kg", json!(95.0), "items[0].mass_kg", "95", "0 to 60 kg"),
        ("/items/0/mass_kg", json!(-0.1), "items[0].mass_kg", "-0.1", "0 to 60 kg"),
        ("/items/0/mass_kg", json!(1e9), "items[0].mass_kg", "1000000000", "0 to 60 kg"),
        ("/items/0/mass_kg", json!("abc"), "items[0].mass_kg", "abc", "0 to 60 kg"),
        ("/items/0/mass_kg", json!(true), "items[0].mass_kg", "true", "0 to 60 kg"),
        ("/items/0/mass_kg", Value::Null, "items[0].mass_kg", "nothing", "0 to 60 kg"),
        ("/items/0/position_m/2", json!(4.0), "items[0].position_m[2]", "4", "-3 to 3 m"),
        ("/items/0/position_m", json!([0.0]), "items[0].position_m", "[0.0]", "a list of three numbers"),
        ("/items/0/kind", json!("hat"), "items[0].kind", "hat", "stabiliser, camera, lens, radio, other"),
        ("/items/0/name", json!(7), "items[0].name", "7", "a text"),
        ("/items/1/id", json!("head"), "items[1].id", "head", "an id of its own"),
        ("/items/1/id", json!(""), "items[1].id", "nothing", "an id of its own"),
        ("/sites/1/temperature_c", json!(-41.0), "sites[1].temperature_c", "-41", "-40 to 55 °C"),
        ("/sites/0/qnh_hpa", json!(101_325.0), "sites[0].qnh_hpa", "101325", "870 to 1090 hPa"),
        (
            "/sites/0/relative_humidity_percent",
            json!(101),
            "sites[0].relative_humidity_percent",
            "101",
            "0 to 100 %",
        ),
        ("/pack_types/1/capacity_mah", json!(12), "pack_types[1].capacity_mah", "12", "500 to 100000 mAh"),
        (
            "/pack_types/1/cell_resistance_mohm",
            json!(0),
            "pack_types[1].cell_resistance_mohm",
            "0",
            "0.1 to 100 mΩ",
        ),
        ("/pack_types/1/cells_in_series", json!(17), "pack_types[1].cells_in_series", "17", "1 to 16"),
        ("/pack_types/1/cells_in_series", json!(5.5), "pack_types[1].cells_in_series", "5.5", "1 to 16"),
        ("/pack_types/0/cycles", json!(-1), "pack_types[0].cycles", "-1", "0 to 1000"),
        ("/airframes/0/frame_mass_kg", json!(61), "airframes[0].frame_mass_kg", "61", "0 to 60 kg"),
        (
            "/airframes/0/layout/arm_length_m",
            json!(0),
            "airframes[0].layout.arm_length_m",
            "0",
            "0.05 to 3 m",
        ),
        ("/airframes/1/layout/places", json!([]), "airframes[1].layout.places", "0", "3 to 16"),
        (
            "/airframes/1/layout/places/2/role",
            json!("tail"),
            "airframes[1].layout.places[2].role",
            "tail",
            "single, upper, lower",
        ),
        (
            "/airframes/0/propulsion/velocity_constant_rpm_v",
            json!(6000),
            "airframes[0].propulsion.velocity_constant_rpm_v",
            "6000",
            "19.9581 to 5003.83 rpm/V",
        ),
        (
            "/airframes/0/propulsion/bench/rows/1/thrust_n",
            json!(-51.0),
            "airframes[0].propulsion.bench.rows[1].thrust_n",
            "-51",
            "-50 to 5000 N",
        ),
        ("/setups/0/profile/height_m", json!(501), "setups[0].profile.height_m", "501", "0 to 500 m"),
        ("/setups/0/reserve/share_percent", json!(95), "setups[0].reserve.share_percent", "95", "0 to 90 %"),
        (
            "/setups/0/supply/converter_efficiency",
            json!(90),
            "setups[0].supply.converter_efficiency",
            "90",
            "0.5 to 1",
        ),
        ("/setups/0/load/0/on", json!("yes"), "setups[0].load[0].on", "yes", "true or false"),
        ("/setups/0/airframe", json!("ten"), "setups[0].airframe", "ten", "an id from the file's lists"),
        ("/setups/0/site", json!("sea"), "setups[0].site", "sea", "an id from the file's lists"),
        (
            "/setups/0/supply/strings/1/packs/0/type",
            json!("seven"),
            "setups[0].supply.strings[1].packs[0]",
            "seven",
            "an id from the file's lists",
        ),
        (
            "/setups/0/load/2/item",
            json!("lens-z"),
            "setups[0].load[2].item",
            "lens-z",
            "an id from the file's lists",
        ),
        ("/liftmargin_schema", json!(99), "liftmargin_schema", "99", "1 to 2"),
        ("/liftmargin_schema", json!(0), "liftmargin_schema", "0", "1 to 2"),
        ("/liftmargin_schema", Value::Null, "liftmargin_schema", "nothing", "1 to 2"),
        ("/packs", json!({}), "packs", "{}", "a list"),
        ("/sites", Value::Null, "sites", "nothing", "a list"),
    ];
    for (pointer, given, field, value, allowed) in table {
        check(&with(pointer, given.clone()), field, value, allowed);
    }
}

#[test]
fn regress_unknown_keys_list_those_there_are() {
    let table = [
        ("/pack_types/0/chemistry", "pack_types[0].chemistry", "lithium-ion-cylindrical"),
        ("/airframes/0/layout/kind", "airframes[0].layout.kind", "coaxial-quad"),
        ("/setups/0/supply/meter", "setups[0].supply.meter", "string-2"),
    ];
    for (pointer, field, one_of) in table {
        let error = open_strict(&with(pointer, json!("none such"))).expect_err(field);
        assert_eq!((error.field(), error.value().as_str()), (field, "none such"));
        assert!(error.allowed().split(", ").any(|key| key == one_of), "{}", error.allowed());
    }
}

#[test]
fn regress_text_that_is_no_bundle_is_refused_with_its_place() {
    let place = |text: &str| match open_strict(text) {
        Err(DocumentError::NotJson { line, column, .. }) => (line, column),
        other => panic!("{other:?}"),
    };
    assert_eq!(place(""), (1, 0));
    assert_eq!(place("{\n  \"packs\": [1,]\n}"), (2, 15));
    assert_eq!(place("{\"mass_kg\": NaN}"), (1, 13));
    assert_eq!(place(&"[".repeat(1000)), (1, 128));
    check("[]", "file", "[]", "an object with the lists of a bundle");
    let large = " ".repeat(LARGEST_FILE_BYTES + 1);
    check(&large, "file", "32000001 bytes", "up to 32000000 bytes");
}

#[test]
fn regress_the_ends_of_a_range_are_allowed_in_the_files_units() {
    let table = [
        ("/sites/0/temperature_c", json!(-40)),
        ("/sites/0/temperature_c", json!(55)),
        ("/sites/0/qnh_hpa", json!(1090)),
        ("/pack_types/0/capacity_mah", json!(500)),
        ("/pack_types/0/cell_resistance_mohm", json!(0.1)),
        ("/setups/0/supply/strings/0/temperature_c", json!(-20)),
        ("/setups/0/supply/strings/0/temperature_c", json!(60)),
        ("/setups/0/reserve/share_percent", json!(90)),
        ("/airframes/0/propulsion/velocity_constant_rpm_v", json!(5003.83)),
        ("/airframes/0/propulsion/velocity_constant_rpm_v", json!(19.9581)),
    ];
    for (pointer, value) in table {
        assert!(open_strict(&with(pointer, value.clone())).is_ok(), "{pointer} {value}");
    }
}

#[test]
fn regress_fields_of_no_meaning_are_listed_and_kept() {
    let mut file: Value = serde_json::from_str(SCHEMA_2).expect("JSON");
    file["items"][1]["power_W"] = json!(12.0);
    file["weather"] = json!("fine");
    file["items"][0]["comment"] = Value::Null;
    file["setups"][0]["supply"]["strings"][1]["fuse_a"] = json!(80);
    let opened = open::open_strict_with_notes(&file.to_string()).expect("opens");
    assert_eq!(opened.unknown, ["weather", "items[1].power_W", "setups[0].supply.strings[1].fuse_a"]);
    let saved: Value = serde_json::from_str(&file_of(&opened.bundle)).expect("JSON");
    assert_eq!(saved, file, "a newer version finds its fields again");
}

#[test]
fn regress_a_refusal_is_printed_as_one_object() {
    let printed = |text: &str| {
        let error = open_strict(text).expect_err("refused");
        serde_json::to_value(ErrorReport::from(&error)).expect("JSON")
    };
    let heavy = printed(&with("/items/0/mass_kg", json!(95.5)));
    let expected = json!({
        "field": "items[0].mass_kg", "value": 95.5, "allowed": "0 to 60 kg",
        "message": "items[0].mass_kg is 95.5, allowed is 0 to 60 kg",
    });
    assert_eq!(heavy, expected);
    assert_eq!(printed(&with("/items/0/kind", json!("hat")))["value"], json!("hat"));
}
