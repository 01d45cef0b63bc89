//! Native tests: one binary, one module a topic.

mod air;
mod bench_files;
mod bench_fit;
mod beside;
mod card;
mod cell;
mod craft;
mod craft_places;
mod demo;
mod document;
mod fields;
mod flight;
mod flight_properties;
mod frame;
mod frame_layouts;
mod mass;
mod measure;
mod motor;
mod propulsion;
mod rig;
mod rotor;
mod supply;
mod sweep;
mod table;
mod tidy;
mod workspace;
