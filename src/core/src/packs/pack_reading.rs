//! What is known of one pack that lies on the charging table.

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::supply::{Health, Pack};
use crate::units::{ElectricPotential, ElectricalResistance, Ratio};

/// One pack with the readings of its cells.
#[derive(Debug, Clone, PartialEq)]
pub struct PackReading {
    /// The pack; its own rest voltage is not looked at.
    pub pack: Pack,
    /// Resistance of each cell; empty where none was measured.
    pub cell_resistances: Vec<ElectricalResistance>,
    /// Rest voltage of each cell; empty where none was measured.
    pub cell_voltages: Vec<ElectricPotential>,
    /// Since it was bought, in years; none where nobody knows.
    pub age_years: Option<Ratio>,
}

impl PackReading {
    /// 0 to 5 V: also of a cell that is dead.
    pub const CELL_VOLTAGE: InputRange = InputRange::new("cell_voltage", Kind::Potential, 0.0, 5.0);
    /// 0.1 to 300 mΩ.
    pub const CELL_RESISTANCE: InputRange =
        InputRange::new("cell_resistance_measured", Kind::Resistance, 0.000_1, 0.3);
    /// 0 to 30 years.
    pub const AGE: InputRange = InputRange::new("pack_age", Kind::Number, 0.0, 30.0);
    /// 0 to as many as a pack may have.
    pub const CELLS: InputRange =
        InputRange::new("cells_measured", Kind::Count, 0.0, Pack::CELLS_IN_SERIES.max);

    /// Passes if every field lies in its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the field.
    pub fn validate(&self) -> Result<(), InputError> {
        Health::validate(&self.pack.health)?;
        Self::CELLS.check(self.cell_voltages.len() as f64)?;
        Self::CELLS.check(self.cell_resistances.len() as f64)?;
        for voltage in &self.cell_voltages {
            Self::CELL_VOLTAGE.check(voltage.value)?;
        }
        for resistance in &self.cell_resistances {
            Self::CELL_RESISTANCE.check(resistance.value)?;
        }
        if let Some(age) = self.age_years {
            Self::AGE.check(age.value)?;
        }
        Ok(())
    }
}
