//! Words for the flight itself: alarms, and readings that are asked back.

use liftmargin_core::airborne::{AlarmKind, ReadingDoubt};
use liftmargin_core::units::ElectricCharge;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;

/// What an alarm says.
pub const fn alarm(kind: AlarmKind) -> &'static str {
    match kind {
        AlarmKind::BeforeTurnBack => "Turn back in a minute",
        AlarmKind::TurnBack => "Turn back now",
        AlarmKind::WeakPacks => "Packs weaker than planned: come home",
        AlarmKind::BeforeLandBy => "Be down in a minute",
        AlarmKind::LandBy => "Be on the ground now",
    }
}

/// Why a reading is asked back.
pub fn reading_doubt(doubt: &ReadingDoubt) -> String {
    let mah = |charge: ElectricCharge| format!("{:.0} mAh", charge.get::<milliampere_hour>().max(0.0));
    match doubt {
        ReadingDoubt::Earlier { .. } => "This is earlier than the reading before.".to_owned(),
        ReadingDoubt::NoNumber => "This is no reading of a meter.".to_owned(),
        ReadingDoubt::LowerThanLast { last } => {
            format!("Lower than before: the meter showed {} already. Was it reset?", mah(*last))
        }
        ReadingDoubt::AboveCapacity { capacity } => {
            format!("More than the packs hold: at {} nothing is left.", mah(*capacity))
        }
        ReadingDoubt::FarAboveExpected { expected } => {
            format!("Ten times what was expected: about {}. One digit too many?", mah(*expected))
        }
        ReadingDoubt::Unlikely { expected } => {
            format!("Far from what was expected: about {}. Is each digit right?", mah(*expected))
        }
        ReadingDoubt::VoltageBeyondPacks { least, greatest } => format!(
            "These packs have {:.1} to {:.1} V under load.",
            least.get::<volt>(),
            greatest.get::<volt>()
        ),
    }
}

/// What a correction says on a card: "corrected by 4 flights: +6 % power (±3 %)".
pub fn corrected_by(flights: u32, factor: f64, spread: f64) -> String {
    let noun = if flights == 1 { "flight" } else { "flights" };
    let percent = (100.0 * (factor - 1.0)).round();
    let sign = if percent < 0.0 { "\u{2212}" } else { "+" };
    let doubt = (100.0 * spread).ceil();
    format!("corrected by {flights} {noun}: {sign}{:.0} % power (±{doubt:.0} %)", percent.abs())
}
