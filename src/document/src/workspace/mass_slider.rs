//! The mass of one thing on a slider, in steps about the saved mass: the step zero is the setup as saved.

use liftmargin_core::mass::Item as CoreItem;

use super::overlay;
use crate::model::{Bundle, Item, Setup};
use crate::present::{Choice, Unit, Units};
use crate::record::Record;
use crate::sweep::MassOf;
use crate::whatif::WhatIf;
use crate::words::what_if::{by_how_much, mass};

/// The least that the slider reaches above the saved mass, kg: a heavy lens. Common practice, no source.
const LEAST_ABOVE_KG: f64 = 2.0;

/// A slider.
#[derive(Debug, Clone, PartialEq)]
pub struct MassSlider {
    /// Whose mass it is.
    pub of: MassOf,
    /// At step zero.
    pub saved_kg: f64,
    /// The lowest step; never above zero.
    pub low: i32,
    /// The highest step.
    pub high: i32,
    step_kg: f64,
}

impl MassSlider {
    /// Of what is flown in the place of an item on board; none where it is left on the ground, or gone.
    pub fn of_item(bundle: &Bundle, what_if: &WhatIf, item: &str, units: Units) -> Option<Self> {
        let flown = overlay::flown(what_if, item)?;
        let (_, saved) = Item::find(bundle, &flown)?;
        Some(Self::new(MassOf::Item(flown), saved.mass_kg, 2.0 * saved.mass_kg, units))
    }

    /// Of a mass that is no item, hung where the first thing on board hangs; it reaches to the payload of the setup.
    pub fn of_extra(bundle: &Bundle, setup: &Setup, units: Units) -> Self {
        let on = setup.load.iter().filter(|load| load.on);
        let items: Vec<&Item> =
            on.filter_map(|load| Item::find(bundle, &load.item)).map(|(_, item)| item).collect();
        let position_m = items.first().map(|item| item.position_m).unwrap_or_default();
        let payload_kg = items.iter().map(|item| item.mass_kg).sum();
        Self::new(MassOf::Extra(position_m), 0.0, payload_kg, units)
    }

    fn new(of: MassOf, saved_kg: f64, top_kg: f64, units: Units) -> Self {
        let step_kg = if units.get(Choice::Mass) == Unit::Pound { Unit::Pound.to_si(0.125) } else { 0.05 };
        let top_kg = top_kg.max(saved_kg + LEAST_ABOVE_KG).min(CoreItem::MASS.max);
        let low = -((saved_kg / step_kg).floor() as i32);
        let high = ((top_kg - saved_kg) / step_kg).floor() as i32;
        Self { of, saved_kg, low, high, step_kg }
    }

    /// The mass at a step.
    pub fn kg(&self, step: i32) -> f64 {
        (self.saved_kg + f64::from(step) * self.step_kg).max(0.0)
    }

    /// The greatest mass on it.
    pub fn top_kg(&self) -> f64 {
        self.kg(self.high)
    }

    /// The mass within a what-if.
    pub fn tried_kg(&self, what_if: &WhatIf) -> f64 {
        let changed = match &self.of {
            MassOf::Item(id) => overlay::mass_kg(what_if, id),
            MassOf::Extra(_) => overlay::extra_mass_kg(what_if),
        };
        changed.unwrap_or(self.saved_kg)
    }

    /// The step nearest to the mass within a what-if; beyond the slider's end that end.
    pub fn step(&self, what_if: &WhatIf) -> i32 {
        let steps = (self.tried_kg(what_if) - self.saved_kg) / self.step_kg;
        (steps.round() as i32).clamp(self.low, self.high)
    }

    /// Puts the mass of a step into a what-if; step zero takes the change out.
    pub fn put(&self, what_if: &mut WhatIf, step: i32) {
        let step = step.clamp(self.low, self.high);
        let mass_kg = (step != 0).then(|| self.kg(step));
        match &self.of {
            MassOf::Item(id) => overlay::set_mass(what_if, id, mass_kg),
            MassOf::Extra(position_m) => overlay::set_extra_mass(what_if, mass_kg, *position_m),
        }
    }

    /// "1.50 kg, heavier by 0.30 kg".
    pub fn words(&self, what_if: &WhatIf, units: Units) -> String {
        let tried_kg = self.tried_kg(what_if);
        let more_kg = tried_kg - self.saved_kg;
        match self.of {
            MassOf::Item(_) if more_kg.abs() >= 1e-6 => {
                format!("{}, {}", mass(tried_kg, units), by_how_much(more_kg, units))
            }
            MassOf::Item(_) => format!("{}, as saved", mass(tried_kg, units)),
            MassOf::Extra(_) => mass(tried_kg, units),
        }
    }
}
