//! Before strings are connected in parallel: what flows at the first moment, whether that is allowed, what to charge to match.
//!
//! Formula: string i is E_i = Σ rest voltages behind R_i = Σ n r a + leads (a the share of a cell's resistance that acts at once);
//! with no load the node stands at V = Σ(E_i/R_i) / Σ(1/R_i), I_i = (E_i − V)/R_i, negative where the string is charged; heat
//! Σ I²R. To match: each pack charged to the highest rest voltage of a cell among the strings.
//! Units: V, A, Ω, W, C. Source: circuit laws, textbook. Limits: the maker's charge rating and continuous rating; volts between cells
//! and the coldest charge are common practice, no source. Valid: rest voltages of the chemistry.
//! Assumes: nothing but leads and cells holds the current back; a cell's resistance is that at its charge and temperature.

use uom::si::electric_charge::coulomb;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::power::watt;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::cell::{CellBehaviour, open_circuit};
use crate::input_error::{InputError, SupplyFault};
use crate::input_range::{InputRange, Kind};
use crate::limits::State;
use crate::supply::sharing::{self, Branch};
use crate::supply::{PackString, Supply};
use crate::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio,
    ThermodynamicTemperature,
};

/// One string to be joined.
#[derive(Debug, Clone, PartialEq)]
pub struct JoiningString {
    /// Its packs, with their rest voltages; a pack without one is full.
    pub string: PackString,
    /// The maker's greatest charge current of its weakest pack, multiples of the capacity when new per hour.
    pub charge_c_rating: Ratio,
    /// Its leads and connectors.
    pub leads: ElectricalResistance,
}

/// Beyond these, strings are not joined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JoinLimits {
    /// Between the mean cells of two strings, greatest. Common practice, no source.
    pub cell_difference: ElectricPotential,
    /// Share of a limit from which it is to be watched. Common practice, no source.
    pub watch_from: Ratio,
    /// Below it a string must not be charged, nor by its neighbour. Common practice, no source.
    pub coldest_charge: ThermodynamicTemperature,
}

impl Default for JoinLimits {
    fn default() -> Self {
        Self {
            cell_difference: ElectricPotential::new::<volt>(0.05),
            watch_from: Ratio::new::<uom::si::ratio::ratio>(0.5),
            coldest_charge: ThermodynamicTemperature::new::<degree_celsius>(0.0),
        }
    }
}

impl JoinLimits {
    /// 1 mV to 1 V.
    pub const CELL_DIFFERENCE: InputRange = InputRange::new("cell_difference", Kind::Potential, 0.001, 1.0);
    /// 0 to 1.
    pub const WATCH_FROM: InputRange = InputRange::new("watch_from", Kind::Share, 0.0, 1.0);
    /// −20 to 30 °C.
    pub const COLDEST_CHARGE: InputRange =
        InputRange::new("coldest_charge", Kind::Temperature, 253.15, 303.15);
}

/// Why strings are not joined, or to be watched. Strings from 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JoinReason {
    /// Unlike numbers of cells in series.
    UnequalCells {
        /// The string that differs from the first.
        string: usize,
    },
    /// Unlike chemistries.
    UnlikeChemistry {
        /// The string that differs from the first.
        string: usize,
    },
    /// Cells too far apart.
    CellDifference {
        /// Between the mean cells of the highest and the lowest string.
        difference: ElectricPotential,
    },
    /// A string is charged beyond its rating.
    ChargeCurrent {
        /// The string.
        string: usize,
        /// What is allowed.
        limit: ElectricCurrent,
    },
    /// A string gives more than its continuous rating.
    DischargeCurrent {
        /// The string.
        string: usize,
        /// What is allowed.
        limit: ElectricCurrent,
    },
    /// A string is charged that is too cold for it.
    TooCold {
        /// The string.
        string: usize,
    },
}

