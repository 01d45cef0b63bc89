//! Hostile input, made by chance from honest input: no panic, no number that is none, and what opens can be saved and
//! opened again. Some hundred executions here, a minute each in `cargo xtask endure`.

#[path = "it/share/forged.rs"]
mod forged;

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use forged::{packed, text_of};
use liftmargin_document::bench_csv;
use liftmargin_document::fields::Number;
use liftmargin_document::model::numbers;
use liftmargin_document::open::{broken_as_file, save};
use liftmargin_document::present::{Units, entry};
use liftmargin_document::{card_report, open, share, trace};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

const DEMO: &str = include_str!("../demo-data/mountain-road.json");
const SCHEMA_1: &str = include_str!("saved/schema-1.json");
const SCHEMA_2: &str = include_str!("saved/schema-2.json");
const EVERY_RECORD: &str = include_str!("saved/every-record.json");
/// Bench tables: the app's own, and some as makers print them.
const TABLES: [&str; 5] = [
    include_str!("../demo-data/bench-eight.csv"),
    include_str!("../demo-data/bench-tables/04-pdf-columns.txt"),
    include_str!("../demo-data/bench-tables/09-merged-cells-from-a-spreadsheet.txt"),
    include_str!("../demo-data/bench-tables/10-one-cell-a-line.txt"),
    include_str!("../demo-data/bench-tables/22-pdf-decimal-comma.txt"),
];
/// Recordings of other shapes than the one made below.
const TRACES: [&str; 3] = [
    include_str!("traces/tabs_no_titles.txt"),
    include_str!("traces/over_midnight.csv"),
    include_str!("traces/milli_units.csv"),
];

/// Runs `work` on so many seeds; in `cargo xtask endure` for a minute, or as often as `LIFTMARGIN_FUZZ` says, beginning at
/// the seed in `LIFTMARGIN_FUZZ_FROM`. Says how many, and which took longest.
fn fuzz(name: &'static str, usual: u64, mut work: impl FnMut(&mut Pcg64Mcg)) {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    let is_long = std::env::var_os("LIFTMARGIN_ENDURE").is_some();
    let count = number("LIFTMARGIN_FUZZ").or((!is_long).then_some(usual));
    let from = number("LIFTMARGIN_FUZZ_FROM").unwrap_or(0);
    let begun = Instant::now();
    let mut at = Telling { name, seed: from };
    let mut slowest = (Duration::ZERO, from);
    while count.map_or(begun.elapsed() < Duration::from_secs(60), |count| at.seed - from < count) {
        let since = Instant::now();
        work(&mut Pcg64Mcg::seed_from_u64(at.seed));
        slowest = slowest.max((since.elapsed(), at.seed));
        at.seed += 1;
        if (at.seed - from).is_multiple_of(100_000) {
            println!("fuzz {name}: {} …", at.seed - from);
        }
    }
    println!(
        "fuzz {name}: {} executions from seed {from} in {:.0} s; the slowest, seed {}, {} ms",
        at.seed - from,
        begun.elapsed().as_secs_f64(),
        slowest.1,
        slowest.0.as_millis()
    );
}

/// Names the seed at which a test ended.
struct Telling {
    name: &'static str,
    seed: u64,
}

impl Drop for Telling {
    fn drop(&mut self) {
        if std::thread::panicking() {
            println!("fuzz {}: ended at seed {}", self.name, self.seed);
        }
    }
}

fn one_of<'a, T: AsRef<str>>(all: &'a [T], random: &mut Pcg64Mcg) -> &'a str {
    all[random.random_range(0..all.len())].as_ref()
}

/// The same without the spaces.
fn compact(text: &str) -> String {
    serde_json::from_str::<serde_json::Value>(text).expect("JSON").to_string()
}

/// The lists that no card needs.
fn lists_alone(text: &str) -> String {
    let mut file: serde_json::Value = serde_json::from_str(text).expect("JSON");
    for list in ["airframes", "items", "setups", "sites", "flown_setups"] {
        file[list] = serde_json::json!([]);
    }
    file.to_string()
}

/// Cut, doubled, replaced, flipped: one to four times.
fn mutate(text: &str, words: &[&str], random: &mut Pcg64Mcg) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for _ in 0..random.random_range(1..5) {
        let count = letters.len();
        let place = random.random_range(0..=count);
        let end = (place + random.random_range(0..12)).min(count);
        match random.random_range(0..6) {
            0 => drop(letters.drain(place..end)),
            1 => {
                let word = words[random.random_range(0..words.len())];
                letters.splice(place..end, word.chars());
            }
            2 => {
                let copy = letters[place..end].to_vec();
                letters.splice(place..place, copy);
            }
            3 if place < count => letters[place] = char::from(random.random_range(0..128_u8)),
            4 if random.random_range(0..20) == 0 => letters.truncate(place),
            _ => {
                let word = words[random.random_range(0..words.len())];
                let from = letters[..place].iter().rposition(|letter| *letter == ':').unwrap_or(place);
                let after = letters[place..].iter().position(|letter| *letter == ',');
                let to = after.map_or(end, |after| place + after);
                if from < to {
                    letters.splice(from + 1..to, word.chars());
                }
            }
        }
    }
    letters.into_iter().collect()
}

