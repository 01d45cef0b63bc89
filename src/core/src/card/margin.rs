//! Thrust in hand: the greatest level thrust with the packs' sag under that very thrust in the loop.
//!
//! Formula   the bus voltage V at which the supply gives what all rotors take at their ceilings:
//!           V (E − V) / R = P_ceiling(V) + P_auxiliary, solved by regula falsi (Illinois) between
//!           what the ceilings at E would leave (at least E / 2) and E
//! Units     V, Ω, W, N
//! Source    the circuit's law; no outside model
//! Valid     any supply; where the packs cannot feed the ceilings, V = E / 2 (greatest power) rules
//! Assumes   the packs' slower voltage drop is already in E

use crate::aircraft::{LevelCeiling, Trim};
use crate::input_error::InputError;
use crate::supply::Source;
use crate::units::{ElectricPotential, MassDensity, Power, Ratio, Velocity};
use uom::si::velocity::meter_per_second;

const STEPS: usize = 20;
/// Good to far below what is shown.
const TOLERANCE_W: f64 = 1.0;

/// Greatest level thrust in still air out of a source.
pub(super) fn level_thrust(
    trim: &Trim<'_>,
    density: MassDensity,
    source: &Source,
    auxiliary: Power,
) -> Result<(LevelCeiling, ElectricPotential), InputError> {
    let ceiling_at = |voltage| trim.ceiling(density, voltage, Velocity::default());
    let spare_w = |voltage: ElectricPotential, level: &LevelCeiling| {
        (voltage * (source.open_circuit - voltage) / source.resistance - level.full_power - auxiliary).value
    };
    if source.resistance.value <= 0.0 {
        return Ok((ceiling_at(source.open_circuit)?, source.open_circuit));
    }
    let mut high = source.open_circuit;
    let at_high = ceiling_at(high)?;
    let mut high_w = spare_w(high, &at_high);
    // Under the ceilings of the open circuit the bus stands lower than under those it then has.
    let mut low = source.voltage_at(at_high.full_power + auxiliary).unwrap_or(source.open_circuit / 2.0);
    let at_low = ceiling_at(low)?;
    let mut low_w = spare_w(low, &at_low);
    if low_w <= 0.0 {
        return Ok((at_low, low));
    }
    let mut found = (at_low, low);
    for _ in 0..STEPS {
        let voltage = low + (high - low) * (low_w / (low_w - high_w));
        found = (ceiling_at(voltage)?, voltage);
        let spare = spare_w(voltage, &found.0);
        if spare.abs() < TOLERANCE_W {
            break;
        }
        if spare > 0.0 {
            (low, low_w, high_w) = (voltage, spare, high_w / 2.0);
        } else {
            (high, high_w, low_w) = (voltage, spare, low_w / 2.0);
        }
    }
    Ok(found)
}

/// Climb rates are sought up to here; more is not asked of a camera lifter.
const GREATEST_CLIMB_M_S: f64 = 12.0;
const CLIMB_HALVINGS: usize = 7;

/// Climb rate that a bus voltage leaves with `control_share` of the thrust kept for control; zero where it leaves
/// none.
pub(super) fn greatest_climb_rate(
    trim: &Trim<'_>,
    density: MassDensity,
    bus_voltage: ElectricPotential,
    control_share: Ratio,
) -> Result<Velocity, InputError> {
    let needed = trim.weight() * (1.0 + control_share.value);
    let (mut climbs, mut fails) = (0.0, GREATEST_CLIMB_M_S);
    for _ in 0..CLIMB_HALVINGS {
        let middle = 0.5 * (climbs + fails);
        let level = trim.ceiling(density, bus_voltage, Velocity::new::<meter_per_second>(middle))?;
        if level.thrust >= needed {
            climbs = middle;
        } else {
            fails = middle;
        }
    }
    Ok(Velocity::new::<meter_per_second>(climbs))
}
