//! What is saved and exchanged: the file's schema and its way into core's parameters.

pub mod schema;
