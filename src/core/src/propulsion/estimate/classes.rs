//! Static coefficients of measured propellers and lifting rotors, by diameter and pitch over diameter.
//!
//! Medians over classes of two-bladed propellers at their upper rotor speeds (UIUC Propeller Database, volumes 1 to 3: Brandt,
//! Deters, Ananda, Dantsker, Selig; aggregated, no rows copied), and of larger rotors: a 28-inch folding rotor
//! (tests/references/rotor28), a 14-inch carbon propeller (open bench file, torque measured: C_T 0.070, figure of merit 0.71), 24-inch
//! rotors in flight (C_T 0.066 to 0.075). `Scaled` marks a figure that no measurement of its class stands behind: its
//! neighbours' course at the class's own level.

/// Where a pair of coefficients comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Origin {
    Measured,
    Scaled,
}

use Origin::{Measured, Scaled};

/// C_T and C_P at one pitch over diameter.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot {
    pub pitch_ratio: f64,
    pub thrust_coefficient: f64,
    pub power_coefficient: f64,
    pub origin: Origin,
}

/// A class of diameters.
#[derive(Debug, Clone, Copy)]
pub(super) struct SizeClass {
    /// The middle of the class, m.
    pub diameter_m: f64,
    pub knots: [Knot; 6],
}

const fn knot(pitch_ratio: f64, thrust_coefficient: f64, power_coefficient: f64, origin: Origin) -> Knot {
    Knot { pitch_ratio, thrust_coefficient, power_coefficient, origin }
}

/// By rising diameter; every class has the same pitch ratios.
pub(super) const CLASSES: [SizeClass; 4] = [
    // 7 to 9 inches.
    SizeClass {
        diameter_m: 0.203_2,
        knots: [
            knot(0.33, 0.067, 0.0245, Scaled),
            knot(0.45, 0.086, 0.0367, Scaled),
            knot(0.55, 0.092, 0.0396, Measured),
            knot(0.65, 0.104, 0.0528, Scaled),
            knot(0.75, 0.112, 0.0678, Measured),
            knot(0.95, 0.112, 0.0900, Scaled),
        ],
    },
    // 9 to 12 inches.
    SizeClass {
        diameter_m: 0.266_7,
        knots: [
            knot(0.33, 0.071, 0.0247, Measured),
            knot(0.45, 0.094, 0.0377, Measured),
            knot(0.55, 0.100, 0.0407, Measured),
            knot(0.65, 0.113, 0.0480, Measured),
            knot(0.75, 0.121, 0.0564, Measured),
            knot(0.95, 0.120, 0.0802, Measured),
        ],
    },
    // 12 to 20 inches; at 0.33 the 14-inch carbon propeller.
    SizeClass {
        diameter_m: 0.406_4,
        knots: [
            knot(0.33, 0.070, 0.0208, Measured),
            knot(0.45, 0.081, 0.0244, Measured),
            knot(0.55, 0.096, 0.0314, Measured),
            knot(0.65, 0.112, 0.0427, Measured),
            knot(0.75, 0.103, 0.0553, Measured),
            knot(0.95, 0.114, 0.0703, Measured),
        ],
    },
    // The 28-inch rotor; steeper ones of its size: as the class below.
    SizeClass {
        diameter_m: 0.711_2,
        knots: [
            knot(0.33, 0.067, 0.0198, Measured),
            knot(0.45, 0.079, 0.0240, Scaled),
            knot(0.55, 0.094, 0.0310, Scaled),
            knot(0.65, 0.110, 0.0420, Scaled),
            knot(0.75, 0.103, 0.0553, Scaled),
            knot(0.95, 0.114, 0.0703, Scaled),
        ],
    },
];
