//! The supply as the integrator sees it: plain SI numbers, packs of one kind taken together, one state a pack.
//!
//! State of a pack: charge used, voltage on the RC branch of one cell, cell temperature. One step holds the
//! power constant and takes the midpoint's current (second order); within a step the RC branch is solved exactly.
//! Heat is I (OCV − V) (Bernardi et al. 1985, without the entropic term; from memory). Warming in flight is
//! predicted but not credited to resistance or capacity: cautious, and it keeps "colder never flies longer" true
//! by construction, since more heat from a worse pack can then never help it.

use super::params::{Pack, Supply};
use super::sharing::{self, Branch, Overload, Working};
use crate::cell::CellBehaviour;
use crate::cell::open_circuit::{self, Curve, STEPS};

/// Most strings in parallel (`Supply::STRINGS`).
pub(crate) const MOST_STRINGS: usize = 8;
/// Most packs in all (`PackString::PACKS` in each string).
const MOST_UNITS: usize = 32;

/// Packs of one kind in one string.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Unit {
    pub string: usize,
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
    time_constant_s: f64,
    heat_capacity_j_k: f64,
    cooling_w_k: f64,
    surroundings_k: f64,
    curve: &'static Curve,
    /// Resistance over that of a full cell, at the curve's points.
    rise: Curve,
}

/// State of a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct UnitState {
    pub used_c: f64,
    pub slow_v: f64,
    pub temperature_k: f64,
}

impl Unit {
    fn new(
        string: usize,
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
            string,
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
            curve: pack.cell.chemistry.curve(),
            rise: *rise,
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
        open_circuit::value(self.curve, open_circuit::place(state_of_charge))
    }

    /// Energy of the whole unit given up by its open-circuit curve since the start, J: exact over the linear pieces.
    pub fn given_up_j(&self, state: &UnitState) -> f64 {
        let volts_to = |state_of_charge: f64| {
            let (step, into) = open_circuit::place(state_of_charge);
            let whole: f64 = self.curve.windows(2).take(step).map(|pair| 0.5 * (pair[0] + pair[1])).sum();
            let from = self.curve[step];
            let to = open_circuit::value(self.curve, (step, into));
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
    fn cell(&self, state: &UnitState) -> (f64, f64) {
        let place = open_circuit::place(self.state_of_charge(state));
        let emf_v = open_circuit::value(self.curve, place) - state.slow_v;
        (emf_v, self.ohmic_ohm * open_circuit::value(&self.rise, place))
    }

    pub fn cell_v(&self, state: &UnitState, current_a: f64) -> f64 {
        let (emf_v, ohmic_ohm) = self.cell(state);
        emf_v - current_a * ohmic_ohm
    }

    /// The state `from` carried on for `step_s` at `current_a`, resistance and heat taken at state `at`; `kept` is the
    /// share of the slow voltage left by then.
    fn carried(&self, from: &UnitState, at: &UnitState, current_a: f64, step_s: f64, kept: f64) -> UnitState {
        let place = open_circuit::place(self.state_of_charge(at));
        let rise = open_circuit::value(&self.rise, place);
        let settled_v = current_a * self.slow_ohm * rise;
        let heat_w = self.cells * current_a * (current_a * self.ohmic_ohm * rise + at.slow_v);
        // Implicit in the cooling, so that it is stable for any step.
        let per_k = step_s / self.heat_capacity_j_k;
        let warmed_k = from.temperature_k + per_k * (heat_w + self.cooling_w_k * self.surroundings_k);
        UnitState {
            used_c: from.used_c + current_a * step_s,
            slow_v: settled_v + (from.slow_v - settled_v) * kept,
            temperature_k: warmed_k / (1.0 + per_k * self.cooling_w_k),
        }
    }
}

/// The joined packs under a load at one moment.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CircuitSolution {
    pub working: Working,
    pub string_a: [f64; MOST_STRINGS],
    pub lowest_cell_v: f64,
}

/// The joined packs.
#[derive(Debug, Clone)]
pub(crate) struct Kernel {
    pub units: Vec<Unit>,
    pub strings: usize,
    pub string_ohm: f64,
    pub bus_ohm: f64,
    pub auxiliary_w: f64,
}

impl Kernel {
    /// From a supply that has been validated.
    pub fn new(supply: &Supply, behaviour: &CellBehaviour, surroundings_k: Option<f64>) -> Self {
        let mut rise = [0.0; crate::cell::CURVE_POINTS];
        for (index, value) in rise.iter_mut().enumerate() {
            *value = behaviour.resistance_by_charge(index as f64 / STEPS);
        }
        let mut units: Vec<Unit> = Vec::with_capacity(MOST_UNITS);
        for (index, string) in supply.strings.iter().enumerate().take(MOST_STRINGS) {
            let first = units.len();
            for pack in &string.packs {
                let unit = Unit::new(index, pack, behaviour, &rise, surroundings_k);
                match units.iter_mut().skip(first).find(|known| known.same_kind(&unit)) {
                    Some(known) => known.join(&unit),
                    None => units.push(unit),
                }
            }
        }
        Self {
            units,
            strings: supply.strings.len().min(MOST_STRINGS),
            string_ohm: supply.string_resistance.value,
            bus_ohm: supply.bus_resistance.value,
            auxiliary_w: supply.auxiliary_power.value / supply.converter_efficiency.value,
        }
    }

