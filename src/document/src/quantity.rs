//! From the file's numbers to SI, checked: the unit is read off the end of the field's name.
//!
//! Formula: SI = value · factor + offset. Units: the table below. Source: definitions (BIPM SI Brochure, 9th ed.).
//! Valid: each input's `InputRange` in core.

use liftmargin_core::frame::Position;
use liftmargin_core::input_error::InputError;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::units::Length;
use uom::si::length::meter;

use crate::error::DocumentError;

/// A unit that the file uses.
struct FileUnit {
    suffix: &'static str,
    label: &'static str,
    factor: f64,
    offset: f64,
}

const fn unit(suffix: &'static str, label: &'static str, factor: f64) -> FileUnit {
    FileUnit { suffix, label, factor, offset: 0.0 }
}

const RPM: f64 = core::f64::consts::TAU / 60.0;

/// Longer endings stand before the shorter ones they end in.
const UNITS: [FileUnit; 19] = [
    unit("_c_rating", "C", 1.0),
    unit("_kg_m3", "kg/m³", 1.0),
    unit("_rpm_v", "rpm/V", RPM),
    unit("_m_s", "m/s", 1.0),
    unit("_m2", "m²", 1.0),
    unit("_mohm", "mΩ", 1e-3),
    unit("_ohm", "Ω", 1.0),
    unit("_percent", "%", 0.01),
    unit("_mah", "mAh", 3.6),
    unit("_hpa", "hPa", 100.0),
    unit("_rpm", "rpm", RPM),
    unit("_kg", "kg", 1.0),
    FileUnit { suffix: "_c", label: "°C", factor: 1.0, offset: 273.15 },
    unit("_m", "m", 1.0),
    unit("_w", "W", 1.0),
    unit("_a", "A", 1.0),
    unit("_v", "V", 1.0),
    unit("_n", "N", 1.0),
    unit("_s", "s", 1.0),
];

const PLAIN: FileUnit = unit("", "", 1.0);

fn unit_of(path: &str) -> &'static FileUnit {
    let field = path.rsplit('.').next().unwrap_or(path);
    let name = field.split('[').next().unwrap_or(field);
    UNITS.iter().find(|unit| name.ends_with(unit.suffix)).unwrap_or(&PLAIN)
}

/// The value of a field in SI, if its range allows it.
///
/// # Errors
/// `DocumentError::Refused` out of range or not a number.
pub(crate) fn si(path: &str, value: f64, range: &'static InputRange) -> Result<f64, DocumentError> {
    let unit = unit_of(path);
    range.check(on_bound(value * unit.factor + unit.offset, range)).map_err(|refusal| {
        DocumentError::Refused { path: path.to_owned(), value: value.to_string(), refusal }
    })
}

/// Undoes rounding noise of the conversion, which would put −40 °C just below a range of 233.15 K.
fn on_bound(si_value: f64, range: &InputRange) -> f64 {
    [range.min, range.max]
        .into_iter()
        .find(|end| (si_value - end).abs() <= 4.0 * f64::EPSILON * end.abs())
        .unwrap_or(si_value)
}

/// As `si`, for a field that may be absent.
pub(crate) fn si_if_there(
    path: &str,
    value: Option<f64>,
    range: &'static InputRange,
) -> Result<Option<f64>, DocumentError> {
    value.map(|value| si(path, value, range)).transpose()
}

/// A point in body axes.
pub(crate) fn position(path: &str, value_m: [f64; 3]) -> Result<Position, DocumentError> {
    let [forward, right, down] = value_m;
    let axis = |index: usize, value: f64| {
        si(&format!("{path}[{index}]"), value, &Position::OFFSET).map(Length::new::<meter>)
    };
    Ok(Position { forward: axis(0, forward)?, right: axis(1, right)?, down: axis(2, down)? })
}

/// A range in the file's own unit: `0 to 60 kg`. Rounded inward to six digits, so that each end is itself allowed.
pub(crate) fn allowed(path: &str, range: &InputRange) -> String {
    let unit = unit_of(path);
    let own = |si_value: f64| (si_value - unit.offset) / unit.factor;
    let label = if unit.label.is_empty() { si_label(range.kind) } else { unit.label };
    let text =
        format!("{} to {} {label}", inward(own(range.min), f64::ceil), inward(own(range.max), f64::floor));
    text.trim_end().to_owned()
}

/// The SI unit of a kind, for figures that core derives and the file does not hold.
fn si_label(kind: Kind) -> &'static str {
    match kind {
        Kind::Mass => "kg",
        Kind::Length | Kind::PartLength => "m",
        Kind::Area => "m²",
        Kind::Pressure => "Pa",
        Kind::Temperature => "K",
        Kind::Speed => "m/s",
        Kind::Duration => "s",
        Kind::Charge => "C",
        Kind::Potential => "V",
        Kind::Resistance => "Ω",
        Kind::Current => "A",
        Kind::Power => "W",
        Kind::VelocityConstant => "rad/s/V",
        Kind::Force => "N",
        Kind::RotationalSpeed => "rad/s",
        Kind::CRate => "per hour",
        Kind::Density => "kg/m³",
        _ => "",
    }
}

fn inward(value: f64, round: fn(f64) -> f64) -> f64 {
    if value == 0.0 {
        return 0.0;
    }
    let scale = 10f64.powi(5 - value.abs().log10().floor() as i32);
    let scaled = value * scale;
    // Conversion noise of 1e-9 is not a reason to round a whole digit.
    let nearest = scaled.round();
    if (scaled - nearest).abs() < 1e-6 { nearest / scale } else { round(scaled) / scale }
}

/// A refusal of core, at the thing it concerns: a figure that core derives is named below it by its standard name.
pub(crate) fn refused(parent: &str, refusal: InputError) -> DocumentError {
    match refusal {
        InputError::OutOfRange { range, value } => {
            let path =
                if parent.is_empty() { range.field.to_owned() } else { format!("{parent}.{}", range.field) };
            DocumentError::Refused { path, value: value.to_string(), refusal }
        }
        refusal => DocumentError::Refused { path: parent.to_owned(), value: String::new(), refusal },
    }
}
