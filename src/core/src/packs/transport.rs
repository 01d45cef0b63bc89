//! Energy of a pack against the thresholds of transport.
//!
//! Formula: Wh = cells in series × nominal voltage × capacity when new: what is printed on a pack rules where it differs.
//! Units: Wh (3,600 J). Source: 100 Wh and 160 Wh each: 49 CFR 175.10(a)(18) for passengers (up to 100 Wh; above it up to
//! 160 Wh with the operator's approval, two spares at most; more than 160 Wh not in passenger baggage, that last from memory), the
//! same figures in the ICAO Technical Instructions and the IATA Dangerous Goods Regulations, passenger provisions (from memory).
//! Beyond: UN 3480 by packing instruction 965, cargo aircraft only, charged to at most 30 %. Nominal volts a cell: common practice.
//! Valid: single packs. Assumes: local carriers and authorities decide; editions change.

use uom::si::energy::watt_hour;
use uom::si::ratio::ratio;

use crate::cell::Chemistry;
use crate::supply::Pack;
use crate::units::{ElectricPotential, Energy, Ratio};
use uom::si::electric_potential::volt;

/// Up to here a pack goes with a passenger.
const FREE_WH: f64 = 100.0;
/// Up to here it goes with the operator's approval.
const APPROVED_WH: f64 = 160.0;

crate::keyed! {
    /// How a pack may travel by air.
    pub enum TransportClass {
        /// Up to 100 Wh: with a passenger, spares in the cabin.
        UpTo100 = "up-to-100-wh",
        /// Above 100 to 160 Wh: with the operator's approval, two spares at most.
        UpTo160 = "up-to-160-wh",
        /// Above 160 Wh: as cargo only.
        Above160 = "above-160-wh",
    }
}

impl TransportClass {
    /// State of charge above which packs by themselves do not fly as cargo: UN 3480, packing instruction 965.
    pub fn greatest_charge_as_cargo() -> Ratio {
        Ratio::new::<ratio>(0.30)
    }
}

fn nominal_v(chemistry: Chemistry) -> f64 {
    match chemistry {
        Chemistry::LithiumPolymer => 3.7,
        Chemistry::LithiumPolymerHighVoltage => 3.8,
        Chemistry::LithiumIonCylindrical => 3.6,
    }
}

/// Energy by nominal voltage and capacity when new.
pub fn nominal_energy(pack: &Pack) -> Energy {
    let cell = ElectricPotential::new::<volt>(nominal_v(pack.cell.chemistry));
    cell * f64::from(pack.cells_in_series) * pack.cell.capacity
}

/// How a pack of this energy may travel by air.
pub fn transport_class(energy: Energy) -> TransportClass {
    // A unit conversion may blur the last digit.
    let energy_wh = energy.get::<watt_hour>() * (1.0 - 1e-9);
    if energy_wh <= FREE_WH {
        TransportClass::UpTo100
    } else if energy_wh <= APPROVED_WH {
        TransportClass::UpTo160
    } else {
        TransportClass::Above160
    }
}
