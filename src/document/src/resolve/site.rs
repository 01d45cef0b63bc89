//! A site of the file as core's.

use liftmargin_core::air::Site;
use liftmargin_core::units::{Length, Pressure, Ratio, ThermodynamicTemperature, Velocity};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::velocity::meter_per_second;

use crate::error::DocumentError;
use crate::quantity::si;
use crate::schema;

/// A site as core's parameters.
///
/// # Errors
/// `Refused` for a number out of range; paths below the site.
pub fn resolve_site(site: &schema::Site) -> Result<Site, DocumentError> {
    let humidity = si("relative_humidity_percent", site.relative_humidity_percent, &Site::RELATIVE_HUMIDITY)?;
    Ok(Site {
        elevation: Length::new::<meter>(si("elevation_m", site.elevation_m, &Site::ELEVATION)?),
        qnh: Pressure::new::<pascal>(si("qnh_hpa", site.qnh_hpa, &Site::QNH)?),
        temperature: ThermodynamicTemperature::new::<kelvin>(si(
            "temperature_c",
            site.temperature_c,
            &Site::TEMPERATURE,
        )?),
        relative_humidity: Ratio::new::<ratio>(humidity),
        wind: Velocity::new::<meter_per_second>(si("wind_m_s", site.wind_m_s, &Site::WIND)?),
        gust: Velocity::new::<meter_per_second>(si("gust_m_s", site.gust_m_s, &Site::GUST)?),
    })
}
