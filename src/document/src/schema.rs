//! The file: what a crew saves, exchanges and exports. Unit in each field's name; ids refer across lists.
//!
//! These types are the format; they know no physics. `resolve` turns a setup into core's parameters.

use crate::json::record;

/// The schema number written today.
pub const SCHEMA: u32 = 1;

/// Everything a crew keeps.
#[derive(Debug, Clone, PartialEq)]
pub struct Bundle {
    /// Schema number.
    pub liftmargin_schema: u32,
    /// Aircraft.
    pub airframes: Vec<Airframe>,
    /// Pack types or single packs.
    pub packs: Vec<Pack>,
    /// Payload: stabilisers, cameras, lenses, radios.
    pub items: Vec<Item>,
    /// Places.
    pub sites: Vec<Site>,
    /// Combinations to fly.
    pub setups: Vec<Setup>,
}

/// An aircraft.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Airframe {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// Rotor places.
    pub layout: Layout,
    /// Bare frame with motors and electronics, no packs, no payload.
    pub frame_mass_kg: f64,
    /// Its centre of gravity: forward, right, down of the rotor centre.
    pub frame_position_m: [f64; 3],
    /// The maker's greatest all-up mass.
    pub mass_limit_kg: Option<f64>,
    /// Equivalent flat-plate area; estimated by size if absent.
    pub drag_area_m2: Option<f64>,
    /// Area of an upper rotor's wake at the lower disc over the disc's, per cent; the cautious end if absent.
    pub wake_contraction_percent: Option<f64>,
    /// Motor, rotor, speed controller.
    pub propulsion: Propulsion,
}

/// Rotor places by a named layout, or one by one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    /// Key of a named layout (`coaxial-quad`, `quad-cross`, …) or `free`.
    pub kind: String,
    /// Hub distance from the centre.
    pub arm_length_m: f64,
    /// Upper to lower rotor of a pair.
    pub coaxial_spacing_m: f64,
    /// Places of a `free` layout.
    pub places: Vec<Place>,
}

/// One rotor of a free layout.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Place {
    /// Forward, right, down of the centre.
    pub position_m: [f64; 3],
    /// Seen from above.
    pub clockwise: bool,
    /// `single`, `upper` or `lower`.
    pub role: String,
}

/// Motor, rotor, speed controller.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Propulsion {
    /// Rotor diameter.
    pub rotor_diameter_m: f64,
    /// Rotor pitch.
    pub rotor_pitch_m: Option<f64>,
    /// k_V.
    pub velocity_constant_rpm_v: Option<f64>,
    /// Motor resistance.
    pub motor_resistance_ohm: Option<f64>,
    /// No-load current.
    pub no_load_current_a: Option<f64>,
    /// The maker's limit.
    pub motor_current_limit_a: f64,
    /// The maker's limit.
    pub controller_current_limit_a: f64,
    /// The bench table; an estimate is made without one.
    pub bench: Option<Bench>,
}

/// A bench table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bench {
    /// Where it comes from, in the crew's words.
    pub name: String,
    /// Air density at the stand.
    pub air_density_kg_m3: f64,
    /// Rows.
    pub rows: Vec<BenchRow>,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BenchRow {
    /// Duty, 0 to 1.
    pub throttle: Option<f64>,
    /// At the speed controller.
    pub voltage_v: f64,
    /// Into the speed controller.
    pub current_a: f64,
    /// Static thrust.
    pub thrust_n: f64,
    /// Rotor speed.
    pub speed_rpm: Option<f64>,
}

/// A pack type, or one pack.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pack {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// `lithium-polymer`, `lithium-polymer-high-voltage` or `lithium-ion-cylindrical`.
    pub chemistry: String,
    /// Cells in series.
    pub cells_in_series: u32,
    /// Capacity when new.
    pub capacity_mah: f64,
    /// Internal resistance of one cell when new, 25 °C.
    pub cell_resistance_mohm: f64,
    /// With leads.
    pub mass_kg: f64,
    /// The maker's continuous rating.
    pub continuous_c_rating: f64,
    /// Charge cycles so far.
    pub cycles: u32,
    /// Measured lately; wins over cycles.
    pub measured_capacity_mah: Option<f64>,
    /// Measured lately; wins over cycles.
    pub measured_cell_resistance_mohm: Option<f64>,
}

/// One thing of payload.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Item {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// `stabiliser`, `camera`, `lens`, `radio` or `other`: items of one kind can be swapped.
    pub kind: String,
    /// Mass.
    pub mass_kg: f64,
    /// Forward, right, down of the rotor centre.
    pub position_m: [f64; 3],
    /// Drawn from the flight packs.
    pub power_w: f64,
}

/// A place with its weather.
#[derive(Debug, Clone, PartialEq, Default)]
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
}

