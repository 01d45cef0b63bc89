//! Physics and decisions.
