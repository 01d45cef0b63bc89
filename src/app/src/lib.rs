//! The screens of Liftmargin over the pure core. `main` mounts `App`.

mod doors;
mod live;
pub mod parts;
mod router;
mod screens;
mod shell;
mod store;

pub use shell::App;
