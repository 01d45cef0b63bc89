//! Units, typed numbers, safe rounding and words: what people type and read.

use liftmargin_core::air::Site;
use liftmargin_core::card::Airframe as CoreAirframe;
use liftmargin_core::cell::CellParams;
use liftmargin_core::input_range::InputRange;
use liftmargin_core::mass::Item;
use liftmargin_core::profile::Profile;
use liftmargin_core::rotor::RotorParams;
use liftmargin_core::supply::Pack;
use liftmargin_core::units::{ElectricCharge, Length, Mass, Ratio, Time};
use liftmargin_document::model::numbers::ITEM_MASS;
use liftmargin_document::present::number::{read, write_trimmed};
use liftmargin_document::present::two_readings;
use liftmargin_document::present::{
    Choice, DecimalMark, Draft, EntryFault, Unit, Units, answer, entry, ticks,
};
use liftmargin_document::words::labels;
use proptest::prelude::*;
use uom::si::{electric_charge::milliampere_hour, length::meter, mass::kilogram, ratio::ratio, time::second};

#[track_caller]
fn check_parse(text: &str, range: &'static InputRange, units: Units, want: Result<f64, EntryFault>) {
    let got = entry::parse(text, range, units);
    match (got, want) {
        (Ok(got), Ok(want)) => {
            // The unit tables have 7 digits: up to 1e-7 relative.
            assert!((got - want).abs() <= 1e-7 * want.abs().max(1.0), "{text:?}: {got}, wanted {want}");
        }
        (got, want) => assert_eq!(got, want, "{text:?}"),
    }
}

static MASS: InputRange = Item::MASS;
static TEMPERATURE: InputRange = Site::TEMPERATURE;
static QNH: InputRange = Site::QNH;
static WIND: InputRange = Site::WIND;
static ELEVATION: InputRange = Site::ELEVATION;
static DISTANCE: InputRange = Profile::DISTANCE;
static CAPACITY: InputRange = CellParams::CAPACITY;
static ROTOR: InputRange = RotorParams::DIAMETER;
static AREA: InputRange = CoreAirframe::DRAG_AREA;
static CELLS: InputRange = Pack::CELLS_IN_SERIES;

/// Source: NIST Special Publication 811 (2008), appendix B.8 (from memory): lb 0.453 592 37 kg, ft 0.3048 m,
/// inHg 3.386 389 kPa, kn 0.514 444 m/s, mph 0.447 04 m/s, °F to K (t + 459.67) / 1.8.
#[test]
fn val_nist_sp_811_units_on_entry() {
    let (metric, us) = (Units::metric(), Units::us());
    let knots = us.with(Choice::Speed, Unit::Knot).unwrap_or_default();
    for (text, range, units, want) in [
        ("1.4", &MASS, metric, 1.4),
        ("10", &MASS, us, 4.535_923_7),
        ("21", &TEMPERATURE, metric, 294.15),
        ("50", &TEMPERATURE, us, 283.15),
        ("29.92", &QNH, us, 101_320.758_88),
        ("1013.25", &QNH, metric, 101_325.0),
        ("36", &WIND, metric, 10.0),
        ("10", &WIND, us, 4.4704),
        ("18", &WIND, knots, 9.26),
        ("1000", &ELEVATION, us, 304.8),
        ("16000", &CAPACITY, metric, 57_600.0),
    ] {
        check_parse(text, range, units, Ok(want));
    }
}

/// A unit typed behind the number counts, whatever unit the field shows. Source as above; 1 in = 25.4 mm.
#[test]
fn val_nist_sp_811_units_typed_behind() {
    let (metric, us) = (Units::metric(), Units::us());
    for (text, range, units, want) in [
        ("26 in", &ROTOR, metric, 0.6604),
        ("26\"", &ROTOR, us, 0.6604),
        ("66,04 cm", &ROTOR, us, 0.6604),
        ("9 m/s", &WIND, metric, 9.0),
        ("9m/s", &WIND, us, 9.0),
        ("10 kt", &WIND, metric, 5.144_444_4),
        ("16 Ah", &CAPACITY, metric, 57_600.0),
        ("16000mAh", &CAPACITY, us, 57_600.0),
        ("850 g", &MASS, us, 0.85),
        ("10 lb", &MASS, metric, 4.535_923_7),
        ("50 °F", &TEMPERATURE, metric, 283.15),
        ("10 C", &TEMPERATURE, us, 283.15),
        ("29.92 inHg", &QNH, metric, 101_320.758_88),
        ("1 km", &ELEVATION, us, 1000.0),
        ("0.05 m2", &AREA, metric, 0.05),
    ] {
        check_parse(text, range, units, Ok(want));
    }
    for (text, range) in [("9 kg", &WIND), ("9 xyz", &MASS), ("9 Ah", &MASS), ("in", &ROTOR)] {
        check_parse(text, range, metric, Err(EntryFault::NotANumber));
    }
}

