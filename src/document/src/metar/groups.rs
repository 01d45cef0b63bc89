//! The groups: what they look like, and what they say.

use liftmargin_core::units::{Pressure, ThermodynamicTemperature, Velocity};
use uom::si::pressure::{hectopascal, inch_of_mercury, pascal};
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::velocity::{kilometer_per_hour, knot, meter_per_second};

use super::fault::{BadGroup, MetarFault};
use super::{ObservedAt, Wind};

/// Faster than the greatest gust on record, 113 m/s (WMO archive of extremes, from memory), m/s.
const FASTEST_M_S: f64 = 115.0;
/// Around the records of −89 and 57 °C (WMO archive of extremes, from memory), °C.
const COLDEST_C: f64 = -90.0;
const HOTTEST_C: f64 = 60.0;
/// Around the records at sea level, 870 and 1084 hPa (from memory), Pa.
const LEAST_PA: f64 = 86_000.0;
const GREATEST_PA: f64 = 109_000.0;
/// Q is cut to whole hectopascals, A to hundredths of an inch: together they may differ by this, Pa.
const AGREE_PA: f64 = 150.0;

type Read<T> = Result<T, MetarFault>;

fn bad<T>(group: &str, reason: BadGroup) -> Read<T> {
    Err(MetarFault::BadGroup { group: group.to_owned(), reason })
}

pub(super) fn is_station(word: &str) -> bool {
    word.len() == 4
        && word.starts_with(|first: char| first.is_ascii_uppercase())
        && word.bytes().all(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit())
}

/// `251800Z`.
pub(super) fn time(word: &str) -> Option<ObservedAt> {
    let digits = word.strip_suffix('Z').filter(|digits| digits.len() == 6)?;
    let [day, hour, minute] = [0, 2, 4].map(|at| number(digits.get(at..at + 2)?));
    let observed = ObservedAt { day: day? as u8, hour: hour? as u8, minute: minute? as u8 };
    ((1..=31).contains(&observed.day) && observed.hour < 24 && observed.minute < 60).then_some(observed)
}

/// Digits alone; a sign or a space is none.
fn number(digits: &str) -> Option<u32> {
    let is_number = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
    if is_number { digits.parse().ok() } else { None }
}

type WindUnit = fn(f64) -> Velocity;
const WIND_UNITS: [(&str, WindUnit); 3] = [
    ("KT", |value| Velocity::new::<knot>(value)),
    ("MPS", |value| Velocity::new::<meter_per_second>(value)),
    ("KMH", |value| Velocity::new::<kilometer_per_hour>(value)),
];

fn wind_parts(word: &str) -> Option<(&str, WindUnit)> {
    WIND_UNITS.into_iter().find_map(|(unit, make)| Some((word.strip_suffix(unit)?, make)))
}

/// By its unit at the end, and a direction, `VRB` or slashes in front.
pub(super) fn looks_like_wind(word: &str) -> bool {
    wind_parts(word).is_some_and(|(rest, _)| {
        rest.len() >= 4
            && (rest.starts_with("VRB")
                || rest.starts_with('/')
                || rest.starts_with(|c: char| c.is_ascii_digit()))
    })
}

/// `28010KT`, `08032G45KT`, `VRB04KT`, `00000KT`, `210103G130KT`, `230P49MPS`; none where it is missing (`/////KT`).
pub(super) fn wind(word: &str) -> Read<Option<Wind>> {
    let Some((rest, unit)) = wind_parts(word) else { return bad(word, BadGroup::Form) };
    if rest.bytes().all(|byte| byte == b'/') {
        return Ok(None);
    }
    let (Some(direction), Some(speeds)) = (rest.get(..3), rest.get(3..)) else {
        return bad(word, BadGroup::Form);
    };
    let (mean, gust) = match speeds.split_once('G') {
        Some((mean, gust)) => (mean, Some(gust)),
        None => (speeds, None),
    };
    let direction = match direction {
        "VRB" | "///" => None,
        digits => match number(digits) {
            Some(degrees) if degrees <= 360 => Some(degrees as u16),
            Some(_) => return bad(word, BadGroup::Direction),
            None => return bad(word, BadGroup::Form),
        },
    };
    let Some((mean_raw, mean_above)) = speed(mean) else {
        // A missing speed beside a direction says nothing of use.
        return if mean == "//" { Ok(None) } else { bad(word, BadGroup::Form) };
    };
    let gust = match gust.map(speed) {
        Some(None) => return bad(word, BadGroup::Form),
        Some(Some((gust_raw, _))) if gust_raw <= mean_raw => return bad(word, BadGroup::GustBelowMean),
        Some(Some((gust_raw, above))) => Some((unit(gust_raw), above)),
        None => None,
    };
    let mean = unit(mean_raw);
    let fastest = gust.map_or(mean, |(gust, _)| gust);
    if fastest.value > FASTEST_M_S {
        return bad(word, BadGroup::WindTooFast);
    }
    let direction_deg = direction.filter(|_| mean_raw > 0.0);
    let is_above_scale = mean_above || gust.is_some_and(|(_, above)| above);
    Ok(Some(Wind { direction_deg, mean, gust: gust.map(|(gust, _)| gust), is_above_scale }))
}

