//! Bench tables as files: the tolerant reader, and the fit of runs that nobody here made.

use core::num::NonZeroU8;

use liftmargin_core::propulsion::{
    BenchRow, BenchTable, Declared, Fit, FitNote, ThrustLimit, ceiling, fit, operate, performance,
};
use liftmargin_core::rotor::Flow;
use liftmargin_core::units::{ElectricCurrent, Length, MassDensity, VelocityConstant};
use liftmargin_document::bench_csv::{
    BenchCsvError, Columns, SpeedUnit, ThrottleUnit, ThrustUnit, inspect, read,
};
use proptest::prelude::*;
use uom::si::electric_current::ampere;
use uom::si::length::inch;
use uom::si::mass_density::kilogram_per_cubic_meter;

const FILES: [(&str, &str); 6] = [
    ("b4_7", include_str!("../references/bench/b4_7.csv")),
    ("c4_11", include_str!("../references/bench/c4_11.csv")),
    ("f3_11", include_str!("../references/bench/f3_11.csv")),
    ("g8_7", include_str!("../references/bench/g8_7.csv")),
    ("g8_11", include_str!("../references/bench/g8_11.csv")),
    ("m1_11", include_str!("../references/bench/m1_11.csv")),
];

fn declared() -> Declared {
    Declared {
        diameter: Length::new::<inch>(5.0),
        pitch: None,
        velocity_constant: None,
        resistance: None,
        no_load_current: None,
        motor_current_limit: ElectricCurrent::new::<ampere>(20.0),
        controller_current_limit: ElectricCurrent::new::<ampere>(20.0),
    }
}

fn table(rows: Vec<BenchRow>) -> BenchTable {
    BenchTable { rows, air_density: MassDensity::new::<kilogram_per_cubic_meter>(1.2) }
}

fn with_pole_pairs(columns: Columns, pairs: u8) -> Columns {
    let unit = SpeedUnit::ElectricalRpm { pole_pairs: NonZeroU8::new(pairs) };
    Columns { speed: columns.speed.map(|(index, _)| (index, unit)), ..columns }
}

#[track_caller]
fn check_fit(name: &str, mode: &str, fit: &Fit) {
    let percent = 100.0 * fit.mean_power_error.value;
    println!("{name}, {mode}: mean power error {percent:.2} %, {:?}\n    {:?}", fit.unit, fit.notes);
    assert!(percent < 4.0, "{name}, {mode}: {percent:.2} %");
}

#[test]
fn val_bench_files_fit_below_four_percent() {
    for (name, text) in FILES {
        let sheet = inspect(text);
        let columns = sheet.guessed;
        assert_eq!(columns.thrust, Some((5, ThrustUnit::GramForce)), "{name}");
        assert_eq!(columns.voltage, Some(6), "{name}");
        assert_eq!(columns.current, Some(7), "{name}");
        assert_eq!(columns.throttle, Some((1, ThrottleUnit::SignalMicroseconds)), "{name}");
        assert_eq!(columns.speed, Some((8, SpeedUnit::ElectricalRpm { pole_pairs: None })), "{name}");

        let blind = table(read(&sheet, &columns).unwrap());
        assert!(blind.rows.iter().all(|row| row.speed.is_none()), "{name}");
        check_fit(name, "without speed", &fit(&blind, &declared()).unwrap());

        let seeing = table(read(&sheet, &with_pole_pairs(columns, 1)).unwrap());
        let seen = fit(&seeing, &declared()).unwrap();
        check_fit(name, "with speed", &seen);

        let mut stated = declared();
        stated.velocity_constant = Some(seen.unit.motor.velocity_constant);
        check_fit(name, "with speed and k_V", &fit(&seeing, &stated).unwrap());
    }
}

/// What a maker may leave out of a file, or state wrongly.
#[derive(Debug, Clone, Copy)]
struct Given {
    speed: bool,
    throttle: bool,
    /// Stated k_V over the true one.
    constant: Option<f64>,
}

fn given() -> Vec<Given> {
    let mut all = Vec::new();
    for speed in [true, false] {
        for throttle in [true, false] {
            let constants = [None, Some(1.0), Some(0.85), Some(1.15)];
            all.extend(constants.map(|constant| Given { speed, throttle, constant }));
        }
    }
    all
}

/// The rows with thrust and the fit of all that the file holds.
fn whole(text: &str) -> (Vec<BenchRow>, Fit) {
    let sheet = inspect(text);
    let mut rows = read(&sheet, &with_pole_pairs(sheet.guessed, 1)).unwrap();
    rows.retain(|row| row.thrust.value > 0.0);
    let fit = fit(&table(rows.clone()), &declared()).unwrap();
    (rows, fit)
}

