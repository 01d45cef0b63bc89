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
    let ceiling_at =
        |voltage, near: Option<&LevelCeiling>| trim.ceiling(density, voltage, Velocity::default(), near);
    let spare_w = |voltage: ElectricPotential, level: &LevelCeiling| {
        (voltage * (source.open_circuit - voltage) / source.resistance - level.full_power - auxiliary).value
    };
    if source.resistance.value <= 0.0 {
        return Ok((ceiling_at(source.open_circuit, None)?, source.open_circuit));
    }
    let mut high = source.open_circuit;
    let at_high = ceiling_at(high, None)?;
    let mut high_w = spare_w(high, &at_high);
    // Under the ceilings of the open circuit the bus stands lower than under those it then has.
    let mut low = source.voltage_at(at_high.full_power + auxiliary).unwrap_or(source.open_circuit / 2.0);
    let at_low = ceiling_at(low, Some(&at_high))?;
    let mut low_w = spare_w(low, &at_low);
    if low_w <= 0.0 {
        return Ok((at_low, low));
    }
    let mut found = (at_low, low);
    for _ in 0..STEPS {
        let voltage = low + (high - low) * (low_w / (low_w - high_w));
        found = (ceiling_at(voltage, Some(&found.0))?, voltage);
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
const CLIMB_STEPS: usize = 7;
/// Thrust beyond what is needed that ends the search, and the width that does.
const SPARE_THRUST: f64 = 0.002;
const NARROW_M_S: f64 = 0.05;

/// Climb rate that a bus voltage leaves with `control_share` of the thrust kept for control; zero where it leaves
/// none. `still` is the ceiling of this trim at that voltage without a climb.
pub(super) fn greatest_climb_rate(
    trim: &Trim<'_>,
    density: MassDensity,
    (still, bus_voltage): (&LevelCeiling, ElectricPotential),
    control_share: Ratio,
) -> Result<Velocity, InputError> {
    let needed = trim.weight() * (1.0 + control_share.value);
    let mut near = *still;
    let mut spare = |climb_m_s: f64| {
        let rate = Velocity::new::<meter_per_second>(climb_m_s);
        near = trim.ceiling(density, bus_voltage, rate, Some(&near))?;
        Ok::<_, InputError>((near.thrust / needed).value - 1.0)
    };
    let (mut climbs, mut spare_there) = (0.0, (still.thrust / needed).value - 1.0);
    if spare_there <= 0.0 {
        return Ok(Velocity::default());
    }
    let (mut fails, mut lacks) = (GREATEST_CLIMB_M_S, -spare(GREATEST_CLIMB_M_S)?);
    if lacks <= 0.0 {
        return Ok(Velocity::new::<meter_per_second>(GREATEST_CLIMB_M_S));
    }
    for _ in 0..CLIMB_STEPS {
        let between = climbs + (fails - climbs) * spare_there / (spare_there + lacks);
        let found = spare(between)?;
        if found >= 0.0 {
            (climbs, spare_there, lacks) = (between, found, lacks / 2.0);
        } else {
            (fails, lacks, spare_there) = (between, -found, spare_there / 2.0);
        }
        if (0.0..SPARE_THRUST).contains(&found) || fails - climbs < NARROW_M_S {
            break;
        }
    }
    Ok(Velocity::new::<meter_per_second>(climbs))
}
