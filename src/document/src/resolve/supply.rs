//! Packs, and the supply that a setup joins them to, as core's.

use liftmargin_core::cell::CellParams;
use liftmargin_core::input_error::InputError;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::mass::Item;
use liftmargin_core::supply::{
    Health, Meter, Pack, PackString, Supply, SupplyFault, WIRE_GAUGE, WIRE_LENGTH, lead_resistance,
};
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

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::{position, refused, si, si_if_there};
use crate::schema::{self, Bundle};

/// The widest of all chemistries; each has its own range, which holds where the packs are known.
pub(crate) const REST_CELL_VOLTAGE: InputRange = InputRange::new("rest_voltage", Kind::Potential, 2.5, 4.37);

/// A pack as it comes from its register, full, at `temperature`.
///
/// # Errors
/// With paths below the pack.
pub fn pack(pack: &schema::Pack, temperature: ThermodynamicTemperature) -> Result<Pack, DocumentError> {
    let capacity = si("capacity_mah", pack.capacity_mah, &CellParams::CAPACITY)?;
    let resistance = si("cell_resistance_mohm", pack.cell_resistance_mohm, &CellParams::RESISTANCE)?;
    let measured_capacity =
        si_if_there("measured_capacity_mah", pack.measured_capacity_mah, &Health::MEASURED_CAPACITY)?;
    let measured_resistance = si_if_there(
        "measured_cell_resistance_mohm",
        pack.measured_cell_resistance_mohm,
        &Health::MEASURED_CELL_RESISTANCE,
    )?;
    let rating = si("continuous_c_rating", pack.continuous_c_rating, &Pack::CONTINUOUS_C_RATING)?;
    si("cells_in_series", f64::from(pack.cells_in_series), &Pack::CELLS_IN_SERIES)?;
    si("cycles", f64::from(pack.cycles), &Health::CYCLES)?;
    Ok(Pack {
        cell: CellParams {
            chemistry: keys::chemistry("chemistry", &pack.chemistry)?,
            capacity: ElectricCharge::new::<coulomb>(capacity),
            resistance: ElectricalResistance::new::<ohm>(resistance),
        },
        cells_in_series: pack.cells_in_series,
        mass: Mass::new::<kilogram>(si("mass_kg", pack.mass_kg, &Pack::MASS)?),
        continuous_c_rating: Ratio::new::<ratio>(rating),
        health: Health {
            cycles: pack.cycles,
            measured_capacity: measured_capacity.map(ElectricCharge::new::<coulomb>),
            measured_cell_resistance: measured_resistance.map(ElectricalResistance::new::<ohm>),
        },
        rest_voltage: None,
        temperature,
    })
}

/// A setup's supply without its packs: every number and key of it; paths below the supply.
pub(crate) struct Wiring {
    supply: Supply,
    temperature: ThermodynamicTemperature,
    rest_cell_voltage: Option<ElectricPotential>,
}

pub(crate) fn wiring(supply: &schema::Supply) -> Result<Wiring, DocumentError> {
    position("position_m", supply.position_m)?;
    let temperature = si("pack_temperature_c", supply.pack_temperature_c, &Pack::TEMPERATURE)?;
    let rest = si_if_there("rest_cell_voltage_v", supply.rest_cell_voltage_v, &REST_CELL_VOLTAGE)?;
    let lead = |path: &str, value: f64| {
        si(path, value, &Supply::LEAD_RESISTANCE).map(ElectricalResistance::new::<ohm>)
    };
    let auxiliary = si("auxiliary_power_w", supply.auxiliary_power_w, &Supply::AUXILIARY_POWER)?;
    let efficiency = si("converter_efficiency", supply.converter_efficiency, &Supply::CONVERTER_EFFICIENCY)?;
    let scale_error = si("meter_error_percent", supply.meter_error_percent, &Meter::SCALE_ERROR)?;
    Ok(Wiring {
        supply: Supply {
            strings: Vec::new(),
            string_resistance: lead("string_resistance_mohm", supply.string_resistance_mohm)? + wire(supply)?,
            bus_resistance: lead("bus_resistance_mohm", supply.bus_resistance_mohm)?,
            auxiliary_power: Power::new::<watt>(auxiliary),
            converter_efficiency: Ratio::new::<ratio>(efficiency),
            meter: Meter {
                place: keys::meter("meter", &supply.meter)?,
                scale_error: Ratio::new::<ratio>(scale_error),
            },
        },
        temperature: ThermodynamicTemperature::new::<kelvin>(temperature),
        rest_cell_voltage: rest.map(ElectricPotential::new::<volt>),
    })
}