/// Fits what is left when a row is held out and columns are missing.
fn without(rows: &[BenchRow], held: Option<usize>, given: Given, constant: VelocityConstant) -> Fit {
    let left = rows.iter().enumerate().filter(|(index, _)| Some(*index) != held).map(|(_, row)| BenchRow {
        speed: row.speed.filter(|_| given.speed),
        throttle: row.throttle.filter(|_| given.throttle),
        ..*row
    });
    let mut declared = declared();
    declared.velocity_constant =
        given.constant.map(|off| VelocityConstant::from_rad_s_v(off * constant.rad_s_v()));
    fit(&table(left.collect()), &declared).unwrap_or_else(|refusal| panic!("{given:?}, {held:?}: {refusal}"))
}

/// Greatest thrust at the voltage of the row at full throttle, over its thrust, less 1.
fn excess(fit: &Fit, full: &BenchRow) -> f64 {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.2);
    let most = ceiling(&fit.unit, density, full.voltage, &Flow::still(), None).expect("turns");
    (most.point.thrust / full.thrust).value - 1.0
}

/// The six files, whatever columns they lack and however wrong the stated k_V: greatest thrust never more than 3 % above the
/// measured row at full throttle, with it in the table or held out; and with it in the table not 3 % below either. Held out.
#[test]
fn val_bench_greatest_thrust_is_the_measured() {
    for (name, text) in FILES {
        let (rows, all) = whole(text);
        let full = rows.last().unwrap();
        for given in given() {
            for held in (0..rows.len()).map(Some).chain([None]) {
                let fit = without(&rows, held, given, all.unit.motor.velocity_constant);
                let excess = excess(&fit, full);
                assert!(excess <= 0.03, "{name}, {given:?}, without {held:?}: {excess:+.3}");
                let is_in = held.is_none_or(|held| held + 1 < rows.len());
                assert!(!is_in || excess >= -0.03, "{name}, {given:?}, without {held:?}: {excess:+.3}");
            }
        }
    }
}

/// Current at rows held out one by one: on rows above a fifth of the greatest thrust 4 % on average in each file and with
/// any columns, and 4 % over all rows of all files. The width of the exponent's prior was chosen on these files.
#[test]
fn val_bench_current_at_rows_held_out() {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.2);
    let (mut sum, mut count) = (0.0, 0.0);
    for (name, text) in FILES {
        let (rows, all) = whole(text);
        let most = rows.iter().fold(0.0_f64, |most, row| most.max(row.thrust.value));
        for given in given() {
            let (mut judged, mut judged_count) = (0.0, 0.0);
            for (held, row) in rows.iter().enumerate() {
                let fit = without(&rows, Some(held), given, all.unit.motor.velocity_constant);
                let point = operate(&fit.unit, density, row.thrust, &Flow::still()).expect("operates");
                let error = ((point.bus_power / row.voltage / row.current).value - 1.0).abs();
                (sum, count) = (sum + error, count + 1.0);
                if row.thrust.value > 0.2 * most {
                    (judged, judged_count) = (judged + error, judged_count + 1.0);
                }
            }
            assert!(judged < 0.04 * judged_count, "{name}, {given:?}: {:.3}", judged / judged_count);
        }
    }
    assert!(sum < 0.04 * count, "{:.3} over all", sum / count);
}

/// Bus power at held-out rows above a fifth of the greatest thrust: inside the stated spread in 68 %, inside two in 95 %.
#[test]
fn val_bench_spread_of_power_holds() {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.2);
    let (mut all, mut inside_one, mut inside_two) = (0, 0, 0);
    for (name, text) in FILES {
        let (rows, whole_fit) = whole(text);
        let most = rows.iter().fold(0.0_f64, |most, row| most.max(row.thrust.value));
        for given in given() {
            let judged = rows.iter().enumerate().filter(|(_, row)| row.thrust.value > 0.2 * most);
            for (held, row) in judged {
                let fit = without(&rows, Some(held), given, whole_fit.unit.motor.velocity_constant);
                let at = performance(&fit.unit, density, row.thrust, &Flow::still(), row.voltage)
                    .unwrap_or_else(|refusal| panic!("{name}: {refusal}"));
                let miss = (at.bus_power.value / (row.voltage * row.current)).value.ln().abs();
                all += 1;
                inside_one += usize::from(miss <= at.bus_power.spread.value);
                inside_two += usize::from(miss <= 2.0 * at.bus_power.spread.value);
            }
        }
    }
    assert!(
        inside_one * 100 >= all * 68 && inside_two * 100 >= all * 95,
        "{inside_one}, {inside_two} of {all}"
    );
}

