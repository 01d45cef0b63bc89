//! Setups side by side: each column is the card of its setup, and what differs comes first.

use liftmargin_core::units::{ElectricCharge, Mass, Ratio, Time};
use liftmargin_document::card_report::{CardReport, report};
use liftmargin_document::compare::{Column, ColumnFigures, CompareRow, begin_with, compare};
use liftmargin_document::model::Bundle;
use liftmargin_document::open_strict;
use liftmargin_document::present::{Units, answer};
use liftmargin_document::resolve::LearnedAirframes;
use liftmargin_document::sheet::{Row, RowWork, SheetInputs};
use liftmargin_document::words::wind;
use uom::si::electric_charge::milliampere_hour;
use uom::si::mass::kilogram;
use uom::si::ratio::ratio;
use uom::si::time::second;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

fn column(bundle: &Bundle, setup: usize) -> Column {
    let setup = &bundle.setups[setup];
    let mut learned = LearnedAirframes::default();
    let inputs =
        SheetInputs::new(&mut bundle.clone(), &setup.id, &setup.site, |airframe| learned.get(airframe));
    let figures = inputs.map(|inputs| {
        let mut work = RowWork::new(&inputs).expect("begins");
        while !work.step().expect("steps") {}
        ColumnFigures::of(work, &inputs).expect("all is found")
    });
    Column { setup: setup.id.clone(), figures: Some(figures) }
}

fn row<'a>(rows: &'a [CompareRow], key: &str) -> &'a CompareRow {
    rows.iter().find(|row| row.key == key).unwrap_or_else(|| panic!("no row {key}"))
}

/// What the card of a setup shows of a figure.
fn on_card(card: &CardReport, key: &str, units: Units) -> String {
    let least = |cautious: Option<f64>, typical: Option<f64>| {
        cautious.zip(typical).map(|(one, other)| one.min(other))
    };
    let or_words = |figure: Option<f64>, show: &dyn Fn(f64) -> String| match figure {
        None => "no flight".to_owned(),
        Some(figure) if figure <= 0.0 => "not assured".to_owned(),
        Some(figure) => show(figure),
    };
    let throttle = |share: Option<f64>| {
        share
            .map_or("–".to_owned(), |share| answer::throttle(Ratio::new::<ratio>(share), units).to_string())
    };
    match key {
        "flight-time" => or_words(least(card.cautious_flight_time_s, card.flight_time_s), &|s| {
            answer::time(Time::new::<second>(s))
        }),
        "land-by" => or_words(least(card.cautious_land_by_mah, card.land_by_mah), &|mah| {
            answer::charge(ElectricCharge::new::<milliampere_hour>(mah), units).to_string()
        }),
        "all-up-mass" => answer::mass(Mass::new::<kilogram>(card.all_up_mass_kg), units).to_string(),
        "hover-throttle" => throttle(card.hover_throttle),
        "hover-throttle-at-land-by" => throttle(card.hover_throttle_at_land_by),
        _ => panic!("{key}"),
    }
}

#[test]
fn prop_each_column_is_the_card_of_its_setup() {
    let bundle = demo();
    let cards = report(&bundle).expect("cards");
    let columns: Vec<Column> = (0..bundle.setups.len()).map(|setup| column(&bundle, setup)).collect();
    for units in [Units::metric(), Units::us()] {
        let rows = compare(&bundle, &columns, units);
        for (place, card) in cards.iter().enumerate() {
            for key in
                ["flight-time", "land-by", "all-up-mass", "hover-throttle", "hover-throttle-at-land-by"]
            {
                let cell = row(&rows, key).cells[place].split('\n').next().unwrap_or_default();
                assert_eq!(cell, on_card(card, key, units), "{key} {}", card.setup);
            }
            let verdict = row(&rows, "verdict").cells[place].to_lowercase();
            assert!(verdict.starts_with(&format!("{}\n", card.verdict)), "{verdict}");
        }
    }
}

#[test]
fn prop_the_greatest_wind_is_the_sheets() {
    let bundle = demo();
    for (setup, open) in bundle.setups.iter().enumerate() {
        let mut sheet = Row::new(&bundle, &open.id, &open.site);
        let mut learned = LearnedAirframes::default();
        let inputs =
            SheetInputs::new(&mut bundle.clone(), &open.id, &open.site, |airframe| learned.get(airframe))
                .expect("resolves");
        sheet.work_out(&inputs, Units::metric()).expect("works out");
        let rows = compare(&bundle, &[column(&bundle, setup)], Units::metric());
        let of_sheet =
            wind::greatest(sheet.figures.and_then(|figures| figures.wind).as_ref(), Units::metric());
        assert_eq!(row(&rows, "greatest-wind").cells, [of_sheet]);
    }
}

