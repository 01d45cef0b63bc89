//! Bench tables as makers print them: each file of `demo-data/bench-tables` with the rows or the words that must come of it.

use std::fs;
use std::path::{Path, PathBuf};

use liftmargin_core::propulsion::{BenchRow, BenchTable, Declared, fit};
use liftmargin_core::units::{ElectricCurrent, Length, MassDensity};
use liftmargin_document::bench_csv::{inspect, read};
use liftmargin_document::workspace::bench_rows;
use uom::si::electric_current::ampere;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;

fn tables() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data/bench-tables");
    let files = fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("an entry").path());
    let mut files: Vec<PathBuf> = files
        .filter(|path| {
            let name = path.to_string_lossy();
            name.ends_with(".txt") && !name.ends_with(".refused.txt")
        })
        .collect();
    files.sort();
    files
}

fn read_file(path: &Path) -> Result<Vec<BenchRow>, String> {
    let sheet = inspect(&fs::read_to_string(path).expect("text"));
    read(&sheet, &sheet.guessed).map_err(|fault| fault.to_string())
}

/// The five figures of a row as the expected file writes them.
type Figures = [Option<f64>; 5];

fn expected(path: &Path) -> Vec<Figures> {
    let text = fs::read_to_string(path.with_extension("expected.csv")).expect("expected rows");
    let figures = |line: &str| {
        let mut cells =
            line.split(',').map(|cell| (!cell.is_empty()).then(|| cell.parse().expect("a figure")));
        core::array::from_fn(|_| cells.next().expect("five cells"))
    };
    text.lines().skip(1).map(figures).collect()
}

#[test]
fn every_table_gives_its_rows_or_its_words() {
    let tables = tables();
    assert!(tables.len() >= 24, "{} tables", tables.len());
    let mut wrong = Vec::new();
    for path in tables {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let got = read_file(&path);
        if let Ok(words) = fs::read_to_string(path.with_extension("refused.txt")) {
            if got.as_ref().err().map(String::as_str) != Some(words.trim()) {
                wrong.push(format!("{name}: {got:?} instead of the words {words}"));
            }
            continue;
        }
        let expected = expected(&path);
        let rows = match got {
            Ok(rows) => bench_rows(&rows),
            Err(fault) => {
                wrong.push(format!("{name}: {fault}"));
                continue;
            }
        };
        if rows.len() != expected.len() {
            wrong.push(format!("{name}: {} rows instead of {}", rows.len(), expected.len()));
        }
        for (row, expected) in rows.iter().zip(&expected) {
            let got = [row.throttle, row.voltage_v, row.current_a, row.thrust_n, row.speed_rpm];
            let alike = got.iter().zip(expected).all(|pair| match pair {
                (Some(got), Some(expected)) => (got - expected).abs() <= 1e-6 * expected.abs(),
                (got, expected) => got.is_none() && expected.is_none(),
            });
            if !alike {
                wrong.push(format!("{name}: {got:?} instead of {expected:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is read is a table that a unit can be learned from: no column was taken for another.
#[test]
fn every_table_that_is_read_can_be_fitted() {
    for path in tables() {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let Ok(rows) = read_file(&path) else { continue };
        let is_small = ["31", "32", "33", "35"].iter().any(|number| name.starts_with(number));
        let declared = Declared {
            diameter: Length::new::<meter>(if is_small { 0.508 } else { 0.6604 }),
            pitch: None,
            velocity_constant: None,
            resistance: None,
            no_load_current: None,
            motor_current_limit: ElectricCurrent::new::<ampere>(80.0),
            controller_current_limit: ElectricCurrent::new::<ampere>(80.0),
        };
        let table = BenchTable { rows, air_density: MassDensity::new::<kilogram_per_cubic_meter>(1.2) };
        let fit = fit(&table, &declared).unwrap_or_else(|refusal| panic!("{name}: {refusal}"));
        assert!(fit.mean_power_error.value < 0.02, "{name}: {}", fit.mean_power_error.value);
    }
}

/// Of several tables in one text the chosen one is read, and its rotor is told.
#[test]
fn one_of_two_rotors_is_chosen() {
    let path =
        tables().into_iter().find(|path| path.to_string_lossy().contains("14-two")).expect("the table");
    let sheet = inspect(&fs::read_to_string(path).expect("text"));
    let rotors: Vec<Option<u32>> = sheet.parts.iter().map(|part| part.rotor_mm).collect();
    assert_eq!(rotors, [Some(610), Some(660)]);
    let mut columns = sheet.guessed;
    columns.table = Some(1);
    let second = read(&sheet, &columns).expect("read");
    columns.table = Some(0);
    let first = read(&sheet, &columns).expect("read");
    assert_eq!((first.len(), second.len()), (7, 7));
    assert!(first[6].thrust < second[6].thrust, "the larger rotor lifts more");
}
