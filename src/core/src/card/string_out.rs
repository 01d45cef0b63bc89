//! The check on a lost string: whether the rest brings the aircraft home from where it matters most.
//!
//! Formula   `flight::string_lost` at turning back, when the packs are lowest and home is farthest; the worst string
//! Units     V per cell
//! Source    as there
//! Valid     a setup that flies
//! Assumes   never a refusal by itself: many sound aircraft have one string

use super::params::Setup;
use crate::flight::{LongestFlight, LossMoment, LossOutcome};
use crate::input_error::InputError;
use crate::limits::{Band, Check, CheckKind, Figure, LimitSource, State, judge};

/// Loaded cell voltage of the rest against the floor; to be watched where the rest does not carry alone.
pub(super) fn string_out(setup: &Setup, flight: &mut LongestFlight<'_>) -> Result<Check, InputError> {
    let floor = Figure::CellVoltage(setup.policy.loaded_cell_floor);
    let band = Band { fine: floor, limit: floor };
    let mut worst: Option<Check> = None;
    for (index, _) in setup.supply.unlike_strings() {
        let lost = flight.string_lost(index, LossMoment::TurnBack)?;
        let value = lost.cell_voltage_lowest.map(Figure::CellVoltage);
        let mut check = judge(CheckKind::StringOut, value, band, LimitSource::Policy).watch_at_most();
        if lost.outcome != LossOutcome::CarriesAlone {
            check.state = State::Watch;
        }
        if worst.is_none_or(|known| check.state > known.state) {
            worst = Some(check);
        }
    }
    Ok(worst.unwrap_or_else(|| judge(CheckKind::StringOut, None, band, LimitSource::Policy).watch_at_most()))
}
