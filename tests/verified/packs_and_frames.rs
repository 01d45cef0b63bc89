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
            Standing::HeldOut,
            0.15,
            vec![delivered(SLOW, FAST), delivered(FAST, SLOW)],
        ),
    ]
}

/// Learned from one run, flown as the other.
fn delivered(from: (&str, f64), flown: (&str, f64)) -> Pair {
    let table = Table::read(from.0);
    let point = |row: crate::table::Row<'_>| json!({"time_s": row.number("time_s"), "current_a": row.number("current_A"), "voltage_v": row.number("voltage_V")});
    let points: Vec<Value> = table.rows().map(point).collect();
    let question = json!([{
        "question": "cell", "chemistry": "lithium-polymer", "capacity_c": AI2020_C,
        "runs": [{"start_state_of_charge": 1.0, "points": points}],
        "flown": {"power_w": flown.1, "loaded_cell_floor_v": FLOOR_V},
    }]);
    let answer = answers(&question.to_string()).expect("a list").remove(0);
    let ours = answer["delivered_c"].as_f64().unwrap_or_else(|| panic!("{answer}")) / 3.6;
    Pair { theirs: charge_at_floor(flown.0), ours }
}

/// Delivered charge where the run passes the floor, straight between its rows.
fn charge_at_floor(name: &str) -> f64 {
    let table = Table::read(name);
    let rows: Vec<(f64, f64)> =
        table.rows().map(|row| (row.number("voltage_V"), row.number("delivered_mAh"))).collect();
    let pair = rows.windows(2).find(|pair| pair[1].0 < FLOOR_V).expect("passes the floor");
    let share = (pair[0].0 - FLOOR_V) / (pair[0].0 - pair[1].0);
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
