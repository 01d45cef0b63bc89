//! Native tests: one binary, one module a topic.

mod air;
mod table;

mod motor;
mod rotor;
