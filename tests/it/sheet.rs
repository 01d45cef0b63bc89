//! The producer's table: the card's own figures, sorted, and as CSV by an independent reader.

use liftmargin_core::card::Prepared;
use liftmargin_core::spread::Uncertainty;
use liftmargin_document::card_report::{SAMPLES, SEED, report};
use liftmargin_document::model::{Bundle, Pack, PackRef};
use liftmargin_document::open_strict;
use liftmargin_document::present::{Choice, DecimalMark, Unit, Units};
use liftmargin_document::resolve::resolve_airframe;
use liftmargin_document::sheet::{self, Column, Row, RowReport, SheetInputs, pack_sets, places, sort};

fn demo() -> Bundle {
    open_strict(include_str!("../../demo-data/mountain-road.json")).expect("demo")
}

fn inputs(bundle: &Bundle, setup: &str, site: &str) -> SheetInputs {
    SheetInputs::new(&mut bundle.clone(), setup, site, |airframe| Ok(resolve_airframe(airframe)?.airframe))
        .expect("whole")
}

fn table(bundle: &Bundle, sites: &[&str]) -> Vec<Row> {
    let setups: Vec<String> = bundle.setups.iter().map(|setup| setup.id.clone()).collect();
    let sites: Vec<String> = sites.iter().map(|id| (*id).to_owned()).collect();
    places(bundle, &setups, &sites)
        .into_iter()
        .map(|(setup, site)| {
            let mut row = Row::new(bundle, &setup, &site);
            row.work_out(&inputs(bundle, &setup, &site), Units::default()).expect("whole");
            row
        })
        .collect()
}

/// The minutes and the verdict are the card's, at the setup's own site and at another one.
#[test]
fn prop_each_row_is_the_card_there() {
    let bundle = demo();
    let rows = table(&bundle, &["pass", "base"]);
    assert_eq!(rows.len(), 2 * bundle.setups.len());
    for site in ["pass", "base"] {
        let mut there = bundle.clone();
        there.setups.iter_mut().for_each(|setup| site.clone_into(&mut setup.site));
        for card in report(&there).expect("cards") {
            let row = rows.iter().find(|row| row.setup == card.setup && row.site == site).expect("a row");
            let row = RowReport::from(row);
            assert_eq!(row.verdict, card.verdict);
            assert_eq!(row.flight_time_s, card.flight_time_s);
            assert_eq!(row.all_up_mass_kg, Some(card.all_up_mass_kg));
            let cautious =
                card.cautious_flight_time_s.map(|time_s| time_s.min(card.flight_time_s.unwrap_or(0.0)));
            assert_eq!(row.cautious_flight_time_s, cautious);
        }
    }
}

#[test]
fn prop_the_wind_is_the_one_in_which_all_margins_are_kept() {
    let bundle = demo();
    for row in table(&bundle, &[]) {
        let inputs = inputs(&bundle, &row.setup, &row.site);
        let at = Prepared::new(&inputs.setup, &inputs.site, &inputs.thresholds).expect("inside");
        let uncertainty = Uncertainty::for_airframe(&inputs.setup.airframe);
        let found = at.greatest_wind(&uncertainty, SEED, SAMPLES).expect("inside");
        assert_eq!(row.figures.expect("worked out").wind, found);
    }
}

/// Of a sort of pack that the register does not know nothing is said; packs that are no longer flown do not count.
#[test]
fn regress_pack_sets_by_the_register() {
    let mut bundle = demo();
    bundle.packs.clear();
    let setup = bundle.setups[0].clone();
    assert_eq!(pack_sets(&bundle, &setup), None);
    let packs: Vec<&PackRef> = setup.supply.strings.iter().flat_map(|string| &string.packs).collect();
    for number in 0..=2 * packs.len() {
        bundle.packs.push(Pack {
            id: format!("p{number}"),
            name: format!("P{number}"),
            pack_type: packs[0].id().to_owned(),
            ..Pack::default()
        });
    }
    assert_eq!(pack_sets(&bundle, &setup), Some(2));
    bundle.packs[0].retired = true;
    bundle.packs[1].retired = true;
    assert_eq!(pack_sets(&bundle, &setup), Some(1));
    let rows = table(&bundle, &[]);
    let (all, one) = (rows[0].all_sets().expect("known"), rows[0].cautious().expect("flies"));
    assert_eq!(all, one * 1.0);
    assert!(rows[0].cell(Column::AllSets, Units::default()).ends_with("(1 set)"));
}

