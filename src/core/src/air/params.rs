//! What is entered about a site, and what the other stations get from it.

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature, Velocity};

/// Conditions at the launch site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// Height of the site above mean sea level.
    pub elevation: Length,
    /// Altimeter setting, QNH: pressure reduced to sea level by the standard atmosphere.
    pub qnh: Pressure,
    /// Outside air temperature at the site.
    pub temperature: ThermodynamicTemperature,
    /// Relative humidity over water, 0 to 1.
    pub relative_humidity: Ratio,
    /// Mean wind at 10 m above ground.
    pub wind: Velocity,
    /// Gust at 10 m above ground; where it is below the mean wind, the mean wind counts as the gust.
    pub gust: Velocity,
}

impl Site {
    /// Dead Sea shore to 5 km: with the hottest, wettest, thinnest air below, density altitude stays under 11 km.
    pub const ELEVATION: InputRange = InputRange::new("elevation", Kind::Length, -450.0, 5000.0);
    /// Around the lowest and highest sea-level pressures on record (from memory).
    pub const QNH: InputRange = InputRange::new("qnh", Kind::Pressure, 87_000.0, 109_000.0);
    /// −40 °C to 55 °C.
    pub const TEMPERATURE: InputRange = InputRange::new("temperature", Kind::Temperature, 233.15, 328.15);
    /// 0 to 1.
    pub const RELATIVE_HUMIDITY: InputRange = InputRange::new("relative_humidity", Kind::Share, 0.0, 1.0);
    /// Up to storm force.
    pub const WIND: InputRange = InputRange::new("wind", Kind::Speed, 0.0, 30.0);
    /// Up to hurricane force.
    pub const GUST: InputRange = InputRange::new("gust", Kind::Speed, 0.0, 45.0);

    /// Holds every field against its bound.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first field that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::ELEVATION.check(self.elevation.value)?;
        Self::QNH.check(self.qnh.value)?;
        Self::TEMPERATURE.check(self.temperature.value)?;
        Self::RELATIVE_HUMIDITY.check(self.relative_humidity.value)?;
        Self::WIND.check(self.wind.value)?;
        Self::GUST.check(self.gust.value)?;
        Ok(())
    }
}

/// The air that the aircraft flies in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Static pressure.
    pub pressure: Pressure,
    /// Temperature.
    pub temperature: ThermodynamicTemperature,
    /// Density of the moist air.
    pub density: MassDensity,
    /// Altitude in the standard atmosphere with this pressure.
    pub pressure_altitude: Length,
    /// Altitude in the standard atmosphere with this density.
    pub density_altitude: Length,
}
