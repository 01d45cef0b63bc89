//! The `match`, `join` and `day` examples: their samples beside them, and what is refused.

use liftmargin_document::DocumentError;
use liftmargin_document::ground::{day, join, match_packs};
use serde_json::{Value, json};

const MATCH: &str = include_str!("../../src/document/examples/match.json");
const JOIN: &str = include_str!("../../src/document/examples/join.json");
const DAY: &str = include_str!("../../src/document/examples/day.json");

fn number(answer: &Value, path: &str) -> f64 {
    answer.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("no {path} in {answer:#}"))
}

// By hand: the weakest, A7, stays on the ground; like goes with like.
#[test]
fn match_sample() {
    let answer = match_packs(MATCH).expect("an answer");
    assert_eq!(answer["strings"], json!([["A1", "A3"], ["A2", "A4"], ["A5", "A6"]]));
    assert_eq!(answer["in_order"]["strings"], json!([["A1", "A2"], ["A3", "A4"], ["A5", "A6"]]));
    assert_eq!(answer["exact"], true);
    // In order each string has a weak pack: 0.8 (6100 + 6200 + 6450); matched 0.8 (6850 + 6100 + 6450), less what sharing costs.
    let (gained, seconds) = (number(&answer, "/gained_mah"), number(&answer, "/gained_s"));
    assert!((100.0..540.0).contains(&gained), "{gained} mAh");
    assert!(seconds > 10.0, "{seconds} s");
    assert!(number(&answer, "/usable_mah") <= number(&answer, "/bound_mah"));
    assert!((number(&answer, "/bound_mah") - 0.8 * (6850.0 + 6450.0 + 6100.0)).abs() < 1.0);
}

// The three strings worked by hand in `packs`: node 47.44 V, 10 A out of the first two, 20 A into the third.
#[test]
fn val_by_hand_join_sample() {
    let answer = join(JOIN).expect("an answer");
    assert_eq!(answer["verdict"], "do-not-join");
    assert!((number(&answer, "/equalising_current_a") - 20.0).abs() < 0.2);
    assert!((number(&answer, "/node_voltage_v") - 47.44).abs() < 0.005);
    assert!((number(&answer, "/heat_w") - (2.0 * 100.0 * 0.020 + 400.0 * 0.032)).abs() < 0.3);
    assert_eq!(answer["reasons"][0]["reason"], "cell-difference");
    assert_eq!(
        answer["reasons"][1],
        json!({
            "state": "no", "reason": "charge-current", "string": 3, "limit": 12.0
        })
    );
    assert!(number(&answer, "/strings/2/charge_mah/0") > 500.0);
}

// The day worked by hand in `day`, and after it one flight of packs that are described.
#[test]
fn val_by_hand_day_sample() {
    let answer = day(DAY).expect("an answer");
    let of = |event: &str| -> Vec<Value> {
        let events = answer["events"].as_array().expect("events").iter();
        events.filter(|own| own["event"] == event).cloned().collect()
    };
    let starts: Vec<String> =
        of("flight").iter().map(|event| event["start"].as_str().expect("a time").to_owned()).collect();
    let want =
        ["08:00", "08:40", "09:20", "10:00", "10:40", "11:20", "12:00", "12:40", "13:30", "14:30", "15:30"];
    assert_eq!(starts, want.map(|time| format!("{time}:00")));
    assert_eq!(answer["flights_done"], 11);
    let stall = &answer["first_stall"];
    assert_eq!((&stall["from"], &stall["bottleneck"]), (&json!("13:20:00"), &json!("chargers")));
    assert_eq!(
        stall["words"],
        "From 13:20 waiting for a charger, before flight 9: one more charger or one more set ends it."
    );
    assert_eq!(answer["fewest_chargers"], 2);
    assert_eq!(answer["fewest_sets"][1], json!({ "set": "Six cells, 7 Ah", "count": 1, "fewest": 1 }));
    // Six packs of 7 Ah, three quarters used: 31.5 Ah at about 22.9 V through 87 %: some 0.83 kWh on top of ten times 1 kWh.
    let energy = number(&answer, "/energy_wh");
    assert!((energy - 10_830.0).abs() < 60.0, "{energy} Wh");
    assert!((number(&answer, "/fuel_l") - energy * 0.0005).abs() < 1e-9);
    let charge = of("charge").pop().expect("charges");
    assert_eq!((&charge["set"], &charge["charger"]), (&json!("Six cells, 7 Ah 1"), &json!(1)));
}

#[track_caller]
fn check_refused(
    answer: fn(&str) -> Result<Value, DocumentError>,
    sample: &str,
    change: impl FnOnce(&mut Value),
    field: &str,
) {
    let mut asked: Value = serde_json::from_str(sample).expect("JSON");
    change(&mut asked);
    let refusal = answer(&asked.to_string()).expect_err("refused");
    assert_eq!(refusal.field(), field, "{refusal}");
}

#[test]
fn what_is_refused_is_named() {
    check_refused(
        match_packs,
        MATCH,
        |asked| asked["packs"][2]["capacity_mah"] = json!(-1),
        "packs[2].capacity",
    );
    check_refused(
        match_packs,
        MATCH,
        |asked| asked["packs"][2]["chemistry"] = json!("lead"),
        "packs[2].chemistry",
    );
    check_refused(match_packs, MATCH, |asked| asked["packs"][2]["colour"] = json!("red"), "packs[2].colour");
    check_refused(match_packs, MATCH, |asked| asked["strings"] = json!(4), "supply");
    check_refused(join, JOIN, |asked| asked["strings"] = json!([]), "strings_in_parallel");
    check_refused(join, JOIN, |asked| asked["strings"][0]["packs"] = json!([]), "supply");
    check_refused(
        join,
        JOIN,
        |asked| asked["strings"][1]["packs"][0]["cell_voltages_v"] = json!([3.9]),
        "strings[1].packs[0].cell_voltages_v",
    );
    check_refused(day, DAY, |asked| asked["start"] = json!("8 h"), "start");
    check_refused(day, DAY, |asked| asked["flights"][0]["set"] = json!("Nine"), "flights[0].set");
    check_refused(
        day,
        DAY,
        |asked| asked["flights"][1]["used_percent"] = json!(180),
        "flights[1].state_of_charge",
    );
    check_refused(day, DAY, |asked| asked["supply"]["kind"] = json!("sun"), "supply.kind");
    check_refused(day, DAY, |asked| asked["supply"]["limit_w"] = json!(500), "supply_limit");
    check_refused(day, DAY, |asked| asked["wrap"] = Value::Null, "wrap");
    assert_eq!(day("nothing").expect_err("refused").field(), "file");
}
