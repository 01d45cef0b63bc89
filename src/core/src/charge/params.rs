//! Chargers, what is on them, and what a charge takes.

use uom::si::ratio::ratio;

use crate::cell::CellBehaviour;
use crate::day::ChargeStep;
use crate::input_range::{InputRange, Kind};
use crate::supply::Pack;
use crate::units::{ElectricCharge, ElectricCurrent, Energy, Power, Ratio, Time};

/// A charger: a channel for each pack of a set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Charger {
    /// Into the packs, all channels together.
    pub output_power: Power,
    /// Of one channel.
    pub output_current: ElectricCurrent,
    /// Into the packs over out of the supply.
    pub efficiency: Ratio,
}

impl Charger {
    /// 10 W to 30 kW.
    pub const OUTPUT_POWER: InputRange = InputRange::new("charger_power", Kind::Power, 10.0, 30_000.0);
    /// 0.1 to 500 A.
    pub const OUTPUT_CURRENT: InputRange = InputRange::new("charger_current", Kind::Current, 0.1, 500.0);
    /// 0.5 to 1.
    pub const EFFICIENCY: InputRange = InputRange::new("charger_efficiency", Kind::Share, 0.5, 1.0);
}

/// A pack to be charged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChargingPack {
    /// The pack; its rest voltage says nothing here.
    pub pack: Pack,
    /// The maker's greatest charge current, multiples of the capacity when new per hour. 1 C is common practice, no source.
    pub charge_c_rating: Ratio,
    /// State of charge at the start.
    pub from: Ratio,
    /// State of charge wanted; 1 with the taper to its cut-off.
    pub to: Ratio,
}

impl ChargingPack {
    /// 0.1 to 20 C.
    pub const CHARGE_C_RATING: InputRange = InputRange::new("charge_c_rating", Kind::CRate, 0.1, 20.0);
    /// 0 to 1.
    pub const STATE_OF_CHARGE: InputRange = InputRange::new("state_of_charge", Kind::Share, 0.0, 1.0);
    /// 1 to 64 on one charger.
    pub const PACKS: InputRange = InputRange::new("packs_on_charger", Kind::Count, 1.0, 64.0);
}

/// How a charge is computed; the default serves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChargeSettings {
    /// How the cells behave.
    pub behaviour: CellBehaviour,
    /// Settled resistance over the one of some seconds under load. Default 2.4: 85 mΩ against 35.7 mΩ, Ai et al. 2020 as
    /// a Doyle–Fuller–Newman model charged at 0.46 C.
    pub settling: Ratio,
    /// Current at which the charge ends, multiples of the capacity per hour. 1/20 is common practice, no source.
    pub cut_off: Ratio,
}

impl Default for ChargeSettings {
    fn default() -> Self {
        Self {
            behaviour: CellBehaviour::default(),
            settling: Ratio::new::<ratio>(2.4),
            cut_off: Ratio::new::<ratio>(0.05),
        }
    }
}

impl ChargeSettings {
    /// 0.5 to 10.
    pub const SETTLING: InputRange = InputRange::new("settling", Kind::Number, 0.5, 10.0);
    /// 0.005 to 0.5 C.
    pub const CUT_OFF: InputRange = InputRange::new("charge_cut_off", Kind::CRate, 0.005, 0.5);
}

crate::keyed! {
    /// What holds the current at its start.
    pub enum ChargeRule {
        /// The charger's power.
        ChargerPower = "charger-power",
        /// The charger's current.
        ChargerCurrent = "charger-current",
        /// The pack's charge rating.
        PackRating = "pack-rating",
        /// The full voltage, right from the start.
        FullVoltage = "full-voltage",
        /// Nothing is to be charged.
        Nothing = "nothing",
    }
}

/// A charge of a set.
#[derive(Debug, Clone, PartialEq)]
pub struct ChargeCourse {
    /// Until the last pack is done.
    pub duration: Time,
    /// Until the first cell stands at its full voltage; all of it where none does.
    pub constant_current_for: Time,
    /// Into all packs: the sum of what each pack takes.
    pub charge: ElectricCharge,
    /// Out of the supply.
    pub energy: Energy,
    /// What rules the slowest pack's current at its start.
    pub ruled_by: ChargeRule,
    /// What the supply must give, in a few steps that never rise.
    pub steps: Vec<ChargeStep>,
}
