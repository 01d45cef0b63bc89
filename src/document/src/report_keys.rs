//! Stable words for core's kinds in printed reports.

use liftmargin_core::flight::FlightLimit;
use liftmargin_core::limits::{CheckKind, LimitSource, State};
use liftmargin_core::profile::LegKind;
use liftmargin_core::propulsion::ThrustLimit;

/// Key of a state, and so of a verdict.
pub fn state(state: State) -> &'static str {
    match state {
        State::Fine => "fine",
        State::Watch => "watch",
        State::No => "no",
    }
}

/// Key of where a limit comes from.
pub fn basis(basis: LimitSource) -> &'static str {
    match basis {
        LimitSource::Maker => "maker",
        LimitSource::Policy => "policy",
        LimitSource::Physics => "physics",
        LimitSource::CommonPractice => "common-practice",
    }
}

/// Key of what is checked.
pub fn check_kind(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::ThrustToWeightFresh => "thrust-to-weight-fresh",
        CheckKind::ThrustToWeightAtLandBy => "thrust-to-weight-at-land-by",
        CheckKind::HoverThrottleAtLandBy => "hover-throttle-at-land-by",
        CheckKind::RotorOut => "rotor-out",
        CheckKind::StringOut => "string-out",
        CheckKind::MotorCurrent => "motor-current",
        CheckKind::CRate => "c-rate",
        CheckKind::LoadedCellVoltage => "loaded-cell-voltage",
        CheckKind::PackCold => "pack-cold",
        CheckKind::PackHot => "pack-hot",
        CheckKind::WindHold => "wind-hold",
        CheckKind::GustHold => "gust-hold",
        CheckKind::WayHome => "way-home",
        CheckKind::Balance => "balance",
        CheckKind::ClimbReserve => "climb-reserve",
        CheckKind::AllUpMass => "all-up-mass",
        CheckKind::DescentRate => "descent-rate",
        CheckKind::Reserve => "reserve",
        _ => "other",
    }
}

/// Key of what ends a flight.
pub fn flight_limit(limit: FlightLimit) -> &'static str {
    match limit {
        FlightLimit::ReserveShare => "reserve-share",
        FlightLimit::ReserveTime => "reserve-time",
        FlightLimit::ReserveCharge => "reserve-charge",
        FlightLimit::LoadedCellFloor => "loaded-cell-floor",
        FlightLimit::GreatestPower => "greatest-power",
    }
}

/// Key of what ends a rotor's thrust.
pub fn thrust_limit(limit: ThrustLimit) -> &'static str {
    match limit {
        ThrustLimit::BusVoltage => "bus-voltage",
        ThrustLimit::MotorCurrent => "motor-current",
        ThrustLimit::ControllerCurrent => "controller-current",
    }
}

/// Key of a leg.
pub fn leg(leg: LegKind) -> &'static str {
    match leg {
        LegKind::WarmUp => "warm-up",
        LegKind::Climb => "climb",
        LegKind::Transit => "transit",
        LegKind::OnSet => "on-set",
        LegKind::Return => "return",
        LegKind::Descent => "descent",
        LegKind::Landing => "landing",
        LegKind::GoAround => "go-around",
    }
}
