//! Native tests: one binary, one module a topic.

mod air;
mod flight;
mod rig;
mod table;

mod motor;
mod rotor;
