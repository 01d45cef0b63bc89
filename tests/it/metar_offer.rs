//! What a weather report puts into a site.

use liftmargin_core::units::{Length, Time};
use liftmargin_document::metar::{Offered, TemperatureAt, offers, read, temperature};
use liftmargin_document::model::Site;
use liftmargin_document::present::Units;
use liftmargin_document::words::weather;
use uom::si::length::meter;
use uom::si::time::minute;

fn put_all(offered: &[Offered], site: &mut Site) {
    for one in offered {
        one.put(site);
    }
}

fn site() -> Site {
    Site { elevation_m: 1800.0, qnh_hpa: 1000.0, temperature_c: 3.0, gust_m_s: 30.0, ..Site::default() }
}

/// 6.5 K a kilometre: 1000 m above the station it is 6.5 K colder (ICAO Doc 7488/3).
#[test]
fn val_icao_lapse_between_station_and_site() {
    let metar = read("ABCD 251800Z 24010G20KT 9999 12/07 Q1018").expect("a report");
    let length = Length::new::<meter>;
    let at = |at, station| {
        let mut site = site();
        temperature(&metar, at, station, length(site.elevation_m)).map(|offered| {
            offered.put(&mut site);
            site.temperature_c
        })
    };
    assert_eq!(at(TemperatureAt::Station, None), Some(12.0));
    assert_eq!(at(TemperatureAt::Site, None), None, "the station's elevation is not known");
    assert_eq!(at(TemperatureAt::Site, Some(length(800.0))), Some(5.5));
    assert_eq!(at(TemperatureAt::Site, Some(length(2800.0))), Some(18.5));
}

#[test]
fn regress_what_is_on_offer_is_put_and_the_rest_stays() {
    let metar = read("ABCD 251800Z 24010G20KT 9999 12/07 Q1018").expect("a report");
    let mut there = site();
    put_all(&offers(&metar), &mut there);
    assert!((there.qnh_hpa - 1018.0).abs() < 1e-9);
    assert!((there.wind_m_s - 5.144_444).abs() < 1e-6 && (there.gust_m_s - 10.288_889).abs() < 1e-6);
    assert!((there.relative_humidity_percent - 71.4).abs() < 0.5, "{}", there.relative_humidity_percent);
    assert!((there.temperature_c - 3.0).abs() < 1e-12, "the temperature is a choice of its own");
    // A gust of another weather does not stay.
    let calm = read("ABCD 251800Z 00000KT 12/07").expect("a report");
    put_all(&offers(&calm), &mut there);
    assert!(there.wind_m_s == 0.0 && there.gust_m_s == 0.0 && (there.qnh_hpa - 1018.0).abs() < 1e-9);
}

#[test]
fn regress_what_a_site_cannot_take_is_told() {
    let storm = read("ABCD 251800Z 24070G90KT 12/07 Q1018").expect("a report");
    let mut there = site();
    let offered = offers(&storm);
    put_all(&offered, &mut there);
    assert!(there.wind_m_s == 0.0 && (there.gust_m_s - 30.0).abs() < 1e-12);
    let words: Vec<String> = offered.iter().filter_map(|offered| offered.refused(Units::default())).collect();
    assert_eq!(words.len(), 2, "{words:?}");
    assert!(words[0].starts_with("not taken: Mean wind must be between 0 and "), "{words:?}");
}

#[test]
fn regress_ages_in_words() {
    let minutes = |minutes| weather::age(Some(Time::new::<minute>(minutes)), Units::default());
    assert_eq!(minutes(40.0), "0.7\u{a0}h old.");
    assert_eq!(minutes(110.0), "1.9\u{a0}h old.");
    assert!(minutes(400.0).starts_with("6.7\u{a0}h old: old."));
    assert!(minutes(5000.0).starts_with("84\u{a0}h old, 3 days: old."));
    assert!(weather::age(None, Units::default()).contains("ask for a new one"));
}
