//! The register of packs as CSV: one pack a row, out and in.
//!
//! Columns: `label`, `type` (name or id of a pack type), `cycles`, `capacity_mah`, `resistance_mohm` (of one cell), `cells_mohm` and
//! `cells_v` (cells parted by `/` or spaces), `used_mah` (taken out since full), `measured`, `bought`, `retired` (`yes`), `remark`. Only `label` must be there; columns may stand in
//! any order, parted by comma, semicolon or tab. A label that is known is brought up to date by the columns that are there.

use crate::error::DocumentError;
use crate::model::{Bundle, Pack, PackType};
use crate::present::Units;
use crate::record::fresh_id;
use crate::resolve::health_of_pack;
use crate::spreadsheet::{exact, table, words, words_back};
use crate::{edit, record::List, record::Record};

const COLUMNS: [&str; 12] = [
    "label",
    "type",
    "cycles",
    "capacity_mah",
    "resistance_mohm",
    "cells_mohm",
    "cells_v",
    "used_mah",
    "measured",
    "bought",
    "retired",
    "remark",
];

/// A register is shorter; what is longer is another file.
const MOST_BYTES: usize = 1_000_000;
/// Rows that are read.
const MOST_ROWS: usize = 1000;
/// Columns that are looked at.
const MOST_COLUMNS: usize = 200;

/// What came in.
#[derive(Debug, Clone, PartialEq)]
pub struct CsvPacks {
    /// The crew's data with them.
    pub bundle: Bundle,
    /// New packs.
    pub added: usize,
    /// Packs brought up to date.
    pub changed: usize,
    /// Rows that were left out, each with the reason.
    pub refused: Vec<String>,
}

/// All packs as CSV, in the user's decimal mark.
pub fn write(bundle: &Bundle, units: Units) -> String {
    let number = |value: Option<f64>| value.map(|value| exact(value, units)).unwrap_or_default();
    let cells =
        |values: &[f64]| values.iter().map(|value| exact(*value, units)).collect::<Vec<_>>().join("/");
    let packs = bundle.packs.iter().map(|pack| {
        let of = List::PackTypes.name(bundle, &pack.pack_type).unwrap_or_default();
        let retired = if pack.retired { "yes" } else { "" };
        vec![
            words(&pack.name),
            words(&of),
            pack.cycles.to_string(),
            number(pack.measured_capacity_mah),
            number(pack.measured_cell_resistance_mohm),
            cells(&pack.cell_resistances_mohm),
            cells(&pack.cell_voltages_v),
            number(pack.used_mah),
            words(&pack.measured),
            words(&pack.bought),
            retired.to_owned(),
            words(&pack.remark),
        ]
    });
    table(units, core::iter::once(COLUMNS.map(str::to_owned).to_vec()).chain(packs))
}

/// Takes packs in from CSV.
///
/// # Errors
/// `TooLarge` for what is no register, `Missing` where there is no column `label`.
pub fn read(bundle: &Bundle, text: &str) -> Result<CsvPacks, DocumentError> {
    if text.len() > MOST_BYTES {
        return Err(DocumentError::TooLarge { bytes: text.len(), most: MOST_BYTES });
    }
    let first = text.lines().next().unwrap_or_default();
    let delimiter =
        [b'\t', b';', b','].into_iter().find(|mark| first.as_bytes().contains(mark)).unwrap_or(b',');
    let mut rows = csv::ReaderBuilder::new().delimiter(delimiter).flexible(true).from_reader(text.as_bytes());
    let heads: Vec<String> = rows
        .headers()
        .map(|heads| {
            let heads = heads.iter().take(MOST_COLUMNS);
            heads.map(|head| head.trim().trim_start_matches('\u{feff}').to_lowercase()).collect()
        })
        .unwrap_or_default();
    if !heads.iter().any(|head| head == "label") {
        return Err(DocumentError::Missing {
            path: "label".to_owned(),
            allowed: format!("a first row with these columns: {}", COLUMNS.join(", ")),
        });
    }
    let mut taken = CsvPacks { bundle: bundle.clone(), added: 0, changed: 0, refused: Vec::new() };
    for (index, row) in rows.records().enumerate() {
        // The first row holds the names.
        let line = index + 2;
        if index == MOST_ROWS {
            taken.refused.push(format!("row {line} and all after it: at most {MOST_ROWS} packs are read"));
            break;
        }
        let fault = match row {
            Err(fault) => Some(fault.to_string()),
            Ok(row) => {
                let cell = |name: &str| {
                    let place = heads.iter().position(|head| head == name)?;
                    let text = row.get(place).map(str::trim).filter(|text| !text.is_empty())?;
                    Some(words_back(text).to_owned())
                };
                taken.take(&cell).err()
            }
        };
        taken.refused.extend(fault.map(|fault| format!("row {line}: {fault}")));
    }
    Ok(taken)
}

