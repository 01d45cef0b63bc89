//! Shaft power of one rotor at a thrust in any flow, and what to be warned of there.
//!
//! Equations, sources and valid range: see `kernel`. Units: SI.

use uom::si::angular_velocity::radian_per_second;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::torque::newton_meter;
use uom::si::velocity::meter_per_second;

use crate::input_error::InputError;
use crate::rotor::kernel::{Neighbour, RotorKernel, Work};
use crate::rotor::params::{Flow, RotorParams};
use crate::units::{AngularVelocity, Force, MassDensity, Power, Ratio, Torque, Velocity};

/// Sink rate over v_h where the vortex ring state begins to be felt, and where it ends (from memory, Leishman
/// chapter 2: roughly 0.5 to 1.5).
pub(crate) const VORTEX_RING_SINK: (f64, f64) = (0.5, 1.5);
/// Edgewise speed over v_h above which the wake is swept away (from memory: about 1).
const VORTEX_RING_EDGEWISE: f64 = 1.0;
/// Above this the speed at a thrust was held against nothing (checked by an own blade-element integration of a 28-inch rotor up to
/// here); the growth law of profile power is beyond its fit above 0.5 (from memory, Leishman chapter 5).
pub(crate) const CHECKED_ADVANCE_RATIO: f64 = 0.2;

/// A rotor at a thrust in a flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorWork {
    /// Rotor speed.
    pub speed: AngularVelocity,
    /// Shaft torque.
    pub torque: Torque,
    /// Shaft power: the three parts below.
    pub shaft_power: Power,
    /// Induced velocity.
    pub induced_velocity: Velocity,
    /// Induced power, with its loss factor.
    pub induced_power: Power,
    /// Profile power, grown with the advance ratio.
    pub profile_power: Power,
    /// Thrust times axial speed.
    pub climb_power: Power,
    /// Edgewise speed over tip speed.
    pub advance_ratio: Ratio,
}

/// A state in which the figures still stand but should not be flown or trusted blindly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowWarning {
    /// Sinking through its own wake: the rotor may lose thrust without warning.
    VortexRingRisk {
        /// Sink rate over hover induced velocity; the band is 0.5 to 1.5.
        sink_ratio: Ratio,
        /// Edgewise speed over hover induced velocity; above 1 the wake is swept away.
        edgewise_ratio: Ratio,
    },
    /// Beyond the advance ratios that were checked (0.2).
    AdvanceRatioHigh {
        /// Edgewise speed over tip speed.
        advance_ratio: Ratio,
    },
}

/// The rotor at a thrust in a flow. At zero thrust it stands still.
///
/// # Errors
/// `InputError::OutOfRange` for a parameter, thrust, density or flow outside its bound, a figure of merit above 1,
/// sinking faster than 1.5 v_h, an advance ratio above 1, or a flow that drives the rotor.
pub fn shaft_work(
    rotor: &RotorParams,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
) -> Result<RotorWork, InputError> {
    let work = checked_work(rotor, air_density, thrust, flow)?;
    Ok(RotorWork {
        speed: AngularVelocity::new::<radian_per_second>(work.speed_rad_s),
        torque: Torque::new::<newton_meter>(work.torque_n_m()),
        shaft_power: Power::new::<watt>(work.shaft_w()),
        induced_velocity: Velocity::new::<meter_per_second>(work.induced_m_s),
        induced_power: Power::new::<watt>(work.induced_w),
        profile_power: Power::new::<watt>(work.profile_w),
        climb_power: Power::new::<watt>(work.climb_w),
        advance_ratio: Ratio::new::<ratio>(work.advance_ratio),
    })
}

/// What to be warned of at this thrust and flow; empty where all is ordinary.
///
/// # Errors
/// As `shaft_work`.
pub fn flow_warnings(
    rotor: &RotorParams,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
) -> Result<Vec<FlowWarning>, InputError> {
    let work = checked_work(rotor, air_density, thrust, flow)?;
    let mut warnings = Vec::new();
    let sink_ratio = -work.axial_ratio;
    if sink_ratio >= VORTEX_RING_SINK.0
        && sink_ratio <= VORTEX_RING_SINK.1
        && work.edgewise_ratio < VORTEX_RING_EDGEWISE
    {
        warnings.push(FlowWarning::VortexRingRisk {
            sink_ratio: Ratio::new::<ratio>(sink_ratio),
            edgewise_ratio: Ratio::new::<ratio>(work.edgewise_ratio),
        });
    }
    if work.advance_ratio > CHECKED_ADVANCE_RATIO {
        warnings
            .push(FlowWarning::AdvanceRatioHigh { advance_ratio: Ratio::new::<ratio>(work.advance_ratio) });
    }
    Ok(warnings)
}

fn checked_work(
    rotor: &RotorParams,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
) -> Result<Work, InputError> {
    let kernel = RotorKernel::new(rotor)?;
    let density_kg_m3 = RotorParams::AIR_DENSITY.check(air_density.value)?;
    let thrust_n = RotorParams::THRUST.check(thrust.value)?;
    let axial_m_s = Flow::AXIAL.check(flow.axial.value)?;
    let edgewise_m_s = Flow::EDGEWISE.check(flow.edgewise.value)?;
    kernel.work(thrust_n, density_kg_m3, axial_m_s, edgewise_m_s, Neighbour::None).checked()
}
