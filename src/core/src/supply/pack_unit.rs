//! Packs of one kind as one equivalent circuit in plain SI numbers: voltage, heat, and its state carried on by a step.
//!
//! Equations and assumptions: `cell` and `joined`.

use super::params::Pack;
use crate::cell::CellBehaviour;
use crate::cell::behaviour::low_charge;
use crate::cell::open_circuit::{self, Curve, STEPS};

/// Packs of one kind in one kind of string.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Unit {
    /// The kind of string, from 0.
    pub kind: usize,
    pub cells: f64,
    pub capacity_c: f64,
    pub share_at_start: f64,
    pub start_temperature_k: f64,
    /// Current at the maker's continuous rating, A.
    pub rated_a: f64,
    /// Capacity over an hour, A: what 1 C means.
    pub one_c_a: f64,
    ohmic_ohm: f64,
    slow_ohm: f64,
    pub time_constant_s: f64,
    heat_capacity_j_k: f64,
    cooling_w_k: f64,
    surroundings_k: f64,
    /// Of the chemistry, with this cell's error.
    curve: Curve,
    /// Resistance over that of a full cell, at the curve's points.
    rise: Curve,
    /// State of charge that an ampere moves that rise up by.
    shift_per_a: f64,
    low_charge_rise: f64,
    low_charge_scale: f64,
    bend_h: f64,
}

/// State of a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct UnitState {
    pub used_c: f64,
    pub slow_v: f64,
    /// The current, as slow as the RC branch.
    pub slow_a: f64,
    pub temperature_k: f64,
}

impl Unit {
    pub fn new(
        kind: usize,
        pack: &Pack,
        behaviour: &CellBehaviour,
        rise: &Curve,
        surroundings_k: Option<f64>,
    ) -> Self {
        let cell_ohm = pack.cell_ohm(behaviour);
        let ohmic_share = behaviour.ohmic_share.value;
        let temperature_k = pack.temperature.value;
        let one_c_a = pack.cell.capacity.value / 3600.0;
        Self {
            kind,
            cells: f64::from(pack.cells_in_series),
            capacity_c: pack.capacity_c(behaviour),
            share_at_start: pack.charge_share(),
            start_temperature_k: temperature_k,
            rated_a: pack.continuous_c_rating.value * one_c_a,
            one_c_a,
            ohmic_ohm: cell_ohm * ohmic_share,
            slow_ohm: cell_ohm * (1.0 - ohmic_share),
            time_constant_s: behaviour.time_constant.value,
            heat_capacity_j_k: behaviour.heat_capacity_j_k(pack.mass.value),
            cooling_w_k: behaviour.cooling_w_k(pack.mass.value),
            surroundings_k: surroundings_k.unwrap_or(temperature_k),
            curve: behaviour.curve_of(pack.cell.chemistry),
            rise: *rise,
            shift_per_a: behaviour.low_charge_shift.value / one_c_a,
            low_charge_rise: behaviour.low_charge_rise.value,
            low_charge_scale: behaviour.low_charge_scale.value,
            bend_h: behaviour.charge_transfer_bend.value,
        }
    }

    pub fn state_of_charge(&self, state: &UnitState) -> f64 {
        self.share_at_start - state.used_c / self.capacity_c
    }

    /// Charge left before it is empty, C.
    pub fn left_c(&self, state: &UnitState) -> f64 {
        self.share_at_start * self.capacity_c - state.used_c
    }

    pub fn open_circuit_v(&self, state_of_charge: f64) -> f64 {
        open_circuit::value(&self.curve, open_circuit::place(state_of_charge))
    }

