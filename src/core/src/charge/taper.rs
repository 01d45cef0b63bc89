//! One pack's charge: constant current, then constant voltage.
//!
//! Formula, Source, Valid, Assumes: see the station. Units: s, A, W, shares.

use super::params::{ChargeRule, ChargeSettings, Charger, ChargingPack};
use crate::cell::open_circuit;
use crate::input_error::InputError;

/// Pieces of a whole charge: each lies within one straight piece of the open-circuit curve.
const PIECES: f64 = 500.0;

/// From a moment of a charge on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moment {
    pub time_s: f64,
    /// Into the pack, at most, until the next.
    pub power_w: f64,
}

/// A pack's charge.
#[derive(Debug, Clone)]
pub(super) struct PackCourse {
    /// From the start to the end, both included.
    pub moments: Vec<Moment>,
    pub duration_s: f64,
    pub constant_s: f64,
    pub charge_c: f64,
    pub energy_j: f64,
    pub ruled_by: ChargeRule,
}

/// A pack on its channel, in plain numbers.
struct Channel<'a> {
    settings: &'a ChargeSettings,
    curve: &'static open_circuit::Curve,
    cells: f64,
    capacity_c: f64,
    cell_ohm: f64,
    full_v: f64,
    most_a: f64,
    most_w: f64,
}

impl Channel<'_> {
    /// Open-circuit voltage and settled resistance of a cell.
    fn cell(&self, state_of_charge: f64) -> (f64, f64) {
        let open_v = open_circuit::value(self.curve, open_circuit::place(state_of_charge));
        (open_v, self.cell_ohm * self.settings.behaviour.resistance_by_charge(state_of_charge))
    }

    /// Current before the taper.
    fn constant_a(&self, open_v: f64, ohm: f64) -> f64 {
        let per_cell_w = self.most_w / self.cells;
        let by_power_a = 2.0 * per_cell_w / (open_v + (open_v * open_v + 4.0 * ohm * per_cell_w).sqrt());
        self.most_a.min(by_power_a)
    }

    /// What rules the current at a state of charge.
    fn rule(&self, state_of_charge: f64, rated_a: f64) -> ChargeRule {
        let (open_v, ohm) = self.cell(state_of_charge);
        let constant_a = self.constant_a(open_v, ohm);
        if open_v + constant_a * ohm > self.full_v {
            ChargeRule::FullVoltage
        } else if constant_a < self.most_a {
            ChargeRule::ChargerPower
        } else if rated_a <= self.most_a {
            ChargeRule::PackRating
        } else {
            ChargeRule::ChargerCurrent
        }
    }
}

/// The charge of one of `channels` packs.
pub(super) fn course(
    charging: &ChargingPack,
    charger: &Charger,
    channels: usize,
    settings: &ChargeSettings,
) -> Result<PackCourse, InputError> {
    charging.pack.validate()?;
    let rating = ChargingPack::CHARGE_C_RATING.check(charging.charge_c_rating.value)?;
    let from = ChargingPack::STATE_OF_CHARGE.check(charging.from.value)?;
    let to = ChargingPack::STATE_OF_CHARGE.check(charging.to.value)?;
    let pack = &charging.pack;
    let one_c_a = pack.cell.capacity.value / 3600.0;
    let (rated_a, channel_a) = (rating * one_c_a, charger.output_current.value);
    let channel = Channel {
        settings,
        curve: pack.cell.chemistry.curve(),
        cells: f64::from(pack.cells_in_series),
        capacity_c: pack.capacity_c(&settings.behaviour),
        cell_ohm: pack.cell_ohm(&settings.behaviour) * settings.settling.value,
        full_v: pack.cell.chemistry.full_voltage().value,
        most_a: rated_a.min(channel_a),
        most_w: charger.output_power.value / channels as f64,
    };
    let mut course = PackCourse {
        moments: Vec::new(),
        duration_s: 0.0,
        constant_s: 0.0,
        charge_c: 0.0,
        energy_j: 0.0,
        ruled_by: ChargeRule::Nothing,
    };
    let cut_off_a = settings.cut_off.value * one_c_a;
    let mut share = from;
    while share < to - 1e-12 {
        let end = (((share * PIECES + 1e-6).floor() + 1.0) / PIECES).min(to);
        if channel.carry_on(share, end, cut_off_a, &mut course) {
            break;
        }
        share = end;
    }
    if course.duration_s > 0.0 {
        course.ruled_by = channel.rule(from, rated_a);
    }
    Ok(course)
}

impl PackCourse {
    fn add(&mut self, seconds: f64, charge_c: f64, voltage_v: f64, most_w: f64) {
        if seconds > 0.0 {
            self.moments.push(Moment { time_s: self.duration_s, power_w: most_w });
            self.duration_s += seconds;
            self.charge_c += charge_c;
            self.energy_j += charge_c * voltage_v;
        }
    }
}

impl Channel<'_> {
    /// Carries the charge on by one piece: constant current up to the knee, then the taper, where the charge still missing
    /// decays with τ = R dQ/dU. True where it ends in this piece.
    fn carry_on(&self, from: f64, to: f64, cut_off_a: f64, course: &mut PackCourse) -> bool {
        let ((from_v, _), (to_v, _)) = (self.cell(from), self.cell(to));
        let (middle_v, ohm) = self.cell(0.5 * (from + to));
        let constant_a = self.constant_a(middle_v, ohm);
        let per_volt_c = self.capacity_c * (to - from) / (to_v - from_v);
        let knee_v = (self.full_v - constant_a * ohm).clamp(from_v, to_v);
        let constant_c = (knee_v - from_v) * per_volt_c;
        let cell_v = 0.5 * (from_v + knee_v) + constant_a * ohm;
        let most_w = (self.cells * constant_a * (knee_v + constant_a * ohm)).min(self.most_w);
        course.add(constant_c / constant_a, constant_c, self.cells * cell_v, most_w);
        if knee_v >= to_v {
            course.constant_s = course.duration_s;
            return false;
        }
        if constant_c > 0.0 {
            course.constant_s = course.duration_s;
        }
        let first_a = (self.full_v - knee_v) / ohm;
        let last_a = ((self.full_v - to_v) / ohm).max(cut_off_a);
        if first_a > last_a {
            let settling_s = ohm * per_volt_c;
            let taper_c = settling_s * (first_a - last_a);
            let most_w = (self.cells * first_a * self.full_v).min(self.most_w);
            course.add(settling_s * (first_a / last_a).ln(), taper_c, self.cells * self.full_v, most_w);
        }
        last_a <= cut_off_a
    }
}
