//! Supplies and demands that several topics fly.

use liftmargin_core::cell::{CellParams, Chemistry};
use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::profile::{Leg, LegDemand, LegKind};
use liftmargin_core::supply::{Health, Meter, MeterPlace, Pack, PackString, Supply};
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::f64::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Mass, Power, Ratio, ThermodynamicTemperature,
    Time,
};
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;

/// A new, full twelve-cell lithium polymer pack of this capacity at 25 °C.
pub fn pack(capacity_ah: f64, cell_milliohm: f64) -> Pack {
    Pack {
        cell: CellParams {
            chemistry: Chemistry::LithiumPolymer,
            capacity: ElectricCharge::new::<ampere_hour>(capacity_ah),
            resistance: ElectricalResistance::new::<milliohm>(cell_milliohm),
            resistance_spread: Ratio::new::<ratio>(0.0),
        },
        cells_in_series: 12,
        mass: Mass::new::<kilogram>(0.26 * capacity_ah),
        continuous_c_rating: Ratio::new::<ratio>(20.0),
        health: Health { cycles: 0, measured_capacity: None, measured_cell_resistance: None },
        rest_voltage: None,
        temperature: ThermodynamicTemperature::new::<degree_celsius>(25.0),
    }
}

/// These packs, each a string.
pub fn supply(packs: &[Pack]) -> Supply {
    Supply {
        strings: packs.iter().map(|&pack| PackString { packs: vec![pack] }).collect(),
        string_resistance: ElectricalResistance::new::<milliohm>(1.0),
        bus_resistance: ElectricalResistance::new::<milliohm>(0.5),
        auxiliary_power: Power::new::<watt>(60.0),
        converter_efficiency: Ratio::new::<ratio>(0.9),
        meter: Meter { place: MeterPlace::Bus, scale_error: Ratio::new::<ratio>(0.0) },
    }
}

/// Two strings of 12 Ah, twelve cells, 1.5 mΩ a cell: the common heavy-lift supply.
pub fn two_strings() -> Supply {
    supply(&[pack(12.0, 1.5), pack(12.0, 1.5)])
}

/// A leg.
pub fn leg(kind: LegKind, duration_s: f64, power_w: f64) -> Leg {
    Leg { kind, duration: Time::new::<second>(duration_s), power: Power::new::<watt>(power_w) }
}

/// A short flight close by at a hover power.
pub fn close_by(hover_w: f64) -> LegDemand {
    LegDemand {
        outbound: vec![
            leg(LegKind::WarmUp, 20.0, 0.1 * hover_w),
            leg(LegKind::Climb, 15.0, 1.15 * hover_w),
            leg(LegKind::Transit, 15.0, 0.95 * hover_w),
        ],
        on_set: Power::new::<watt>(1.05 * hover_w),
        homebound: vec![
            leg(LegKind::Return, 15.0, 0.95 * hover_w),
            leg(LegKind::Descent, 25.0, 0.9 * hover_w),
            leg(LegKind::GoAround, 20.0, 1.1 * hover_w),
            leg(LegKind::Landing, 15.0, hover_w),
        ],
    }
}

/// The given share of capacity, 3.3 V under load.
pub fn reserve(share: f64) -> ReservePolicy {
    ReservePolicy {
        share: Ratio::new::<ratio>(share),
        time: None,
        charge: None,
        loaded_cell_floor: ElectricPotential::new::<volt>(3.3),
    }
}
