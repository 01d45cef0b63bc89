//! Whether a supply can be computed: every field in its range, strings that may be joined.

use super::params::{Health, Meter, MeterPlace, Pack, PackString, Supply};
use crate::cell::CellParams;
use crate::input_error::InputError;
use crate::input_error::SupplyFault;
use crate::input_range::{InputRange, Kind};

impl Health {
    /// 0.1 to 100 Ah.
    pub const MEASURED_CAPACITY: InputRange =
        InputRange::new("measured_capacity", Kind::Charge, 360.0, 360_000.0);
    /// 0.1 to 300 mΩ.
    pub const MEASURED_CELL_RESISTANCE: InputRange =
        InputRange::new("measured_cell_resistance", Kind::Resistance, 0.000_1, 0.3);

    /// Passes if every field lies in its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the field.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::CYCLES.check(f64::from(self.cycles))?;
        if let Some(capacity) = self.measured_capacity {
            Self::MEASURED_CAPACITY.check(capacity.value)?;
        }
        if let Some(resistance) = self.measured_cell_resistance {
            Self::MEASURED_CELL_RESISTANCE.check(resistance.value)?;
        }
        Ok(())
    }
}

impl Pack {
    /// Passes if every field lies in its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the field; the rest voltage is held against its range per cell.
    pub fn validate(&self) -> Result<(), InputError> {
        CellParams::CAPACITY.check(self.cell.capacity.value)?;
        CellParams::RESISTANCE.check(self.cell.resistance.value)?;
        let cells = Self::CELLS_IN_SERIES.check(f64::from(self.cells_in_series))?;
        Self::MASS.check(self.mass.value)?;
        Self::CONTINUOUS_C_RATING.check(self.continuous_c_rating.value)?;
        self.health.validate()?;
        if let Some(rest) = self.rest_voltage {
            self.cell.chemistry.rest_voltage_bound().check(rest.value / cells)?;
        }
        Self::TEMPERATURE.check(self.temperature.value)?;
        Ok(())
    }
}

impl PackString {
    /// Cells in series of all packs.
    pub fn cells(&self) -> u32 {
        self.packs.iter().map(|pack| pack.cells_in_series).fold(0, u32::saturating_add)
    }
}

impl Supply {
    /// Passes if every field lies in its range and the strings may be joined.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the field, `InputError::Supply` for no packs, unequal strings, or a meter on a
    /// string that is not there.
    pub fn validate(&self) -> Result<(), InputError> {
        let cells = match self.strings.first() {
            Some(first) if !first.packs.is_empty() => first.cells(),
            _ => return Err(InputError::Supply(SupplyFault::Empty)),
        };
        Self::STRINGS.check(self.strings.len() as f64)?;
        for (index, string) in self.strings.iter().enumerate() {
            validate_string(index, string, cells)?;
        }
        Self::LEAD_RESISTANCE.check(self.string_resistance.value)?;
        Self::LEAD_RESISTANCE.check(self.bus_resistance.value)?;
        Self::AUXILIARY_POWER.check(self.auxiliary_power.value)?;
        Self::CONVERTER_EFFICIENCY.check(self.converter_efficiency.value)?;
        Meter::SCALE_ERROR.check(self.meter.scale_error.value)?;
        match self.meter.place {
            MeterPlace::String(string) if string >= self.strings.len() => {
                Err(InputError::Supply(SupplyFault::NoSuchString { string, strings: self.strings.len() }))
            }
            _ => Ok(()),
        }
    }
}

fn validate_string(index: usize, string: &PackString, expected: u32) -> Result<(), InputError> {
    if string.packs.is_empty() {
        return Err(InputError::Supply(SupplyFault::Empty));
    }
    PackString::PACKS.check(string.packs.len() as f64)?;
    for pack in &string.packs {
        pack.validate()?;
    }
    let cells = string.cells();
    if cells != expected {
        return Err(InputError::Supply(SupplyFault::UnequalStrings { string: index, cells, expected }));
    }
    Ok(())
}
