//! The invented scenario that a first visit shows.

use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::open::open;

const DEMO: &str = include_str!("../../../../demo-data/mountain-road.json");

/// The demo; empty if the build carries an unreadable one (a test of the document crate reads it too).
pub fn demo_bundle() -> Bundle {
    open(DEMO).map(|opened| opened.bundle).unwrap_or_default()
}

/// Whether a setup flies an aircraft of the demo, whose figures are invented.
pub fn is_invented(demo: &Bundle, bundle: &Bundle, setup: &Setup) -> bool {
    let airframe = bundle.airframes.iter().find(|airframe| airframe.id == setup.airframe);
    airframe
        .is_some_and(|own| demo.airframes.iter().any(|there| there.id == own.id && there.name == own.name))
}
