//! Cells, leads, and rotors stopped.

use liftmargin_core::frame::{LayoutKind, Position, layout, level_hold, stopped};
use liftmargin_core::supply::lead_resistance;
use liftmargin_core::units::{Length, ThermodynamicTemperature};
use liftmargin_document::probe::answers;
use serde_json::{Value, json};
use uom::si::length::{foot, meter};
use uom::si::thermodynamic_temperature::degree_celsius;

use super::{Line, Pair, Standing};
use crate::table::Table;

const SLOW: (&str, f64) = ("constant_power/power_17_0_W.csv", 17.0);
const FAST: (&str, f64) = ("constant_power/power_25_6_W.csv", 25.6);
/// Capacity of the Ai et al. 2020 cell by its own electrode balance (reference table).
const AI2020_C: f64 = 2.4663 * 3600.0;
const FLOOR_V: f64 = 3.3;

pub fn lines() -> Vec<Line> {
    let mut all = cells();
    all.push(leads());
    all.extend(rotor_out());
    all
}

fn cells() -> Vec<Line> {
    let line = |quantity, sample, tolerance, pairs| Line {
        what: "packs",
        quantity,
        source: "PyBaMM DFN runs, Ai et al. 2020",
        sample,
        tolerance,
        pairs,
    };
    vec![
        line(
            "charge to 3.3 V at the power learned from, mAh",
            Standing::InSample,
            0.02,
            vec![delivered(SLOW, SLOW), delivered(FAST, FAST)],
        ),
        line(
            "charge to 3.3 V at another power than learned from, mAh",
            Standing::InSample,
            0.03,
            vec![delivered(SLOW, FAST), delivered(FAST, SLOW)],
        ),
        between(),
    ]
}

/// Learned from one run, flown as the other.
fn delivered(from: (&str, f64), flown: (&str, f64)) -> Pair {
    let table = Table::read(from.0);
    let points: Vec<Value> = table.rows().map(|row| point(&row)).collect();
    let question = json!([{
        "question": "cell", "chemistry": "lithium-polymer", "capacity_c": AI2020_C,
        "runs": [{"start_state_of_charge": 1.0, "points": points}],
        "flown": {"power_w": flown.1, "loaded_cell_floor_v": FLOOR_V},
    }]);
    Pair { theirs: charge_at(&Table::read(flown.0), None, FLOOR_V), ours: delivered_mah(&question) }
}

fn delivered_mah(question: &Value) -> f64 {
    let answer = answers(&question.to_string()).expect("a list").remove(0);
    answer["delivered_c"].as_f64().unwrap_or_else(|| panic!("{answer}")) / 3.6
}

/// Two of a cell's runs learned together, flown at powers between; these made no constant.
fn between() -> Line {
    /// Name, chemistry, Ah, floor; learned from, flown.
    type Asked = (&'static str, &'static str, f64, f64, [f64; 2], [f64; 2]);
    const ASKED: [Asked; 3] = [
        ("okane2022", "lithium-ion-cylindrical", 5.1099, 3.0, [9.25, 27.75], [13.88, 23.12]),
        ("mohtat2020", "lithium-polymer", 4.96913, 3.3, [18.5, 55.5], [27.75, 46.25]),
        ("ramadass2004", "lithium-polymer", 1.775, 3.3, [3.7, 11.1], [5.55, 9.25]),
    ];
    let mut pairs = Vec::new();
    for (name, chemistry, capacity_ah, floor_v, learned, flown) in ASKED {
        let table = Table::read(&format!("cell_rates/{name}.csv"));
        let runs = learned.map(|power_w| {
            let points: Vec<Value> = rows_at(&table, Some(power_w)).map(|row| point(&row)).collect();
            json!({"start_state_of_charge": 1.0, "points": points})
        });
        for power_w in flown {
            let question = json!([{
                "question": "cell", "chemistry": chemistry, "capacity_c": capacity_ah * 3600.0, "runs": runs,
                "flown": {"power_w": power_w, "loaded_cell_floor_v": floor_v},
            }]);
            let theirs = charge_at(&table, Some(power_w), floor_v);
            pairs.push(Pair { theirs, ours: delivered_mah(&question) });
        }
    }
    Line {
        what: "packs",
        quantity: "charge to the floor between two powers learned together, mAh",
        source: "PyBaMM DFN runs, three cells",
        sample: Standing::HeldOut,
        tolerance: 0.03,
        pairs,
    }
}

fn point(row: &crate::table::Row<'_>) -> Value {
    json!({"time_s": row.number("time_s"), "current_a": row.number("current_A"), "voltage_v": row.number("voltage_V")})
}

/// Rows of one power; of a table of one run all.
fn rows_at(table: &Table, power_w: Option<f64>) -> impl Iterator<Item = crate::table::Row<'_>> {
    table
        .rows()
        .filter(move |row| power_w.is_none_or(|power_w| (row.number("power_W") - power_w).abs() < 1e-6))
}

/// Delivered charge where the run passes a voltage, straight between its rows.
fn charge_at(table: &Table, power_w: Option<f64>, floor_v: f64) -> f64 {
    let row = |row: crate::table::Row<'_>| (row.number("voltage_V"), row.number("delivered_mAh"));
    let rows: Vec<(f64, f64)> = rows_at(table, power_w).map(row).collect();
    let pair = rows.windows(2).find(|pair| pair[1].0 < floor_v).expect("passes the floor");
    let share = (pair[0].0 - floor_v) / (pair[0].0 - pair[1].0);
    pair[0].1 + share * (pair[1].1 - pair[0].1)
}

fn leads() -> Line {
    let at = ThermodynamicTemperature::new::<degree_celsius>(20.0);
    let pairs = [(12, 1.588), (13, 2.003), (14, 2.525)].map(|(gauge, theirs)| {
        let ten_feet = lead_resistance(gauge, Length::new::<foot>(10.0), at).expect("in range");
        Pair { theirs, ours: 100.0 * ten_feet.value }
    });
    Line {
        what: "leads",
        quantity: "copper, Ω per 1,000 ft",
        source: "wire table (NBS Handbook 100)",
        sample: Standing::Exact,
        tolerance: 2e-3,
        pairs: pairs.to_vec(),
    }
}

/// The named layouts, centre of gravity off too.
fn rotor_out() -> Vec<Line> {
    let [mut turning, mut heading] = [Vec::new(), Vec::new()];
    for row in Table::read("rotor_out/all_layouts.csv").rows() {
        let Some(kind) = LayoutKind::from_key(row.text("layout")) else { continue };
        let metres = Length::new::<meter>;
        let frame = layout(kind, metres(1.0), metres(0.2)).expect("in range");
        let at = Position {
            forward: metres(row.number("forward_over_arm")),
            right: metres(row.number("right_over_arm")),
            down: metres(0.0),
        };
        let failed: Vec<usize> = row.text("failed").parse().into_iter().collect();
        let hold = level_hold(&frame, &at, &stopped(&frame, &failed)).expect("in range");
        turning.push(Pair { theirs: row.number("turning"), ours: hold.greatest_turning.value });
        heading.push(Pair { theirs: row.number("heading_held"), ours: hold.greatest_heading_held.value });
    }
    let line = |quantity, pairs| Line {
        what: "rotor out",
        quantity,
        source: "linear program by HiGHS (scipy)",
        sample: Standing::Exact,
        tolerance: 2e-6,
        pairs,
    };
    vec![
        line("greatest level thrust, turning", turning),
        line("greatest level thrust, heading held", heading),
    ]
}
