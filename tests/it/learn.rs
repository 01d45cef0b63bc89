//! What runs teach of a cell: resistance carries over between rates, what is stated holds, what is not known is refused.

use liftmargin_core::cell::{CellFault, Chemistry, Learned, Run, RunPoint, learn, predict};
use liftmargin_core::flight::{CellForecast, CellTask, forecast};
use liftmargin_core::input_error::InputError;
use uom::si::electric_charge::{ampere_hour, milliampere_hour};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{
    ElectricCharge, ElectricCurrent, ElectricPotential, Power, Ratio, ThermodynamicTemperature, Time,
};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;

use crate::table::Table;

const POLYMER: Chemistry = Chemistry::LithiumPolymer;
const CYLINDRICAL: Chemistry = Chemistry::LithiumIonCylindrical;

/// A published cell of `tests/references/cell_rates`: table, chemistry, Ah, and the powers made after the constants stood.
struct Cell {
    name: &'static str,
    chemistry: Chemistry,
    capacity_ah: f64,
    late: [f64; 2],
}

const fn cell(name: &'static str, chemistry: Chemistry, capacity_ah: f64, late: [f64; 2]) -> Cell {
    Cell { name, chemistry, capacity_ah, late }
}

const CELLS: [Cell; 8] = [
    cell("ai2020", POLYMER, 2.4663, [0.0; 2]),
    cell("chen2020", CYLINDRICAL, 5.1532, [0.0; 2]),
    cell("okane2022", CYLINDRICAL, 5.1099, [13.88, 23.12]),
    cell("ecker2015", POLYMER, 0.1710, [0.87, 1.45]),
    cell("marquis2019", POLYMER, 0.872_84, [3.78, 6.3]),
    cell("mohtat2020", POLYMER, 4.969_13, [27.75, 46.25]),
    cell("ramadass2004", POLYMER, 1.775, [5.55, 9.25]),
    cell("nca_kim2011", CYLINDRICAL, 0.483_13, [2.39, 3.98]),
];

/// A run at constant power, with the charge that it delivered.
struct Measured {
    power_w: f64,
    run: Run,
    delivered_mah: Vec<f64>,
}

impl Cell {
    /// Small cells are joined in parallel until they are of a size that flies: exact.
    fn parallel(&self) -> f64 {
        if self.capacity_ah < 1.0 { 32.0 } else { 1.0 }
    }

    /// Loaded voltage to which the charge is asked.
    fn floor_v(&self) -> f64 {
        if self.chemistry == CYLINDRICAL { 3.0 } else { 3.3 }
    }

    fn runs(&self) -> Vec<Measured> {
        let table = Table::read(&format!("cell_rates/{}.csv", self.name));
        let mut runs: Vec<Measured> = Vec::new();
        let n = self.parallel();
        for row in table.rows() {
            let power_w = n * row.number("power_W");
            if runs.last().is_none_or(|run| (run.power_w - power_w).abs() > 1e-6) {
                let capacity = ElectricCharge::new::<ampere_hour>(n * self.capacity_ah);
                let start = Ratio::new::<ratio>(1.0);
                let run = Run { chemistry: self.chemistry, capacity, start, points: Vec::new() };
                runs.push(Measured { power_w, run, delivered_mah: Vec::new() });
            }
            let last = runs.last_mut().expect("pushed");
            last.run.points.push(point(
                row.number("time_s"),
                n * row.number("current_A"),
                row.number("voltage_V"),
            ));
            last.delivered_mah.push(n * row.number("delivered_mAh"));
        }
        runs
    }
}

fn point(time_s: f64, current_a: f64, voltage_v: f64) -> RunPoint {
    RunPoint {
        time: Time::new::<second>(time_s),
        current: ElectricCurrent::new::<ampere>(current_a),
        voltage: ElectricPotential::new::<volt>(voltage_v),
    }
}

/// Two rows of `tests/references/constant_power`, Ai et al. 2020.
fn ai2020(name: &str, power_w: f64) -> Measured {
    let table = Table::read(&format!("constant_power/{name}.csv"));
    let row = |row: crate::table::Row| {
        point(row.number("time_s"), row.number("current_A"), row.number("voltage_V"))
    };
    let run = Run {
        chemistry: POLYMER,
        capacity: ElectricCharge::new::<ampere_hour>(2.4663),
        start: Ratio::new::<ratio>(1.0),
        points: table.rows().map(row).collect(),
    };
    Measured { power_w, run, delivered_mah: table.rows().map(|row| row.number("delivered_mAh")).collect() }
}