    /// The same without a string; the strings after it move up by one.
    pub fn without(&self, lost: usize) -> Self {
        let mut rest = self.clone();
        rest.units.retain(|unit| unit.string != lost);
        for unit in &mut rest.units {
            if unit.string > lost {
                unit.string -= 1;
            }
        }
        rest.strings = self.strings.saturating_sub(1);
        rest
    }

    /// The packs before the flight.
    pub fn start(&self) -> Vec<UnitState> {
        self.units
            .iter()
            .map(|unit| UnitState { used_c: 0.0, slow_v: 0.0, temperature_k: unit.start_temperature_k })
            .collect()
    }

    /// Each string as a source behind a resistance; beyond `strings` only leads.
    pub fn branches(&self, states: &[UnitState]) -> [Branch; MOST_STRINGS] {
        self.joined(&self.cells(states))
    }

    /// One cell of each unit.
    fn cells(&self, states: &[UnitState]) -> [(f64, f64); MOST_UNITS] {
        let mut cells = [(0.0, 0.0); MOST_UNITS];
        for ((unit, state), cell) in self.units.iter().zip(states).zip(&mut cells) {
            *cell = unit.cell(state);
        }
        cells
    }

    fn joined(&self, cells: &[(f64, f64)]) -> [Branch; MOST_STRINGS] {
        let mut branches = [Branch { emf_v: 0.0, resistance_ohm: self.string_ohm }; MOST_STRINGS];
        for (unit, (emf_v, ohmic_ohm)) in self.units.iter().zip(cells) {
            let branch = &mut branches[unit.string.min(MOST_STRINGS - 1)];
            branch.emf_v += unit.cells * emf_v;
            branch.resistance_ohm += unit.cells * ohmic_ohm;
        }
        branches
    }

    /// The circuit solved for a bus load.
    pub fn moment(&self, states: &[UnitState], power_w: f64) -> Result<CircuitSolution, Overload> {
        let cells = self.cells(states);
        let branches = self.joined(&cells);
        let joined = branches.get(..self.strings).unwrap_or(&branches);
        let working = sharing::solve(joined, self.bus_ohm, power_w)?;
        let mut string_a = [0.0; MOST_STRINGS];
        for (current_a, branch) in string_a.iter_mut().zip(joined) {
            *current_a = working.branch_a(branch);
        }
        let mut lowest_cell_v = f64::INFINITY;
        for (unit, (emf_v, ohmic_ohm)) in self.units.iter().zip(&cells) {
            lowest_cell_v =
                lowest_cell_v.min(emf_v - string_a[unit.string.min(MOST_STRINGS - 1)] * ohmic_ohm);
        }
        Ok(CircuitSolution { working, string_a, lowest_cell_v })
    }

