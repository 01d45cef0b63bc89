//! Plain figures of packs and supplies: what a pack holds now, what a string holds, rest voltage, energy.
//!
//! Formula: present capacity = measured one if there is one, else new one by cycles; both by temperature
//! (`cell::behaviour`). A string holds what its weakest pack holds.

use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;
use uom::si::time::hour;

use super::params::{Pack, PackString, Supply};
use crate::cell::{CellBehaviour, open_circuit};
use crate::input_error::InputError;
use crate::input_error::SupplyFault;
use crate::units::{ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, Time};

impl Pack {
    pub(crate) fn capacity_c(&self, behaviour: &CellBehaviour) -> f64 {
        let at_25_c = self.health.measured_capacity.map_or_else(
            || self.cell.capacity.value * behaviour.capacity_by_cycles(f64::from(self.health.cycles)),
            |measured| measured.value,
        );
        at_25_c * behaviour.capacity_by_temperature(self.temperature.value)
    }

    pub(crate) fn cell_ohm(&self, behaviour: &CellBehaviour) -> f64 {
        let at_25_c = self.health.measured_cell_resistance.map_or_else(
            || self.cell.resistance.value * behaviour.resistance_by_cycles(f64::from(self.health.cycles)),
            |measured| measured.value,
        );
        at_25_c * behaviour.resistance_by_temperature(self.temperature.value)
    }

    /// Share of the present capacity in the pack; a pack without a rest voltage is full.
    pub(crate) fn charge_share(&self) -> f64 {
        self.rest_voltage.map_or(1.0, |rest| {
            let cell_v = rest.value / f64::from(self.cells_in_series.max(1));
            open_circuit::inverse(self.cell.chemistry.curve(), cell_v).min(1.0)
        })
    }

    /// Capacity now: measured or by cycles, at the pack's temperature.
    ///
    /// # Errors
    /// As `validate`.
    pub fn present_capacity(&self) -> Result<ElectricCharge, InputError> {
        self.validate()?;
        Ok(ElectricCharge::new::<coulomb>(self.capacity_c(&CellBehaviour::default())))
    }

    /// Resistance of one cell now: measured or by cycles, at the pack's temperature.
    ///
    /// # Errors
    /// As `validate`.
    pub fn present_cell_resistance(&self) -> Result<ElectricalResistance, InputError> {
        self.validate()?;
        Ok(ElectricalResistance::new::<ohm>(self.cell_ohm(&CellBehaviour::default())))
    }

    /// State of charge before the flight, from the rest voltage; full without one.
    ///
    /// # Errors
    /// As `validate`.
    pub fn state_of_charge(&self) -> Result<Ratio, InputError> {
        self.validate()?;
        Ok(Ratio::new::<ratio>(self.charge_share()))
    }

    /// Rest voltage when full.
    pub fn full_rest_voltage(&self) -> ElectricPotential {
        self.cell.chemistry.full_voltage() * f64::from(self.cells_in_series)
    }

    /// Rest voltage before the flight.
    pub fn present_rest_voltage(&self) -> ElectricPotential {
        self.rest_voltage.unwrap_or_else(|| self.full_rest_voltage())
    }
}

impl Pack {
    /// Greatest continuous current by the maker's rating: C rating times capacity when new, over one hour.
    pub fn continuous_current(&self) -> ElectricCurrent {
        self.cell.capacity * self.continuous_c_rating / Time::new::<hour>(1.0)
    }
}

impl PackString {
    /// Greatest continuous current: that of its weakest pack; none without packs.
    pub fn continuous_current(&self) -> Option<ElectricCurrent> {
        self.packs.iter().map(Pack::continuous_current).reduce(ElectricCurrent::min)
    }

    /// Charge that can be taken from the string before its first pack is empty.
    ///
    /// # Errors
    /// As `Pack::validate`; `SupplyFault::Empty` without a pack.
    pub fn charge_on_board(&self) -> Result<ElectricCharge, InputError> {
        let behaviour = CellBehaviour::default();
        let mut least_c = f64::INFINITY;
        for pack in &self.packs {
            pack.validate()?;
            least_c = least_c.min(pack.capacity_c(&behaviour) * pack.charge_share());
        }
        if least_c.is_finite() {
            Ok(ElectricCharge::new::<coulomb>(least_c))
        } else {
            Err(InputError::Supply(SupplyFault::Empty))
        }
    }

    /// Rest voltage when full.
    pub fn full_rest_voltage(&self) -> ElectricPotential {
        self.packs.iter().map(Pack::full_rest_voltage).fold(ElectricPotential::new::<volt>(0.0), |a, b| a + b)
    }

    /// Rest voltage before the flight.
    pub fn present_rest_voltage(&self) -> ElectricPotential {
        self.packs
            .iter()
            .map(Pack::present_rest_voltage)
            .fold(ElectricPotential::new::<volt>(0.0), |a, b| a + b)
    }
}

impl Supply {
    /// The strings that differ from all before them, by place: alike strings share one fate and stand once.
    pub fn unlike_strings(&self) -> impl Iterator<Item = (usize, &PackString)> {
        let is_new = |(index, string): &(usize, &PackString)| {
            !self.strings.iter().take(*index).any(|before| before == *string)
        };
        self.strings.iter().enumerate().filter(is_new)
    }

    /// Charge on board of all strings.
    ///
    /// # Errors
    /// As `PackString::charge_on_board`.
    pub fn charge_on_board(&self) -> Result<ElectricCharge, InputError> {
        let mut sum = ElectricCharge::new::<coulomb>(0.0);
        for string in &self.strings {
            sum += string.charge_on_board()?;
        }
        Ok(sum)
    }

    /// Rest voltage when full, of the first string (all have as many cells).
    pub fn full_rest_voltage(&self) -> ElectricPotential {
        self.strings
            .first()
            .map_or_else(|| ElectricPotential::new::<volt>(0.0), PackString::full_rest_voltage)
    }
}
