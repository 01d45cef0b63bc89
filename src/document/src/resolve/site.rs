//! A site of the file as core's.

use liftmargin_core::air::Site;
use liftmargin_core::units::{Length, Pressure, Ratio, ThermodynamicTemperature, Velocity};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::velocity::meter_per_second;

use crate::error::DocumentError;
use crate::model::{self, numbers as n};

/// A site as core's parameters.
///
/// # Errors
/// `Refused` for a number out of range; paths below the site.
pub fn resolve_site(site: &model::Site) -> Result<Site, DocumentError> {
    Ok(Site {
        elevation: Length::new::<meter>(n::ELEVATION.si(site)?),
        qnh: Pressure::new::<pascal>(n::QNH.si(site)?),
        temperature: ThermodynamicTemperature::new::<kelvin>(n::TEMPERATURE.si(site)?),
        relative_humidity: Ratio::new::<ratio>(n::RELATIVE_HUMIDITY.si(site)?),
        wind: Velocity::new::<meter_per_second>(n::WIND.si(site)?),
        gust: Velocity::new::<meter_per_second>(n::GUST.si(site)?),
    })
}
