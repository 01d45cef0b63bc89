//! Weather reports: every construct that matters, valid and broken, with what was expected of it.

use crate::table::{Table, assert_close};
use liftmargin_core::air::relative_humidity;
use liftmargin_core::units::ThermodynamicTemperature;
use liftmargin_document::metar::{BadGroup, MetarFault, ObservedAt, age, read};
use proptest::prelude::*;
use uom::si::pressure::hectopascal;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::hour;
use uom::si::velocity::meter_per_second;

fn kind(fault: &MetarFault) -> String {
    match fault {
        MetarFault::BadGroup { reason, .. } => format!("{reason:?}"),
        MetarFault::Empty => "Empty".to_owned(),
        MetarFault::TooLong { .. } => "TooLong".to_owned(),
        MetarFault::Forecast => "Forecast".to_owned(),
        MetarFault::NoStation { .. } => "NoStation".to_owned(),
        MetarFault::NoTime { .. } => "NoTime".to_owned(),
        MetarFault::Nil => "Nil".to_owned(),
        MetarFault::NothingOfUse => "NothingOfUse".to_owned(),
    }
}

#[track_caller]
fn check(report: &str, column: &str, got: Option<f64>, wanted: &str) {
    match (got, wanted) {
        (None, "") => {}
        (Some(got), wanted) if !wanted.is_empty() => {
            let wanted: f64 = wanted.parse().expect("a number");
            assert!(
                (got - wanted).abs() <= 1e-6 * wanted.abs().max(1.0),
                "{report}: {column} {got}, not {wanted}"
            );
        }
        (got, wanted) => panic!("{report}: {column} {got:?}, not “{wanted}”"),
    }
}

/// WMO-No. 306 FM 15 and FMH-1, see tests/references/metar/SOURCE.md.
#[test]
fn val_fm15_reports() {
    let table = Table::read("metar/table.csv");
    assert!(table.rows().count() >= 60);
    for row in table.rows() {
        let report = row.text("report");
        let metar = match read(report) {
            Err(fault) => {
                assert_eq!(kind(&fault), row.text("refused"), "{report}: {fault}");
                assert!(fault.to_string().ends_with('.') && !fault.to_string().contains('_'), "{fault}");
                continue;
            }
            Ok(metar) => metar,
        };
        assert_eq!("", row.text("refused"), "{report} was read: {metar:?}");
        assert_eq!(metar.station, row.text("station"), "{report}");
        let observed = metar.observed;
        check(report, "day", Some(f64::from(observed.day)), row.text("day"));
        check(report, "hour", Some(f64::from(observed.hour)), row.text("hour"));
        check(report, "minute", Some(f64::from(observed.minute)), row.text("minute"));
        let celsius = |value: ThermodynamicTemperature| value.get::<degree_celsius>();
        check(report, "temperature", metar.temperature.map(celsius), row.text("temperature_c"));
        check(report, "dew point", metar.dew_point.map(celsius), row.text("dew_point_c"));
        check(report, "qnh", metar.qnh.map(|qnh| qnh.get::<hectopascal>()), row.text("qnh_hpa"));
        let wind = metar.wind.map(|wind| wind.mean.get::<meter_per_second>());
        check(report, "wind", wind, row.text("wind_m_s"));
        let gust = metar.wind.and_then(|wind| wind.gust).map(|gust| gust.get::<meter_per_second>());
        check(report, "gust", gust, row.text("gust_m_s"));
        let direction = metar.wind.and_then(|wind| wind.direction_deg).map(f64::from);
        check(report, "direction", direction, row.text("wind_direction_deg"));
    }
}

/// PsychroLib's saturation (ASHRAE) against CIPM's: 0.2 % of the humidity.
#[test]
fn val_psychrolib_humidity_from_dew_point() {
    let celsius = ThermodynamicTemperature::new::<degree_celsius>;
    for row in Table::read("metar/humidity.csv").rows() {
        let [temperature, dew_point] =
            ["temperature_c", "dew_point_c"].map(|column| celsius(row.number(column)));
        let humidity = relative_humidity(temperature, dew_point).expect("inside");
        assert_close(humidity.value, row.number("relative_humidity"), 2e-3, "relative humidity");
    }
    let above = relative_humidity(celsius(10.0), celsius(12.0)).expect_err("dew point above");
    assert_eq!(above.field(), "relative_humidity");
}

/// 1,800,000,000 s since 1970 is 2027-01-15 08:00:00 universal time.
#[test]
fn val_calendar_age_of_a_report() {
    const NOW_S: i64 = 1_800_000_000;
    let at = |day, hours, minute| ObservedAt { day, hour: hours, minute };
    let table = [
        (at(15, 7, 30), Some(0.5)),
        (at(15, 8, 20), Some(0.0)),
        (at(14, 8, 0), Some(24.0)),
        (at(16, 8, 0), Some(30.0 * 24.0)),
        (at(31, 8, 0), Some(15.0 * 24.0)),
        (at(15, 20, 0), Some(31.0 * 24.0 - 12.0)),
    ];
    for (observed, expected) in table {
        let got = age(observed, NOW_S).map(|age| age.get::<hour>());
        assert_eq!(got, expected, "{observed:?}");
    }
    // Ten minutes before midnight, a report of the new day by a faster clock.
    assert_eq!(age(at(16, 0, 10), NOW_S + 57_000), Some(liftmargin_core::units::Time::default()));
}

proptest! {
    /// Whatever is pasted: an answer or words, never a panic, never a value out of the air's records.
    #[test]
    fn prop_any_text_is_read_or_refused(
        words in proptest::collection::vec("[A-Z0-9/+.]{1,9}|METAR|RMK|[0-9]{5}KT|M?[0-9]{2}/M?[0-9]{2}|[QA][0-9]{4}|TEMPO|=", 0..12),
    ) {
        let text = format!("XXAA 010000Z {}", words.join(" "));
        if let Ok(metar) = read(&text) {
            prop_assert!(metar.qnh.is_none_or(|qnh| (860.0..=1090.0).contains(&qnh.get::<hectopascal>())));
            prop_assert!(metar.wind.is_none_or(|wind| wind.gust.is_none_or(|gust| gust > wind.mean)));
        }
    }

    #[test]
    fn prop_odd_characters_do_not_panic(text in "\\PC{0,200}") {
        let _ = read(&text);
        let _ = read(&format!("XXAA 010000Z {text}"));
    }
}

#[test]
fn regress_a_fault_names_the_group() {
    let fault = read("XXAA 010000Z 24020G15KT Q1000").expect_err("refused");
    let expected = MetarFault::BadGroup { group: "24020G15KT".to_owned(), reason: BadGroup::GustBelowMean };
    assert_eq!(fault, expected);
    assert_eq!(fault.to_string(), "“24020G15KT” cannot be: a gust is faster than the mean wind.");
}