impl JoinReason {
    /// Its stable name in files and reports.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::UnequalCells { .. } => "unequal-cells",
            Self::UnlikeChemistry { .. } => "unlike-chemistry",
            Self::CellDifference { .. } => "cell-difference",
            Self::ChargeCurrent { .. } => "charge-current",
            Self::DischargeCurrent { .. } => "discharge-current",
            Self::TooCold { .. } => "too-cold",
        }
    }
}

/// One string at the first moment.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinedString {
    /// Rest voltage.
    pub rest_voltage: ElectricPotential,
    /// Cells and leads, as they act at once.
    pub resistance: ElectricalResistance,
    /// Out of it; negative where it is charged.
    pub current: ElectricCurrent,
    /// In its cells and leads.
    pub heat: Power,
    /// Rest voltage of a cell to charge each of its packs to, so that all match.
    pub charge_to_cell: ElectricPotential,
    /// What each of its packs takes for that.
    pub charge: Vec<ElectricCharge>,
}

/// Strings at the moment they are joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Joining {
    /// Fine: join. Watch: little in hand. No: do not join.
    pub verdict: State,
    /// Worst first.
    pub reasons: Vec<(State, JoinReason)>,
    /// Each string.
    pub strings: Vec<JoinedString>,
    /// Greatest current of a string, either way.
    pub equalising_current: ElectricCurrent,
    /// In all strings.
    pub heat: Power,
    /// Where they meet.
    pub node_voltage: ElectricPotential,
}

/// What happens at the first moment when strings at rest are connected.
///
/// # Errors
/// `InputError::OutOfRange` naming the field; `SupplyFault::Empty` without a string, or for a string without a pack.
pub fn join(strings: &[JoiningString], limits: &JoinLimits) -> Result<Joining, InputError> {
    Supply::STRINGS.check(strings.len() as f64)?;
    JoinLimits::CELL_DIFFERENCE.check(limits.cell_difference.value)?;
    JoinLimits::WATCH_FROM.check(limits.watch_from.value)?;
    JoinLimits::COLDEST_CHARGE.check(limits.coldest_charge.value)?;
    let behaviour = CellBehaviour::default();
    let mut branches = Vec::with_capacity(strings.len());
    for joining in strings {
        branches.push(branch(joining, &behaviour)?);
    }
    // Without a load there is always a solution.
    let working = sharing::solve(&branches, 0.0, 0.0).unwrap_or_default();
    let mean_cell_v = |(joining, branch): (&JoiningString, &Branch)| {
        branch.emf_v / f64::from(joining.string.cells().max(1))
    };
    let cells_v: Vec<f64> = strings.iter().zip(&branches).map(mean_cell_v).collect();
    let highest_v = cells_v.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let lowest_v = cells_v.iter().copied().fold(f64::INFINITY, f64::min);
    let joined: Vec<JoinedString> = strings
        .iter()
        .zip(&branches)
        .map(|(joining, branch)| joined(joining, branch, working.branch_a(branch), highest_v, &behaviour))
        .collect();
    let difference = ElectricPotential::new::<volt>(highest_v - lowest_v);
    let reasons = reasons(strings, &joined, difference, limits);
    let greatest_a = joined.iter().map(|string| string.current.value.abs()).fold(0.0, f64::max);
    Ok(Joining {
        verdict: reasons.first().map_or(State::Fine, |(state, _)| *state),
        reasons,
        equalising_current: ElectricCurrent::new::<ampere>(greatest_a),
        heat: joined.iter().map(|string| string.heat).sum(),
        node_voltage: ElectricPotential::new::<volt>(working.node_v),
        strings: joined,
    })
}

