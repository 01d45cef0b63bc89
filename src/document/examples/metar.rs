//! Prints what an aviation weather report says of a site as JSON: `cargo run -q -p liftmargin-document --example metar -- "REPORT"`.
//!
//! A report that is refused: exit code 1 and the reason in words on the error stream.

use std::process::ExitCode;

use liftmargin_core::units::{Pressure, ThermodynamicTemperature, Velocity};
use liftmargin_document::metar::{Metar, read};
use serde_json::{Value, json};
use uom::si::pressure::hectopascal;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::velocity::meter_per_second;

fn main() -> ExitCode {
    let report = std::env::args().skip(1).collect::<Vec<_>>().join(" ");
    match read(&report) {
        Ok(metar) => {
            println!("{:#}", shown(&metar));
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::FAILURE
        }
    }
}

fn shown(metar: &Metar) -> Value {
    let celsius = |value: ThermodynamicTemperature| tidy(value.get::<degree_celsius>());
    let speed = |value: Velocity| tidy(value.get::<meter_per_second>());
    json!({
        "station": metar.station,
        "observed": {
            "day": metar.observed.day,
            "hour": metar.observed.hour,
            "minute": metar.observed.minute,
        },
        "temperature_c": metar.temperature.map(celsius),
        "dew_point_c": metar.dew_point.map(celsius),
        "qnh_hpa": metar.qnh.map(|qnh: Pressure| tidy(qnh.get::<hectopascal>())),
        "wind_m_s": metar.wind.map(|wind| speed(wind.mean)),
        "gust_m_s": metar.wind.and_then(|wind| wind.gust).map(speed),
        "wind_direction_deg": metar.wind.and_then(|wind| wind.direction_deg),
    })
}

/// Without the last digits that converting to SI and back leaves.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
