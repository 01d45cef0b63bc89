//! Air against published atmospheres.

use crate::table::{Table, assert_close};
use liftmargin_core::air::{
    Site, air_above, density_altitude, moist_air_density, pressure_altitude, standard_density,
    standard_pressure, standard_temperature, station_pressure, wind_at,
};
use liftmargin_core::units::{Length, Pressure, Ratio, ThermodynamicTemperature, Velocity};
use proptest::prelude::*;
use uom::si::length::{foot, meter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{hectopascal, pascal};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
use uom::si::velocity::meter_per_second;

#[test]
fn val_icao7488_troposphere() {
    for row in Table::read("standard_atmosphere/table.csv").rows() {
        let altitude = Length::new::<meter>(row.number("altitude_m"));
        let at = row.text("altitude_m");
        assert_close(standard_temperature(altitude).get::<kelvin>(), row.number("temperature_k"), 2e-6, at);
        assert_close(standard_pressure(altitude).get::<pascal>(), row.number("pressure_pa"), 2e-6, at);
        let density = standard_density(altitude);
        assert_close(density.get::<kilogram_per_cubic_meter>(), row.number("density_kg_m3"), 2e-6, at);
        let back = density_altitude(density) - altitude;
        assert!(back.get::<meter>().abs() < 1e-6, "{at}: density altitude off by {back:?}");
    }
}

#[test]
fn val_coolprop_moist_air_density() {
    for row in Table::read("humid_air/table.csv").rows() {
        let density = moist_air_density(
            Pressure::new::<pascal>(row.number("pressure_pa")),
            ThermodynamicTemperature::new::<degree_celsius>(row.number("temperature_c")),
            Ratio::new::<ratio>(row.number("relative_humidity")),
        )
        .get::<kilogram_per_cubic_meter>();
        let at = row.text("temperature_c");
        assert_close(density, row.number("coolprop_kg_m3"), 2e-4, at);
        // Same formula, six digits in the table.
        assert_close(density, row.number("cipm_kg_m3"), 1e-6, at);
    }
}

#[test]
fn val_faa_altimeter_setting() {
    for row in Table::read("altimeter/table.csv").rows() {
        let pressure = station_pressure(
            Pressure::new::<hectopascal>(row.number("qnh_hpa")),
            Length::new::<meter>(row.number("elevation_m")),
        );
        let at = row.text("qnh_hpa");
        assert_close(pressure.get::<pascal>(), row.number("station_pressure_pa"), 1e-7, at);
        let altitude_ft = pressure_altitude(pressure).get::<foot>();
        assert!((altitude_ft - row.number("pressure_altitude_ft")).abs() < 0.1, "{at}: {altitude_ft} ft");
    }
}

/// Exact dry density altitude of the worked table: 5,000 ft at 30 °C is 7,801 ft (computed from the ISA formula);
/// the U.S. National Weather Service formula gives 7,815 ft dry. Tolerance: CIPM against ideal gas, 0.04 % of density.
#[test]
fn val_nws_density_altitude() {
    let site = site(Length::new::<foot>(5000.0), 1013.25, 30.0, 0.0);
    let altitude_ft =
        air_above(&site, Length::new::<meter>(0.0)).expect("air").density_altitude.get::<foot>();
    assert!((altitude_ft - 7801.0).abs() < 20.0, "{altitude_ft} ft");
    assert!((altitude_ft - 7815.0).abs() < 35.0, "{altitude_ft} ft");
}

/// Power law with exponent 1/7, ratios from its closed form (published engineering value of the exponent).
#[test]
fn wind_at_height_by_the_power_law() {
    for (height_m, factor) in [(2.0, 1.0), (10.0, 1.0), (20.0, 1.1041), (50.0, 1.2585), (120.0, 1.4262)] {
        let wind = wind_at(Velocity::new::<meter_per_second>(1.0), Length::new::<meter>(height_m));
        assert_close(wind.get::<meter_per_second>(), factor, 5e-5, &format!("{height_m} m"));
    }
}

fn site(elevation: Length, qnh_hpa: f64, temperature_c: f64, humidity: f64) -> Site {
    Site {
        elevation,
        qnh: Pressure::new::<hectopascal>(qnh_hpa),
        temperature: ThermodynamicTemperature::new::<degree_celsius>(temperature_c),
        relative_humidity: Ratio::new::<ratio>(humidity),
        wind: Velocity::new::<meter_per_second>(0.0),
        gust: Velocity::new::<meter_per_second>(0.0),
    }
}

proptest! {
    #[test]
    fn prop_higher_warmer_wetter_air_is_thinner(
        elevation_m in -450.0..5000.0f64, qnh_hpa in 870.0..1090.0f64, temperature_c in -40.0..55.0f64,
        humidity in 0.0..1.0f64, more in 0.0..1.0f64,
    ) {
        let density = |elevation: f64, temperature: f64, humidity: f64| {
            air_above(&site(Length::new::<meter>(elevation), qnh_hpa, temperature, humidity), Length::new::<meter>(0.0))
                .expect("inside the bounds").density.get::<kilogram_per_cubic_meter>()
        };
        let here = density(elevation_m, temperature_c, humidity);
        prop_assert!(here.is_finite() && here > 0.3 && here < 1.9);
        prop_assert!(density(elevation_m + more * (5000.0 - elevation_m), temperature_c, humidity) <= here);
        prop_assert!(density(elevation_m, temperature_c + more * (55.0 - temperature_c), humidity) <= here);
        prop_assert!(density(elevation_m, temperature_c, humidity + more * (1.0 - humidity)) <= here + 1e-12);
    }
}
