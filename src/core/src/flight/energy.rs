//! Where the energy of a flight goes: a check on the integration, and the heat a crew feels in the packs.
//!
//! Formula: energy from the open-circuit curves = energy at the load + heat in the cells (I (OCV − V), what the RC
//! branch holds counted as heat) + heat in the leads. Integrals over samples by the trapezium rule, the curve's
//! exactly, so the two sides are independent. Units: J.

use uom::si::energy::joule;

use crate::flight::longest::{FlightTask, LongestFlight};
use crate::flight::params::{FlightSettings, NoFlight, ReservePolicy};
use crate::flight::segment::Sight;
use crate::input_error::InputError;
use crate::profile::{LegDemand, LegKind};
use crate::supply::Supply;
use crate::supply::joined::Kernel;
use crate::units::Energy;

/// Energies of a flight, motor start to the end of the way home.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnergyBalance {
    /// At the load, auxiliaries before their converter included.
    pub delivered: Energy,
    /// Heat in the cells.
    pub cell_heat: Energy,
    /// Heat in leads and connectors.
    pub lead_heat: Energy,
    /// What the open-circuit curves gave up.
    pub from_curves: Energy,
}

/// The energies of the longest flight.
///
/// # Errors
/// As `fly_with`.
pub fn energy_balance(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
) -> Result<Result<EnergyBalance, NoFlight>, InputError> {
    let task = FlightTask::new(supply, demand, policy, settings)?;
    Ok(task.longest().map(|mut longest| longest.energy_balance()))
}

impl LongestFlight<'_> {
    /// Where its energy goes.
    pub fn energy_balance(&mut self) -> EnergyBalance {
        let kernel = &self.search.segment.course.kernel;
        let mut sum = Sum::default();
        self.search.replay(self.found.on_set_s, &mut |sight| sum.see(kernel, sight));
        let given_up = kernel
            .units
            .iter()
            .zip(&self.search.down)
            .map(|(unit, state)| kernel.alike(unit) * unit.given_up_j(state));
        EnergyBalance {
            delivered: Energy::new::<joule>(sum.joules[0]),
            cell_heat: Energy::new::<joule>(sum.joules[1]),
            lead_heat: Energy::new::<joule>(sum.joules[2]),
            from_curves: Energy::new::<joule>(given_up.sum()),
        }
    }
}

/// Powers at the load, into cells, into leads: last seen, and their integrals.
#[derive(Default)]
struct Sum {
    last: Option<(LegKind, f64, [f64; 3])>,
    joules: [f64; 3],
}

impl Sum {
    fn see(&mut self, kernel: &Kernel, sight: &Sight) -> bool {
        let watts = watts(kernel, sight);
        if let Some((kind, time_s, before)) = self.last
            && kind == sight.kind
        {
            for (joules, (now, before)) in self.joules.iter_mut().zip(watts.iter().zip(before)) {
                *joules += 0.5 * (now + before) * (sight.time_s - time_s);
            }
        }
        self.last = Some((sight.kind, sight.time_s, watts));
        true
    }
}

fn watts(kernel: &Kernel, sight: &Sight) -> [f64; 3] {
    let working = &sight.moment.working;
    let cells = kernel.units.iter().zip(sight.states);
    let cell_heat_w: f64 = cells
        .map(|(unit, state)| kernel.alike(unit) * unit.heat_w(state, sight.moment.current_a(unit)))
        .sum();
    let strings = 0..kernel.strings();
    let in_strings: f64 = strings.map(|string| kernel.string_a(string, sight.moment).powi(2)).sum();
    let lead_heat_w = kernel.string_ohm * in_strings + kernel.bus_ohm * working.bus_a.powi(2);
    [working.bus_a * working.bus_v, cell_heat_w, lead_heat_w]
}
