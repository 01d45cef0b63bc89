//! The supply as the integrator sees it: plain SI numbers, strings of one kind and packs of one kind in a string taken
//! together (they share one fate), one state a kind of pack.
//!
//! State of a pack: charge used, voltage on the RC branch of one cell, the current as slow as it, cell temperature. One step holds the
//! power constant and takes the midpoint's current (second order); within a step the RC branch is solved exactly.
//! Heat is I (OCV − V) (Bernardi et al. 1985, without the entropic term; from memory). Warming in flight is
//! predicted but not credited to resistance or capacity: cautious, and it keeps "colder never flies longer" true
//! by construction, since more heat from a worse pack can then never help it.

use super::pack_unit::{Unit, UnitState};
use super::params::{PackString, Supply};
use super::sharing::{self, Branch, Overload, Working};
use crate::cell::CellBehaviour;
use crate::cell::open_circuit::STEPS;

/// Most strings in parallel (`Supply::STRINGS`).
pub(crate) const MOST_STRINGS: usize = 8;
/// Most packs in all (`PackString::PACKS` in each string).
const MOST_UNITS: usize = 32;

/// The joined packs under a load at one moment.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CircuitSolution {
    pub working: Working,
    /// Current out of one string of each kind.
    pub kind_a: [f64; MOST_STRINGS],
    pub lowest_cell_v: f64,
}

/// The joined packs.
#[derive(Debug, Clone)]
pub(crate) struct Kernel {
    pub units: Vec<Unit>,
    /// The kind of each string; kinds are numbered without gaps.
    kind_of_string: Vec<usize>,
    /// How many strings there are of each kind.
    counts: Vec<f64>,
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
        let mut kinds: Vec<&PackString> = Vec::with_capacity(MOST_STRINGS);
        let mut kind_of_string = Vec::with_capacity(MOST_STRINGS);
        let mut counts: Vec<f64> = Vec::with_capacity(MOST_STRINGS);
        for string in supply.strings.iter().take(MOST_STRINGS) {
            if let Some(known) = kinds.iter().position(|known| *known == string) {
                kind_of_string.push(known);
                counts[known] += 1.0;
                continue;
            }
            let (kind, first) = (kinds.len(), units.len());
            kinds.push(string);
            kind_of_string.push(kind);
            counts.push(1.0);
            for pack in &string.packs {
                let unit = Unit::new(kind, pack, behaviour, &rise, surroundings_k);
                match units.iter_mut().skip(first).find(|known| known.same_kind(&unit)) {
                    Some(known) => known.join(&unit),
                    None => units.push(unit),
                }
            }
        }
        Self {
            units,
            kind_of_string,
            counts,
            string_ohm: supply.string_resistance.value,
            bus_ohm: supply.bus_resistance.value,
            auxiliary_w: supply.auxiliary_power.value / supply.converter_efficiency.value,
        }
    }

    /// Strings in parallel.
    pub fn strings(&self) -> usize {
        self.kind_of_string.len()
    }

    fn kind_of(&self, string: usize) -> Option<usize> {
        self.kind_of_string.get(string).copied()
    }

    /// How many strings are of the unit's kind.
    pub fn alike(&self, unit: &Unit) -> f64 {
        self.counts[unit.kind]
    }

    /// The packs of one string, each kind once, with their states.
    pub fn of_string<'a>(
        &'a self,
        string: usize,
        states: &'a [UnitState],
    ) -> impl Iterator<Item = (&'a Unit, &'a UnitState)> {
        let kind = self.kind_of(string);
        self.units.iter().zip(states).filter(move |(unit, _)| Some(unit.kind) == kind)
    }

    /// Current out of one string.
    pub fn string_a(&self, string: usize, solution: &CircuitSolution) -> f64 {
        self.kind_of(string).and_then(|kind| solution.kind_a.get(kind)).copied().unwrap_or(0.0)
    }

    /// The same without a string, and the states of what is left; the strings after it move up by one.
    pub fn without(&self, lost: usize, states: &[UnitState]) -> (Self, Vec<UnitState>) {
        let mut rest = self.clone();
        if lost >= rest.kind_of_string.len() {
            return (rest, states.to_vec());
        }
        let kind = rest.kind_of_string.remove(lost);
        rest.counts[kind] -= 1.0;
        if rest.counts[kind] > 0.0 {
            return (rest, states.to_vec());
        }
        rest.counts.remove(kind);
        let kept = self.units.iter().zip(states).filter(|(unit, _)| unit.kind != kind);
        let states = kept.map(|(_, state)| *state).collect();
        rest.units.retain(|unit| unit.kind != kind);
        let later = |known: &mut usize| {
            if *known > kind {
                *known -= 1;
            }
        };
        rest.kind_of_string.iter_mut().for_each(later);
        rest.units.iter_mut().map(|unit| &mut unit.kind).for_each(later);
        (rest, states)
    }

    /// The packs before the flight.
    pub fn start(&self) -> Vec<UnitState> {
        self.units
            .iter()
            .map(|unit| UnitState {
                used_c: 0.0,
                slow_v: 0.0,
                slow_a: 0.0,
                temperature_k: unit.start_temperature_k,
            })
            .collect()
    }

    /// Strings of each kind as sources behind resistances; beyond the kinds there are none.
    pub fn branches(&self, states: &[UnitState]) -> [Branch; MOST_STRINGS] {
        self.joined(&self.cells(states))
    }

    /// One cell of each unit.
    #[inline]
    fn cells(&self, states: &[UnitState]) -> [(f64, f64); MOST_UNITS] {
        let mut cells = [(0.0, 0.0); MOST_UNITS];
        for ((unit, state), cell) in self.units.iter().zip(states).zip(&mut cells) {
            *cell = unit.cell(state);
        }
        cells
    }

    #[inline]
    fn joined(&self, cells: &[(f64, f64)]) -> [Branch; MOST_STRINGS] {
        let mut branches = [Branch::default(); MOST_STRINGS];
        for (branch, count) in branches.iter_mut().zip(&self.counts) {
            *branch = Branch { emf_v: 0.0, resistance_ohm: self.string_ohm, count: *count };
        }
        for (unit, (emf_v, ohmic_ohm)) in self.units.iter().zip(cells) {
            let branch = &mut branches[unit.kind];
            branch.emf_v += unit.cells * emf_v;
            branch.resistance_ohm += unit.cells * ohmic_ohm;
        }
        branches
    }

    /// The circuit solved for a bus load.
    pub fn moment(&self, states: &[UnitState], power_w: f64) -> Result<CircuitSolution, Overload> {
        let cells = self.cells(states);
        let branches = self.joined(&cells);
        let joined = branches.get(..self.counts.len()).unwrap_or(&branches);
        let working = sharing::solve(joined, self.bus_ohm, power_w)?;
        let mut kind_a = [0.0; MOST_STRINGS];
        for (current_a, branch) in kind_a.iter_mut().zip(joined) {
            *current_a = working.branch_a(branch);
        }
        let mut lowest_cell_v = f64::INFINITY;
        for (unit, (emf_v, ohmic_ohm)) in self.units.iter().zip(&cells) {
            lowest_cell_v = lowest_cell_v.min(emf_v - kind_a[unit.kind] * ohmic_ohm);
        }
        Ok(CircuitSolution { working, kind_a, lowest_cell_v })
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
        let full_j = |unit: &Unit| unit.cells * unit.capacity_c * unit.open_circuit_v(1.0);
        self.units.iter().map(|unit| self.alike(unit) * full_j(unit)).sum()
    }
}

