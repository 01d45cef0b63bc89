//! Packs, and the supply that a setup joins them to, as core's.

use std::collections::HashSet;

use liftmargin_core::cell::{CellParams, open_circuit_voltage, resistance_from_ac};
use liftmargin_core::input_error::InputError;
use liftmargin_core::input_range::InputRange;
use liftmargin_core::mass::Item;
use liftmargin_core::packs::PackReading;
use liftmargin_core::supply::{Health, Meter, Pack, PackString, Supply, SupplyFault, lead_resistance};
use liftmargin_core::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Length, Mass, Power, Ratio,
    ThermodynamicTemperature,
};
use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};

use super::{fitness_thresholds, referred};
use crate::error::DocumentError;
use crate::fields::Field;
use crate::keys;
use crate::model::{self, Bundle, PackRef, PackType, numbers as n};
use crate::present::Unit;
use crate::quantity::{position, refused};
use crate::record::Record;

/// Any pack of a type, full, at 0 K: how warm it is belongs to the string that it is in.
///
/// # Errors
/// With paths below the pack type.
pub fn pack_type(pack: &PackType) -> Result<Pack, DocumentError> {
    let chemistry = keys::chemistry("chemistry", &pack.chemistry)?;
    let stated = ElectricalResistance::new::<ohm>(n::CELL_RESISTANCE.si(pack)?);
    let (cell_resistance, resistance_spread) =
        if keys::is_maker_1_khz("cell_resistance_kind", &pack.cell_resistance_kind)? {
            let known = resistance_from_ac(stated).map_err(|refusal| refused("", refusal))?;
            (known.resistance, known.spread)
        } else {
            (stated, Ratio::default())
        };
    // Checked as it is counted.
    n::CHARGE_C_RATING.si_if_there(pack)?;
    fitness_thresholds(pack)?;
    n::CELLS_IN_SERIES.si(pack)?;
    n::TYPE_CYCLES.si(pack)?;
    Ok(Pack {
        cell: CellParams {
            chemistry,
            capacity: ElectricCharge::new::<coulomb>(n::CAPACITY.si(pack)?),
            resistance: cell_resistance,
            resistance_spread,
        },
        cells_in_series: pack.cells_in_series,
        mass: Mass::new::<kilogram>(n::PACK_MASS.si(pack)?),
        continuous_c_rating: Ratio::new::<ratio>(n::CONTINUOUS_C_RATING.si(pack)?),
        health: Health {
            cycles: pack.cycles,
            measured_capacity: charge(&n::TYPE_MEASURED_CAPACITY, pack)?,
            measured_cell_resistance: resistance(&n::TYPE_MEASURED_RESISTANCE, pack)?,
        },
        rest_voltage: None,
        temperature: ThermodynamicTemperature::default(),
    })
}

/// The age of a certain pack; paths below the pack.
pub(crate) fn health_of_pack(pack: &model::Pack) -> Result<Health, DocumentError> {
    n::PACK_CYCLES.si(pack)?;
    n::PACK_USED.si_if_there(pack)?;
    let cells = cells_of(
        "cell_resistances_mohm",
        &pack.cell_resistances_mohm,
        Unit::Milliohm,
        &PackReading::CELL_RESISTANCE,
    )?;
    cells_of("cell_voltages_v", &pack.cell_voltages_v, Unit::Volt, &PackReading::CELL_VOLTAGE)?;
    // All cells of a pack count as its worst one: the floor is reached there first.
    let worst = cells.into_iter().reduce(f64::max).map(ElectricalResistance::new::<ohm>);
    Ok(Health {
        cycles: pack.cycles,
        measured_capacity: charge(&n::PACK_MEASURED_CAPACITY, pack)?,
        measured_cell_resistance: resistance(&n::PACK_MEASURED_RESISTANCE, pack)?.or(worst),
    })
}

/// Readings of single cells in SI, each in its range; paths below the pack.
fn cells_of(
    path: &str,
    readings: &[f64],
    unit: Unit,
    range: &'static InputRange,
) -> Result<Vec<f64>, DocumentError> {
    let reading = |(cell, value): (usize, &f64)| {
        range.check(unit.to_si(*value)).map_err(|refusal| DocumentError::Refused {
            path: format!("{path}[{cell}]"),
            value: crate::quantity::shown(*value),
            refusal,
            number: None,
        })
    };
    readings.iter().enumerate().map(reading).collect()
}

/// Rest voltage of a pack by the readings of its cells: that of its lowest for all, the cautious way; none without readings.
/// A cell below empty or above full is refused: such a pack is not flown.
fn rest_by_cells(own: &model::Pack, pack: &Pack) -> Result<Option<ElectricPotential>, DocumentError> {
    let range = pack.cell.chemistry.rest_voltage_bound();
    let cells_v = cells_of("cell_voltages_v", &own.cell_voltages_v, Unit::Volt, range)?;
    let lowest = cells_v.into_iter().reduce(f64::min);
    Ok(lowest.map(|cell_v| ElectricPotential::new::<volt>(cell_v * f64::from(pack.cells_in_series))))
}

