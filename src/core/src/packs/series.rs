//! Unequal packs in series: the weakest rules.
//!
//! Formula: one current through all, so the string gives Q = min over packs of C (s − reserve share); what each pack could have given
//! beyond is left in it, and each ends at s − Q/C. Units: C, shares. Source: textbook. Valid: as `supply`.
//! Assumes: the reserve is a share of each pack's present capacity; sag may end the flight earlier (the card says so).

use uom::si::electric_charge::coulomb;
use uom::si::ratio::ratio;

use crate::cell::CellBehaviour;
use crate::flight::ReservePolicy;
use crate::input_error::{InputError, SupplyFault};
use crate::supply::PackString;
use crate::units::{ElectricCharge, Ratio};

/// What a string of unequal packs gives.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesJoin {
    /// To the reserve of its weakest pack.
    pub usable: ElectricCharge,
    /// The weakest pack, from 0.
    pub ruled_by: usize,
    /// What each pack could have given beyond.
    pub left_over: Vec<ElectricCharge>,
    /// State of charge of each pack then.
    pub ends_at: Vec<Ratio>,
}

/// What a string gives until its weakest pack is at its reserve.
///
/// # Errors
/// `InputError` naming the field; `SupplyFault::Empty` without a pack.
pub fn series_join(string: &PackString, reserve_share: Ratio) -> Result<SeriesJoin, InputError> {
    let reserve = ReservePolicy::SHARE.check(reserve_share.value)?;
    let behaviour = CellBehaviour::default();
    let mut packs = Vec::new();
    for pack in &string.packs {
        pack.validate()?;
        packs.push((pack.capacity_c(&behaviour), pack.charge_share()));
    }
    let allowance_c = |&(capacity_c, share): &(f64, f64)| (capacity_c * (share - reserve)).max(0.0);
    let least = packs.iter().map(allowance_c).enumerate().min_by(|(_, a), (_, b)| a.total_cmp(b));
    let Some((ruled_by, usable_c)) = least else { return Err(InputError::Supply(SupplyFault::Empty)) };
    let left_over = |pack: &(f64, f64)| ElectricCharge::new::<coulomb>(allowance_c(pack) - usable_c);
    let ends_at = |&(capacity_c, share): &(f64, f64)| Ratio::new::<ratio>(share - usable_c / capacity_c);
    Ok(SeriesJoin {
        usable: ElectricCharge::new::<coulomb>(usable_c),
        ruled_by,
        left_over: packs.iter().map(left_over).collect(),
        ends_at: packs.iter().map(ends_at).collect(),
    })
}
