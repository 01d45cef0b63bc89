//! A place with its weather.

use liftmargin_core::air::Site as CoreSite;
use serde::{Deserialize, Serialize};

use super::{Extra, parts};
use crate::fields::fields;

/// A place with its weather.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Site {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// Above mean sea level.
    pub elevation_m: f64,
    /// Altimeter setting.
    pub qnh_hpa: f64,
    /// Outside air.
    pub temperature_c: f64,
    /// Per cent.
    pub relative_humidity_percent: f64,
    /// Mean at 10 m.
    pub wind_m_s: f64,
    /// Gust at 10 m.
    pub gust_m_s: f64,
    /// Paths of the numbers that stand for want of better ones and that nobody has entered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumed: Vec<String>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Site {});

fields! {
    /// A site.
    SITE of Site {
        ELEVATION = (elevation_m, Metre, CoreSite::ELEVATION, "Site elevation", "Height of the launch site above mean sea level.");
        QNH = (qnh_hpa, Hectopascal, CoreSite::QNH, "QNH", "Altimeter setting from the nearest airfield. Without one, leave the standard value.");
        TEMPERATURE = (temperature_c, Celsius, CoreSite::TEMPERATURE, "Outside air temperature", "In the shade, at the site.");
        RELATIVE_HUMIDITY = (relative_humidity_percent, Percent, CoreSite::RELATIVE_HUMIDITY, "Relative humidity", "Moist air is slightly thinner.");
        WIND = (wind_m_s, MetrePerSecond, CoreSite::WIND, "Mean wind", "At 10 m above ground; the wind on set is worked out from it.");
        GUST = (gust_m_s, MetrePerSecond, CoreSite::GUST, "Gust", "Strongest expected at 10 m, not below the mean wind.");
    }
}
