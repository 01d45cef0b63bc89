//! The frame: where the rotors sit, which way they turn, and what each must carry.
//!
//! Axes: x forward, y right, z down, origin at the centre of the rotor plane. Rotors are numbered clockwise
//! seen from above, starting right of the nose; on coaxial arms the upper rotor comes before the lower.

mod fault;
pub mod params;

pub use fault::LayoutFault;
pub use params::{Layout, LayoutKind, Place, Position, RotorRole, Spin};