impl CsvPacks {
    fn take(&mut self, cell: &dyn Fn(&str) -> Option<String>) -> Result<(), String> {
        let label = cell("label").ok_or("no label")?;
        let known = self.bundle.packs.iter().position(|pack| pack.name == label);
        let mut pack = match known.and_then(|place| self.bundle.packs.get(place)) {
            Some(pack) => pack.clone(),
            None => Pack { name: label, pack_type: self.only_type(), ..Pack::default() },
        };
        if let Some(of) = cell("type") {
            let found = self.bundle.pack_types.iter().find(|known| known.name == of || known.id == of);
            pack.pack_type.clone_from(&found.ok_or(format!("there is no pack type {of}"))?.id);
        }
        filled(&mut pack, cell)?;
        health_of_pack(&pack).map_err(|fault| fault.to_string())?;
        if let Some(place) = known.and_then(|place| self.bundle.packs.get_mut(place)) {
            *place = pack;
            self.changed += 1;
        } else {
            let stem: String = pack.name.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect();
            let stem = fresh_id(&List::Packs.names(&self.bundle), &format!("pack-{stem}"));
            self.bundle = edit::add(&self.bundle, pack, &stem).0;
            self.added += 1;
        }
        Ok(())
    }

    /// The only type there is, else none.
    fn only_type(&self) -> String {
        match PackType::list(&self.bundle).as_slice() {
            [only] => only.id.clone(),
            _ => String::new(),
        }
    }
}

/// Numbers and words of a row; a decimal comma is taken too.
fn filled(pack: &mut Pack, cell: &dyn Fn(&str) -> Option<String>) -> Result<(), String> {
    let number = |text: &str| {
        text.replace(',', ".")
            .parse::<f64>()
            .ok()
            .filter(|value| value.is_finite())
            .ok_or(format!("{text} is no number"))
    };
    if let Some(cycles) = cell("cycles") {
        pack.cycles = cycles.parse().map_err(|_| format!("{cycles} cycles are no whole number"))?;
    }
    if let Some(text) = cell("capacity_mah") {
        pack.measured_capacity_mah = Some(number(&text)?);
    }
    if let Some(text) = cell("resistance_mohm") {
        pack.measured_cell_resistance_mohm = Some(number(&text)?);
    }
    let cells = |text: String| -> Result<Vec<f64>, String> {
        text.split(['/', ' ']).filter(|part| !part.is_empty()).map(number).collect()
    };
    if let Some(text) = cell("cells_mohm") {
        pack.cell_resistances_mohm = cells(text)?;
    }
    if let Some(text) = cell("cells_v") {
        pack.cell_voltages_v = cells(text)?;
        pack.used_mah = None;
    }
    if let Some(text) = cell("used_mah") {
        pack.used_mah = Some(number(&text)?);
    }
    for (name, place) in
        [("measured", &mut pack.measured), ("bought", &mut pack.bought), ("remark", &mut pack.remark)]
    {
        if let Some(text) = cell(name) {
            *place = text;
        }
    }
    if let Some(text) = cell("retired") {
        pack.retired = ["yes", "true", "1", "x"].contains(&text.to_lowercase().as_str());
    }
    Ok(())
}
