//! What a pack needs to be put away.
//!
//! Formula: charge = C (s(U_storage) − s_now); positive is to be charged, negative to be taken out. Units: V, C. Source: 3.80 V a
//! cell at rest is common practice, no source; the maker's word comes first. Valid: rest voltages of the chemistry.
//! Assumes: the pack has rested.

use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

use crate::cell::{CellBehaviour, open_circuit};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::supply::Pack;
use crate::units::{ElectricCharge, ElectricPotential, Ratio};

/// Range of the rest voltage of a stored cell: 3.6 to 4.0 V.
pub static STORAGE_VOLTAGE: InputRange = InputRange::new("storage_voltage", Kind::Potential, 3.6, 4.0);

/// What a pack needs to be put away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StorageNeed {
    /// State of charge to be stored at.
    pub to: Ratio,
    /// To be charged; negative: to be taken out.
    pub charge: ElectricCharge,
}

/// Storage charge of a pack, from its rest voltage.
///
/// # Errors
/// `InputError::OutOfRange` naming the field.
pub fn storage_charge(pack: &Pack, cell_voltage: ElectricPotential) -> Result<StorageNeed, InputError> {
    pack.validate()?;
    let voltage_v = STORAGE_VOLTAGE.check(cell_voltage.get::<volt>())?;
    let to = open_circuit::inverse(pack.cell.chemistry.curve(), voltage_v);
    let charge_c = pack.capacity_c(&CellBehaviour::default()) * (to - pack.charge_share());
    Ok(StorageNeed { to: Ratio::new::<ratio>(to), charge: ElectricCharge::new::<coulomb>(charge_c) })
}
