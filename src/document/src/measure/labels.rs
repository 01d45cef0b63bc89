//! A name and one line of help for each input that core bounds, by its standard name.

/// Standard name, shown name, help.
type Entry = (&'static str, &'static str, &'static str);

const AIR: &[Entry] = &[
    ("elevation", "Site elevation", "Height of the launch site above mean sea level."),
    ("qnh", "QNH", "Altimeter setting from the nearest airfield. Without one, leave the standard value."),
    ("temperature", "Outside air temperature", "In the shade, at the site."),
    ("relative_humidity", "Relative humidity", "Moist air is slightly thinner."),
    ("wind", "Mean wind", "At 10 m above ground; the wind on set is worked out from it."),
    ("dew_point", "Dew point", "As a weather report gives it; never above the temperature."),
    ("gust", "Gust", "Strongest expected at 10 m, not below the mean wind."),
];

const AIRFRAME: &[Entry] = &[
    ("arm_length", "Arm length", "From the centre to a rotor hub, seen from above."),
    ("coaxial_spacing", "Rotor spacing of a pair", "From the upper rotor down to the lower one."),
    (
        "position",
        "Position",
        "Forward, right and down of the rotor centre; a payload hangs below, so down is positive.",
    ),
    ("drag_area", "Drag area", "Flat plate that drags as much as everything but the rotors."),
    ("mass_limit", "Greatest all-up mass", "As the frame's maker states it."),
    ("mass", "Mass", "As weighed, with plates, cables and cards."),
    ("power", "Power draw", "Taken from the flight packs; 0 if it has a battery of its own."),
];

const PROPULSION: &[Entry] = &[
    ("rotor_diameter", "Rotor diameter", "Tip to tip."),
    ("rotor_pitch", "Rotor pitch", "As the rotor's maker states it."),
    ("thrust_coefficient", "Thrust coefficient", "Static, with revolutions per second and diameter."),
    ("power_coefficient", "Power coefficient", "Static, with revolutions per second and diameter."),
    (
        "power_speed_exponent",
        "Power and speed exponent",
        "How the power coefficient falls as the rotor turns faster.",
    ),
    ("velocity_constant", "Motor k_V", "No-load speed for each volt, as the motor's maker states it."),
    ("motor_resistance", "Motor resistance", "Winding resistance; the bench table can tell it."),
    ("no_load_current", "No-load current", "What the motor draws with no rotor on it."),
    ("motor_current_limit", "Motor current limit", "As the motor's maker states it."),
    ("controller_current_limit", "Speed controller current limit", "Continuous, as its maker states it."),
    (
        "controller_efficiency",
        "Speed controller efficiency",
        "Share of its input power that reaches the motor.",
    ),
    ("throttle", "Throttle", "Of the speed controller, as the table has it."),
    ("bench_voltage", "Bench voltage", "At the speed controller."),
    ("bench_current", "Bench current", "Into the speed controller."),
    ("bench_thrust", "Bench thrust", "Static thrust of one rotor."),
    ("bench_speed", "Bench rotor speed", "Of the rotor, not the electrical one."),
    ("rotors", "Rotors", "Rotor places of the layout."),
    (
        "thrust_left",
        "Thrust left",
        "What a weak motor still gives of its full thrust; none where it has stopped.",
    ),
    ("bench_air_density", "Air density at the stand", "1.225 kg/m³ where the table does not say."),
];

const PACKS: &[Entry] = &[
    ("capacity", "Capacity", "Of the pack when new, as its maker states it."),
    ("cell_resistance", "Cell resistance", "Internal resistance of one cell at room temperature."),
    ("cycles", "Cycles", "Full charges so far; an older pack holds less and sags more."),
    ("measured_capacity", "Measured capacity", "From a full discharge lately; wins over the cycles."),
    ("measured_cell_resistance", "Measured cell resistance", "Of one cell, lately; wins over the cycles."),
    ("cells_in_series", "Cells in series", "The number before the S on the pack."),
    ("pack_mass", "Pack mass", "As weighed, with leads and straps."),
    ("continuous_c_rating", "C rating", "Continuous discharge, as its maker states it."),
    ("pack_temperature", "Pack temperature", "Of the cells at take-off. Cold packs sag more."),
    ("rest_voltage", "Rest voltage", "Before the flight, nothing drawn; empty means fully charged."),
    ("packs_in_series", "Packs in series", "In each string."),
    ("strings_in_parallel", "Strings in parallel", "Sides that share the current."),
    ("lead_resistance", "Lead resistance", "Leads and connectors, there and back."),
    (
        "string_resistance",
        "String leads",
        "Resistance of each string's leads and connectors, there and back.",
    ),
    ("bus_resistance", "Common leads", "Resistance of the leads that all strings share."),
    ("auxiliary_power", "Steady load", "Radio, flight controller, lights: what runs beside the motors."),
    ("converter_efficiency", "Converter efficiency", "Of the converter that feeds the steady load."),
    (
        "meter_scale_error",
        "Meter error",
        "What the meter on board shows too much, in percent of the true value.",
    ),
];

const FLIGHT: &[Entry] = &[
    ("warm_up", "Warm-up", "Motors turning on the ground before lift-off."),
    ("height", "Height of the set", "Above the launch site."),
    ("distance", "Distance to the set", "From the launch site, over ground."),
    ("climb_rate", "Climb rate", "On the way up."),
    (
        "descent_rate",
        "Sink rate",
        "On the way down; fast and straight down brings the rotors into their own wake.",
    ),
    ("transit_airspeed", "Airspeed on the way", "Out to the set and home, through the air."),
    (
        "manoeuvre_allowance",
        "Manoeuvre allowance",
        "Mean power on set above plain hover: 10 % for a lively shot.",
    ),
    ("landing", "Landing", "Hovering low before touchdown."),
    ("go_around", "Go-around", "Time for one more approach, kept in hand."),
    (
        "reserve_share",
        "Reserve",
        "Share of the capacity left at touchdown. 20 % is common practice, no source.",
    ),
    ("reserve_time", "Reserve time", "Time left at touchdown at the power on set."),
    ("reserve_charge", "Reserve charge", "Charge left in each string at touchdown."),
    (
        "loaded_cell_floor",
        "Cell voltage floor",
        "Least voltage of a cell under load; follow the pack's maker.",
    ),
];

/// Found on the way, not typed: named for the rare refusal that speaks of them.
const INNER: &[Entry] = &[
    ("air_density", "Air density", "Follows from the site."),
    ("all_up_mass", "All-up mass", "The sum of everything on board."),
    (
        "wake_contraction",
        "Wake at the lower rotor",
        "Of a pair: its area over the disc's. Empty is 50 %, the cautious end of theory; pairs are said to lose less, and no open measurement was found.",
    ),
    ("reference_speed", "Reference rotor speed", "Speed at which the power coefficient holds."),
    ("figure_of_merit", "Figure of merit", "Ideal over actual hover power."),
    ("rotor_thrust", "Thrust of one rotor", "Follows from mass and balance."),
    ("rotor_speed", "Rotor speed", "Follows from the thrust."),
    ("shaft_power", "Shaft power", "Follows from thrust and motion."),
    ("shaft_torque", "Shaft torque", "Follows from thrust and speed."),
    ("axial_speed", "Speed through the disc", "From climb and sink."),
    ("edgewise_speed", "Speed along the disc", "From wind and airspeed."),
    (
        "axial_speed_over_hover_induced_velocity",
        "Sink against the rotors' own wake",
        "Sink more slowly, or fly forward.",
    ),
    ("advance_ratio", "Advance ratio", "Speed along the disc over tip speed."),
    ("pitch_to_diameter", "Pitch over diameter", "Of the rotor."),
    ("bus_voltage", "Bus voltage", "From the packs under load."),
    ("pack_surroundings", "Air around the packs", "What they cool into."),
    ("refinement", "Fineness of the computation", "Steps over the usual number."),
    ("leg_power", "Power of a leg", "Follows from the plan."),
    ("leg_duration", "Duration of a leg", "Follows from the plan."),
    ("on_set_power", "Power on set", "Follows from mass and air."),
    ("legs", "Number of legs", "Of the plan."),
    ("state_of_charge", "State of charge", "Share of the present capacity."),
    ("ohmic_share", "Ohmic share of resistance", "What shows at once under load."),
    ("time_constant", "Time constant of a cell", "Of the slower part of its resistance."),
    ("low_charge_rise", "Rise of resistance when nearly empty", "Of a cell."),
    ("low_charge_scale", "Charge below which resistance rises", "Of a cell."),
    ("resistance_temperature", "Resistance against temperature", "How much a cold cell's resistance rises."),
    ("capacity_loss_per_kelvin", "Capacity lost in the cold", "Per degree below the reference."),
    ("cycle_life", "Cycle life", "Cycles until the capacity has fallen to its end-of-life share."),
    ("resistance_growth", "Growth of resistance with age", "Over the cycle life."),
    ("specific_heat", "Specific heat of a pack", "How slowly it warms."),
    ("pack_density", "Density of a pack", "For its cooling surface."),
    ("heat_transfer", "Heat given to the air", "By the pack's surface."),
    ("sources", "Sources side by side", "Strings on the bus."),
    ("source_voltage", "Source voltage", "Of a string at rest."),
    ("source_resistance", "Source resistance", "Of a string."),
    ("common_resistance", "Common resistance", "Of the leads all strings share."),
    ("load_power", "Load", "Power asked of the packs."),
    ("loss_on_set_share", "Moment of the lost string", "Share of the time on set."),
    ("run_points", "Points in the run", "Rows with time, volts and amps."),
    ("run_interval", "Time between two points", "Later rows need later times."),
    ("run_voltage", "Measured cell voltage", "Of one cell under load."),
    ("run_current", "Measured current", "Out of the pack."),
    ("run_start_of_charge", "State of charge at the run's start", "From the rest voltage."),
    (
        "wire_gauge",
        "Wire gauge (AWG)",
        "Of each string's leads: what they add is worked out from it and their length.",
    ),
    ("wire_length", "Length of wire", "There and back."),
    ("wire_temperature", "Temperature of the wire", "Under load."),
    ("standard_deviation", "Uncertainty", "One standard deviation, as a share."),
    ("temperature_standard_deviation", "Uncertainty of temperature", "One standard deviation."),
];

const LEARNING: &[Entry] = &[
    (
        "power_factor",
        "Power over the estimate",
        "What the meter counted over what the model says of that flight.",
    ),
    ("reading_uncertainty", "Doubt of the reading", "Steps of the meter over what was used."),
    ("flight_age", "Age of the flight", "Since it was flown."),
    ("model_spread", "Spread of the model", "One standard deviation of its power."),
    ("flight_scatter", "Scatter of flights", "How far flights of one aircraft usually lie apart."),
    ("flight_scatter_doubt", "Doubt of the scatter", "How little is known of it."),
    ("degrees_of_freedom", "Degrees of freedom", "The fewer, the less a wild flight counts."),
    ("fading_half_life", "Half-life of old flights", "After this time a flight counts half."),
];

fn entry(field: &str) -> Option<&'static Entry> {
    [AIR, AIRFRAME, PROPULSION, PACKS, FLIGHT, INNER, LEARNING]
        .into_iter()
        .flatten()
        .find(|entry| entry.0 == field)
}

/// The shown name; a field without one is shown as "This value".
pub fn label(field: &str) -> &'static str {
    entry(field).map_or("This value", |entry| entry.1)
}

/// One line of help; empty for a field without one.
pub fn help(field: &str) -> &'static str {
    entry(field).map_or("", |entry| entry.2)
}

/// Whether the field has a name and help.
pub fn is_known(field: &str) -> bool {
    entry(field).is_some()
}
