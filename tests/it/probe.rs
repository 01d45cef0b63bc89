//! Questions to the physics as the `probe` example answers them: the sample beside it, and what is refused.

use liftmargin_document::probe::answers;
use serde_json::{Value, json};

use crate::table::Table;

const SAMPLE: &str = include_str!("../../src/document/examples/probe.json");

fn number(answer: &Value, path: &str) -> f64 {
    answer.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("no {path} in {answer}"))
}

/// The sample's answers, one a question.
fn sample() -> Vec<Value> {
    let answers = answers(SAMPLE).expect("a list");
    assert_eq!(answers.len(), 7);
    answers
}

/// tests/references/rotor28: the estimate of the 28-inch rotor at 50 N within its own spreads of the measured rotor.
#[test]
fn val_giljarhus_unit_by_probe() {
    let answer = &sample()[0];
    let table = Table::read("rotor28/single.csv");
    let far = |row: &crate::table::Row<'_>| (row.number("thrust_n") - 50.0).abs();
    let row = table.rows().min_by(|a, b| far(a).total_cmp(&far(b))).expect("rows");
    // To 50 N from the nearest row by T ~ ω², P ~ ω³.
    let to = (50.0 / row.number("thrust_n")).sqrt();
    let speed = row.number("speed_rpm") * core::f64::consts::TAU / 60.0 * to;
    for (figure, measured) in
        [("rotor_speed_rad_s", speed), ("shaft_power_w", row.number("shaft_power_w") * to.powi(3))]
    {
        let spread = number(answer, &format!("/{figure}/spread"));
        let miss = (number(answer, &format!("/{figure}/value")) / measured).ln();
        assert!(miss.abs() <= spread, "{figure}: {miss:+.3} of {spread:.3}");
    }
    assert_eq!(answer["evidence"], "estimate");
}

/// tests/references/bench: its rows as questions come back as measured; the figure of each with a spread.
#[test]
fn val_bench_unit_by_probe() {
    let questions: Vec<Value> = serde_json::from_str(SAMPLE).expect("JSON");
    let answer = &sample()[1];
    let rows = questions[1]["bench"]["rows"].as_array().expect("rows");
    let row = rows.iter().find(|row| row["thrust_n"] == questions[1]["thrust_n"]).expect("the row asked for");
    let near = |figure: &str, measured: f64, most: f64| {
        let miss = number(answer, &format!("/{figure}/value")) / measured - 1.0;
        assert!(miss.abs() < most, "{figure}: {miss:+.4}");
        assert!(number(answer, &format!("/{figure}/spread")) > 0.0, "{figure}");
    };
    near("bus_power_w", number(row, "/voltage_v") * number(row, "/current_a"), 0.02);
    near("rotor_speed_rad_s", number(row, "/rotor_speed_rad_s"), 0.02);
    near("greatest_thrust_n", number(rows.last().expect("rows"), "/thrust_n"), 0.03);
    assert_eq!(answer["evidence"], "bench");
}

#[test]
fn val_linear_program_layout_by_probe() {
    let answers = sample();
    // A flat hex with alternating spins and a rotor stopped: two thirds turning, by tests/references/rotor_out, none with
    // heading held.
    let hex = &answers[3];
    let table = Table::read("rotor_out/all_layouts.csv");
    let row = table
        .rows()
        .find(|row| {
            row.text("layout") == "hex-cross"
                && row.number("failed") == 0.0
                && row.number("forward_over_arm") == 0.0
                && row.number("right_over_arm") == 0.0
        })
        .expect("the hex");
    assert!((number(hex, "/greatest_turning") - row.number("turning")).abs() < 2e-6, "{hex}");
    assert!((number(hex, "/greatest_heading_held") - row.number("heading_held")).abs() < 2e-6, "{hex}");
    assert_ne!(hex["capability"], "holds-level-and-heading");
    assert_eq!(answers[4]["capability"], "holds-level-and-heading");
}

/// The measured pair's 1.20 to 1.40 holds what a pair asks over two alone; the cell learned at 17 W gives the charge to 3.3 V
/// of the run that it was learned from (tests/references/constant_power: 1,959 mAh) within 1 %.
#[test]
fn val_pair_and_cell_by_probe() {
    let answers = sample();
    assert!((1.20..1.40).contains(&number(&answers[2], "/shaft_power_over_two_alone")));
    let delivered = number(&answers[5], "/delivered_c") / 3.6;
    assert!((delivered / 1959.0 - 1.0).abs() < 0.01, "{delivered} mAh");
}

/// A question that is refused has the error in its place, the others their answers.
#[test]
fn refused_questions_are_named_in_their_place() {
    let refused = &sample()[6];
    assert_eq!(refused["field"], "[6].rotor_thrust", "{refused}");
    assert_eq!(refused["value"], -1.0);
    for (question, field) in [
        (json!({}), "[0].question"),
        (json!({"question": "weather"}), "[0].question"),
        (json!({"question": "layout"}), "[0].named"),
        (json!({"question": "layout", "named": {"kind": "quad-cross"}}), "[0].named.arm_length_m"),
        (
            json!({"question": "layout", "named": {"kind": "quad-cross", "arm_length_m": 0.5}, "stopped": [4]}),
            "[0].stopped",
        ),
        (json!("unit"), "[0].question"),
    ] {
        let answers = answers(&json!([question]).to_string()).expect("a list");
        assert_eq!(answers[0]["field"], field, "{}", answers[0]);
        for part in ["value", "allowed", "message"] {
            assert!(answers[0].get(part).is_some(), "{part} of {field}");
        }
    }
    assert_eq!(answers("{}").expect_err("no list").field(), "file");
    assert_eq!(answers("[").expect_err("no JSON").field(), "file");
}