/// A table that stops short of full throttle claims nothing beyond its rows, and says that the table ends the thrust.
#[test]
fn val_bench_thrust_ends_with_the_table() {
    let (rows, _) = whole(FILES[4].1);
    let part = fit(&table(rows[..9].to_vec()), &declared()).unwrap();
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.2);
    let most = ceiling(&part.unit, density, rows[8].voltage * 1.1, &Flow::still(), None).unwrap();
    assert_eq!(most.ruled_by, ThrustLimit::BenchTable);
    assert_eq!(most.point.thrust, rows[8].thrust);
}

/// With more than one pole pair the printed speeds would mean a thrust coefficient that no propeller has.
#[test]
fn val_bench_speed_is_mechanical() {
    for (name, text) in FILES {
        let sheet = inspect(text);
        let rows = read(&sheet, &with_pole_pairs(sheet.guessed, 7)).unwrap();
        let refusal = fit(&table(rows), &declared()).unwrap_err();
        assert!(refusal.to_string().contains("whether the speed is electrical"), "{name}: {refusal}");
    }
}

/// The run whose supply sagged at full throttle says so, and its row is kept.
#[test]
fn val_bench_sagging_supply_is_noted() {
    let sheet = inspect(FILES[1].1);
    let fit = fit(&table(read(&sheet, &sheet.guessed).unwrap()), &declared()).unwrap();
    assert!(fit.notes.contains(&FitNote::SupplySagged { row: 11 }), "{:?}", fit.notes);
}

#[test]
fn val_bench_wrong_constant_is_noted() {
    let sheet = inspect(FILES[4].1);
    let rows = read(&sheet, &with_pole_pairs(sheet.guessed, 1)).unwrap();
    let mut declared = declared();
    declared.velocity_constant = Some(VelocityConstant::from_rpm_per_volt(1200.0));
    let fit = fit(&table(rows), &declared).unwrap();
    let doubted = fit.notes.iter().any(|note| matches!(note, FitNote::VelocityConstantDoubtful { .. }));
    assert!(doubted, "{:?}", fit.notes);
}

#[track_caller]
fn check_reading(text: &str, volts: f64, amps: f64, newtons: f64) {
    let sheet = inspect(text);
    let rows = read(&sheet, &sheet.guessed).unwrap_or_else(|error| panic!("{error} in {text:?}: {sheet:?}"));
    let row = rows[0];
    for (got, expected) in
        [(row.voltage.value, volts), (row.current.value, amps), (row.thrust.value, newtons)]
    {
        assert!((got - expected).abs() < 1e-9 * expected, "{got} instead of {expected} in {text:?}");
    }
}

#[test]
fn tables_are_read_whatever_their_dialect() {
    let newtons = 1500.0 * 9.806_65e-3;
    for text in [
        "Throttle (%),Voltage (V),Current (A),Thrust (g),RPM\n50,44.4,6.25,1500,3000\n60,44.3,8.5,1900,3400\n",
        "\u{feff}Thrust [gf];Current [A];Voltage [V]\r\n1500;6,25;44,4\r\n1900;8,5;44,3\r\n",
        "voltage_v\tthrust_kg\tcurrent_a\n44.4\t1.5\t6.25\n44.3\t1.9\t8.5\n",
        "Voltage,Current,Thrust\n(V),(A),(g)\n44.4,6.25,\"1,500\"\n44.3,8.5,\"1,900\"\n",
        "Volts;Amps;Pull (g)\n44,4;6,25;1.500\n44,3;8,5;1.900\n",
        "sample,Volts,Amps,,Thrust (g)\n1,44.4 V,6.25 A,,1500 g\n\n2,44.3 V,8.5 A,,1900 g\n",
    ] {
        check_reading(text, 44.4, 6.25, newtons);
    }
    check_reading("V,A,Thrust (lbf)\n44.4,6.25,2\n44.3,8.5,3\n", 44.4, 6.25, 2.0 * 4.448_221_615_260_5);
    check_reading("V,A,Thrust (N)\n44.4,6.25,2\n44.3,8.5,3\n", 44.4, 6.25, 2.0);
}