/// Rest voltage of a pack by what its landings took out of it; none where that is nothing.
pub(crate) fn rest_by_use(
    own: &model::Pack,
    pack: &Pack,
) -> Result<Option<ElectricPotential>, DocumentError> {
    let used = charge(&n::PACK_USED, own)?.filter(|used| used.value > 0.0);
    let Some(used) = used else { return Ok(None) };
    let warm = Pack { rest_voltage: None, temperature: counted_at(), ..*pack };
    let of_pack = |refusal: InputError| refused("", refusal);
    // More out of it than it holds: it is empty.
    let left = 1.0 - (used / warm.present_capacity().map_err(of_pack)?).value.min(1.0);
    let cell = open_circuit_voltage(pack.cell.chemistry, Ratio::new::<ratio>(left)).map_err(of_pack)?;
    Ok(Some(cell * f64::from(pack.cells_in_series)))
}

/// What is taken out of a pack counts against its capacity at 25 °C.
pub(crate) fn counted_at() -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(25.0)
}

fn charge<T>(field: &'static Field<T>, thing: &T) -> Result<Option<ElectricCharge>, DocumentError> {
    Ok(field.si_if_there(thing)?.map(ElectricCharge::new::<coulomb>))
}

fn resistance<T>(field: &'static Field<T>, thing: &T) -> Result<Option<ElectricalResistance>, DocumentError> {
    Ok(field.si_if_there(thing)?.map(ElectricalResistance::new::<ohm>))
}

/// How a string starts: temperature and rest voltage of a cell, as far as they are told; paths below the string.
pub(crate) fn string_start(
    string: &model::PackString,
) -> Result<(Option<ThermodynamicTemperature>, Option<ElectricPotential>), DocumentError> {
    Ok((
        n::STRING_TEMPERATURE.si_if_there(string)?.map(ThermodynamicTemperature::new::<kelvin>),
        n::REST_CELL_VOLTAGE.si_if_there(string)?.map(ElectricPotential::new::<volt>),
    ))
}

/// A setup's supply without its packs: every number and key of it; paths below the setup.
pub(crate) fn wiring(setup: &model::Setup) -> Result<Supply, DocumentError> {
    position(n::SUPPLY_AXES, setup)?;
    let lead = |field: &'static Field<_>| field.si(setup).map(ElectricalResistance::new::<ohm>);
    Ok(Supply {
        strings: Vec::new(),
        string_resistance: lead(&n::STRING_RESISTANCE)? + wire(setup)?,
        bus_resistance: lead(&n::BUS_RESISTANCE)?,
        auxiliary_power: Power::new::<watt>(n::AUXILIARY_POWER.si(setup)?),
        converter_efficiency: Ratio::new::<ratio>(n::CONVERTER_EFFICIENCY.si(setup)?),
        meter: Meter {
            place: keys::meter("supply.meter", &setup.supply.meter)?,
            scale_error: Ratio::new::<ratio>(n::METER_ERROR.si(setup)?),
        },
    })
}

/// Leads are warm under load: common practice, no source.
const LEAD_TEMPERATURE_C: f64 = 50.0;

/// Resistance of a string's leads from gauge and length; zero where neither is given.
fn wire(setup: &model::Setup) -> Result<ElectricalResistance, DocumentError> {
    let missing = |field: &Field<_>, allowed: &str| DocumentError::Missing {
        path: field.number.path.to_owned(),
        allowed: format!("{allowed}, or neither gauge nor length"),
    };
    n::LEAD_GAUGE.si_if_there(setup)?;
    let (gauge, length_m) = match (setup.supply.lead_gauge_awg, n::LEAD_LENGTH.si_if_there(setup)?) {
        (None, None) => return Ok(ElectricalResistance::default()),
        (Some(gauge), Some(length_m)) => (gauge, length_m),
        (Some(_), None) => return Err(missing(&n::LEAD_LENGTH, "a length in metres")),
        (None, Some(_)) => return Err(missing(&n::LEAD_GAUGE, "an American wire gauge")),
    };
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(LEAD_TEMPERATURE_C);
    lead_resistance(gauge, Length::new::<meter>(length_m), temperature)
        .map_err(|refusal| refused("supply.lead_length_m", refusal))
}

/// The supply with its packs joined; paths below the setup.
pub(crate) fn supply(bundle: &Bundle, setup: &model::Setup) -> Result<Supply, DocumentError> {
    let mut supply = wiring(setup)?;
    each_pack_once(bundle, setup)?;
    for (index, string) in setup.supply.strings.iter().enumerate() {
        let under = |fault: DocumentError| fault.under(&format!("supply.strings[{index}]"));
        let packs = joined(bundle, setup, string).map_err(under)?;
        counted("packs", packs.len(), &PackString::PACKS).map_err(under)?;
        supply.strings.push(PackString { packs });
    }
    counted("supply.strings", supply.strings.len(), &Supply::STRINGS)?;
    joins(&supply)?;
    Ok(supply)
}

