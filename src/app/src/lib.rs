//! The screens of Liftmargin over the pure core. `main` calls `start`.

#![allow(clippy::needless_pass_by_value, reason = "a view owns what it shows: it outlives its maker")]

mod aside;
mod bar;
mod live;
pub mod parts;
mod platform;
mod router;
mod screens;
mod shell;
mod store;

pub use shell::{App, start};
