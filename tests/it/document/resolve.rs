//! From the file to core: units as the SI brochure defines them, references followed, faults named where they stand.

use liftmargin_core::supply::MeterPlace;
use liftmargin_document::model::{Bundle, Pack, PackRef};
use liftmargin_document::resolve::{airframe_parts, resolve_airframe, resolve_setup, resolve_site};
use liftmargin_document::{DocumentError, resolve};

use super::sample;

/// The sample with a bench table left out, so that it rests on the estimate.
fn without_bench() -> Bundle {
    let mut bundle = sample();
    bundle.airframes[0].propulsion.bench = None;
    bundle
}

/// BIPM SI Brochure, 9th ed.: exact definitions (1 A·h = 3,600 C); 0 °C = 273.15 K.
#[test]
fn val_bipm_units_of_the_file() {
    let bundle = without_bench();
    let (setup, site) = resolve(&bundle, "light").expect("resolves");
    let pack = setup.supply.strings[0].packs[0];
    let declared = airframe_parts(&bundle.airframes[0]).expect("parts").declared;
    let table = [
        ("qnh", site.qnh.value, 101_600.0),
        ("temperature", site.temperature.value, 282.15),
        ("relative humidity", site.relative_humidity.value, 0.55),
        ("capacity", pack.cell.capacity.value, 57_600.0),
        ("cell resistance", pack.cell.resistance.value, 0.0013),
        ("measured capacity", pack.health.measured_capacity.expect("measured").value, 55_440.0),
        ("rest voltage of six cells", pack.rest_voltage.expect("stated").value, 24.9),
        ("pack temperature", pack.temperature.value, 293.15),
        ("lead resistance", setup.supply.string_resistance.value, 0.003),
        ("meter error", setup.supply.meter.scale_error.value, 0.02),
        ("reserve charge", setup.policy.charge.expect("stated").value, 7_200.0),
        ("manoeuvre allowance", setup.profile.manoeuvre_allowance.value, 0.1),
        ("k_V", declared.velocity_constant.expect("stated").rad_s_v(), 4.0 * core::f64::consts::PI),
    ];
    for (what, value, expected) in table {
        // A few roundings of the conversion, no more.
        assert!((value / expected - 1.0).abs() < 1e-14, "{what}: {value}, expected {expected}");
    }
    assert_eq!(setup.supply.meter.place, MeterPlace::String(1));
}

#[test]
fn regress_all_on_board_has_mass_and_draws_its_power() {
    let (setup, _) = resolve(&without_bench(), "light").expect("resolves");
    // Frame 8.2, four packs of 2.0, stabiliser 2.9, body 1.9, light lens 0.6 kg; the heavy lens stays down.
    let mass: f64 = setup.items.iter().map(|item| item.mass.value).sum();
    assert!((mass - 21.6).abs() < 1e-9, "{mass}");
    assert_eq!(setup.items.len(), 8);
    // 15 W in the setup and the stabiliser's 30 W.
    assert!((setup.supply.auxiliary_power.value - 45.0).abs() < 1e-9);
}

#[test]
fn regress_a_drag_area_that_is_not_stated_follows_the_all_up_mass() {
    let mut bundle = without_bench();
    let stated = resolve(&bundle, "light").expect("resolves").0.airframe.drag_area.value;
    assert!((stated - 0.18).abs() < 1e-12);
    bundle.airframes[0].drag_area_m2 = None;
    let usual = resolve(&bundle, "light").expect("resolves").0.airframe.drag_area.value;
    // 0.005 + 0.02 · 21.6^(2/3), by hand 0.16011.
    assert!((usual - 0.160_11).abs() < 1e-4, "{usual}");
}

fn check(change: impl Fn(&mut Bundle), field: &str) -> DocumentError {
    let mut bundle = without_bench();
    change(&mut bundle);
    let error = resolve(&bundle, "light").expect_err(field);
    assert_eq!(error.field(), field, "{error}");
    error
}

