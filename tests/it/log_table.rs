//! The log as a table, out and in; entries put right later.

use liftmargin_document::log::{
    Landing, LogFilter, as_csv, by_hand, delete, flown_bundle, from_csv, was_at_site, was_of_setup,
};
use liftmargin_document::merge::merge;
use liftmargin_document::model::{Bundle, Flight};
use liftmargin_document::record::Record as _;
use liftmargin_document::take_in::{Standing, preview};

use crate::keep::demo;

const NOW: f64 = 1_795_664_676_000.0;

fn flown() -> Bundle {
    let mut bundle = demo();
    for number in 0..3 {
        let landing = Landing {
            flight_time_s: 300.25 + 20.0 * f64::from(number),
            used_mah: Some(9_000.4 + 100.0 * f64::from(number)),
            rest_cell_voltage_v: Some(3.8),
            remark: "light rain, \"gusty\"".to_owned(),
            now_unix_ms: NOW,
            ..Landing::default()
        };
        bundle =
            by_hand(&bundle, "bend-zoom", NOW - 3.6e6 * f64::from(number), &landing).expect("an entry").0;
    }
    bundle
}

fn all(bundle: &Bundle) -> String {
    as_csv(bundle, &LogFilter::default())
}

/// The columns that a crew enters.
fn entered(csv: &str) -> Vec<Vec<String>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let cells =
        |row: csv::StringRecord| [0, 1, 2, 3, 4, 5, 6, 11, 12, 13].map(|at| row[at].to_owned()).to_vec();
    reader.records().map(|row| cells(row.unwrap())).collect()
}

#[test]
fn regress_the_table_gives_the_entries_back() {
    let bundle = flown();
    let csv = all(&bundle);
    let here = from_csv(&csv, &bundle).expect("a table");
    assert!(here.refused.is_empty());
    assert_eq!(here.opened.bundle.flights, bundle.flights, "what is only rounded stays");
    let ids: Vec<String> = bundle.flights.iter().map(|flight| flight.id.clone()).collect();
    let empty = ids.iter().fold(bundle, |left, id| delete(&left, id, NOW).unwrap());
    let again = from_csv(&csv, &empty).expect("a table");
    let taken = merge(&empty, &again.opened.bundle).bundle;
    assert_eq!(entered(&all(&taken)), entered(&csv));
    assert!(taken.flights.iter().all(|flight| flight.predicted.is_some() && !flight.flown_setup.is_empty()));
}

#[test]
fn regress_what_differs_is_told_and_what_is_no_flight_is_refused() {
    let bundle = flown();
    let lines: Vec<String> = all(&bundle).lines().map(str::to_owned).collect();
    let other = lines[2].replacen(",9100,", ",9650,", 1);
    assert_ne!(other, lines[2]);
    let bad = |from: &str, to: &str| lines[3].replacen(&bundle.flights[0].id, "new", 1).replacen(from, to, 1);
    let text = [
        lines[0].clone(),
        lines[1].clone(),
        other,
        bad("2026-", "soon "),
        bad(",300,", ",much,"),
        bad(",300,", ",3,"),
        bad(",300,", ",,"),
        bad(&bundle.airframes[0].name, "Nobody's"),
    ];
    let read = from_csv(&text.join("\r\n"), &bundle).expect("a table");
    assert_eq!(read.refused.len(), 5, "{:?}", read.refused);
    for (place, word) in ["soon", "much", "range", "flight time", "Nobody"].into_iter().enumerate() {
        assert!(
            read.refused[place].starts_with(&format!("Row {}:", place + 4)),
            "{word}: {:?}",
            read.refused[place]
        );
    }
    let previewed = preview(&bundle, &read.opened.bundle, liftmargin_document::present::Units::metric());
    let different: Vec<_> =
        previewed.iter().filter(|one| matches!(one.standing, Standing::Different(_))).collect();
    assert_eq!(different.len(), 1);
    assert!(from_csv("a,b\n1,2\n", &bundle).is_err());
    let mut with_semicolons = csv::WriterBuilder::new().delimiter(b';').from_writer(Vec::new());
    for row in csv::ReaderBuilder::new().has_headers(false).from_reader(all(&bundle).as_bytes()).records() {
        with_semicolons.write_record(&row.unwrap()).unwrap();
    }
    let text = String::from_utf8(with_semicolons.into_inner().unwrap()).unwrap();
    assert_eq!(from_csv(&text, &bundle).expect("a table").opened.bundle.flights, bundle.flights);
}

#[test]
fn regress_an_entry_is_put_right_and_the_copies_stay_as_flown() {
    let bundle = flown();
    let id = bundle.flights[1].id.clone();
    let copies = bundle.flown_setups.clone();
    let site =
        bundle.sites.iter().find(|site| site.id != bundle.setups[0].site).expect("another site").clone();
    let elsewhere = was_at_site(&bundle, &id, &site.id, NOW).expect("put right");
    let (_, flight) = Flight::find(&elsewhere, &id).unwrap();
    assert_eq!(flight.place, site.name);
    let (flown, setup) = flown_bundle(&elsewhere, flight).unwrap();
    assert_eq!(flown.setups.iter().find(|own| own.id == setup).unwrap().site, site.id);
    assert_ne!(flight.predicted, bundle.flights[1].predicted);
    for copy in &copies {
        let still = elsewhere.flown_setups.iter().find(|own| own.id == copy.id);
        assert!(still.is_none_or(|own| own == copy), "a copy was changed");
    }
    let other = was_of_setup(&bundle, &id, "bend-follow", NOW).expect("put right");
    let (_, flight) = Flight::find(&other, &id).unwrap();
    assert_eq!((flight.setup.as_str(), flight.used_mah), ("bend-follow", bundle.flights[1].used_mah));
    assert_eq!(flown_bundle(&other, flight).unwrap().1, "bend-follow");
    assert!(was_of_setup(&bundle, &id, "none", NOW).is_err());
}
