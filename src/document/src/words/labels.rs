//! A name and one line of help for each input that core bounds, by its standard name: what a crew enters is named in
//! the table of its record, the rest here.

use crate::model::numbers;

/// Standard name, shown name, help.
type Entry = (&'static str, &'static str, &'static str);

/// Found on the way, not typed: named for the rare refusal that speaks of them.
const INNER: &[Entry] = &[
    ("position", "Position", "Forward, right and down of the rotor centre."),
    ("lead_resistance", "Lead resistance", "Leads and connectors, there and back."),
    ("thrust_coefficient", "Thrust coefficient", "Static, with revolutions per second and diameter."),
    ("power_coefficient", "Power coefficient", "Static, with revolutions per second and diameter."),
    (
        "power_speed_exponent",
        "Power and speed exponent",
        "How the power coefficient falls as the rotor turns faster.",
    ),
    (
        "controller_efficiency",
        "Speed controller efficiency",
        "Share of its input power that reaches the motor.",
    ),
    ("lean", "Lean", "Of the aircraft in steady flight, from upright."),
    ("learning_airspeed", "Airspeed of the learning flight", "Steady, in calm air."),
    ("rotor_spacing", "Spacing of a pair", "From the upper disc down to the lower one."),
    (
        "pitch_inflow",
        "Pitch inflow",
        "Inflow at which the blades' pitch gives no thrust, over the hover inflow.",
    ),
    ("rotors", "Rotors", "Rotor places of the layout."),
    ("dew_point", "Dew point", "As a weather report gives it; never above the temperature."),
    (
        "thrust_left",
        "Thrust left",
        "What a weak motor still gives of its full thrust; none where it has stopped.",
    ),
    ("charge_duration", "Charge time", "Of one step of a charge."),
    ("charge_power", "Charge power", "Out of the supply."),
    ("charge_steps", "Charge steps", "Stretches of one power each."),
    ("time_of_day", "Time of day", "From midnight on."),
    ("kinds_of_sets", "Kinds of pack sets", "Sets that cannot stand in for each other."),
    ("flights", "Flights", "Wanted on the day."),
    ("charge_energy", "Charge energy", "Out of the supply."),
    ("storage_voltage", "Storage voltage", "Of one cell at rest."),
    ("packs_on_charger", "Packs on a charger", "One a channel."),
    ("settling", "Settled resistance", "Over the one of some seconds."),
    ("charge_cut_off", "Charge cut-off", "Current at which a charge ends."),
    ("cell_voltage", "Cell voltage", "Of one cell at rest."),
    ("cell_resistance_measured", "Cell resistance", "Of one cell, as measured."),
    ("pack_age", "Pack age", "Since it was bought, in years."),
    ("cells_measured", "Cells measured", "Of one pack."),
    ("state_of_charge", "State of charge", "Share of the present capacity."),
    ("capacity_threshold", "Capacity threshold", "Now over new."),
    ("cell_resistance_threshold", "Cell resistance threshold", "Over its sisters."),
    ("cell_voltage_threshold", "Cell voltage threshold", "Off its sisters."),
    ("age_threshold", "Age threshold", "In years."),
    ("cycles_threshold", "Cycles threshold", "Full charges."),
    ("cell_difference", "Difference of cells", "Between strings that are joined."),
    ("watch_from", "To be watched from", "Share of a limit."),
    ("coldest_charge", "Coldest charge", "Below it no pack is charged."),
    ("packs_to_match", "Packs to choose from", "For one set."),
    ("packs_on_board", "Packs on board", "Of one set."),
    ("packs_in_series", "Packs in series", "In each string."),
    ("strings_in_parallel", "Strings in parallel", "Sides that share the current."),
    ("air_density", "Air density", "Follows from the site."),
    ("all_up_mass", "All-up mass", "The sum of everything on board."),
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
    (
        "heat_transfer",
        "Heat given to the air",
        "Still air in a bay, cautious: a measured cell warmed a third as much.",
    ),
    ("sources", "Sources side by side", "Strings on the bus."),
    ("source_voltage", "Source voltage", "Of a string at rest."),
    ("source_resistance", "Source resistance", "Of a string."),
    ("common_resistance", "Common resistance", "Of the leads all strings share."),
    ("load_power", "Load", "Power asked of the packs."),
    ("loss_on_set_share", "Moment of the lost string", "Share of the time on set."),
    ("runs", "Runs", "Discharges that a cell is learned from."),
    ("low_charge_shift", "Shift of the rise when nearly empty", "By the current, of a cell."),
    ("charge_transfer_bend", "Bend of charge transfer", "Less sag in proportion at a high rate."),
    ("curve_error", "Error of the open-circuit curve", "This cell's over its chemistry's."),
    ("loaded_pack_voltage", "Volts under load", "Of the whole pack."),
    ("loaded_pack_current", "Current under load", "Out of this pack, at that reading."),
    ("voltage_fall", "Fall in volts", "Between the two readings: the more amps, the fewer volts."),
    ("current_rise", "Rise in amps", "Between the two readings."),
    ("reading_cells", "Cells in series", "Of the pack that was read."),
    ("reading_spread", "What the readings leave open", "Readings too close together say nothing."),
    ("run_points", "Points in the run", "Rows with time, volts and amps."),
    ("run_interval", "Time between two points", "Later rows need later times."),
    ("run_voltage", "Measured cell voltage", "Of one cell under load."),
    ("run_current", "Measured current", "Out of the pack."),
    ("run_start_of_charge", "State of charge at the run's start", "From the rest voltage."),
    ("wire_temperature", "Temperature of the wire", "Under load."),
    ("standard_deviation", "Uncertainty", "One standard deviation, as a share."),
    ("temperature_standard_deviation", "Uncertainty of temperature", "One standard deviation."),
];

const AIRBORNE: &[Entry] = &[
    ("course_points", "Points of the plan", "Of the flight that is followed."),
    ("course_time_step", "Time between two points of the plan", "Of the flight that is followed."),
    ("course_charge", "Charge in the plan", "By the meter on board."),
    ("course_voltage", "Voltage in the plan", "Of the bus."),
    ("course_sag", "Sag in the plan", "What the load takes off the voltage."),
    ("way_home_time", "Time for the way home", "From turning back to the ground."),
    ("tracking_spread", "Doubt of consumption or capacity", "One standard deviation, as a share."),
    ("rate_drift", "Drift of the consumption", "How much it wanders in a minute."),
    ("meter_spread", "Doubt of the meter", "What its digits leave open."),
    ("stamp_spread", "Doubt of a reading's time", "Between looking and typing."),
    ("voltage_spread", "Doubt of the voltage", "What the model leaves open under load."),
];

const LEARNING: &[Entry] = &[
    (
        "power_factor",
        "Power over the estimate",
        "What the meter counted over what the model says of that flight.",
    ),
    ("reading_uncertainty", "Doubt of the reading", "Steps of the meter over what was used."),
    ("power_correction", "Correction of power", "What the log has taught, over the model."),
    ("power_correction_spread", "Spread of the correction", "What the flights leave in doubt."),
    ("flight_age", "Age of the flight", "Since it was flown."),
    ("model_spread", "Spread of the model", "One standard deviation of its power."),
    ("flight_scatter", "Scatter of flights", "How far flights of one aircraft usually lie apart."),
    ("flight_scatter_doubt", "Doubt of the scatter", "How little is known of it."),
    ("degrees_of_freedom", "Degrees of freedom", "The fewer, the less a wild flight counts."),
    ("fading_half_life", "Half-life of old flights", "After this time a flight counts half."),
];

fn entry(field: &str) -> Option<(&'static str, &'static str)> {
    let inner = || {
        INNER
            .iter()
            .chain(LEARNING)
            .chain(AIRBORNE)
            .find(|entry| entry.0 == field)
            .map(|entry| (entry.1, entry.2))
    };
    let entered = || numbers::all().find(|number| number.range.field == field);
    inner().or_else(|| entered().map(|number| (number.label, number.help)))
}

/// The shown name; a field without one is shown as "This value".
pub fn label(field: &str) -> &'static str {
    entry(field).map_or("This value", |entry| entry.0)
}

/// One line of help; empty for a field without one.
pub fn help(field: &str) -> &'static str {
    entry(field).map_or("", |entry| entry.1)
}

/// Whether the field has a name and help.
pub fn is_known(field: &str) -> bool {
    entry(field).is_some()
}
