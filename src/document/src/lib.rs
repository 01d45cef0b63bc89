//! Saved and exchanged.
