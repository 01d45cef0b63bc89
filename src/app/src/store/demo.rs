//! The invented scenario that a first visit shows.

use std::sync::LazyLock;

use liftmargin_document::model::{Bundle, Setup};
use liftmargin_document::open::open;

const DEMO: &str = include_str!("../../../../demo-data/mountain-road.json");

/// Read once a visit: the first card needs it, and the mark on what is invented.
static READ: LazyLock<Bundle> = LazyLock::new(|| open(DEMO).map(|opened| opened.bundle).unwrap_or_default());

/// The demo; empty if the build carries an unreadable one (a test of the document crate reads it too).
pub fn demo_bundle() -> Bundle {
    READ.clone()
}

/// Whether a setup flies an aircraft of the demo, whose figures are invented.
pub fn is_invented(bundle: &Bundle, setup: &Setup) -> bool {
    let airframe = bundle.airframes.iter().find(|airframe| airframe.id == setup.airframe);
    airframe
        .is_some_and(|own| READ.airframes.iter().any(|there| there.id == own.id && there.name == own.name))
}
