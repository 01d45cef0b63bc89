//! Air at the site: what the rotors and the wind work with.

mod humid;
pub mod params;
mod standard;
mod wind;

pub use humid::{moist_air_density, relative_humidity};
pub use params::{Air, Site};
pub use standard::{
    density_altitude, pressure_altitude, standard_density, standard_pressure, standard_temperature,
    station_pressure, temperature_above,
};
pub use wind::wind_at;

use crate::input_error::InputError;
use crate::units::Length;

/// Air at a height above the launch site: pressure by the standard atmosphere from QNH, temperature by the
/// standard lapse rate from the site's, the site's relative humidity.
///
/// # Errors
/// `InputError::OutOfRange` naming the first field of the site that misses its bound.
pub fn air_above(site: &Site, height: Length) -> Result<Air, InputError> {
    site.validate()?;
    let pressure = station_pressure(site.qnh, site.elevation + height);
    let temperature = temperature_above(site.temperature, height);
    let density = moist_air_density(pressure, temperature, site.relative_humidity);
    Ok(Air {
        pressure,
        temperature,
        density,
        pressure_altitude: pressure_altitude(pressure),
        density_altitude: density_altitude(density),
    })
}