/// Leads are warm under load: common practice, no source.
const LEAD_TEMPERATURE_C: f64 = 50.0;

/// Resistance of a string's leads from gauge and length; zero where neither is given.
fn wire(supply: &schema::Supply) -> Result<ElectricalResistance, DocumentError> {
    let missing = |path: &str, allowed: &str| DocumentError::Missing {
        path: path.to_owned(),
        allowed: format!("{allowed}, or neither gauge nor length"),
    };
    si_if_there("lead_gauge_awg", supply.lead_gauge_awg.map(f64::from), &WIRE_GAUGE)?;
    let length_m = si_if_there("lead_length_m", supply.lead_length_m, &WIRE_LENGTH)?;
    let (gauge, length_m) = match (supply.lead_gauge_awg, length_m) {
        (None, None) => return Ok(ElectricalResistance::default()),
        (Some(gauge), Some(length_m)) => (gauge, length_m),
        (Some(_), None) => return Err(missing("lead_length_m", "a length in metres")),
        (None, Some(_)) => return Err(missing("lead_gauge_awg", "an American wire gauge")),
    };
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(LEAD_TEMPERATURE_C);
    lead_resistance(gauge, Length::new::<meter>(length_m), temperature)
        .map_err(|refusal| refused("lead_length_m", refusal))
}

/// The supply with its packs joined; paths below the supply.
pub(crate) fn supply(bundle: &Bundle, supply: &schema::Supply) -> Result<Supply, DocumentError> {
    let mut wiring = wiring(supply)?;
    let mut strings = Vec::new();
    for (string_index, ids) in supply.strings.iter().enumerate() {
        let mut packs = Vec::new();
        for (pack_index, id) in ids.iter().enumerate() {
            let path = format!("strings[{string_index}][{pack_index}]");
            packs.push(joined(bundle, &wiring, &path, id)?);
        }
        let path = format!("strings[{string_index}]");
        if packs.is_empty() {
            return Err(no_pack(&path));
        }
        si(&path, packs.len() as f64, &PackString::PACKS)?;
        strings.push(PackString { packs });
    }
    if strings.is_empty() {
        return Err(no_pack("strings"));
    }
    si("strings", strings.len() as f64, &Supply::STRINGS)?;
    wiring.supply.strings = strings;
    joins(&wiring.supply)?;
    Ok(wiring.supply)
}

fn no_pack(path: &str) -> DocumentError {
    DocumentError::Missing { path: path.to_owned(), allowed: "at least one pack".to_owned() }
}

fn joined(bundle: &Bundle, wiring: &Wiring, path: &str, id: &str) -> Result<Pack, DocumentError> {
    let (_, found) = super::referred::<schema::Pack>(bundle, path, id)?;
    let mut pack = pack(found, wiring.temperature).map_err(|fault| fault.under(path))?;
    if let Some(rest) = wiring.rest_cell_voltage {
        si("rest_cell_voltage_v", rest.get::<volt>(), pack.cell.chemistry.rest_voltage_bound())?;
        pack.rest_voltage = Some(rest * f64::from(pack.cells_in_series));
    }
    Ok(pack)
}

/// Whether strings may be connected in parallel, and the meter's string is there.
fn joins(supply: &Supply) -> Result<(), DocumentError> {
    supply.validate().map_err(|refusal| match refusal {
        InputError::Supply(SupplyFault::UnequalStrings { string, .. }) => {
            refused(&format!("strings[{string}]"), refusal)
        }
        InputError::Supply(SupplyFault::NoSuchString { .. }) => refused("meter", refusal),
        refusal => refused("", refusal),
    })
}

/// Each pack on board as a thing with mass, where the supply sits.
pub(crate) fn pack_items(supply: &schema::Supply, joined: &Supply) -> Result<Vec<Item>, DocumentError> {
    let place = position("position_m", supply.position_m)?;
    let packs = joined.strings.iter().flat_map(|string| &string.packs);
    Ok(packs.map(|pack| Item { mass: pack.mass, position: place, power: Power::default() }).collect())
}