#[test]
fn prop_sorted_by_any_column_either_way() {
    let rows = table(&demo(), &["pass", "base"]);
    for column in Column::ALL {
        let (mut up, mut down) = (rows.clone(), rows.clone());
        sort(&mut up, column, false);
        sort(&mut down, column, true);
        let key = |row: &Row| match column {
            Column::Cautious => row.cautious().map(|time| time.value),
            Column::Mass => row.figures.as_ref().map(|figures| figures.all_up_mass.value),
            Column::Wind => row.figures.as_ref()?.wind.map(|wind| wind.mean.value),
            _ => Some(0.0),
        };
        let in_order = |rows: &[Row], sign: f64| {
            rows.windows(2).all(|two| match (key(&two[0]), key(&two[1])) {
                (Some(a), Some(b)) => (b - a) * sign >= 0.0,
                (None, Some(_)) => false,
                _ => true,
            })
        };
        assert!(in_order(&up, 1.0) && in_order(&down, -1.0), "{column:?}");
        let names = |rows: &[Row]| {
            let mut names: Vec<String> =
                rows.iter().map(|row| format!("{} {}", row.setup, row.site)).collect();
            names.sort();
            names
        };
        assert_eq!(names(&up), names(&rows), "none lost");
    }
}

/// RFC 4180 by the `csv` crate's reader, which is not the writer's sibling in what it forgives: see the browser's test for
/// another reader.
#[test]
fn prop_csv_gives_the_table_back() {
    let mut bundle = demo();
    bundle.setups[0].name = "=SUM(A1); \"two, three\"".to_owned();
    let rows = table(&bundle, &["pass", "base"]);
    let comma = Units::default().with_decimal_mark(DecimalMark::Comma);
    let pounds = Units::us().with(Choice::Speed, Unit::Knot).expect("a unit of speed");
    for (units, delimiter) in [(Units::default(), b','), (comma, b';'), (pounds, b',')] {
        let text = sheet::csv(&rows, units);
        assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
        let text = text.strip_prefix('\u{feff}').expect("a byte-order mark");
        let mut reader = csv_reader(text, delimiter);
        let header = reader.headers().expect("a header").clone();
        assert!(header.iter().any(|name| name == "In the air, cautious (min)"), "{header:?}");
        assert!(
            header.iter().any(|name| name == format!("All-up weight ({})", units.get(Choice::Mass).symbol()))
        );
        let read: Vec<_> = reader.records().map(|record| record.expect("a record")).collect();
        assert_eq!(read.len(), rows.len());
        for (record, row) in read.iter().zip(&rows) {
            assert_eq!(record.len(), header.len());
            let name = if row.setup == "bend-follow" { "'=SUM(A1); \"two, three\"" } else { &row.setup_name };
            assert_eq!(&record[0], name);
            let minutes: f64 = record[3].replace(',', ".").parse().expect("a number");
            let seconds = row.cautious().expect("flies").value;
            assert!(minutes * 60.0 <= seconds && minutes * 60.0 > seconds - 11.0, "{minutes} {seconds}");
            assert_eq!(record[3].contains(','), delimiter == b';');
        }
    }
}

fn csv_reader(text: &str, delimiter: u8) -> csv::Reader<&[u8]> {
    csv::ReaderBuilder::new().delimiter(delimiter).flexible(false).from_reader(text.as_bytes())
}
