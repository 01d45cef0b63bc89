//! A chemistry is one entry: open-circuit curve, rest voltages, laws of resistance and capacity, thermal data, sources.
//!
//! Formula: a table of V per cell at every 2 % of charge from empty to full, 25 °C, at rest. Units: V.
//! Source: each entry names its own; the published curves are computed from the papers' parameters by an open model
//! library, script and table in `tests/references/cells`. Valid: at rest, 25 °C. Checked: a test holds both against
//! each other. Assumes: the laws of cold and age are one set for all, for want of a source a chemistry.

use super::behaviour::CellBehaviour;
use super::open_circuit::Curve;
use crate::input_range::{InputRange, Kind};

/// Points in a curve.
pub(crate) const CURVE_POINTS: usize = 51;

crate::keyed! {
    /// Cell chemistries with a published or measured open-circuit curve on board.
    pub enum Chemistry {
        /// Lithium polymer, 4.20 V full.
        LithiumPolymer = "lithium-polymer",
        /// High-voltage lithium polymer, 4.35 V full.
        LithiumPolymerHighVoltage = "lithium-polymer-high-voltage",
        /// Lithium-ion, cylindrical cell.
        LithiumIonCylindrical = "lithium-ion-cylindrical",
        /// Lithium iron phosphate, 3.60 V full.
        LithiumIronPhosphate = "lithium-iron-phosphate",
    }
}

/// All that is known of a chemistry.
#[derive(Debug)]
pub struct ChemistryEntry {
    pub(crate) curve: Curve,
    /// Where the open-circuit curve comes from.
    pub curve_source: &'static str,
    /// Range of the rest voltage of one cell: empty to full, and 20 mV for the voltmeter.
    pub rest_voltage: InputRange,
    /// Laws of resistance and capacity, thermal data.
    pub behaviour: fn() -> CellBehaviour,
    /// Where those come from.
    pub laws_source: &'static str,
}

impl Chemistry {
    /// What is known of it.
    pub const fn entry(self) -> &'static ChemistryEntry {
        match self {
            Self::LithiumPolymer => &LITHIUM_POLYMER,
            Self::LithiumPolymerHighVoltage => &LITHIUM_POLYMER_HIGH_VOLTAGE,
            Self::LithiumIonCylindrical => &LITHIUM_ION_CYLINDRICAL,
            Self::LithiumIronPhosphate => &LITHIUM_IRON_PHOSPHATE,
        }
    }
}

const fn rest_voltage(empty_v: f64, most_v: f64) -> InputRange {
    InputRange::new("rest_voltage", Kind::Potential, empty_v, most_v)
}

const SHARED_LAWS: &str = "each constant of `CellBehaviour` names its own; none is of this chemistry alone";

/// Lithium cobalt oxide pouch cell, 3.0 to 4.2 V.
static LITHIUM_POLYMER: ChemistryEntry = ChemistryEntry {
    curve: [
        3.0000, 3.3388, 3.4893, 3.5825, 3.6250, 3.6396, 3.6476, 3.6572, 3.6733, 3.6847, 3.6954, 3.7055,
        3.7135, 3.7198, 3.7263, 3.7331, 3.7392, 3.7451, 3.7510, 3.7567, 3.7622, 3.7676, 3.7734, 3.7790,
        3.7856, 3.7925, 3.7999, 3.8080, 3.8167, 3.8262, 3.8365, 3.8478, 3.8607, 3.8752, 3.8913, 3.9089,
        3.9265, 3.9436, 3.9601, 3.9768, 3.9945, 4.0125, 4.0315, 4.0501, 4.0685, 4.0879, 4.1078, 4.1281,
        4.1488, 4.1700, 4.2000,
    ],
    curve_source: "Ai et al. 2020, J. Electrochem. Soc. 167 013512: 25 °C, computed from its parameters",
    rest_voltage: rest_voltage(3.0, 4.22),
    behaviour: CellBehaviour::default,
    laws_source: SHARED_LAWS,
};