impl Measured {
    /// Delivered until the loaded voltage, straight between points.
    fn charge_to_mah(&self, floor_v: f64) -> f64 {
        let volts: Vec<f64> = self.run.points.iter().map(|point| point.voltage.get::<volt>()).collect();
        let after = volts.iter().position(|&voltage_v| voltage_v <= floor_v).expect("passes the floor");
        let share = (volts[after - 1] - floor_v) / (volts[after - 1] - volts[after]);
        let [before_mah, after_mah] = [after - 1, after].map(|index| self.delivered_mah[index]);
        before_mah + share * (after_mah - before_mah)
    }
}

fn flown(learned: &Learned, power_w: f64, floor_v: f64) -> Result<CellForecast, InputError> {
    let task = CellTask {
        power: Power::new::<watt>(power_w),
        loaded_cell_floor: ElectricPotential::new::<volt>(floor_v),
        start: Ratio::new::<ratio>(1.0),
        temperature: ThermodynamicTemperature::new::<degree_celsius>(25.0),
    };
    forecast(learned, &task).map(|flown| flown.expect("flies"))
}

/// Error of the charge foretold, and what was stated, as shares.
fn errors(learned: &Learned, flown_as: &Measured, floor_v: f64) -> Option<(f64, f64)> {
    let forecast = flown(learned, flown_as.power_w, floor_v).ok()?;
    let true_mah = flown_as.charge_to_mah(floor_v);
    let delivered_mah = forecast.delivered.get::<milliampere_hour>();
    Some((delivered_mah / true_mah - 1.0, forecast.delivered_error.get::<milliampere_hour>() / true_mah))
}

// PyBaMM DFN, Ai et al. 2020 (tests/references/constant_power). In-sample: the priors' middles were chosen on this cell.
// 3 % is asked (issue 9); long by no more than 0.5 %, for a crew turns back by this.
#[test]
fn val_ai2020_resistance_carries_over_between_powers() {
    let slow = ai2020("power_17_0_W", 17.0);
    let fast = ai2020("power_25_6_W", 25.6);
    for from in [&slow, &fast] {
        let learned = learn(core::slice::from_ref(&from.run)).expect("in range");
        for to in [&slow, &fast] {
            let (error, stated) = errors(&learned, to, 3.3).expect("near in rate");
            assert!((-0.03..0.005).contains(&error), "{} W as {} W: {error}", from.power_w, to.power_w);
            assert!(error.abs() <= stated, "{error} beyond {stated}");
        }
    }
}

// PyBaMM DFN, eight published cells, 29 powers (tests/references/cell_rates): each run learned from, each flown that
// is not refused. What is stated must hold in nine of ten; "late" runs made no constant at all and were looked at once.
#[test]
fn val_dfn_cells_what_is_stated_holds_in_nine_of_ten() {
    let (mut held, mut asked, mut late_held, mut late_asked) = (0, 0, 0, 0);
    for cell in &CELLS {
        let runs = cell.runs();
        for from in &runs {
            let Ok(learned) = learn(core::slice::from_ref(&from.run)) else { continue };
            for to in runs.iter().filter(|to| (to.power_w - from.power_w).abs() > 1e-6) {
                let Some((error, stated)) = errors(&learned, to, cell.floor_v()) else { continue };
                let holds = usize::from(error.abs() <= stated);
                asked += 1;
                held += holds;
                let is_late = |of: &Measured| {
                    cell.late.iter().any(|late| (cell.parallel() * late - of.power_w).abs() < 1e-6)
                };
                if is_late(from) || is_late(to) {
                    late_asked += 1;
                    late_held += holds;
                }
            }
        }
    }
    assert!(asked > 100 && late_asked > 50, "{asked} asked, {late_asked} late");
    assert!(10 * held >= 9 * asked, "{held} of {asked}");
    assert!(10 * late_held >= 9 * late_asked, "late: {late_held} of {late_asked}");
}

// The same cells, two runs together, the slowest and the fastest but one: what lies between, with curve errors of up to
// 130 mV told from resistance. Worst 5 % (held out as above; Chen et al. 2020 at its fastest run collapses and is left out).
#[test]
fn val_dfn_cells_several_rates_part_curve_and_resistance() {
    for cell in CELLS.iter().filter(|cell| cell.late[0] > 0.0) {
        let runs = cell.runs();
        let (first, last) = (&runs[0], &runs[runs.len() - 1]);
        let learned = learn(&[first.run.clone(), last.run.clone()]).expect("in range");
        for between in &runs[1..runs.len() - 1] {
            let (error, stated) = errors(&learned, between, cell.floor_v()).expect("between the rates");
            assert!(error.abs() <= stated && error.abs() < 0.05, "{}: {error}, stated {stated}", cell.name);
        }
    }
}