    /// Energy of the whole unit given up by its open-circuit curve since the start, J: exact over the linear pieces.
    pub fn given_up_j(&self, state: &UnitState) -> f64 {
        let volts_to = |state_of_charge: f64| {
            let (step, into) = open_circuit::place(state_of_charge);
            let whole: f64 = self.curve.windows(2).take(step).map(|pair| 0.5 * (pair[0] + pair[1])).sum();
            let from = self.curve[step];
            let to = open_circuit::value(&self.curve, (step, into));
            (whole + 0.5 * (from + to) * into) / STEPS
        };
        let volts = volts_to(self.share_at_start) - volts_to(self.state_of_charge(state));
        self.cells * self.capacity_c * volts
    }

    /// Heat of the whole unit, W.
    pub fn heat_w(&self, state: &UnitState, current_a: f64) -> f64 {
        let (_, ohmic_ohm) = self.cell(state);
        self.cells * current_a * (current_a * ohmic_ohm + state.slow_v)
    }

    /// OCV less the slow part, and the ohmic resistance, of one cell.
    pub fn cell(&self, state: &UnitState) -> (f64, f64) {
        let place = open_circuit::place(self.state_of_charge(state));
        let emf_v = open_circuit::value(&self.curve, place) - state.slow_v;
        (emf_v, self.ohmic_ohm * self.rise_at(state, place))
    }

    /// Resistance over that of a full cell; `place` is the state of charge's.
    #[inline]
    fn rise_at(&self, state: &UnitState, place: (usize, f64)) -> f64 {
        if self.shift_per_a == 0.0 {
            return open_circuit::value(&self.rise, place);
        }
        let shifted = self.state_of_charge(state) - self.shift_per_a * state.slow_a;
        low_charge(shifted, self.low_charge_rise, self.low_charge_scale)
    }

    pub fn cell_v(&self, state: &UnitState, current_a: f64) -> f64 {
        let (emf_v, ohmic_ohm) = self.cell(state);
        emf_v - current_a * ohmic_ohm
    }

    /// The state `from` carried on for `step_s` at `current_a`, resistance and heat taken at state `at`; `kept` is the
    /// share of the slow voltage left by then.
    pub fn carried(
        &self,
        from: &UnitState,
        at: &UnitState,
        current_a: f64,
        step_s: f64,
        kept: f64,
    ) -> UnitState {
        let place = open_circuit::place(self.state_of_charge(at));
        let rise = self.rise_at(at, place);
        let bent =
            if self.bend_h == 0.0 { 1.0 } else { CellBehaviour::bent(self.bend_h, current_a / self.one_c_a) };
        let settled_v = current_a * bent * self.slow_ohm * rise;
        let heat_w = self.cells * current_a * (current_a * self.ohmic_ohm * rise + at.slow_v);
        // Implicit in the cooling, so that it is stable for any step.
        let per_k = step_s / self.heat_capacity_j_k;
        let warmed_k = from.temperature_k + per_k * (heat_w + self.cooling_w_k * self.surroundings_k);
        UnitState {
            used_c: from.used_c + current_a * step_s,
            slow_v: settled_v + (from.slow_v - settled_v) * kept,
            slow_a: current_a + (from.slow_a - current_a) * kept,
            temperature_k: warmed_k / (1.0 + per_k * self.cooling_w_k),
        }
    }
}

impl Unit {
    pub fn same_kind(&self, other: &Self) -> bool {
        let per_cell = |unit: &Self| (unit.heat_capacity_j_k / unit.cells, unit.cooling_w_k / unit.cells);
        let alike = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs();
        let ((heat_a, cool_a), (heat_b, cool_b)) = (per_cell(self), per_cell(other));
        let with_cells =
            Self { cells: other.cells, heat_capacity_j_k: 0.0, cooling_w_k: 0.0, ..self.clone() };
        with_cells == Self { heat_capacity_j_k: 0.0, cooling_w_k: 0.0, ..other.clone() }
            && alike(heat_a, heat_b)
            && alike(cool_a, cool_b)
    }

    pub fn join(&mut self, other: &Self) {
        self.cells += other.cells;
        self.heat_capacity_j_k += other.heat_capacity_j_k;
        self.cooling_w_k += other.cooling_w_k;
    }
}
