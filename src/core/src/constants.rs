//! Physical constants shared by the stations.

/// Standard gravity, m/s². Exact by definition (3rd CGPM, 1901; ICAO Doc 7488/3).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;