#[test]
fn regress_what_people_type() {
    for (text, want) in [
        ("1,4", Ok(1.4)),
        (" +1.4 ", Ok(1.4)),
        ("1.4 kg", Ok(1.4)),
        (".5", Ok(0.5)),
        ("1.250", Ok(1.25)),
        ("0", Ok(0.0)),
        ("\u{2212}0", Ok(0.0)),
        ("", Err(EntryFault::Empty)),
        ("  ", Err(EntryFault::Empty)),
        ("abc", Err(EntryFault::NotANumber)),
        ("1.2.3", Err(EntryFault::NotANumber)),
        ("1 2", Err(EntryFault::NotANumber)),
        ("--1", Err(EntryFault::NotANumber)),
        ("-", Err(EntryFault::NotANumber)),
        (",", Err(EntryFault::NotANumber)),
        ("NaN", Err(EntryFault::NotANumber)),
        ("inf", Err(EntryFault::NotANumber)),
        ("1e-", Err(EntryFault::NotANumber)),
        ("1e", Err(EntryFault::NotANumber)),
        ("1,234.5", Err(EntryFault::TwoMarks)),
        ("1.234.567", Err(EntryFault::TwoMarks)),
        ("-1", Err(EntryFault::OutOfRange { range: &MASS })),
        ("\u{2212}1,5", Err(EntryFault::OutOfRange { range: &MASS })),
        ("1e9", Err(EntryFault::OutOfRange { range: &MASS })),
        ("1e999", Err(EntryFault::OutOfRange { range: &MASS })),
        ("60.001", Err(EntryFault::OutOfRange { range: &MASS })),
    ] {
        check_parse(text, &MASS, Units::metric(), want);
    }
    for (text, range, want) in [
        ("16\u{202f}000", &CAPACITY, Ok(57_600.0)),
        ("16 000", &CAPACITY, Ok(57_600.0)),
        ("16\u{2019}000", &CAPACITY, Ok(57_600.0)),
        // Only one reading lies in the range: no question.
        ("16,000", &CAPACITY, Ok(57_600.0)),
        ("1,234", &MASS, Ok(1.234)),
        ("2.200", &ELEVATION, Err(EntryFault::ThousandsOrDecimals { thousands: 2200.0, decimals: 2.2 })),
        ("1,200", &DISTANCE, Err(EntryFault::ThousandsOrDecimals { thousands: 1200.0, decimals: 1.2 })),
        ("0,200", &DISTANCE, Ok(0.2)),
        ("6", &CELLS, Ok(6.0)),
        ("6.5", &CELLS, Err(EntryFault::NotWhole)),
        ("-40", &TEMPERATURE, Ok(233.15)),
        ("55", &TEMPERATURE, Ok(328.15)),
    ] {
        check_parse(text, range, Units::metric(), want);
    }
}

#[test]
fn regress_words_beside_the_field() {
    let (metric, us) = (Units::metric(), Units::us());
    let comma = metric.with_decimal_mark(DecimalMark::Comma);
    for (fault, range, units, want) in [
        (EntryFault::OutOfRange { range: &MASS }, &MASS, metric, "Mass must be between 0 and 60\u{a0}kg."),
        // 60 kg is 132.277 lb and a little more: the words round inward, so what they allow is taken.
        (EntryFault::OutOfRange { range: &MASS }, &MASS, us, "Mass must be between 0 and 132.277\u{a0}lb."),
        (EntryFault::Empty, &MASS, metric, "Mass is needed: between 0 and 60\u{a0}kg."),
        (EntryFault::NotANumber, &CELLS, metric, "Cells in series takes a number, between 1 and 16."),
        (
            EntryFault::OutOfRange { range: &TEMPERATURE },
            &TEMPERATURE,
            metric,
            "Outside air temperature must be between \u{2212}40 and 55\u{a0}°C.",
        ),
        (
            EntryFault::OutOfRange { range: &WIND },
            &WIND,
            comma,
            "Mean wind must be between 0 and 108\u{a0}km/h.",
        ),
    ] {
        assert_eq!(fault.words(range, units), want);
    }
}

