//! Whatever a pilot may fly by is cautious: each meter's marks and the turn-back table, with the typical value beside.
//!
//! Formula   a meter: cautious = typical · (cautious / typical of the meter on board); turning back from elsewhere: the
//!           lesser of that and cautious land-by − way home · (cautious / typical charge of the planned way home)
//! Units     C
//! Source    own; both give the sampled figure itself for the meter on board and the planned place
//! Valid     a setup that flies
//! Checked   tests/it/by_meter.rs: one figure for one meter and one basis; never above the typical one
//! Assumes   the doubt of another meter is in the same proportion; that of a longer way home grows with it

use liftmargin_core::card::TurnBackTable;
use liftmargin_core::flight::Flight;
use liftmargin_core::supply::MeterPlace;
use liftmargin_core::units::{ElectricCharge, Length, Ratio};
use uom::si::ratio::ratio;

use super::headline::Headline;

/// A reading to act on, with the typical one beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cautioned {
    /// To act on; zero where more than one flight in ten does not come home as planned.
    pub cautious: ElectricCharge,
    /// Half the flights have more.
    pub typical: ElectricCharge,
}

/// The marks by one meter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterLine {
    /// Where the meter sits.
    pub place: MeterPlace,
    /// Whether the setup has it on board.
    pub is_on_board: bool,
    /// To turn back.
    pub turn_back: Cautioned,
    /// To land by.
    pub land_by: Cautioned,
}

/// Turning back from one distance, a reading a wind.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBackLine {
    /// Of the set from the launch site.
    pub distance: Length,
    /// None where there is no flight.
    pub turn_back: Vec<Option<Cautioned>>,
}

/// What the cautious figures of the meter on board are of the typical ones; never more than one.
struct Shares {
    land_by: Ratio,
    turn_back: Ratio,
}

impl Shares {
    /// None while the cautious figures are being computed.
    fn new(flight: &Flight, headline: Headline) -> Option<Self> {
        let share = |cautious: ElectricCharge, typical: ElectricCharge| {
            if typical.value > 0.0 {
                (cautious / typical).min(Ratio::new::<ratio>(1.0))
            } else {
                Ratio::default()
            }
        };
        Some(Self {
            land_by: share(headline.land_by?, flight.marks.land_by),
            turn_back: share(headline.turn_back?, flight.marks.turn_back),
        })
    }
}

/// Every meter that could be on board; none while the cautious figures are being computed.
pub fn by_meter(flight: &Flight, headline: Headline) -> Option<Vec<MeterLine>> {
    let shares = Shares::new(flight, headline)?;
    let (own_land_by, own_turn_back) = (headline.land_by?, headline.turn_back?);
    let lines = flight.marks_by_meter.iter().map(|marks| {
        let is_on_board = marks.place == flight.marks.place;
        let of = |own: ElectricCharge, typical: ElectricCharge, share: Ratio| Cautioned {
            // The very figure, not one that rounding of the machine sets a step lower.
            cautious: if is_on_board { own } else { typical * share },
            typical,
        };
        MeterLine {
            place: marks.place,
            is_on_board,
            turn_back: of(own_turn_back, marks.turn_back, shares.turn_back),
            land_by: of(own_land_by, marks.land_by, shares.land_by),
        }
    });
    Some(lines.collect())
}

/// The turn-back table; none while the cautious figures are being computed.
pub fn turn_back_lines(
    table: &TurnBackTable,
    flight: &Flight,
    headline: Headline,
) -> Option<Vec<TurnBackLine>> {
    let shares = Shares::new(flight, headline)?;
    let (land_by, turn_back) = (headline.land_by?, headline.turn_back?);
    let way_home = flight.marks.land_by - flight.marks.turn_back;
    let is_assured = land_by.value > 0.0 && turn_back.value > 0.0;
    let cautious = |typical: ElectricCharge| {
        if !is_assured {
            return ElectricCharge::default();
        }
        let by_share = typical * shares.turn_back;
        if way_home.value <= 0.0 {
            return by_share.min(land_by);
        }
        let longer = (land_by - turn_back) / way_home;
        let by_way_home = land_by - (flight.marks.land_by - typical) * longer;
        let least = by_share.min(by_way_home).max(ElectricCharge::default());
        // The planned place is the headline itself, but for the machine's rounding.
        if (least - turn_back).abs() <= turn_back * 1e-9 { turn_back } else { least }
    };
    let lines = table.rows.iter().map(|row| TurnBackLine {
        distance: row.distance,
        turn_back: row
            .turn_back
            .iter()
            .map(|typical| typical.map(|typical| Cautioned { cautious: cautious(typical), typical }))
            .collect(),
    });
    Some(lines.collect())
}
