//! The screens of Liftmargin over the pure core.

pub mod parts;
