//! The frame: where the rotors sit, which way they turn, and what each must carry.
//!
//! Axes: x forward, y right, z down, origin at the centre of the rotor plane. Rotors are numbered clockwise
//! seen from above, starting right of the nose; on coaxial arms the upper rotor comes before the lower.

mod allocate;
mod layouts;
pub mod params;
mod rotor_out;
mod shares;

pub use crate::input_error::LayoutFault;
pub use allocate::allocate;
pub use layouts::{LayoutKind, layout};
pub use params::{Layout, Place, Position, RotorRole, Spin};
pub use rotor_out::{
    Capability, LevelHold, RotorOut, THRUST_LEFT, level_hold, rotor_out, rotor_out_all, stopped,
};
pub use shares::hover_shares;