impl CircuitSolution {
    pub fn current_a(&self, unit: &Unit) -> f64 {
        self.kind_a[unit.kind]
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
        self.of_string(string, states).next().map_or(0.0, |(_, state)| state.used_c)
    }

    /// Charge in a string before the flight, until its first pack is empty.
    pub fn on_board_c(&self, string: usize) -> f64 {
        let kind = self.kind_of(string);
        let of_string = self.units.iter().filter(|unit| Some(unit.kind) == kind);
        let least = of_string.map(|unit| unit.capacity_c * unit.share_at_start).fold(f64::INFINITY, f64::min);
        if least.is_finite() { least } else { 0.0 }
    }

    /// One string as a sample shows it.
    pub fn string_view(&self, string: usize, states: &[UnitState], moment: &CircuitSolution) -> StringView {
        let current_a = self.string_a(string, moment);
        let mut view = StringView {
            current_a,
            used_c: self.used_c(string, states),
            lowest_cell_v: f64::INFINITY,
            least_state_of_charge: f64::INFINITY,
            warmest_k: 0.0,
        };
        for (unit, state) in self.of_string(string, states) {
            view.lowest_cell_v = view.lowest_cell_v.min(unit.cell_v(state, current_a));
            view.least_state_of_charge = view.least_state_of_charge.min(unit.state_of_charge(state));
            view.warmest_k = view.warmest_k.max(state.temperature_k);
        }
        view
    }
}
