//! Two aircraft and their packs.

use liftmargin_document::model::{Airframe, Layout, PackType, Propulsion};

use crate::stand::{Stand, bench};

const EIGHT: Stand = Stand {
    name: "Stand of the rental house, 24-inch rotor",
    diameter_m: 0.6096,
    thrust_coefficient: 0.070,
    power_coefficient: 0.0212,
    velocity_constant_rpm_v: 152.0,
    resistance_ohm: 0.048,
    no_load_current_a: 1.3,
    air_density_kg_m3: 1.19,
    voltage_v: 49.8,
    supply_resistance_ohm: 0.015,
    seed: 24,
};

const FLAT: Stand = Stand {
    name: "Stand of the rental house, 20-inch rotor",
    diameter_m: 0.508,
    thrust_coefficient: 0.072,
    power_coefficient: 0.0222,
    velocity_constant_rpm_v: 230.0,
    resistance_ohm: 0.055,
    no_load_current_a: 0.9,
    air_density_kg_m3: 1.2,
    voltage_v: 33.0,
    supply_resistance_ohm: 0.015,
    seed: 20,
};

pub fn airframes() -> Vec<Airframe> {
    vec![
        Airframe {
            id: "eight".to_owned(),
            name: "Heavy eight, coaxial".to_owned(),
            layout: layout("coaxial-quad", 0.64, 0.11),
            frame_mass_kg: 8.9,
            frame_position_m: [0.0, 0.0, 0.04],
            mass_limit_kg: Some(25.0),
            propulsion: propulsion(&EIGHT, 0.2, 34.0, 60.0),
            ..Airframe::default()
        },
        Airframe {
            id: "flat".to_owned(),
            name: "Light four, flat".to_owned(),
            layout: layout("quad-cross", 0.46, 0.0),
            frame_mass_kg: 3.4,
            frame_position_m: [0.0, 0.0, 0.03],
            mass_limit_kg: Some(11.0),
            propulsion: propulsion(&FLAT, 0.17, 45.0, 60.0),
            ..Airframe::default()
        },
    ]
}

fn layout(kind: &str, arm_length_m: f64, coaxial_spacing_m: f64) -> Layout {
    Layout { kind: kind.to_owned(), arm_length_m, coaxial_spacing_m, ..Layout::default() }
}

/// What the makers state; R and I_0 are left to the fit.
fn propulsion(stand: &Stand, rotor_pitch_m: f64, motor_limit_a: f64, controller_limit_a: f64) -> Propulsion {
    Propulsion {
        rotor_diameter_m: stand.diameter_m,
        rotor_pitch_m: Some(rotor_pitch_m),
        velocity_constant_rpm_v: Some(stand.velocity_constant_rpm_v),
        motor_current_limit_a: motor_limit_a,
        controller_current_limit_a: controller_limit_a,
        bench: Some(bench(stand)),
        ..Propulsion::default()
    }
}

pub fn pack_types() -> Vec<PackType> {
    let pack =
        |id: &str, name: &str, cells_in_series, capacity_mah, cell_resistance_mohm, mass_kg, cycles| {
            PackType {
                id: id.to_owned(),
                name: name.to_owned(),
                chemistry: "lithium-polymer".to_owned(),
                cells_in_series,
                capacity_mah,
                cell_resistance_mohm,
                mass_kg,
                continuous_c_rating: 20.0,
                cycles,
                ..PackType::default()
            }
        };
    vec![
        pack("six-7", "Six cells, 7 Ah", 6, 7_000.0, 2.2, 0.98, 35),
        PackType {
            measured_capacity_mah: Some(6_200.0),
            measured_cell_resistance_mohm: Some(4.7),
            ..pack("six-7-old", "Six cells, 7 Ah, last season", 6, 7_000.0, 2.2, 0.98, 180)
        },
        pack("eight-6", "Eight cells, 6 Ah", 8, 6_000.0, 2.6, 1.13, 20),
    ]
}