/// A certain pack is on board once, and still flown.
fn each_pack_once(bundle: &Bundle, setup: &model::Setup) -> Result<(), DocumentError> {
    let mut seen = HashSet::new();
    for (index, string) in setup.supply.strings.iter().enumerate() {
        for (place, pack) in string.packs.iter().enumerate() {
            let PackRef::Pack(id) = pack else { continue };
            let is_retired = model::Pack::find(bundle, id).is_some_and(|(_, pack)| pack.retired);
            let allowed = match (seen.insert(id), is_retired) {
                (true, false) => continue,
                (false, _) => "on board only once each",
                (true, true) => "still in use, not retired",
            };
            return Err(DocumentError::Contradiction {
                path: format!("supply.strings[{index}].packs[{place}]"),
                value: id.clone(),
                allowed: allowed.to_owned(),
            });
        }
    }
    Ok(())
}

fn counted(path: &str, count: usize, range: &'static InputRange) -> Result<(), DocumentError> {
    if count == 0 {
        return Err(DocumentError::Missing {
            path: path.to_owned(),
            allowed: "at least one pack".to_owned(),
        });
    }
    range.check(count as f64).map(drop).map_err(|refusal| DocumentError::Refused {
        path: path.to_owned(),
        value: count.to_string(),
        refusal,
        number: None,
    })
}

/// The packs of one string as they go on board; paths below the string.
fn joined(
    bundle: &Bundle,
    setup: &model::Setup,
    string: &model::PackString,
) -> Result<Vec<Pack>, DocumentError> {
    let (temperature, rest) = string_start(string)?;
    let temperature = match temperature {
        Some(temperature) => temperature,
        None => as_the_air(bundle, setup)?,
    };
    let mut packs = Vec::new();
    for (place, reference) in string.packs.iter().enumerate() {
        let mut pack = known_pack(bundle, &format!("packs[{place}]"), reference)?;
        if let Some(rest) = rest {
            let range = pack.cell.chemistry.rest_voltage_bound();
            range.check(rest.get::<volt>()).map_err(|refusal| DocumentError::Refused {
                path: n::REST_CELL_VOLTAGE.number.path.to_owned(),
                value: rest.get::<volt>().to_string(),
                refusal,
                number: None,
            })?;
            pack.rest_voltage = Some(rest * f64::from(pack.cells_in_series));
        }
        pack.temperature = temperature;
        packs.push(pack);
    }
    Ok(packs)
}

/// Packs of which nothing is told are as warm as the air at the site, if that is in their range.
fn as_the_air(bundle: &Bundle, setup: &model::Setup) -> Result<ThermodynamicTemperature, DocumentError> {
    let (_, site) = referred::<model::Site>(bundle, "site", &setup.site)?;
    let like_the_air =
        model::PackString { temperature_c: Some(site.temperature_c), ..model::PackString::default() };
    let si = n::STRING_TEMPERATURE.si_if_there(&like_the_air)?.unwrap_or_default();
    Ok(ThermodynamicTemperature::new::<kelvin>(si))
}

/// What a string refers to.
fn known_pack(bundle: &Bundle, path: &str, reference: &PackRef) -> Result<Pack, DocumentError> {
    match reference {
        PackRef::Type(id) => pack_type(referred::<PackType>(bundle, path, id)?.1),
        PackRef::Pack(id) => {
            let (_, own) = referred::<model::Pack>(bundle, path, id)?;
            let (_, of) = referred::<PackType>(bundle, path, &own.pack_type)?;
            let of = Pack { health: health_of_pack(own)?, ..pack_type(of)? };
            let rest_voltage = match rest_by_cells(own, &of)? {
                None => rest_by_use(own, &of)?,
                read => read,
            };
            Ok(Pack { rest_voltage, ..of })
        }
    }
}

/// Whether strings may be connected in parallel, and the meter's string is there.
fn joins(supply: &Supply) -> Result<(), DocumentError> {
    supply.validate().map_err(|refusal| match refusal {
        InputError::Supply(SupplyFault::UnequalStrings { string, .. }) => {
            refused(&format!("supply.strings[{string}]"), refusal)
        }
        InputError::Supply(SupplyFault::NoSuchString { .. }) => refused("supply.meter", refusal),
        refusal => refused("supply", refusal),
    })
}

/// Each pack on board as a thing with mass, where the supply sits.
pub(crate) fn pack_items(setup: &model::Setup, joined: &Supply) -> Result<Vec<Item>, DocumentError> {
    let place = position(n::SUPPLY_AXES, setup)?;
    let packs = joined.strings.iter().flat_map(|string| &string.packs);
    Ok(packs.map(|pack| Item { mass: pack.mass, position: place, power: Power::default() }).collect())
}
