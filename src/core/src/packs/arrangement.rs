//! Packs arranged in strings, and what the card's own flight makes of them.
//!
//! Formula: the flight at a constant power until the reserve or the cell floor (`flight`), its charge on the bus. Upper bound: no
//! string gives more than its weakest pack may, so never more than Σ over strings of the least allowance in it; that sum is
//! greatest when the packs with the greatest allowances are put together in their order.
//! Units: C, s. Source: `flight`; the bound is our own argument. Valid: as `flight`. Assumes: as `supply`.

use uom::si::electric_charge::coulomb;
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::cell::CellBehaviour;
use crate::flight::{FlightSettings, FlightTask, ReservePolicy};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::profile::{Leg, LegDemand, LegKind};
use crate::supply::{Meter, MeterPlace, Pack, PackString, Supply};
use crate::units::{ElectricCharge, ElectricalResistance, Power, Ratio, Time};

/// What is to be put together.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchTask {
    /// The packs to choose from, in the order in which one would take them without looking.
    pub packs: Vec<Pack>,
    /// Strings in parallel.
    pub strings: usize,
    /// Packs in series in each.
    pub series: usize,
    /// Leads of each string.
    pub string_resistance: ElectricalResistance,
    /// Common leads.
    pub bus_resistance: ElectricalResistance,
    /// Drawn from the bus throughout: the hover, with all that runs beside it.
    pub power: Power,
    /// When it ends.
    pub policy: ReservePolicy,
}

/// One arrangement and what it gives.
#[derive(Debug, Clone, PartialEq)]
pub struct Arranged {
    /// Places of the packs in the task, string by string.
    pub strings: Vec<Vec<usize>>,
    /// Charge on the bus to the reserve; zero where they cannot carry the power.
    pub usable: ElectricCharge,
    /// How long that lasts.
    pub time: Time,
}

/// As a person reads them: by place, strings by their first. Electrically all orders are one.
fn in_shown_order(mut strings: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    for string in &mut strings {
        string.sort_unstable();
    }
    strings.sort();
    strings
}

impl MatchTask {
    /// 1 to 64 packs to choose from.
    pub const PACKS: InputRange = InputRange::new("packs_to_match", Kind::Count, 1.0, 64.0);

    /// Packs on board.
    pub(super) fn needed(&self) -> usize {
        self.strings.saturating_mul(self.series)
    }

    /// Passes if every field lies in its range and there are packs enough.
    ///
    /// # Errors
    /// `InputError` naming the field.
    pub fn validate(&self) -> Result<(), InputError> {
        static ENOUGH: InputRange = InputRange::new("packs_on_board", Kind::Count, 1.0, 32.0);
        Self::PACKS.check(self.packs.len() as f64)?;
        Supply::STRINGS.check(self.strings as f64)?;
        PackString::PACKS.check(self.series as f64)?;
        ENOUGH.check(self.needed() as f64)?;
        self.packs.iter().try_for_each(Pack::validate)?;
        Supply::LEAD_RESISTANCE.check(self.string_resistance.value)?;
        Supply::LEAD_RESISTANCE.check(self.bus_resistance.value)?;
        self.policy.validate()
    }

    fn supply(&self, strings: &[Vec<usize>]) -> Supply {
        let packs = |string: &Vec<usize>| PackString {
            packs: string.iter().filter_map(|&place| self.packs.get(place)).copied().collect(),
        };
        Supply {
            strings: strings.iter().map(packs).collect(),
            string_resistance: self.string_resistance,
            bus_resistance: self.bus_resistance,
            auxiliary_power: Power::default(),
            converter_efficiency: Ratio::new::<ratio>(1.0),
            meter: Meter { place: MeterPlace::Bus, scale_error: Ratio::default() },
        }
    }

    /// What an arrangement gives, by the card's own flight.
    ///
    /// # Errors
    /// `InputError` for packs that cannot be joined.
    pub fn arranged(&self, strings: Vec<Vec<usize>>) -> Result<Arranged, InputError> {
        self.by_steps(strings, 1.0)
    }

    /// With steps as many times the usual ones.
    pub(super) fn by_steps(&self, strings: Vec<Vec<usize>>, refinement: f64) -> Result<Arranged, InputError> {
        let strings = in_shown_order(strings);
        // The charge left is looked at by the way home: a second of it.
        let landing = Leg { kind: LegKind::Landing, duration: Time::new::<second>(1.0), power: self.power };
        let demand = LegDemand { outbound: Vec::new(), on_set: self.power, homebound: vec![landing] };
        let settings =
            FlightSettings { refinement: Ratio::new::<ratio>(refinement), ..FlightSettings::default() };
        let task = FlightTask::new(&self.supply(&strings), &demand, &self.policy, &settings)?;
        let flown = task.longest().map(|longest| longest.in_brief());
        let (usable, time) = flown.map_or_else(
            |_| (ElectricCharge::default(), Time::default()),
            |brief| (brief.marks.land_by, brief.flight_time),
        );
        let is_number = usable.value.is_finite() && time.value.is_finite();
        let usable = if is_number { usable } else { ElectricCharge::new::<coulomb>(0.0) };
        Ok(Arranged { strings, usable, time: if is_number { time } else { Time::new::<second>(0.0) } })
    }

    /// What each pack may give until the reserve, C.
    pub(super) fn allowances_c(&self) -> Vec<f64> {
        let behaviour = CellBehaviour::default();
        let charge_c = self.policy.charge.map_or(0.0, |charge| charge.value);
        let allowance = |pack: &Pack| {
            let capacity_c = pack.capacity_c(&behaviour);
            capacity_c * pack.charge_share() - charge_c.max(self.policy.share.value * capacity_c)
        };
        self.packs.iter().map(allowance).collect()
    }
}
