//! Open-circuit voltage tables: V per cell at every 2 % of charge from empty to full, 25 °C, at rest.
//!
//! The two published ones are computed from the papers' parameters by an open model library; the script and
//! the table stand in `tests/references/cells`, and a test holds the two against each other.

/// Points in a table.
pub(crate) const CURVE_POINTS: usize = 51;

/// Lithium polymer: Ai et al. 2020, lithium cobalt oxide pouch cell, 3.0 to 4.2 V.
pub(crate) const LITHIUM_POLYMER: [f64; CURVE_POINTS] = [
    3.0000, 3.3388, 3.4893, 3.5825, 3.6250, 3.6396, 3.6476, 3.6572, 3.6733, 3.6847, 3.6954, 3.7055, 3.7135,
    3.7198, 3.7263, 3.7331, 3.7392, 3.7451, 3.7510, 3.7567, 3.7622, 3.7676, 3.7734, 3.7790, 3.7856, 3.7925,
    3.7999, 3.8080, 3.8167, 3.8262, 3.8365, 3.8478, 3.8607, 3.8752, 3.8913, 3.9089, 3.9265, 3.9436, 3.9601,
    3.9768, 3.9945, 4.0125, 4.0315, 4.0501, 4.0685, 4.0879, 4.1078, 4.1281, 4.1488, 4.1700, 4.2000,
];

/// High-voltage lithium polymer. Common practice, no source: the lithium polymer curve stretched by 1/1.14 and
/// carried on straight to 4.35 V, so that a cell at 4.20 V holds 88 %. Replace by a measured one when there is one.
pub(crate) const LITHIUM_POLYMER_HIGH_VOLTAGE: [f64; CURVE_POINTS] = [
    3.0000, 3.3599, 3.5154, 3.6004, 3.6332, 3.6452, 3.6557, 3.6730, 3.6860, 3.6980, 3.7087, 3.7169, 3.7242,
    3.7319, 3.7390, 3.7457, 3.7524, 3.7588, 3.7650, 3.7714, 3.7779, 3.7852, 3.7931, 3.8017, 3.8111, 3.8215,
    3.8328, 3.8453, 3.8597, 3.8762, 3.8948, 3.9149, 3.9347, 3.9538, 3.9728, 3.9927, 4.0133, 4.0348, 4.0560,
    4.0774, 4.0998, 4.1228, 4.1463, 4.1706, 4.2034, 4.2279, 4.2523, 4.2767, 4.3011, 4.3256, 4.3500,
];

/// Lithium-ion cylindrical: Chen et al. 2020, nickel-rich oxide against graphite with silicon, 2.5 to 4.2 V.
pub(crate) const LITHIUM_ION_CYLINDRICAL: [f64; CURVE_POINTS] = [
    2.5000, 2.8625, 3.0504, 3.1553, 3.2276, 3.2959, 3.3637, 3.4157, 3.4480, 3.4687, 3.4852, 3.5014, 3.5190,
    3.5386, 3.5599, 3.5814, 3.6019, 3.6205, 3.6372, 3.6524, 3.6670, 3.6817, 3.6972, 3.7139, 3.7319, 3.7509,
    3.7702, 3.7892, 3.8072, 3.8242, 3.8406, 3.8578, 3.8779, 3.9020, 3.9266, 3.9479, 3.9668, 3.9850, 4.0037,
    4.0230, 4.0421, 4.0599, 4.0749, 4.0858, 4.0924, 4.0967, 4.1025, 4.1144, 4.1351, 4.1645, 4.2000,
];