#[test]
fn prop_what_differs_leads_and_what_is_the_same_waits() {
    let mut bundle = demo();
    let mut other = bundle.setups[0].clone();
    other.id = "other".to_owned();
    other.name = "Other".to_owned();
    other.profile.distance_m += 250.0;
    let left = other.load.iter_mut().find(|load| load.on).expect("something on board");
    left.on = false;
    let left = left.item.clone();
    let left = bundle.items.iter().find(|item| item.id == left).expect("an item").name.clone();
    bundle.setups.push(other);
    let last = bundle.setups.len() - 1;
    let rows = compare(&bundle, &[column(&bundle, 0), column(&bundle, last)], Units::metric());
    let inputs = |row: &&CompareRow| {
        row.key.contains('.') || ["airframe", "site", "packs", "on-board"].contains(&row.key.as_str())
    };
    let leads: Vec<&str> =
        rows.iter().filter(inputs).filter(|row| row.leads).map(|row| row.key.as_str()).collect();
    assert_eq!(leads, ["on-board", "profile.distance_m"]);
    assert!(row(&rows, "on-board").cells[0].starts_with(&left), "{:?}", row(&rows, "on-board"));
    assert_eq!(row(&rows, "on-board").cells[1], "–");
    assert!(!row(&rows, "profile.height_m").leads);
    assert!(row(&rows, "profile.distance_m").cells[1].ends_with("\u{a0}m"));
    // Inputs stand before figures, and each row has a cell a setup.
    let place = |key: &str| rows.iter().position(|row| row.key == key).expect("there");
    assert!(place("profile.distance_m") < place("verdict"));
    assert!(rows.iter().all(|row| row.cells.len() == 2 && row.best.len() == 2));
}

#[test]
fn prop_the_best_cell_is_the_one_to_fly() {
    let bundle = demo();
    let columns: Vec<Column> = (0..bundle.setups.len()).map(|setup| column(&bundle, setup)).collect();
    for one in 0..columns.len() {
        for other in 0..columns.len() {
            let rows = compare(&bundle, &[columns[one].clone(), columns[other].clone()], Units::metric());
            for row in &rows {
                assert!(row.leads || row.best == [false, false], "{row:?}");
                assert!(one != other || row.best == [false, false], "{row:?}");
            }
            let seconds = |place: usize| match &columns[place].figures {
                Some(Ok(figures)) => figures.standing.flight_time_words(),
                _ => String::new(),
            };
            if let [true, false] = row(&rows, "flight-time").best[..] {
                assert_ne!(seconds(one), seconds(other));
            }
            let state = |place: usize| match &columns[place].figures {
                Some(Ok(figures)) => figures.verdict.state,
                _ => liftmargin_core::limits::State::No,
            };
            if let [true, false] = row(&rows, "tightest-margin").best[..] {
                assert!(state(one) <= state(other), "a worse state is never the better one");
            }
            let mass = |place: usize| match &columns[place].figures {
                Some(Ok(figures)) => figures.all_up_mass.value,
                _ => f64::NAN,
            };
            if let [true, false] = row(&rows, "all-up-mass").best[..] {
                assert!(mass(one) < mass(other), "lighter is better");
            }
        }
    }
}

#[test]
fn regress_what_cannot_be_worked_out_says_why_and_what_waits_is_no_figure() {
    let mut bundle = demo();
    bundle.setups[1].site = String::new();
    let waiting = Column { setup: bundle.setups[2].id.clone(), figures: None };
    let rows = compare(&bundle, &[column(&bundle, 0), column(&bundle, 1), waiting], Units::metric());
    let verdict = row(&rows, "verdict");
    assert!(verdict.cells[1].starts_with("Not ready\n") && verdict.cells[2] == "…", "{verdict:?}");
    assert!(
        rows.iter().all(|row| row.best.iter().all(|best| !best)),
        "nothing is best while one is worked out"
    );
    let gone = Column { setup: "gone".to_owned(), figures: None };
    assert_eq!(compare(&bundle, &[gone], Units::metric()), []);
}

#[test]
fn prop_a_comparison_begins_with_the_open_setup_and_one_of_its_airframe() {
    let bundle = demo();
    for setup in &bundle.setups {
        let [own, other] = &begin_with(&bundle, &setup.id)[..] else { panic!("two") };
        assert!(*own == setup.id && *other != setup.id);
        let airframe = |id: &String| {
            bundle.setups.iter().find(|there| there.id == *id).map(|there| there.airframe.clone())
        };
        let has_alike =
            bundle.setups.iter().any(|there| there.id != setup.id && there.airframe == setup.airframe);
        assert_eq!(airframe(other) == airframe(own), has_alike);
    }
    let mut alone = bundle.clone();
    alone.setups.truncate(1);
    assert_eq!(begin_with(&alone, &alone.setups[0].id).len(), 1);
    assert!(begin_with(&alone, "gone").is_empty());
}
