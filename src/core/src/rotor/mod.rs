//! One rotor: thrust, power and induced velocity.
//!
//! Axes and signs: thrust is positive along the rotor axis; axial flow is positive when the rotor climbs (air
//! comes down through the disc, as the induced velocity does); edgewise flow lies in the disc plane.

mod coaxial;
mod hover;
mod induced;
mod kernel;
pub mod params;
mod work;

pub use coaxial::{CoaxialInduced, CoaxialParams, coaxial_induced};
pub(crate) use coaxial::{Pair, PairFactors, PairSpacing};
pub use hover::{RotorHover, hover};
pub use induced::{hover_induced_velocity, induced_velocity};
pub(crate) use kernel::REFERENCE_DENSITY_KG_M3;
pub use params::{Flow, RotorParams};
pub(crate) use work::{CHECKED_ADVANCE_RATIO, VORTEX_RING_SINK};
pub use work::{FlowWarning, RotorWork, flow_warnings, shaft_work};

pub(crate) use kernel::{Neighbour, Partner, RotorKernel, Work};
