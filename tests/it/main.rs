//! Native tests: one binary, one module a topic.

mod air;
mod document;
mod flight;
mod frame;
mod mass;
mod measure;
mod motor;
mod rig;
mod rotor;
mod table;