/// Two or three digits, behind `P` for "more than".
fn speed(word: &str) -> Option<(f64, bool)> {
    let (digits, above) = match word.strip_prefix('P') {
        Some(digits) => (digits, true),
        None => (word, false),
    };
    let value = number(digits).filter(|_| (2..=3).contains(&digits.len()))?;
    Some((f64::from(value), above))
}

/// Two parts at a slash, each `M` and two digits, or missing.
pub(super) fn looks_like_temperatures(word: &str) -> bool {
    let Some((left, right)) = word.split_once('/') else { return false };
    let is_part = |part: &str| {
        let digits = part.strip_prefix('M').unwrap_or(part);
        part.is_empty()
            || part.bytes().all(|byte| byte == b'/')
            || (digits.len() <= 3 && digits.starts_with(|c: char| c.is_ascii_digit()))
    };
    // `R28/` and `3/4SM` have letters that no temperature has; `//////` is cloud.
    word.len() <= 9
        && is_part(left)
        && is_part(right)
        && word.bytes().any(|byte| byte.is_ascii_digit() || word == "/////")
        && !word.ends_with("SM")
}

type Temperatures = (Option<ThermodynamicTemperature>, Option<ThermodynamicTemperature>);

/// `18/16`, `M05/M11`, `10/`, `12///`, `/////`.
pub(super) fn temperatures(word: &str) -> Read<Temperatures> {
    let Some((left, right)) = word.split_once('/') else { return bad(word, BadGroup::Form) };
    let [temperature, dew_point] = [whole_degrees(left, word)?, whole_degrees(right, word)?];
    for degrees in [temperature, dew_point].into_iter().flatten() {
        if !(COLDEST_C..=HOTTEST_C).contains(&degrees) {
            return bad(word, BadGroup::Temperature);
        }
    }
    if temperature.zip(dew_point).is_some_and(|(temperature, dew_point)| dew_point > temperature) {
        return bad(word, BadGroup::DewPointAbove);
    }
    Ok((temperature.map(celsius), dew_point.map(celsius)))
}

/// None where it is missing.
fn whole_degrees(part: &str, word: &str) -> Read<Option<f64>> {
    if part.bytes().all(|byte| byte == b'/') {
        return Ok(None);
    }
    let (digits, sign) = match part.strip_prefix('M') {
        Some(digits) => (digits, -1.0),
        None => (part, 1.0),
    };
    match number(digits).filter(|_| digits.len() == 2) {
        Some(value) => Ok(Some(sign * f64::from(value))),
        None => bad(word, BadGroup::Form),
    }
}

fn celsius(degrees: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(degrees)
}

/// Q or A before a digit or a slash, at least four characters: `Q0999`, `A2992`, `Q////`.
pub(super) fn looks_like_pressure(word: &str) -> bool {
    let rest = word.strip_prefix(['Q', 'A']);
    rest.is_some_and(|rest| rest.len() >= 3 && rest.starts_with(|c: char| c.is_ascii_digit() || c == '/'))
}

/// None where it is missing.
pub(super) fn pressure(word: &str) -> Read<Option<Pressure>> {
    let (kind, digits) = word.split_at(1);
    if digits.bytes().all(|byte| byte == b'/') {
        return Ok(None);
    }
    let Some(value) = number(digits).filter(|_| digits.len() == 4) else { return bad(word, BadGroup::Form) };
    let pressure = if kind == "Q" {
        Pressure::new::<hectopascal>(f64::from(value))
    } else {
        Pressure::new::<inch_of_mercury>(f64::from(value) / 100.0)
    };
    if (LEAST_PA..=GREATEST_PA).contains(&pressure.get::<pascal>()) {
        Ok(Some(pressure))
    } else {
        bad(word, BadGroup::Pressure)
    }
}

/// Where both kinds are given they must agree; the lower one counts, thinner air is the safe side.
pub(super) fn agreed(known: Option<Pressure>, new: Option<Pressure>, word: &str) -> Read<Option<Pressure>> {
    match (known, new) {
        (Some(known), Some(new)) if (known - new).value.abs() > AGREE_PA => {
            bad(word, BadGroup::Contradiction)
        }
        (Some(known), Some(new)) => Ok(Some(known.min(new))),
        (known, new) => Ok(known.or(new)),
    }
}

/// `T01820159`: sign and tenths of temperature and dew point; `T0182` alone.
pub(super) fn tenths(word: &str) -> Option<(ThermodynamicTemperature, Option<ThermodynamicTemperature>)> {
    let digits = word.strip_prefix('T').filter(|digits| matches!(digits.len(), 4 | 8))?;
    let one = |at: usize| {
        let sign = match digits.get(at..=at)? {
            "0" => 1.0,
            "1" => -1.0,
            _ => return None,
        };
        Some(celsius(sign * f64::from(number(digits.get(at + 1..at + 4)?)?) / 10.0))
    };
    let temperature = one(0)?;
    if digits.len() == 4 { Some((temperature, None)) } else { Some((temperature, Some(one(4)?))) }
}

/// Whole degrees are the tenths rounded.
pub(super) fn same_degree(
    whole: Option<ThermodynamicTemperature>,
    tenths: ThermodynamicTemperature,
    word: &str,
) -> Read<()> {
    let is_same = whole.is_none_or(|whole| (whole.value - tenths.value).abs() <= 0.51);
    if is_same { Ok(()) } else { bad(word, BadGroup::Contradiction) }
}