#[test]
fn columns_without_titles_are_chosen_by_hand() {
    let sheet = inspect("44.4,6.25,1500\n44.3,8.5,1900\n");
    assert_eq!(sheet.guessed, Columns::default());
    assert_eq!(read(&sheet, &sheet.guessed), Err(BenchCsvError::NotChosen { quantity: "voltage" }));
    let columns = Columns {
        voltage: Some(0),
        current: Some(1),
        thrust: Some((2, ThrustUnit::GramForce)),
        ..Columns::default()
    };
    assert_eq!(read(&sheet, &columns).unwrap().len(), 2);
    let beyond = Columns { current: Some(7), ..columns };
    assert_eq!(read(&sheet, &beyond), Err(BenchCsvError::NoSuchColumn { quantity: "current", index: 7 }));
}

#[test]
fn a_bad_cell_is_named() {
    let sheet = inspect("V,A,Thrust (g)\n44.4,6.25,1500\n\n44.3,abc,1900\n44.2,9,\n");
    let error = read(&sheet, &sheet.guessed).unwrap_err();
    assert_eq!(error.to_string(), "row 2 (line 4): \"abc\" in \"A\" is not a number");
    let sheet = inspect("V,A,Thrust (g)\n44.4,6.25,1500\n44.2,9,\n");
    let error = read(&sheet, &sheet.guessed).unwrap_err();
    assert_eq!(error.to_string(), "row 2 (line 3): \"Thrust (g)\" is empty, a number is needed");
}

proptest! {
    /// Any text is taken apart, and read or refused, without panic and without a figure that is not finite.
    #[test]
    fn prop_any_text_is_survived(text in "\\PC{0,60}([,;\t\n\"'.0-9eVA−µ%]|\\PC){0,200}", pairs in 0..20_u8) {
        let sheet = inspect(&text);
        let by_hand = Columns {
            throttle: Some((0, ThrottleUnit::Percent)),
            voltage: Some(0),
            current: Some(1),
            thrust: Some((2, ThrustUnit::Newton)),
            speed: Some((1, SpeedUnit::ElectricalRpm { pole_pairs: NonZeroU8::new(pairs) })),
            ..sheet.guessed
        };
        for columns in [sheet.guessed, by_hand] {
            for row in read(&sheet, &columns).into_iter().flatten() {
                prop_assert!(row.voltage.value.is_finite() && row.thrust.value.is_finite());
            }
        }
    }

    /// A sound file with one stretch overwritten is fitted or refused, never worse.
    #[test]
    fn prop_damaged_file_is_survived(file in 0..6_usize, at in 0..1500_usize, junk in "[0-9.,;\\-eE\n]{0,12}") {
        let text: Vec<char> = FILES[file].1.chars().collect();
        let at = at.min(text.len());
        let end = (at + junk.chars().count()).min(text.len());
        let damaged: String =
            text[..at].iter().copied().chain(junk.chars()).chain(text[end..].iter().copied()).collect();
        let sheet = inspect(&damaged);
        let columns = with_pole_pairs(sheet.guessed, 1);
        if let Ok(rows) = read(&sheet, &columns) {
            match fit(&table(rows), &declared()) {
                Ok(fit) => prop_assert!(fit.mean_power_error.value.is_finite()),
                Err(refusal) => prop_assert!(!refusal.to_string().is_empty()),
            }
        }
    }
}

#[test]
fn regress_a_file_that_is_no_bench_table_is_told_and_not_read() {
    let sheet = inspect(&"1,2,3\n".repeat(400_000));
    assert_eq!(read(&sheet, &sheet.guessed), Err(BenchCsvError::TooLarge { bytes: 2_400_000 }));
    assert!(sheet.rows.is_empty());
    let wide = inspect(&vec!["1"; 200_000].join(","));
    assert_eq!(wide.headers.len(), 60, "no choice of two hundred thousand columns");
}

#[test]
fn regress_a_quoted_comma_beside_comma_delimiters_sets_thousands_apart() {
    let thrust_g = |text: &str| {
        let sheet = inspect(text);
        read(&sheet, &sheet.guessed).expect("read")[0].thrust.value / 9.806_65e-3
    };
    let header = "Voltage (V),Current (A),Thrust (g)\n";
    for row in ["24.000,8.500,\"4,301\"", "24.5,8.5,\"4,301\"", "24,8,\"4,301\""] {
        assert!((thrust_g(&format!("{header}{row}")) - 4301.0).abs() < 1e-6, "{row}");
    }
    let semicolons = "Voltage (V);Current (A);Thrust (kg)\n24,125;8,500;4,301";
    assert!((thrust_g(semicolons) - 4301.0).abs() < 1e-6);
}