    /// Carries `states` on by one step at constant power; `now` is the moment at its start. `middle` is scratch
    /// of the same length and holds the midpoint afterwards.
    pub fn advance(
        &self,
        states: &mut [UnitState],
        middle: &mut [UnitState],
        now: &CircuitSolution,
        power_w: f64,
        step_s: f64,
    ) -> Result<CircuitSolution, Overload> {
        // One for all: the time constant is the chemistry's behaviour, not the pack's.
        let time_constant_s = self.units.first().map_or(1.0, |unit| unit.time_constant_s);
        let kept_by_half = (-step_s / 2.0 / time_constant_s).exp();
        for ((unit, state), half) in self.units.iter().zip(states.iter()).zip(middle.iter_mut()) {
            *half = unit.carried(state, state, now.current_a(unit), step_s / 2.0, kept_by_half);
        }
        let mid = self.moment(middle, power_w)?;
        for ((unit, state), half) in self.units.iter().zip(states.iter_mut()).zip(middle.iter()) {
            *state = unit.carried(state, half, mid.current_a(unit), step_s, kept_by_half * kept_by_half);
        }
        Ok(mid)
    }

    /// Energy in all cells at full open-circuit voltage, J: only to choose a step.
    pub fn rough_energy_j(&self) -> f64 {
        self.units.iter().map(|unit| unit.cells * unit.capacity_c * unit.open_circuit_v(1.0)).sum()
    }
}

impl CircuitSolution {
    pub fn current_a(&self, unit: &Unit) -> f64 {
        self.string_a[unit.string.min(MOST_STRINGS - 1)]
    }
}

impl Unit {
    fn same_kind(&self, other: &Self) -> bool {
        let per_cell = |unit: &Self| (unit.heat_capacity_j_k / unit.cells, unit.cooling_w_k / unit.cells);
        let alike = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs();
        let ((heat_a, cool_a), (heat_b, cool_b)) = (per_cell(self), per_cell(other));
        let with_cells =
            Self { cells: other.cells, heat_capacity_j_k: 0.0, cooling_w_k: 0.0, ..self.clone() };
        with_cells == Self { heat_capacity_j_k: 0.0, cooling_w_k: 0.0, ..other.clone() }
            && alike(heat_a, heat_b)
            && alike(cool_a, cool_b)
    }

    fn join(&mut self, other: &Self) {
        self.cells += other.cells;
        self.heat_capacity_j_k += other.heat_capacity_j_k;
        self.cooling_w_k += other.cooling_w_k;
    }
}

/// One string at one moment.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StringView {
    pub current_a: f64,
    pub used_c: f64,
    pub lowest_cell_v: f64,
    pub least_state_of_charge: f64,
    pub warmest_k: f64,
}

impl Kernel {
    /// Charge out of a string since the start.
    pub fn used_c(&self, string: usize, states: &[UnitState]) -> f64 {
        self.units
            .iter()
            .zip(states)
            .find(|(unit, _)| unit.string == string)
            .map_or(0.0, |(_, state)| state.used_c)
    }

    /// Charge in a string before the flight, until its first pack is empty.
    pub fn on_board_c(&self, string: usize) -> f64 {
        let of_string = self.units.iter().filter(|unit| unit.string == string);
        let least = of_string.map(|unit| unit.capacity_c * unit.share_at_start).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    }

    /// One string as a sample shows it.
    pub fn string_view(&self, string: usize, states: &[UnitState], moment: &CircuitSolution) -> StringView {
        let current_a = moment.string_a.get(string).copied().unwrap_or(0.0);
        let mut view = StringView {
            current_a,
            used_c: self.used_c(string, states),
            lowest_cell_v: f64::INFINITY,
            least_state_of_charge: f64::INFINITY,
            warmest_k: 0.0,
        };
        for (unit, state) in self.units.iter().zip(states).filter(|(unit, _)| unit.string == string) {
            view.lowest_cell_v = view.lowest_cell_v.min(unit.cell_v(state, current_a));
            view.least_state_of_charge = view.least_state_of_charge.min(unit.state_of_charge(state));
            view.warmest_k = view.warmest_k.max(state.temperature_k);
        }
        view
    }
}