/// A measured discharge at constant current; the first row may be at rest.
fn at_current(
    name: &str,
    capacity_ah: f64,
    start: f64,
    parallel: f64,
    current_a: impl Fn(f64) -> f64,
) -> Run {
    let row = |row: crate::table::Row| {
        let time_s = row.number("time_s");
        point(time_s, parallel * current_a(time_s), row.number("voltage_V"))
    };
    Run {
        chemistry: POLYMER,
        capacity: ElectricCharge::new::<ampere_hour>(parallel * capacity_ah),
        start: Ratio::new::<ratio>(start),
        points: Table::read(name).rows().map(row).collect(),
    }
}

// Measured cell, Ecker et al. 2015 (tests/references/cell_rates): its 1 C run alone is told to leave curve and
// resistance in doubt and says nothing of 5 C; with both, resistance is half of what the 1 C run alone would have.
#[test]
fn val_ecker2015_curve_error_is_not_taken_for_resistance() {
    let run = |rate: f64| {
        let name = format!("cell_rates/measured_ecker_{rate}c.csv");
        at_current(&name, 0.1710, 1.0, 32.0, |_| 0.156_25 * rate)
    };
    let (slow, fast) = (run(1.0), run(5.0));
    let alone = learn(core::slice::from_ref(&slow)).expect("in range");
    assert!(alone.in_doubt, "held out {:?}, spread {:?}", alone.held_out_error, alone.resistance_spread);
    let refused = flown(&alone, 5.0 * alone.greatest_power.get::<watt>(), 3.3);
    assert!(matches!(refused, Err(InputError::Cell(CellFault::BeyondRate { .. }))), "{refused:?}");
    let both = learn(&[slow, fast.clone()]).expect("in range");
    assert!(both.several_rates && both.mean_error.get::<volt>() < 0.02, "{both:?}");
    let volts = predict(&fast, both.cell.resistance, &both.behaviour).expect("in range");
    let mean_v = volts
        .iter()
        .zip(&fast.points)
        .map(|(ours, point)| (*ours - point.voltage).get::<volt>())
        .sum::<f64>()
        / volts.len() as f64;
    assert!(mean_v.abs() < 0.02, "5 C off by {mean_v} V");
}

// Measured pouch cell, 0.5, 1 and 2 C (tests/references/cells), which made no constant: each foretells its neighbour's
// loaded voltage within what is stated for its mean power.
#[test]
fn val_measured_pouch_cell_foretells_twice_and_half_the_rate() {
    let run = |name: &str, load_a: f64| {
        at_current(&format!("cells/measured_{name}_c.csv"), 2.4663, 0.9908, 1.0, move |time_s| {
            if time_s > 0.0 { load_a } else { 0.0 }
        })
    };
    let runs = [run("half", 1.14), run("one", 2.28), run("two", 4.56)];
    for (from, to) in [(0, 1), (1, 0), (1, 2), (2, 1)] {
        let learned = learn(core::slice::from_ref(&runs[from])).expect("in range");
        let volts = predict(&runs[to], learned.cell.resistance, &learned.behaviour).expect("in range");
        let pairs = volts.iter().zip(&runs[to].points).filter(|(_, point)| point.voltage.get::<volt>() > 3.3);
        let off: Vec<f64> = pairs.map(|(ours, point)| (*ours - point.voltage).get::<volt>().abs()).collect();
        let mean_v = off.iter().sum::<f64>() / off.len() as f64;
        let power_w = learn(core::slice::from_ref(&runs[to])).expect("in range").greatest_power.get::<watt>();
        let stated_v = flown(&learned, power_w, 3.3).expect("near in rate").voltage_error.get::<volt>();
        assert!(mean_v <= stated_v, "{from} to {to}: {mean_v} V, stated {stated_v} V");
    }
}

#[test]
fn learning_together_refuses_by_name() {
    let slow = ai2020("power_17_0_W", 17.0).run;
    let other = Run { capacity: slow.capacity * 2.0, ..slow.clone() };
    let mut idle = slow.clone();
    idle.points.iter_mut().for_each(|point| point.current = ElectricCurrent::new::<ampere>(0.0));
    assert_eq!(learn(&[]).expect_err("refused").field(), "runs");
    assert_eq!(learn(&[slow.clone(), other]), Err(InputError::Cell(CellFault::NotOneCell)));
    assert_eq!(learn(&[idle]), Err(InputError::Cell(CellFault::NoDischarge)));
    let one = learn(core::slice::from_ref(&slow)).expect("in range");
    let two = learn(&[slow, ai2020("power_25_6_W", 25.6).run]).expect("in range");
    assert!(flown(&one, 33.0, 3.3).is_ok() && flown(&one, 40.0, 3.3).is_err());
    assert!(flown(&two, 27.5, 3.3).is_ok(), "a tenth beyond several");
    let refused = flown(&two, 33.0, 3.3).expect_err("refused");
    assert_eq!(refused.field(), "power");
}