/// A combination to fly.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Setup {
    /// Reference.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// Airframe id.
    pub airframe: String,
    /// Packs on board.
    pub supply: Supply,
    /// Payload on board.
    pub load: Vec<Load>,
    /// Flight as planned.
    pub profile: Profile,
    /// What must be left.
    pub reserve: Reserve,
    /// Site id.
    pub site: String,
}

/// Packs on board.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Supply {
    /// Parallel strings of pack ids in series.
    pub strings: Vec<Vec<String>>,
    /// Where the packs sit: forward, right, down.
    pub position_m: [f64; 3],
    /// Cell temperature at the start.
    pub pack_temperature_c: f64,
    /// Rest voltage per cell before the flight; absent means full.
    pub rest_cell_voltage_v: Option<f64>,
    /// Leads and connectors of each string.
    pub string_resistance_mohm: f64,
    /// American wire gauge of each string's leads, where they are to be worked out.
    pub lead_gauge_awg: Option<u32>,
    /// Length of those leads, there and back.
    pub lead_length_m: Option<f64>,
    /// Common leads.
    pub bus_resistance_mohm: f64,
    /// Steady load beside the motors and the items' own.
    pub auxiliary_power_w: f64,
    /// Converter for it, 0 to 1.
    pub converter_efficiency: f64,
    /// Where the meter sits: `bus`, or `string-1`, `string-2`, …
    pub meter: String,
    /// What the meter shows over what flows, per cent.
    pub meter_error_percent: f64,
}

/// An item in a setup.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Load {
    /// Item id.
    pub item: String,
    /// On board or left out.
    pub on: bool,
}

/// Flight as planned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Profile {
    /// Motors turning before lift-off.
    pub warm_up_s: f64,
    /// Set above the launch site.
    pub height_m: f64,
    /// Set from the launch site.
    pub distance_m: f64,
    /// Climb rate.
    pub climb_rate_m_s: f64,
    /// Sink rate.
    pub descent_rate_m_s: f64,
    /// Airspeed out and home.
    pub transit_airspeed_m_s: f64,
    /// Mean power on set over hover, per cent more.
    pub manoeuvre_allowance_percent: f64,
    /// Hover before touchdown.
    pub landing_s: f64,
    /// One more approach kept in hand.
    pub go_around_s: f64,
}

/// What must be left; the strictest rules.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reserve {
    /// Per cent of each string's present capacity.
    pub share_percent: f64,
    /// Time at the power on set.
    pub time_s: Option<f64>,
    /// Charge in each string.
    pub charge_mah: Option<f64>,
    /// Least cell voltage under load.
    pub loaded_cell_floor_v: f64,
}

record!(Bundle { liftmargin_schema, airframes, packs, items, sites, setups });
record!(Airframe { id, name, layout, frame_mass_kg, frame_position_m [usual], mass_limit_kg [optional], drag_area_m2 [optional], wake_contraction_percent [optional], propulsion });
record!(Layout { kind, arm_length_m, coaxial_spacing_m [usual], places [optional] });
record!(Place { position_m, clockwise, role });
record!(Propulsion { rotor_diameter_m, rotor_pitch_m [optional], velocity_constant_rpm_v [optional], motor_resistance_ohm [optional], no_load_current_a [optional], motor_current_limit_a, controller_current_limit_a, bench [optional] });
record!(Bench { name, air_density_kg_m3, rows });
record!(BenchRow { throttle [optional], voltage_v, current_a, thrust_n, speed_rpm [optional] });
record!(Pack { id, name, chemistry, cells_in_series, capacity_mah, cell_resistance_mohm, mass_kg, continuous_c_rating, cycles [usual], measured_capacity_mah [optional], measured_cell_resistance_mohm [optional] });
record!(Item { id, name, kind, mass_kg, position_m [usual], power_w [usual] });
record!(Site {
    id,
    name,
    elevation_m,
    qnh_hpa,
    temperature_c,
    relative_humidity_percent,
    wind_m_s,
    gust_m_s
});
record!(Setup { id, name, airframe, supply, load, profile, reserve, site });
record!(Supply { strings, position_m [usual], pack_temperature_c, rest_cell_voltage_v [optional], string_resistance_mohm, lead_gauge_awg [optional], lead_length_m [optional], bus_resistance_mohm, auxiliary_power_w, converter_efficiency, meter, meter_error_percent [usual] });
record!(Load { item, on });
record!(Profile {
    warm_up_s,
    height_m,
    distance_m,
    climb_rate_m_s,
    descent_rate_m_s,
    transit_airspeed_m_s,
    manoeuvre_allowance_percent,
    landing_s,
    go_around_s
});
record!(Reserve { share_percent, time_s [optional], charge_mah [optional], loaded_cell_floor_v });