fn branch(joining: &JoiningString, behaviour: &CellBehaviour) -> Result<Branch, InputError> {
    use crate::charge::ChargingPack;
    ChargingPack::CHARGE_C_RATING.check(joining.charge_c_rating.value)?;
    let mut resistance_ohm = Supply::LEAD_RESISTANCE.check(joining.leads.value)?;
    if joining.string.packs.is_empty() {
        return Err(InputError::Supply(SupplyFault::Empty));
    }
    PackString::PACKS.check(joining.string.packs.len() as f64)?;
    let mut emf_v = 0.0;
    for pack in &joining.string.packs {
        pack.validate()?;
        let rise = behaviour.resistance_by_charge(pack.charge_share());
        let cell_ohm = pack.cell_ohm(behaviour) * behaviour.ohmic_share.value * rise;
        resistance_ohm += f64::from(pack.cells_in_series) * cell_ohm;
        emf_v += pack.present_rest_voltage().value;
    }
    Ok(Branch { emf_v, resistance_ohm, count: 1.0 })
}

fn joined(
    joining: &JoiningString,
    branch: &Branch,
    current_a: f64,
    cell_v: f64,
    behaviour: &CellBehaviour,
) -> JoinedString {
    let charge = |pack: &crate::supply::Pack| {
        let to = open_circuit::inverse(pack.cell.chemistry.curve(), cell_v).min(1.0);
        let charge_c = pack.capacity_c(behaviour) * (to - pack.charge_share());
        ElectricCharge::new::<coulomb>(charge_c.max(0.0))
    };
    JoinedString {
        rest_voltage: ElectricPotential::new::<volt>(branch.emf_v),
        resistance: ElectricalResistance::new::<ohm>(branch.resistance_ohm),
        current: ElectricCurrent::new::<ampere>(current_a),
        heat: Power::new::<watt>(current_a * current_a * branch.resistance_ohm),
        charge_to_cell: ElectricPotential::new::<volt>(cell_v),
        charge: joining.string.packs.iter().map(charge).collect(),
    }
}

/// Currents below this are what a voltmeter's last digit makes.
const NO_CURRENT_A: f64 = 0.01;

fn reasons(
    strings: &[JoiningString],
    joined: &[JoinedString],
    difference: ElectricPotential,
    limits: &JoinLimits,
) -> Vec<(State, JoinReason)> {
    let against = |share: f64| {
        if share > 1.0 {
            State::No
        } else if share >= limits.watch_from.value && share > 0.0 {
            State::Watch
        } else {
            State::Fine
        }
    };
    let by_cells = against((difference / limits.cell_difference).value);
    let mut reasons = vec![(by_cells, JoinReason::CellDifference { difference })];
    for (string, (joining, at)) in strings.iter().zip(joined).enumerate() {
        if let Some(first) = strings.first() {
            let chemistry =
                |joining: &JoiningString| joining.string.packs.first().map(|pack| pack.cell.chemistry);
            if first.string.cells() != joining.string.cells() {
                reasons.push((State::No, JoinReason::UnequalCells { string }));
            }
            if joining.string.packs.iter().any(|pack| Some(pack.cell.chemistry) != chemistry(first)) {
                reasons.push((State::No, JoinReason::UnlikeChemistry { string }));
            }
        }
        let one_c_a = joining.string.packs.iter().map(|pack| pack.cell.capacity.value / 3600.0);
        let one_c_a = one_c_a.fold(f64::INFINITY, f64::min);
        let current_a = at.current.value;
        if current_a < -NO_CURRENT_A {
            let limit = ElectricCurrent::new::<ampere>(one_c_a * joining.charge_c_rating.value);
            let state = against(-current_a / limit.value);
            reasons.push((state, JoinReason::ChargeCurrent { string, limit }));
            if joining.string.packs.iter().any(|pack| pack.temperature < limits.coldest_charge) {
                reasons.push((State::No, JoinReason::TooCold { string }));
            }
        } else if let Some(limit) = joining.string.continuous_current() {
            let state = against(current_a / limit.value);
            reasons.push((state, JoinReason::DischargeCurrent { string, limit }));
        }
    }
    reasons.retain(|(state, _)| *state != State::Fine);
    reasons.sort_by_key(|(state, _)| core::cmp::Reverse(*state));
    reasons
}