/// Each side a rounding could be unsafe on, at and beside the step.
#[test]
fn regress_answers_round_to_the_safe_side() {
    let units = Units::metric();
    let time = |s: f64| answer::time(Time::new::<second>(s));
    let charge = |mah: f64| answer::charge(ElectricCharge::new::<milliampere_hour>(mah), units).to_string();
    let share = |x: f64| Ratio::new::<ratio>(x);
    for (got, want) in [
        (time(589.9), "9\u{a0}min 40\u{a0}s"),
        (time(590.0), "9\u{a0}min 50\u{a0}s"),
        (time(600.0), "10\u{a0}min"),
        (time(9.9), "0\u{a0}s"),
        (answer::clock(Time::new::<second>(589.9)), "9:40"),
        (charge(15_399.9), "15\u{202f}350\u{a0}mAh"),
        (charge(15_400.0), "15\u{202f}400\u{a0}mAh"),
        (charge(4_999.0), "4950\u{a0}mAh"),
        (answer::thrust_to_weight(share(1.999), units).number, "1.9"),
        (answer::thrust_to_weight(share(2.0), units).number, "2.0"),
        (answer::throttle(share(0.601), units).number, "61"),
        (answer::margin(share(0.199), units).number, "19"),
        (answer::margin(share(-0.001), units).number, "\u{2212}1"),
        (answer::mass(Mass::new::<kilogram>(24.801), units).number, "24.81"),
        (answer::mass(Mass::new::<kilogram>(24.8), units).number, "24.80"),
        (answer::density_altitude(Length::new::<meter>(2_741.0), units).number, "2750"),
        (answer::density_altitude(Length::new::<meter>(-12.0), units).number, "\u{2212}10"),
        (
            answer::time_change(Time::new::<second>(589.0), Time::new::<second>(501.0)),
            "\u{2212}1\u{a0}min 20\u{a0}s",
        ),
        (answer::time_change(Time::new::<second>(589.0), Time::new::<second>(581.0)), "no change"),
    ] {
        assert_eq!(got, want);
    }
}

#[test]
fn regress_no_number_is_a_row_of_zeros() {
    for (number, want) in [
        (1e308, "1e308"),
        (-1.5e300, "\u{2212}1,5e300"),
        (2e15, "2e15"),
        (999_999_999_999_999.0, "999\u{202f}999\u{202f}999\u{202f}999\u{202f}999"),
    ] {
        let text = write_trimmed(number, 3, DecimalMark::Comma);
        assert_eq!(text, want);
        assert_eq!(read(&text).expect("it is read again").to_bits(), number.to_bits(), "{text}");
    }
}

#[test]
fn regress_a_draft_keeps_wrong_text_and_the_value_from_before() {
    let units = Units::metric();
    let mut draft = Draft::new(&ITEM_MASS.number, Some(1.4), units);
    assert_eq!(draft.text(), "1.4");
    assert_eq!(draft.typed("1.", units), Some(Some(1.0)));
    assert_eq!(draft.text(), "1.", "not rewritten under the cursor");
    draft.from_outside(Some(1.0), units);
    assert_eq!(draft.text(), "1.", "its own echo is no news");
    assert_eq!(
        draft.typed("1.x", units),
        Some(Some(1.4)),
        "what was on the way to a wrong text is not meant"
    );
    assert_eq!(draft.good(), Some(1.4));
    draft.settle(units);
    assert_eq!(draft.text(), "1.x", "wrong text stays to be mended");
    let message = draft.message(units).unwrap_or_default();
    assert_eq!(message, "Mass takes a number, between 0 and 60\u{a0}kg. Still counting with 1.4\u{a0}kg.");
    draft.from_outside(Some(2.5), units);
    assert_eq!((draft.text(), draft.fault()), ("2.5", None), "undo or another setup replaces it");
    draft.settle(Units::us());
    assert_eq!(draft.text(), "5.512");
    assert_eq!(draft.good(), Some(2.5), "a change of units changes no value");
}

#[test]
fn regress_units_survive_saving_and_refuse_a_wrong_one() {
    let us = Units::us();
    let mut kept = us.write();
    assert_eq!(Units::read(&kept), Some(us));
    kept["mass"] = "ft".into();
    assert_eq!(Units::read(&kept), None);
    assert_eq!(us.with(Choice::Mass, Unit::Foot), None);
}

/// Every bound that core declares, found in its source, has a name and a line of help.
#[test]
fn every_bound_of_core_has_a_label() {
    let core = concat!(env!("CARGO_MANIFEST_DIR"), "/../src/core/src");
    let document = concat!(env!("CARGO_MANIFEST_DIR"), "/../src/document/src");
    let mut fields = declared_fields(std::path::Path::new(core));
    fields.extend(declared_fields(std::path::Path::new(document)));
    assert!(fields.len() > 40, "found only {}", fields.len());
    let nameless: Vec<_> = fields.iter().filter(|field| !labels::is_known(field)).collect();
    assert!(nameless.is_empty(), "no label for {nameless:?}");
}