#[test]
fn regress_faults_are_named_where_they_stand() {
    let six = || PackRef::Type("six".to_owned());
    check(|b| b.setups[0].airframe = String::new(), "setups[0].airframe");
    check(|b| b.setups[0].site = String::new(), "setups[0].site");
    check(|b| b.setups[0].supply.strings.clear(), "setups[0].supply.strings");
    check(|b| b.setups[0].supply.strings[1].packs.clear(), "setups[0].supply.strings[1].packs");
    check(|b| b.setups[0].supply.strings[1].packs = vec![six()], "setups[0].supply.strings[1]");
    check(|b| b.setups[0].supply.strings[1].packs = vec![six(); 5], "setups[0].supply.strings[1].packs");
    check(
        |b| b.setups[0].supply.strings = vec![b.setups[0].supply.strings[0].clone(); 9],
        "setups[0].supply.strings",
    );
    check(|b| b.setups[0].supply.meter = "string-3".to_owned(), "setups[0].supply.meter");
    check(
        |b| b.setups[0].supply.strings[1].rest_cell_voltage_v = Some(2.9),
        "setups[0].supply.strings[1].rest_cell_voltage_v",
    );
    check(
        |b| b.setups[0].supply.strings[0].temperature_c = Some(70.0),
        "setups[0].supply.strings[0].temperature_c",
    );
    let single = |b: &mut Bundle, retired| {
        let name = "Six cells, number 7".to_owned();
        let pack_type = "six".to_owned();
        b.packs.push(Pack { id: "six-07".to_owned(), name, pack_type, retired, ..Pack::default() });
        b.setups[0].supply.strings[1].packs[0] = PackRef::Pack("six-07".to_owned());
    };
    check(|b| single(b, true), "setups[0].supply.strings[1].packs[0]");
    check(
        |b| {
            single(b, false);
            b.setups[0].supply.strings[1].packs[1] = PackRef::Pack("six-07".to_owned());
        },
        "setups[0].supply.strings[1].packs[1]",
    );
    check(|b| b.setups[0].load[0].item = String::new(), "setups[0].load[0].item");
    check(|b| b.items[1].mass_kg = f64::NAN, "items[1].mass_kg");
    check(|b| b.pack_types[0].mass_kg = 21.0, "pack_types[0].mass_kg");
    check(|b| b.sites[0].elevation_m = 9e3, "sites[0].elevation_m");
    check(|b| b.airframes[0].frame_mass_kg = -1.0, "airframes[0].frame_mass_kg");
    check(|b| b.airframes[0].layout.coaxial_spacing_m = 0.0, "airframes[0].layout.coaxial_spacing_m");
    let missing = check(
        |b| b.airframes[0].propulsion.velocity_constant_rpm_v = None,
        "airframes[0].propulsion.velocity_constant_rpm_v",
    );
    assert!(matches!(missing, DocumentError::Missing { .. }));
    let steep = check(
        |b| b.airframes[0].propulsion.rotor_pitch_m = Some(1.5),
        "airframes[0].propulsion.pitch_to_diameter",
    );
    assert_eq!(steep.allowed(), "0.2 to 1.1");
    let role = check(
        |b| {
            b.setups[0].airframe = "odd".to_owned();
            b.airframes[1].propulsion.velocity_constant_rpm_v = Some(200.0);
            b.airframes[1].layout.places[2].role = "lower".to_owned();
        },
        "airframes[1].layout.places[2].role",
    );
    assert!(role.to_string().contains("pair"), "{role}");
}

#[test]
fn regress_a_bench_row_at_fault_is_named_by_its_place() {
    let mut airframe = sample().airframes[0].clone();
    let bench = airframe.propulsion.bench.as_mut().expect("a table");
    bench.rows = vec![bench.rows[0].clone(); 5];
    bench.rows[3].voltage_v = Some(0.0);
    let error = resolve_airframe(&airframe).expect_err("no voltage");
    assert_eq!(error.field(), "propulsion.bench.rows[3]");
}

#[test]
fn regress_the_parts_resolve_as_the_whole_does() {
    let bundle = without_bench();
    let airframe = resolve_airframe(&bundle.airframes[0]).expect("resolves").airframe;
    let parts = (
        resolve_setup(&bundle, &bundle.setups[0], &airframe).expect("resolves"),
        resolve_site(&bundle.sites[0]).expect("resolves"),
    );
    assert_eq!(resolve(&bundle, "light"), Ok(parts));
}

/// One string of a setup may be older, colder and less full than the others; each flies with its own packs.
#[test]
fn regress_each_string_has_packs_rest_voltage_and_temperature_of_its_own() {
    let mut bundle = without_bench();
    let (id, pack_type) = ("six-07".to_owned(), "six".to_owned());
    bundle.packs.push(Pack { id: id.clone(), pack_type, cycles: 300, ..Pack::default() });
    let string = &mut bundle.setups[0].supply.strings[1];
    string.packs[1] = PackRef::Pack(id);
    (string.rest_cell_voltage_v, string.temperature_c) = (None, None);
    let (setup, site) = resolve(&bundle, "light").expect("resolves");
    let [first, second] = setup.supply.strings.as_slice() else { panic!("two strings") };
    assert!(first.packs.iter().all(|pack| pack.rest_voltage.is_some() && pack.health.cycles == 40));
    assert_eq!(second.packs.iter().map(|pack| pack.health.cycles).collect::<Vec<_>>(), [40, 300]);
    assert!(second.packs.iter().all(|pack| pack.rest_voltage.is_none()));
    assert!(second.packs.iter().all(|pack| pack.temperature == site.temperature), "as the air");
}
