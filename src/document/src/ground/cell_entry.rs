//! Readings typed at the charging table, one cell after another.

use liftmargin_core::packs::PackReading;

use crate::model::{Bundle, Pack, PackType};
use crate::present::{Unit, Units, entry};
use crate::record::{List, Record};

/// Readings of a cell that a crew enters one after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellReading {
    /// Rest voltages.
    Voltage,
    /// Resistances.
    Resistance,
}

impl CellReading {
    /// The readings of a pack.
    pub fn of(self, pack: &Pack) -> &[f64] {
        match self {
            Self::Voltage => &pack.cell_voltages_v,
            Self::Resistance => &pack.cell_resistances_mohm,
        }
    }

    /// A typed reading in the file's unit.
    ///
    /// # Errors
    /// Why it is none, in words.
    pub fn typed(self, text: &str, units: Units) -> Result<f64, String> {
        let (range, unit) = match self {
            Self::Voltage => (&PackReading::CELL_VOLTAGE, Unit::Volt),
            Self::Resistance => (&PackReading::CELL_RESISTANCE, Unit::Milliohm),
        };
        let si = entry::parse(text, range, units).map_err(|fault| fault.words(range, units))?;
        // As typed: a conversion there and back leaves digits that nobody wrote.
        Ok((unit.from_si(si) * 1e6).round() / 1e6)
    }

    /// Puts the reading of a cell; cells between are as it. What landings counted ends with a voltage.
    pub fn put(self, pack: &mut Pack, cell: usize, value: f64) {
        if self == Self::Voltage {
            pack.used_mah = None;
        }
        let readings = match self {
            Self::Voltage => &mut pack.cell_voltages_v,
            Self::Resistance => &mut pack.cell_resistances_mohm,
        };
        if cell >= readings.len() {
            readings.resize(cell + 1, value);
        }
        if let Some(place) = readings.get_mut(cell) {
            *place = value;
        }
    }
}

/// Cells of a pack, by its type.
pub fn cells_of(bundle: &Bundle, pack_id: &str) -> usize {
    let of = Pack::find(bundle, pack_id).and_then(|(_, pack)| PackType::find(bundle, &pack.pack_type));
    of.map_or(0, |(_, of)| of.cells_in_series as usize)
}

/// The label that comes after the last one: `A7` after `A6`.
pub fn next_label(bundle: &Bundle) -> String {
    let last = List::Packs.names(bundle).pop().map_or_else(|| "Pack 0".to_owned(), |(_, name)| name);
    let digits = last.chars().rev().take_while(char::is_ascii_digit).count();
    let (stem, number) = last.split_at(last.len() - digits);
    let width = number.len();
    match number.parse::<u32>() {
        Ok(number) => format!("{stem}{:0width$}", number + 1),
        Err(_) => format!("{last} 2"),
    }
}
