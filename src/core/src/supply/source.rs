//! The joined packs at one moment, seen from the bus: one source behind one resistance.
//!
//! Formula   Thévenin: 1/R_s = Σ 1/R_i, E = R_s Σ E_i / R_i, R = R_s + R_bus; under a load P the bus stands at
//!           V = (E + √(E² − 4 R P)) / 2
//! Units     V, Ω, W
//! Source    circuit laws, textbook
//! Valid     any charge; no voltage above the greatest power E² / (4 R)
//! Assumes   a load too short to move the slower voltage drop, which is in E

use super::joined::Kernel;
use super::pack_unit::UnitState;
use super::params::Supply;
use crate::cell::CellBehaviour;
use crate::input_error::InputError;
use crate::units::{ElectricPotential, ElectricalResistance, Power, ThermodynamicTemperature};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// The joined packs as one source behind one resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// E.
    pub open_circuit: ElectricPotential,
    /// R.
    pub resistance: ElectricalResistance,
}

impl Source {
    /// Bus voltage under a load at constant power; none where the source cannot give it.
    pub fn voltage_at(&self, load: Power) -> Option<ElectricPotential> {
        let open_v = self.open_circuit.get::<volt>();
        let under_root = open_v * open_v - 4.0 * (self.resistance * load).value;
        (under_root >= 0.0).then(|| ElectricPotential::new::<volt>(0.5 * (open_v + under_root.sqrt())))
    }
}

impl Kernel {
    /// Seen from the bus in these states.
    pub fn source(&self, states: &[UnitState]) -> Source {
        let (mut conductance, mut short_circuit_a) = (0.0, 0.0);
        let branches = self.branches(states);
        for branch in branches.iter().filter(|branch| branch.count > 0.0) {
            let siemens = branch.count / branch.resistance_ohm;
            conductance += siemens;
            short_circuit_a += branch.emf_v * siemens;
        }
        Source {
            open_circuit: ElectricPotential::new::<volt>(short_circuit_a / conductance),
            resistance: ElectricalResistance::new::<ohm>(1.0 / conductance + self.bus_ohm),
        }
    }
}

impl Supply {
    /// Seen from the bus before the flight.
    ///
    /// # Errors
    /// `InputError` for a supply outside its documented range.
    pub fn source_at_start(&self) -> Result<Source, InputError> {
        self.validate()?;
        let kernel = Kernel::new(self, &CellBehaviour::default(), None);
        Ok(kernel.source(&kernel.start()))
    }

    /// Temperature of the coldest pack at the start; none without a pack.
    pub fn coldest_pack(&self) -> Option<ThermodynamicTemperature> {
        let temperatures = self.strings.iter().flat_map(|string| &string.packs).map(|pack| pack.temperature);
        temperatures.reduce(|coldest, temperature| if temperature < coldest { temperature } else { coldest })
    }
}