const JSON_WORDS: &[&str] = &[
    "null",
    "1e308",
    "-1e308",
    "1e-320",
    "0",
    "-0.0",
    "1e999",
    "{}",
    "[]",
    "[[[[[[",
    "\"\"",
    "true",
    "\"\\u0000\"",
    "18446744073709551616",
    "\"coaxial-quad\"",
    "\"free\"",
    "\u{feff}",
    "99",
    "\"id\":",
];

#[test]
fn prop_fuzz_bundle() {
    let starts = [compact(DEMO), compact(SCHEMA_1), compact(SCHEMA_2), lists_alone(EVERY_RECORD)];
    fuzz("bundle", 400, |random| {
        let text = mutate(one_of(&starts, random), JSON_WORDS, random);
        let Ok(opened) = open(&text) else { return };
        drop(broken_as_file(&opened.broken));
        let saved = save(&opened.bundle).expect("what was opened can be saved");
        let again = open(&saved).expect("what was saved opens");
        assert_eq!(again.bundle, opened.bundle);
        assert!(again.broken.is_empty());
        if random.random_range(0..400) == 0 {
            // A fault is an answer too; a panic is none.
            drop(card_report::report(&opened.bundle));
        }
    });
}

#[test]
fn prop_fuzz_bench_csv() {
    let words = [
        "\t",
        ";",
        "\"",
        "\r\n",
        "4,301",
        "1.234,5",
        "1e400",
        "-",
        "N",
        "kgf",
        "rpm",
        "mA",
        "\u{0}",
        ",,,,,,,,",
        "%",
        "\"4,301\"",
    ];
    fuzz("bench CSV", 300, |random| {
        let text = mutate(one_of(&TABLES, random), &words, random);
        let sheet = bench_csv::inspect(&text);
        let Ok(rows) = bench_csv::read(&sheet, &sheet.guessed) else { return };
        for row in rows {
            let numbers = [row.voltage.value, row.current.value, row.thrust.value];
            assert!(numbers.iter().all(|number| !number.is_nan()), "{text}");
        }
    });
}

/// A link that was harmed, which its check must notice; or one by somebody who knows the format, so that its check is right.
#[test]
fn prop_fuzz_link() {
    let bundle = open(DEMO).expect("the demo opens").bundle;
    let link = share::fragment(&bundle, &bundle.setups[0].id).expect("the demo fits a link");
    let inside = text_of(&bundle, &bundle.setups[0].id);
    let words = ["A", "_", "-", "=", "%3D", "AAAA", "____", "#", "1.", "/", "\u{0}", "0123456789abcdef"];
    fuzz("link", 300, |random| {
        let text = if random.random_range(0..4) == 0 {
            mutate(&link, &words, random)
        } else {
            packed(mutate(&inside, JSON_WORDS, random).as_bytes())
        };
        let Ok(opened) = share::read(&text) else { return };
        let saved = save(&opened.bundle).expect("what was opened can be saved");
        assert_eq!(open(&saved).expect("what was saved opens").bundle, opened.bundle);
    });
}

#[test]
fn prop_fuzz_trace_csv() {
    let words = [
        "\t",
        ";",
        "\"",
        "\r\n",
        "1,5",
        "-1",
        "1e400",
        "NaN",
        "12:00:00",
        "24:61:61",
        "mAh",
        "ms",
        "time",
        "V",
        "\u{0}",
        ",,,,,,",
        "2026-02-30 25:00",
    ];
    let mut table = "time (s),voltage (V),current (A),used (mAh)\n".to_owned();
    for row in 0..40 {
        let seconds = f64::from(row) * 0.5;
        let (volts, amps, used) = (48.0 - 0.01 * seconds, 60.0 + seconds, 16.7 * seconds);
        writeln!(table, "{seconds},{volts},{amps},{used}").expect("a string takes it");
    }
    let tables: Vec<&str> = [table.as_str()].into_iter().chain(TRACES).collect();
    fuzz("trace CSV", 300, |random| {
        let text = mutate(one_of(&tables, random), &words, random);
        let Ok(trace) = trace::read(text.as_bytes(), None) else { return };
        let totals = &trace.totals;
        let found = [totals.used_mah, totals.energy_wh, totals.lowest_voltage_v, totals.greatest_current_a];
        assert!(
            totals.duration_s >= 0.0 && found.iter().flatten().all(|figure| figure.is_finite()),
            "{text}"
        );
        assert!(
            trace.points.len() <= trace::MOST_POINTS && trace.points.iter().all(|row| row.time_s.is_finite())
        );
    });
}

#[test]
fn prop_fuzz_number_entry() {
    let starts =
        ["1,234", "12.5", "-3", "1 200", "4'301", "1e5", "0,5 kg", "\u{2212}7", "101325", "1.234.567,8"];
    let words =
        ["1", ",", ".", "e", "-", "+", "e308", "000", "\u{202f}", "kg", "NaN", "inf", "\u{664}", " ", "'"];
    let all: Vec<&'static Number> = numbers::all().collect();
    fuzz("number entry", 20_000, |random| {
        let text = mutate(starts[random.random_range(0..starts.len())], &words, random);
        let number = all[random.random_range(0..all.len())];
        for units in [Units::default(), Units::us()] {
            let Ok(value) = entry::read(&text, number, units) else { continue };
            assert!(value.is_finite(), "{text:?} is {value}");
            let shown = entry::show_number(value, number, units);
            assert!(shown.len() < 40, "{text:?} is shown as {shown}");
        }
    });
}
