//! A whole setup that several topics compute: round figures, no real product.

use crate::rig;
use liftmargin_core::air::Site;
use liftmargin_core::card::{Airframe, Contingencies, Prepared, Setup};
use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::frame::{LayoutKind, Position, layout};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::mass::Item;
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::profile::Profile;
use liftmargin_core::propulsion::{Evidence, PropulsionUnit};
use liftmargin_core::rotor::RotorParams;
use liftmargin_core::units::{
    AngularVelocity, Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Mass, Power,
    Pressure, Ratio, ThermodynamicTemperature, Time, Velocity, VelocityConstant,
};
use uom::si::angular_velocity::radian_per_second;
use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::pressure::hectopascal;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

pub fn site(elevation_m: f64, temperature_c: f64, wind_m_s: f64) -> Site {
    Site {
        elevation: Length::new::<meter>(elevation_m),
        qnh: Pressure::new::<hectopascal>(1013.25),
        temperature: ThermodynamicTemperature::new::<degree_celsius>(temperature_c),
        relative_humidity: Ratio::new::<ratio>(0.4),
        wind: Velocity::new::<meter_per_second>(wind_m_s),
        gust: Velocity::new::<meter_per_second>(wind_m_s * 1.4),
    }
}

pub fn unit() -> PropulsionUnit {
    PropulsionUnit {
        rotor: RotorParams {
            diameter: Length::new::<meter>(0.66),
            thrust_coefficient: Ratio::new::<ratio>(0.1),
            power_coefficient: Ratio::new::<ratio>(0.037),
            reference_speed: AngularVelocity::new::<radian_per_second>(400.0),
            power_speed_exponent: Ratio::new::<ratio>(0.0),
            pitch_inflow: RotorParams::usual_pitch_inflow(),
        },
        motor: MotorParams {
            velocity_constant: VelocityConstant::from_rpm_per_volt(130.0),
            resistance: ElectricalResistance::new::<ohm>(0.04),
            no_load_current: ElectricCurrent::new::<ampere>(1.2),
            current_limit: ElectricCurrent::new::<ampere>(60.0),
        },
        controller: ControllerParams {
            efficiency: Ratio::new::<ratio>(0.97),
            current_limit: ElectricCurrent::new::<ampere>(80.0),
        },
        evidence: Evidence::Bench {
            rows: 20,
            mean_power_error: Ratio::new::<ratio>(0.01),
            with_speed: true,
            greatest_thrust: liftmargin_core::units::Force::new::<newton>(5000.0),
            other_rotor: None,
        },
    }
}

/// A heavy lifter on two strings of twelve cells; `payload_kg` hangs below the centre.
pub fn heavy(kind: LayoutKind, payload_kg: f64) -> Setup {
    let item = |mass_kg: f64, down_m: f64| Item {
        mass: Mass::new::<kilogram>(mass_kg),
        position: Position {
            forward: Length::default(),
            right: Length::default(),
            down: Length::new::<meter>(down_m),
        },
        power: Power::new::<watt>(0.0),
    };
    let supply = rig::two_strings();
    let packs_kg: f64 = supply.strings.iter().flat_map(|s| &s.packs).map(|p| p.mass.get::<kilogram>()).sum();
    Setup {
        airframe: Airframe {
            layout: layout(kind, Length::new::<meter>(0.65), Length::new::<meter>(0.15))
                .expect("inside the bounds"),
            unit: unit(),
            mass_limit: Some(Mass::new::<kilogram>(30.0)),
            drag_area: Area::new::<square_meter>(0.15),
            lean_area: Area::new::<square_meter>(0.25),
            tilt_limit: Airframe::usual_tilt_limit(),
            power_correction: None,
        },
        items: vec![item(9.0, 0.05), item(packs_kg, 0.0), item(payload_kg, 0.3)],
        supply,
        profile: profile(),
        policy: ReservePolicy {
            share: Ratio::new::<ratio>(0.2),
            time: None,
            charge: None,
            loaded_cell_floor: ElectricPotential::new::<volt>(3.3),
        },
    }
}

pub fn profile() -> Profile {
    let seconds = Time::new::<second>;
    let speed = Velocity::new::<meter_per_second>;
    Profile {
        warm_up: seconds(20.0),
        height: Length::new::<meter>(40.0),
        distance: Length::new::<meter>(200.0),
        climb_rate: speed(2.0),
        descent_rate: speed(1.5),
        transit_airspeed: speed(8.0),
        manoeuvre_allowance: Ratio::new::<ratio>(0.05),
        landing: seconds(20.0),
        go_around: seconds(30.0),
    }
}

/// What stands beside the card of a setup that flies.
pub fn contingencies(setup: &Setup, site: &Site) -> Contingencies {
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(setup, site, &thresholds).expect("inside the bounds");
    prepared.contingencies().expect("inside the bounds").expect("flies")
}
