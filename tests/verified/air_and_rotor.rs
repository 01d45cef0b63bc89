//! Air and momentum theory.

use liftmargin_core::air::{moist_air_density, standard_density, standard_pressure, station_pressure};
use liftmargin_core::rotor::{
    CoaxialParams, Flow, coaxial_induced, hover_induced_velocity, induced_velocity,
};
use liftmargin_core::units::{Angle, Force, Length, MassDensity, Pressure, Ratio, ThermodynamicTemperature};
use uom::si::angle::degree;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{hectopascal, pascal};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::{Line, Pair, Standing};
use crate::table::{Row, Table};

fn pairs(table: &str, theirs: &str, ours: impl Fn(&Row<'_>) -> f64) -> Vec<Pair> {
    let table = Table::read(table);
    table.rows().map(|row| Pair { theirs: row.number(theirs), ours: ours(&row) }).collect()
}

pub fn lines() -> Vec<Line> {
    [air(), rotor()].into_iter().flatten().collect()
}

fn air() -> Vec<Line> {
    let altitude = |row: &Row<'_>| Length::new::<meter>(row.number("altitude_m"));
    let line = |quantity, source, tolerance, pairs| Line {
        what: "air",
        quantity,
        source,
        sample: Standing::Exact,
        tolerance,
        pairs,
    };
    let humid = |row: &Row<'_>| {
        moist_air_density(
            Pressure::new::<pascal>(row.number("pressure_pa")),
            ThermodynamicTemperature::new::<degree_celsius>(row.number("temperature_c")),
            Ratio::new::<ratio>(row.number("relative_humidity")),
        )
        .value
    };
    let station = |row: &Row<'_>| {
        let elevation = Length::new::<meter>(row.number("elevation_m"));
        station_pressure(Pressure::new::<hectopascal>(row.number("qnh_hpa")), elevation).value
    };
    vec![
        line(
            "pressure, Pa",
            "ICAO Doc 7488/3",
            2e-6,
            pairs("standard_atmosphere/table.csv", "pressure_pa", |row| {
                standard_pressure(altitude(row)).value
            }),
        ),
        line(
            "density, kg/m³",
            "ICAO Doc 7488/3",
            2e-6,
            pairs("standard_atmosphere/table.csv", "density_kg_m3", |row| {
                standard_density(altitude(row)).value
            }),
        ),
        line("moist density, kg/m³", "CoolProp", 2e-4, pairs("humid_air/table.csv", "coolprop_kg_m3", humid)),
        line(
            "station pressure, Pa",
            "FAA altimeter formula",
            1e-7,
            pairs("altimeter/table.csv", "station_pressure_pa", station),
        ),
    ]
}

fn rotor() -> Vec<Line> {
    let diameter = Length::new::<meter>(0.7);
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.1);
    let thrust = Force::new::<newton>(6.0);
    let alone = hover_induced_velocity(diameter, density, thrust).expect("in range");
    let over_hover =
        |flow: &Flow| (induced_velocity(diameter, density, thrust, flow).expect("in range") / alone).value;
    let pair = |spacing_m: f64| {
        let params = CoaxialParams { spacing: Length::new::<meter>(spacing_m) };
        let at = coaxial_induced(&params, diameter, density, thrust, thrust).expect("in range");
        ((at.upper_power + at.lower_power) / (2.0 * thrust * alone)).value
    };
    let line = |what, quantity, source, tolerance, pairs| Line {
        what,
        quantity,
        source,
        sample: Standing::Exact,
        tolerance,
        pairs,
    };
    let forward = |row: &Row<'_>| {
        let tilt = Angle::new::<degree>(row.number("tilt_deg"));
        over_hover(&Flow::forward(alone * row.number("speed_over_vh"), tilt))
    };
    let momentum = "momentum theory, closed forms";
    vec![
        line(
            "rotor",
            "induced velocity in climb, v/v_h",
            momentum,
            2e-6,
            pairs("momentum_theory/climb.csv", "induced_over_vh", |row| {
                over_hover(&Flow::climb(alone * row.number("climb_over_vh")))
            }),
        ),
        line(
            "rotor",
            "induced velocity in forward flight, v/v_h",
            momentum,
            3e-6,
            pairs("momentum_theory/forward.csv", "induced_over_vh", forward),
        ),
        line(
            "rotor",
            "induced velocity in descent, v/v_h",
            "published fit, from memory",
            4e-5,
            pairs("momentum_theory/descent.csv", "induced_over_vh", |row| {
                over_hover(&Flow::climb(alone * row.number("axial_over_vh")))
            }),
        ),
        line(
            "coaxial pair",
            "ideal power over two alone, no spacing",
            "one disc with twice the thrust",
            1e-6,
            vec![Pair { theirs: core::f64::consts::SQRT_2, ours: pair(0.0) }],
        ),
        line(
            "coaxial pair",
            "ideal power over two alone, 17 radii apart",
            "far limit of momentum theory",
            2e-3,
            vec![Pair { theirs: 1.280_776, ours: pair(6.0) }],
        ),
    ]
}