fn declared_fields(folder: &std::path::Path) -> Vec<String> {
    let mut fields = Vec::new();
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            fields.extend(declared_fields(&path));
        } else {
            let text = std::fs::read_to_string(&path).unwrap_or_default();
            let calls = text.split("InputRange::new(").skip(1);
            fields.extend(
                calls.filter_map(|rest| {
                    rest.trim_start().strip_prefix('"')?.split('"').next().map(String::from)
                }),
            );
        }
    }
    fields
}

#[test]
fn regress_ticks_are_round() {
    for (low, high, intervals, want) in [
        (0.0, 9.7, 5, vec![0.0, 2.0, 4.0, 6.0, 8.0, 10.0]),
        (38.4, 50.1, 4, vec![35.0, 40.0, 45.0, 50.0, 55.0]),
        (0.0, 15_350.0, 4, vec![0.0, 5_000.0, 10_000.0, 15_000.0, 20_000.0]),
        (-0.3, 0.4, 4, vec![-0.4, -0.2, 0.0, 0.2, 0.4]),
        (3.0, 3.0, 4, vec![3.0, 4.0, 5.0, 6.0]),
    ] {
        let axis = ticks::axis(low, high, intervals);
        let same = axis.ticks.len() == want.len()
            && axis
                .ticks
                .iter()
                .zip(&want)
                .all(|(a, b): (&f64, &f64)| (a - b).abs() < 1e-9 * high.abs().max(1.0));
        assert!(same, "{low}..{high}: {:?}, wanted {want:?}", axis.ticks);
    }
}

proptest! {
    #[test]
    fn prop_shown_value_is_taken_back(share in 0.0..=1.0, pick in 0_usize..8, is_us: bool, comma: bool) {
        let bounds = [&MASS, &TEMPERATURE, &QNH, &WIND, &ELEVATION, &DISTANCE, &CAPACITY, &CELLS];
        let range = bounds[pick];
        let units = if is_us { Units::us() } else { Units::metric() };
        let units = units.with_decimal_mark(if comma { DecimalMark::Comma } else { DecimalMark::Point });
        let unit = units.of(range);
        // What somebody typed and had accepted: a value with no more decimals than the field keeps.
        let shown = unit.from_si(range.min + share * (range.max - range.min));
        let scale = 10_f64.powi(i32::from(unit.decimals()));
        let typed = (shown * scale).round() / scale;
        let Ok(value) = entry::parse(&typed.to_string(), range, units) else { return Ok(()) };
        let text = entry::show(value, range, units);
        let again = entry::parse(&text, range, units);
        prop_assert!(again.is_ok(), "{text}: {again:?}");
        let back = again.unwrap_or(f64::NAN);
        // One part in 1e9: two unit conversions.
        prop_assert!((back - value).abs() <= 1e-9 * value.abs().max(1e-3), "{value} -> {text} -> {back}");
    }

    #[test]
    fn prop_typing_anything_never_panics_nor_leaves_the_range(text in ".{0,12}") {
        for range in [&MASS, &TEMPERATURE, &CAPACITY] {
            if let Ok(value) = entry::parse(&text, range, Units::us()) {
                prop_assert!(value >= range.min && value <= range.max);
            }
        }
    }

    #[test]
    fn prop_ticks_hold_both_ends(low in -1e6..1e6, span in 0.0..1e6, intervals in 1_usize..9) {
        let axis = ticks::axis(low, low + span, intervals);
        let slack = 1e-6 * axis.step;
        prop_assert!(axis.low <= low + slack && axis.high >= low + span - slack);
        prop_assert!(axis.ticks.len() >= 2 && axis.ticks.len() <= intervals + 3);
    }

    #[test]
    fn prop_safe_rounding_never_promises_more(seconds in 0.0..4000.0, mah in 0.0..90_000.0) {
        prop_assert!(answer::whole_seconds(Time::new::<second>(seconds)) as f64 <= seconds + 1e-6);
        let shown = answer::whole_mah(ElectricCharge::new::<milliampere_hour>(mah)) as f64;
        prop_assert!(shown <= mah + 1e-5 && shown > mah - 50.01);
    }
}

#[test]
fn val_ohms_law_two_readings_tell_a_cells_resistance() {
    // 48.0 V at 40 A, 45.6 V at 120 A over 12 cells: 2.4 V / 80 A / 12 = 2.5 mΩ, by hand.
    let found = two_readings::cell_resistance([48.0, 40.0, 45.6, 120.0], 12).expect("good readings");
    assert!((found.resistance.value - 2.5e-3).abs() < 1e-9);
    // A tenth of a volt in 2.4 and the charge between: some 5 %.
    assert!((0.05..0.06).contains(&found.spread.value), "{:?}", found.spread);
    let close = two_readings::cell_resistance([48.0, 40.0, 47.95, 41.0], 12);
    assert!(close.is_err(), "readings that hardly differ say nothing");
}
