//! How strings in parallel share a constant-power load.
//!
//! Each string is a source E_i behind R_i, all meet at a node, the common leads R_b follow, the load takes P:
//! Thevenin 1/R = Σ 1/R_i, E = R Σ E_i/R_i; P = I (E − I (R + R_b)) gives I, the lesser root of the quadratic;
//! I_i = (E_i − V_node)/R_i. The greatest power is E²/(4 (R + R_b)); above it there is no voltage at all.
//! A string weaker than the node is charged by the others (I_i < 0), as it would be. Source: circuit laws, textbook.

use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power};

/// Strings alike, each as a source behind a resistance.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Branch {
    pub emf_v: f64,
    pub resistance_ohm: f64,
    /// How many there are, side by side.
    pub count: f64,
}

/// The joined strings under load.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Working {
    pub bus_a: f64,
    /// At the load, behind the common leads.
    pub bus_v: f64,
    /// Where the strings meet.
    pub node_v: f64,
}

impl Working {
    pub fn branch_a(&self, branch: &Branch) -> f64 {
        (branch.emf_v - self.node_v) / branch.resistance_ohm
    }
}

/// More power asked than the joined strings can give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Overload {
    pub greatest_w: f64,
    /// The voltage at that power.
    pub bus_v: f64,
}

pub(crate) fn solve(branches: &[Branch], bus_ohm: f64, power_w: f64) -> Result<Working, Overload> {
    let mut conductance = 0.0;
    let mut short_circuit_a = 0.0;
    for branch in branches {
        let siemens = branch.count / branch.resistance_ohm;
        conductance += siemens;
        short_circuit_a += branch.emf_v * siemens;
    }
    let strings_ohm = 1.0 / conductance;
    let emf_v = short_circuit_a * strings_ohm;
    let total_ohm = strings_ohm + bus_ohm;
    let under_root = emf_v * emf_v - 4.0 * total_ohm * power_w;
    if under_root >= 0.0 && emf_v > 0.0 {
        let bus_a = 2.0 * power_w / (emf_v + under_root.sqrt());
        Ok(Working { bus_a, bus_v: emf_v - bus_a * total_ohm, node_v: emf_v - bus_a * strings_ohm })
    } else {
        Err(Overload { greatest_w: emf_v.max(0.0).powi(2) / (4.0 * total_ohm), bus_v: emf_v / 2.0 })
    }
}

/// How sources in parallel share a load.
#[derive(Debug, Clone, PartialEq)]
pub struct Sharing {
    /// Current into the load.
    pub bus_current: ElectricCurrent,
    /// Voltage at the load.
    pub bus_voltage: ElectricPotential,
    /// Current out of each source; negative where it is charged.
    pub currents: Vec<ElectricCurrent>,
}

/// What a load asks of sources in parallel.
#[derive(Debug, Clone, PartialEq)]
pub enum Share {
    /// They can give it.
    Carried(Sharing),
    /// They cannot, at any voltage.
    VoltageCollapse {
        /// The greatest power they can give.
        greatest: Power,
    },
}

/// Shares a constant-power load among sources behind resistances, with common leads.
///
/// # Errors
/// `InputError::OutOfRange` for a source outside 0.1 to 1,000 V or 1 µΩ to 1 kΩ, leads outside 0 to 1 kΩ, power
/// outside 0 to 1 MW.
pub fn share_load(
    sources: &[(ElectricPotential, ElectricalResistance)],
    common: ElectricalResistance,
    load: Power,
) -> Result<Share, InputError> {
    static COUNT: InputRange = InputRange::new("sources", Kind::Count, 1.0, 64.0);
    static EMF: InputRange = InputRange::new("source_voltage", Kind::Potential, 0.1, 1000.0);
    static INNER: InputRange = InputRange::new("source_resistance", Kind::Resistance, 1e-6, 1000.0);
    static COMMON: InputRange = InputRange::new("common_resistance", Kind::Resistance, 0.0, 1000.0);
    static LOAD: InputRange = InputRange::new("load_power", Kind::Power, 0.0, 1e6);
    COUNT.check(sources.len() as f64)?;
    let mut branches = Vec::with_capacity(sources.len());
    for (emf, inner) in sources {
        branches.push(Branch {
            emf_v: EMF.check(emf.value)?,
            resistance_ohm: INNER.check(inner.value)?,
            count: 1.0,
        });
    }
    Ok(match solve(&branches, COMMON.check(common.value)?, LOAD.check(load.value)?) {
        Ok(working) => Share::Carried(Sharing {
            bus_current: ElectricCurrent::new::<ampere>(working.bus_a),
            bus_voltage: ElectricPotential::new::<volt>(working.bus_v),
            currents: branches.iter().map(|b| ElectricCurrent::new::<ampere>(working.branch_a(b))).collect(),
        }),
        Err(overload) => Share::VoltageCollapse { greatest: Power::new::<watt>(overload.greatest_w) },
    })
}
