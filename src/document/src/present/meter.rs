//! What the meter on board shows.
//!
//! Formula: reading = charge that passed it · (1 + scale error). Units: C. Source: the definition of a scale error.

use liftmargin_core::flight::Sample;
use liftmargin_core::supply::{Meter, MeterPlace};
use liftmargin_core::units::ElectricCharge;

/// What the meter shows at a moment of the flight; nothing where its string is not there.
pub fn meter_reading(sample: &Sample, meter: &Meter) -> ElectricCharge {
    let passed = match meter.place {
        MeterPlace::Bus => sample.strings.iter().map(|string| string.used).sum(),
        MeterPlace::String(index) => {
            sample.strings.get(index).map_or_else(ElectricCharge::default, |string| string.used)
        }
    };
    passed * (meter.scale_error + liftmargin_core::units::Ratio::new::<uom::si::ratio::ratio>(1.0))
}
