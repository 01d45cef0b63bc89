//! Propulsion units: by bench table, by estimate, as a coaxial pair.

use liftmargin_core::propulsion::{
    BenchRow, BenchTable, CoaxialParams, Declared, PropulsionUnit, ceiling, estimate, fit, operate,
    operate_pair,
};
use liftmargin_core::rotor::{Flow, RotorParams};
use liftmargin_core::units::{
    AngularVelocity, ElectricCurrent, ElectricalResistance, Force, Length, MassDensity, Ratio,
    VelocityConstant,
};
use liftmargin_document::bench_csv::{inspect, read};
use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::{inch, meter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;

use super::{Line, Pair, Standing};
use crate::table::{Row, Table};

pub fn lines() -> Vec<Line> {
    [bench(), estimated(), in_flight(), pair()].into_iter().flatten().collect()
}

fn kg_m3(value: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(value)
}

fn declared(diameter: Length, pitch: Option<Length>) -> Declared {
    Declared {
        diameter,
        pitch,
        velocity_constant: None,
        resistance: None,
        no_load_current: None,
        motor_current_limit: ElectricCurrent::new::<ampere>(80.0),
        controller_current_limit: ElectricCurrent::new::<ampere>(80.0),
    }
}

const BENCH_FILES: [&str; 6] = [
    include_str!("../references/bench/b4_7.csv"),
    include_str!("../references/bench/c4_11.csv"),
    include_str!("../references/bench/f3_11.csv"),
    include_str!("../references/bench/g8_7.csv"),
    include_str!("../references/bench/g8_11.csv"),
    include_str!("../references/bench/m1_11.csv"),
];

/// Rows without speed, held out one by one; judged above a fifth of the greatest thrust.
fn bench() -> Vec<Line> {
    let (mut power, mut greatest) = (Vec::new(), Vec::new());
    for text in BENCH_FILES {
        let sheet = inspect(text);
        let mut rows = read(&sheet, &sheet.guessed).expect("columns");
        rows.retain(|row| row.thrust.value > 0.0);
        let full = *rows.last().expect("rows");
        for (held, row) in rows.iter().enumerate() {
            let left: Vec<BenchRow> =
                rows.iter().enumerate().filter(|(index, _)| *index != held).map(|(_, row)| *row).collect();
            let table = BenchTable { rows: left, air_density: kg_m3(1.2) };
            let unit = fit(&table, &declared(Length::new::<inch>(5.0), None)).expect("fits").unit;
            let point = operate(&unit, kg_m3(1.2), row.thrust, &Flow::still()).expect("operates");
            if row.thrust > 0.2 * full.thrust {
                power.push(Pair { theirs: row.current.value, ours: (point.bus_power / row.voltage).value });
            }
            let most = ceiling(&unit, kg_m3(1.2), full.voltage, &Flow::still(), None).expect("turns");
            if held + 1 < rows.len() {
                greatest.push(Pair { theirs: full.thrust.value, ours: most.point.thrust.value });
            }
        }
    }
    let source = "six open bench files, rows held out";
    let line = |quantity, sample, tolerance, pairs| Line {
        what: "bench table",
        quantity,
        source,
        sample,
        tolerance,
        pairs,
    };
    vec![
        line("current at a row not in the table, A", Standing::HeldOut, 0.12, power),
        line("greatest thrust, the full-throttle row in the table, N", Standing::InSample, 0.03, greatest),
    ]
}

/// The estimate of the 28-inch rotor on a stand.
fn estimated() -> Vec<Line> {
    let diameter = Length::new::<meter>(0.7112);
    let mut stated = declared(diameter, Some(diameter / 3.0));
    stated.velocity_constant = Some(VelocityConstant::from_rpm_per_volt(140.0));
    stated.resistance = Some(ElectricalResistance::new::<ohm>(0.05));
    let unit = estimate(&stated).expect("inside the ranges");
    let (mut speed, mut shaft) = (Vec::new(), Vec::new());
    for row in Table::read("rotor28/single.csv").rows() {
        let thrust = Force::new::<newton>(row.number("thrust_n"));
        let point = operate(&unit, kg_m3(1.225), thrust, &Flow::still()).expect("operates");
        let rpm = point.speed.value * 60.0 / core::f64::consts::TAU;
        speed.push(Pair { theirs: row.number("speed_rpm"), ours: rpm });
        shaft.push(Pair { theirs: row.number("shaft_power_w"), ours: point.shaft_power.value });
    }
    let source = "28-inch rotor on a stand (pyBEMT data)";
    let line = |quantity, tolerance, pairs| Line {
        what: "estimate",
        quantity,
        source,
        sample: Standing::InSample,
        tolerance,
        pairs,
    };
    vec![line("speed at thrust, rpm", 0.06, speed), line("shaft power at thrust, W", 0.12, shaft)]
}

/// The one aircraft with open telemetry: four 24-inch rotors, mass by parts list.
fn in_flight() -> Vec<Line> {
    let mut stated = declared(Length::new::<inch>(24.0), Some(Length::new::<inch>(8.0)));
    stated.velocity_constant = Some(VelocityConstant::from_rpm_per_volt(140.0));
    let unit = estimate(&stated).expect("inside the ranges");
    let (mut speed, mut power) = (Vec::new(), Vec::new());
    for (mass_kg, watts, rpm) in [(18.0, 3500.0, 3920.0), (20.0, 4100.0, 4160.0)] {
        let thrust = Force::new::<newton>(mass_kg * 9.80665 / 4.0);
        let point = operate(&unit, kg_m3(1.2), thrust, &Flow::still()).expect("operates");
        speed.push(Pair { theirs: rpm, ours: point.speed.value * 60.0 / core::f64::consts::TAU });
        power.push(Pair { theirs: watts, ours: 4.0 * point.bus_power.value });
    }
    let source = "24-inch quad's telemetry, mass doubtful";
    let line = |quantity, sample, tolerance, pairs| Line {
        what: "estimate",
        quantity,
        source,
        sample,
        tolerance,
        pairs,
    };
    vec![
        line("speed in hover, rpm", Standing::HeldOut, 0.06, speed),
        line("hover power, W (the spread was widened to hold it)", Standing::InSample, 0.30, power),
    ]
}

/// The 28-inch pair at its measured thrusts, from the single rotor's coefficients at the nearest row.
fn pair() -> Vec<Line> {
    let single = Table::read("rotor28/single.csv");
    let mut pairs = Vec::new();
    for row in Table::read("rotor28/coaxial.csv").rows() {
        let [upper, lower] =
            ["thrust_upper_n", "thrust_lower_n"].map(|column| Force::new::<newton>(row.number(column)));
        let middle = (upper + lower).value / 2.0;
        let far = |row: &Row<'_>| (row.number("thrust_n") - middle).abs();
        let nearest = single.rows().min_by(|a, b| far(a).total_cmp(&far(b))).expect("rows");
        let spacing = CoaxialParams { spacing: Length::new::<meter>(0.115) };
        let unit = measured(&nearest);
        let (upper, lower) =
            operate_pair(&unit, &spacing, kg_m3(1.225), upper, lower, &Flow::still()).expect("operates");
        pairs.push(Pair {
            theirs: row.number("shaft_power_upper_w") + row.number("shaft_power_lower_w"),
            ours: (upper.shaft_power + lower.shaft_power).value,
        });
    }
    vec![Line {
        what: "coaxial pair",
        quantity: "shaft power of both, W",
        source: "28-inch pair on a stand, 0.115 m apart (pyBEMT data)",
        sample: Standing::InSample,
        tolerance: 0.10,
        pairs,
    }]
}

fn measured(row: &Row<'_>) -> PropulsionUnit {
    let diameter = Length::new::<meter>(0.7112);
    let mut stated = declared(diameter, None);
    stated.velocity_constant = Some(VelocityConstant::from_rpm_per_volt(140.0));
    let (rev_s, diameter_m) = (row.number("speed_rpm") / 60.0, diameter.value);
    let thrust_coefficient =
        Ratio::new::<ratio>(row.number("thrust_n") / (1.225 * rev_s.powi(2) * diameter_m.powi(4)));
    let power_coefficient =
        Ratio::new::<ratio>(row.number("shaft_power_w") / (1.225 * rev_s.powi(3) * diameter_m.powi(5)));
    let rotor = RotorParams {
        diameter,
        thrust_coefficient,
        power_coefficient,
        reference_speed: AngularVelocity::new::<radian_per_second>(230.0),
        power_speed_exponent: Ratio::new::<ratio>(0.0),
        pitch_inflow: RotorParams::pitch_inflow(Ratio::new::<ratio>(0.35), thrust_coefficient),
    };
    PropulsionUnit { rotor, ..estimate(&stated).expect("inside the ranges") }
}