/// The lithium polymer curve stretched by 1/1.14 and carried on straight to 4.35 V, so that a cell at 4.20 V
/// holds 88 %. Replace by a measured one when there is one.
static LITHIUM_POLYMER_HIGH_VOLTAGE: ChemistryEntry = ChemistryEntry {
    curve: [
        3.0000, 3.3599, 3.5154, 3.6004, 3.6332, 3.6452, 3.6557, 3.6730, 3.6860, 3.6980, 3.7087, 3.7169,
        3.7242, 3.7319, 3.7390, 3.7457, 3.7524, 3.7588, 3.7650, 3.7714, 3.7779, 3.7852, 3.7931, 3.8017,
        3.8111, 3.8215, 3.8328, 3.8453, 3.8597, 3.8762, 3.8948, 3.9149, 3.9347, 3.9538, 3.9728, 3.9927,
        4.0133, 4.0348, 4.0560, 4.0774, 4.0998, 4.1228, 4.1463, 4.1706, 4.2034, 4.2279, 4.2523, 4.2767,
        4.3011, 4.3256, 4.3500,
    ],
    curve_source: "common practice, no source: the Ai et al. 2020 curve, carried on to 4.35 V",
    rest_voltage: rest_voltage(3.0, 4.37),
    behaviour: CellBehaviour::default,
    laws_source: SHARED_LAWS,
};

/// Nickel-rich oxide against graphite with silicon, 2.5 to 4.2 V.
static LITHIUM_ION_CYLINDRICAL: ChemistryEntry = ChemistryEntry {
    curve: [
        2.5000, 2.8625, 3.0504, 3.1553, 3.2276, 3.2959, 3.3637, 3.4157, 3.4480, 3.4687, 3.4852, 3.5014,
        3.5190, 3.5386, 3.5599, 3.5814, 3.6019, 3.6205, 3.6372, 3.6524, 3.6670, 3.6817, 3.6972, 3.7139,
        3.7319, 3.7509, 3.7702, 3.7892, 3.8072, 3.8242, 3.8406, 3.8578, 3.8779, 3.9020, 3.9266, 3.9479,
        3.9668, 3.9850, 4.0037, 4.0230, 4.0421, 4.0599, 4.0749, 4.0858, 4.0924, 4.0967, 4.1025, 4.1144,
        4.1351, 4.1645, 4.2000,
    ],
    curve_source: "Chen et al. 2020, J. Electrochem. Soc. 167 080534: 25 °C, computed from its parameters",
    rest_voltage: rest_voltage(2.5, 4.22),
    behaviour: CellBehaviour::default,
    laws_source: SHARED_LAWS,
};

/// Iron phosphate against graphite, 2.0 to 3.6 V. Its long flat middle tells next to nothing of the charge at rest.
static LITHIUM_IRON_PHOSPHATE: ChemistryEntry = ChemistryEntry {
    curve: [
        2.0000, 2.4600, 2.7077, 2.8432, 2.9223, 2.9781, 3.0308, 3.0843, 3.1277, 3.1544, 3.1685, 3.1765,
        3.1827, 3.1890, 3.1966, 3.2058, 3.2163, 3.2272, 3.2373, 3.2458, 3.2525, 3.2574, 3.2608, 3.2632,
        3.2649, 3.2660, 3.2669, 3.2675, 3.2680, 3.2684, 3.2688, 3.2692, 3.2697, 3.2703, 3.2715, 3.2740,
        3.2791, 3.2875, 3.2975, 3.3053, 3.3097, 3.3118, 3.3129, 3.3134, 3.3138, 3.3142, 3.3145, 3.3153,
        3.3193, 3.3502, 3.6000,
    ],
    curve_source: "Prada et al. 2013, J. Electrochem. Soc. 160 A616: 25 °C, computed from its parameters",
    rest_voltage: rest_voltage(2.0, 3.62),
    behaviour: CellBehaviour::default,
    laws_source: SHARED_LAWS,
};
