//! Tables that are none: hundreds of thousands of columns, many rows, tens of megabytes. Each reader ends soon, with words.

use liftmargin_document::bench_csv::{inspect, read};
use liftmargin_document::ground::pack_csv;
use liftmargin_document::log::from_csv;
use liftmargin_document::trace;

use crate::keep_damaged::everything;

/// As a program in trouble writes them; what is in front makes each reader's own titles.
fn odd(titles: &str) -> Vec<(&'static str, String)> {
    let columns = |cell: &str| format!("{titles}{}", format!(",{cell}").repeat(300_000));
    vec![
        ("300,000 titles", format!("{}\n{}\n", columns("1"), columns("2"))),
        ("300,000 empty titles", format!("{}\n1,2,3\n2,3,4\n", columns(""))),
        ("300,000 cells below ordinary titles", format!("{titles}\n{}\n{}\n", columns("1"), columns("2"))),
        ("300,000 marks of quotation", format!("{titles}\n{}\n", "\"".repeat(300_001))),
        ("300,000 rows", format!("{titles}\n{}", "1,2,3\n".repeat(300_000))),
        ("one line of 4 MB", format!("{titles}\n{}", "1".repeat(4_000_000))),
    ]
}

#[test]
fn regress_odd_tables_end_soon_and_in_words() {
    let bundle = everything();
    for (what, text) in odd("Voltage (V),Current (A),Thrust (g)") {
        let since = std::time::Instant::now();
        let sheet = inspect(&text);
        if let Err(fault) = read(&sheet, &sheet.guessed) {
            assert!(!fault.to_string().is_empty());
        }
        assert!(sheet.headers.len() <= 60, "{what}");
        println!("bench {what}: {:?}", since.elapsed());
    }
    for (what, text) in odd("time (s),voltage (V),current (A)") {
        let since = std::time::Instant::now();
        match trace::read(text.as_bytes(), None) {
            Ok(trace) => assert!(trace.points.len() <= trace::MOST_POINTS, "{what}"),
            Err(fault) => assert!(!fault.to_string().is_empty()),
        }
        println!("trace {what}: {:?}", since.elapsed());
    }
    for (what, text) in odd("label,type,cycles") {
        let since = std::time::Instant::now();
        match pack_csv::read(&bundle, &text) {
            Ok(taken) => assert!(taken.added <= 1000 && taken.refused.len() <= 1001, "{what}"),
            Err(fault) => assert!(!fault.to_string().is_empty()),
        }
        println!("packs {what}: {:?}", since.elapsed());
    }
    for (what, text) in odd("lift_off_utc,airframe,flight_time_s") {
        let since = std::time::Instant::now();
        match from_csv(&text, &bundle) {
            Ok(table) => assert!(table.refused.len() <= 5001, "{what}"),
            Err(fault) => assert!(!fault.is_empty()),
        }
        println!("log {what}: {:?}", since.elapsed());
    }
}
