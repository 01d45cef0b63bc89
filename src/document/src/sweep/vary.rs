//! Varying one thing of a bundle that holds one setup and what it needs.

use liftmargin_core::air::Site as CoreSite;
use liftmargin_core::card::gust_with;
use liftmargin_core::supply::MeterPlace;
use liftmargin_core::units::Velocity;
use uom::si::velocity::meter_per_second;

use super::axis::SweepAxis;
use crate::error::DocumentError;
use crate::model::numbers::ROTOR_DIAMETER;
use crate::model::{Bundle, Item, Pack, PackRef, PackString, Site};
use crate::record::Record;
use crate::resolve::resolve_site;
use crate::whatif::{Change, WhatIf, apply};

/// Standard lapse of temperature with height, U.S. Standard Atmosphere 1976, K/m.
const LAPSE_K_M: f64 = 0.0065;

/// Whose mass is varied.
#[derive(Debug, Clone, PartialEq)]
pub enum MassOf {
    /// That of an item, by its id.
    Item(String),
    /// A mass that is no item, hung there: forward, right, down of the rotor centre.
    Extra([f64; 3]),
}

impl MassOf {
    /// A what-if without its changes of this mass: what a curve over the mass stands on.
    #[must_use]
    pub fn others(&self, what_if: &WhatIf) -> WhatIf {
        WhatIf { changes: what_if.changes.iter().filter(|change| !self.is_of(change)).cloned().collect() }
    }

    /// Whether a change of a what-if is one of this mass.
    fn is_of(&self, change: &Change) -> bool {
        match (self, change) {
            (Self::Item(own), Change::ItemMass { item, .. }) => own == item,
            (Self::Extra(_), Change::ExtraMass { .. }) => true,
            _ => false,
        }
    }
}

/// What is varied.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Varied {
    Axis(SweepAxis),
    Mass(MassOf),
}

impl Varied {
    /// The bundle with the thing at a place; `now` is where it stands in the bundle.
    pub(super) fn at(
        &self,
        bundle: &Bundle,
        setup_id: &str,
        now: f64,
        at: f64,
    ) -> Result<Bundle, DocumentError> {
        let mut varied = bundle.clone();
        match self {
            // The present place is the setup itself, to the bit.
            _ if at.total_cmp(&now).is_eq() => {}
            Self::Axis(axis) => vary(&mut varied, *axis, now, at)?,
            Self::Mass(MassOf::Item(id)) => {
                varied.items.iter_mut().filter(|item| item.id == *id).for_each(|item| item.mass_kg = at);
            }
            Self::Mass(MassOf::Extra(position_m)) => {
                let extra = Change::ExtraMass { mass_kg: at, position_m: *position_m };
                varied = apply(&varied, setup_id, &WhatIf { changes: vec![extra] })?;
            }
        }
        Ok(varied)
    }
}

fn vary(bundle: &mut Bundle, axis: SweepAxis, now: f64, at: f64) -> Result<(), DocumentError> {
    let site = bundle.sites.iter_mut();
    let setups = bundle.setups.iter_mut();
    match axis {
        SweepAxis::PayloadMass => {
            let factor = if now > 0.0 { at / now } else { 1.0 };
            bundle.items.iter_mut().for_each(|item| item.mass_kg *= factor);
        }
        SweepAxis::RotorDiameter => {
            bundle.airframes.iter_mut().for_each(|airframe| ROTOR_DIAMETER.set(airframe, Some(at)));
        }
        SweepAxis::Wind => {
            for site in site {
                blow(site, at)?;
            }
        }
        SweepAxis::Distance => setups.for_each(|setup| setup.profile.distance_m = at),
        SweepAxis::Elevation => site.for_each(|site| {
            site.elevation_m = at;
            site.temperature_c -= LAPSE_K_M * (at - now);
        }),
        SweepAxis::Temperature => {
            site.for_each(|site| site.temperature_c = at);
            // Packs of which nothing is told are as the air.
            let strings = setups.flat_map(|setup| &mut setup.supply.strings);
            strings.filter_map(|string| string.temperature_c.as_mut()).for_each(|told| *told += at - now);
        }
        SweepAxis::Strings => {
            for supply in setups.map(|setup| &mut setup.supply) {
                let first = supply.strings.first().cloned().unwrap_or_default();
                supply.strings =
                    (0..at as usize).map(|number| like(&first, number, &mut bundle.packs)).collect();
                // A meter on a string that is gone would be refused.
                supply.meter = MeterPlace::Bus.key();
            }
        }
        SweepAxis::PackCapacity => scale_packs(bundle, at / now),
    }
    Ok(())
}

/// Another mean wind, with the gust that the greatest wind of the card is worked out with.
fn blow(site: &mut Site, mean_m_s: f64) -> Result<(), DocumentError> {
    let here: CoreSite = resolve_site(site)?;
    site.wind_m_s = mean_m_s;
    site.gust_m_s = gust_with(Velocity::new::<meter_per_second>(mean_m_s), &here).get::<meter_per_second>();
    Ok(())
}

fn scale_packs(bundle: &mut Bundle, factor: f64) {
    for of in &mut bundle.pack_types {
        of.capacity_mah *= factor;
        of.mass_kg *= factor;
        of.cell_resistance_mohm /= factor;
        scale(&mut of.measured_capacity_mah, factor);
        scale(&mut of.measured_cell_resistance_mohm, 1.0 / factor);
    }
    for pack in &mut bundle.packs {
        scale(&mut pack.measured_capacity_mah, factor);
        scale(&mut pack.measured_cell_resistance_mohm, 1.0 / factor);
    }
}

/// One more string like another: a certain pack is on board once, so that each string gets one of the same age.
fn like(string: &PackString, number: usize, packs: &mut Vec<Pack>) -> PackString {
    let mut own = string.clone();
    for id in own.packs.iter_mut().filter_map(|pack| match pack {
        PackRef::Pack(id) => Some(id),
        PackRef::Type(_) => None,
    }) {
        if let Some(pack) = packs.iter().find(|pack| pack.id == *id) {
            *id = format!("{id} in string {number}");
            let same_age = Pack { id: id.clone(), ..pack.clone() };
            packs.push(same_age);
        }
    }
    own
}

fn scale(measured: &mut Option<f64>, factor: f64) {
    *measured = measured.map(|measured| measured * factor);
}

/// The saved mass of an item; none where it is gone.
pub(super) fn saved_kg(bundle: &Bundle, of: &MassOf) -> Option<f64> {
    match of {
        MassOf::Item(id) => Item::find(bundle, id).map(|(_, item)| item.mass_kg),
        MassOf::Extra(_) => Some(0.0),
    }
}
