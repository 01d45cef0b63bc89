//! Recordings of flights: a folder of odd and hostile ones, each with what was put in (tests/traces/make.py sums it up on
//! its own), in one piece and in pieces of any size.

use std::fs;
use std::path::{Path, PathBuf};

use liftmargin_document::trace::report::report;
use liftmargin_document::trace::{
    Chosen, MOST_POINTS, TimeForm, Trace, TraceColumns, TraceReader, TraceRow, look_at, read,
};
use proptest::prelude::*;
use serde_json::Value;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("traces")
}

fn expected() -> serde_json::Map<String, Value> {
    let text = fs::read_to_string(folder().join("expected.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

#[test]
fn val_python_sums_every_recording_of_the_folder() {
    for (name, expected) in expected() {
        let bytes = fs::read(folder().join(&name)).unwrap();
        let got = read(&bytes, None);
        if let Some(field) = expected.get("fault") {
            let fault = got.expect_err(&name);
            assert_eq!(fault.field(), field, "{name}");
            assert!(!fault.to_string().is_empty() && !fault.allowed().is_empty());
            continue;
        }
        let trace = got.unwrap_or_else(|fault| panic!("{name}: {fault}"));
        let told = serde_json::to_value(report(&trace)).unwrap();
        for (figure, tolerance) in [
            ("rows", 0.0),
            ("duration_s", 1e-9),
            ("used_mah", 1e-9),
            ("energy_wh", 1e-5),
            ("lowest_voltage_v", 1e-9),
        ] {
            if let Some(wanted) = expected.get(figure).and_then(Value::as_f64) {
                let got = told[figure].as_f64().unwrap_or_else(|| panic!("{name}: no {figure} in {told}"));
                assert!(
                    (got - wanted).abs() <= tolerance * wanted.abs(),
                    "{name} {figure}: {got}, not {wanted}"
                );
            }
        }
        let kinds: Vec<&str> = trace.notes.iter().map(liftmargin_document::trace::TraceNote::key).collect();
        let wanted: Vec<&str> =
            expected["faults"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
        assert_eq!(kinds, wanted, "{name}");
        for text in ["delimiter", "decimal_mark", "time_form", "lines_above"] {
            if let Some(wanted) = expected.get(text) {
                assert_eq!(told[text], *wanted, "{name} {text}");
            }
        }
        for (quantity, title) in expected.get("columns").and_then(Value::as_object).into_iter().flatten() {
            assert_eq!(told["columns"][quantity], *title, "{name}");
        }
        assert!(trace.points.len() <= MOST_POINTS);
    }
}

#[test]
fn regress_every_recording_is_read_alike_in_pieces() {
    for (name, _) in expected() {
        let bytes = fs::read(folder().join(&name)).unwrap();
        let whole = read(&bytes, None);
        for size in [1, 7, 4096, 70_000] {
            let mut reader = TraceReader::new(None);
            bytes.chunks(size).for_each(|piece| reader.push(piece));
            let pieces = reader.finish();
            match (&whole, &pieces) {
                (Ok(whole), Ok(pieces)) => {
                    assert_eq!(whole.totals, pieces.totals, "{name} by {size}");
                    assert_eq!(whole.notes, pieces.notes, "{name} by {size}");
                }
                (whole, pieces) => {
                    assert_eq!(whole.as_ref().err(), pieces.as_ref().err(), "{name} by {size}");
                }
            }
        }
    }
}

#[test]
fn regress_every_recording_comes_over_from_another_thread_whole() {
    for (name, _) in expected() {
        let Ok(trace) = read(&fs::read(folder().join(&name)).unwrap(), None) else { continue };
        let over =
            trace.clone().into_message().and_then(|message| Trace::from_message(&message)).expect(&name);
        let bits = |trace: &Trace| -> Vec<[u64; 6]> {
            let row = |row: &TraceRow| {
                [row.time_s, row.voltage_v, row.current_a, row.used_mah, row.altitude_m, row.speed_m_s]
                    .map(|figure| if figure.is_nan() { f64::NAN.to_bits() } else { figure.to_bits() })
            };
            trace.points.iter().map(row).collect()
        };
        assert_eq!(bits(&over), bits(&trace), "{name}");
        let rest = |trace: &Trace| (trace.totals.clone(), trace.detected.clone(), trace.notes.clone());
        assert_eq!(rest(&over), rest(&trace), "{name}");
    }
}

#[test]
fn regress_columns_are_taken_as_chosen() {
    let text = "a,b,c\n0,500,1\n1,490,2\n2,480,3\n";
    let chosen = |column, scale| Some(Chosen { column, scale });
    let columns = TraceColumns {
        time: Some((0, TimeForm::Minutes)),
        voltage: chosen(1, 0.1),
        current: chosen(2, 1.0),
        ..TraceColumns::default()
    };
    let trace = read(text.as_bytes(), Some(columns)).unwrap();
    assert!((trace.totals.duration_s - 120.0).abs() < 1e-9);
    assert_eq!(trace.totals.lowest_voltage_v.map(|volts| (volts * 1e3).round()), Some(48_000.0));
    assert!((trace.totals.used_mah.unwrap() - 2.0 * 120.0 / 3.6).abs() < 1e-6);
    let far = TraceColumns { current: chosen(9, 1.0), ..columns };
    assert_eq!(read(text.as_bytes(), Some(far)).expect_err("no such column").field(), "current");
    let no_time = TraceColumns { time: None, ..columns };
    assert_eq!(read(text.as_bytes(), Some(no_time)).expect_err("no time").field(), "time");
}

/// A file in another language is looked at, and a column chosen by hand is taken in its own unit, not in that of the one before.
#[test]
fn regress_a_column_chosen_by_hand_keeps_its_unit() {
    let text =
        "Zeit;Spannung [mV];Strom [mA];Hoehe [ft]\n0;50100;20000;10\n1;50000;20000;20\n2;49900;20000;30\n";
    assert!(read(text.as_bytes(), None).is_err(), "nobody knows which column is the time");
    let detected = look_at(text.as_bytes()).unwrap();
    assert_eq!(detected.shown(1), "Spannung [mV] (50100)");
    let columns = TraceColumns {
        time: Some(detected.as_time(0)),
        voltage: Some(detected.as_figure("voltage", 1)),
        current: Some(detected.as_figure("current", 2)),
        altitude: Some(detected.as_figure("altitude", 3)),
        ..TraceColumns::default()
    };
    let trace = read(text.as_bytes(), Some(columns)).unwrap();
    assert_eq!(trace.totals.lowest_voltage_v, Some(49.9));
    assert!((trace.totals.used_mah.unwrap() - 20.0 * 2.0 / 3.6).abs() < 1e-6);
    assert_eq!(columns.altitude.map(|chosen| chosen.scale), Some(0.3048));
    assert!(look_at(b"").is_err());
}

/// Half a million rows, in numbers that only depend on the place.
fn long(rows: usize) -> String {
    use std::fmt::Write as _;
    let mut text = String::from("time_ms,voltage,current\n");
    for row in 0..rows {
        let spike = if row == rows / 3 { 40.0 } else { 0.0 };
        let volts = 50.0 - 10.0 * row as f64 / rows as f64 - spike / 10.0;
        let _ = writeln!(text, "{},{volts:.3},{:.2}", row * 2, 100.0 + spike + (row % 7) as f64);
    }
    text
}

#[test]
fn regress_a_long_recording_is_reduced_with_its_extremes() {
    let rows = 120_000;
    let trace = read(long(rows).as_bytes(), None).unwrap();
    assert_eq!(trace.totals.rows, rows);
    assert!(trace.points.len() <= MOST_POINTS && trace.points.len() > MOST_POINTS / 2);
    let lowest = trace.points.iter().map(|point| point.voltage_v).fold(f64::INFINITY, f64::min);
    assert_eq!(Some(lowest), trace.totals.lowest_voltage_v);
    let greatest = trace.points.iter().map(|point| point.current_a).fold(0.0, f64::max);
    assert_eq!(Some(greatest), trace.totals.greatest_current_a);
    assert!(trace.points.is_sorted_by(|one, other| one.time_s <= other.time_s));
    let last = trace.points.last().unwrap();
    assert!((last.time_s - trace.totals.duration_s).abs() < 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Any bytes give an answer or a refusal, and every figure is a number.
    #[test]
    fn prop_any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        if let Ok(trace) = read(&bytes, None) {
            prop_assert!(trace.totals.duration_s.is_finite());
        }
    }

    #[test]
    fn prop_any_table_is_read_or_refused(
        cells in proptest::collection::vec(proptest::collection::vec("[0-9.,:;eE+ -]{0,7}|nan|1e308|V", 4), 1..30),
        mark in prop::sample::select(vec![",", ";", "\t"]),
    ) {
        let body: Vec<String> = cells.iter().map(|row| row.join(mark)).collect();
        let text = format!("time{mark}volt{mark}amp{mark}mah\n{}", body.join("\n"));
        if let Ok(trace) = read(text.as_bytes(), None) {
            let totals = &trace.totals;
            let figures = [totals.used_mah, totals.energy_wh, totals.lowest_voltage_v, totals.greatest_current_a];
            prop_assert!(totals.duration_s.is_finite() && totals.duration_s >= 0.0, "{totals:?}");
            prop_assert!(figures.into_iter().flatten().all(f64::is_finite), "{totals:?}");
        }
    }
}
