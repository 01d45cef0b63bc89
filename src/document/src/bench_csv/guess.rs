//! Which column of a bench table holds what, by its title and figures; what the words around the table state.

use super::figures::{number, unit_behind};
use super::titles::{Quantity, Title};
use super::{Columns, Sheet, SpeedUnit, ThrottleUnit, ThrustUnit};

/// Stand supplies of such motors: 3 to 24 cells.
const STATED_VOLTS: core::ops::RangeInclusive<f64> = 9.0..=110.0;

/// What the titles suggest; of several, the first whose column holds figures other than zero.
pub(super) fn guess(sheet: &Sheet) -> Columns {
    let titles: Vec<Title> = sheet.headers.iter().map(|header| Title::new(header)).collect();
    let greatest = |index: usize| {
        let cells = sheet.rows.iter().filter_map(|row| number(row.cells.get(index)?, sheet.decimal_comma));
        cells.fold(0.0, f64::max)
    };
    let find = |quantity: Quantity, fits: fn(&Title) -> bool| {
        let is = |title: &Title| title.quantity() == Some(quantity) && fits(title);
        (0..titles.len()).find(|&index| titles.get(index).is_some_and(is) && greatest(index) > 0.0)
    };
    let title = |index: usize| titles.get(index);
    let voltage = find(Quantity::Voltage, |_| true);
    Columns {
        throttle: find(Quantity::Throttle, Title::names_throttle)
            .or_else(|| find(Quantity::Throttle, |_| true))
            .map(|index| (index, throttle_unit(sheet, title(index), index, greatest(index)))),
        voltage,
        current: find(Quantity::Current, |_| true),
        thrust: find(Quantity::Thrust, |_| true)
            .map(|index| (index, thrust_unit(sheet, title(index), index))),
        speed: find(Quantity::Speed, |title| !title.electrical())
            .map(|index| (index, SpeedUnit::Rpm))
            .or_else(|| {
                find(Quantity::Speed, |_| true)
                    .map(|index| (index, SpeedUnit::ElectricalRpm { pole_pairs: None }))
            }),
        power: find(Quantity::Power, |title| !title.mechanical()),
        stated_voltage_mv: if voltage.is_none() { stated_voltage(sheet) } else { None },
        table: None,
    }
}

fn throttle_unit(sheet: &Sheet, title: Option<&Title>, index: usize, greatest: f64) -> ThrottleUnit {
    let is_percent = title.is_some_and(Title::percent) || unit_of_cells(sheet, index) == "%";
    if is_percent || (greatest > 1.001 && greatest <= 110.0) {
        ThrottleUnit::Percent
    } else if greatest > 110.0 {
        ThrottleUnit::SignalMicroseconds
    } else {
        ThrottleUnit::Share
    }
}

/// The unit in the title, in the cells, or in a line of units; gram-force, the usual one, where none stands there.
fn thrust_unit(sheet: &Sheet, title: Option<&Title>, index: usize) -> ThrustUnit {
    let loose = || sheet.loose_units.split_whitespace().find_map(|unit| Title::new(unit).only_force());
    title
        .and_then(Title::force)
        .or_else(|| Title::new(&unit_of_cells(sheet, index)).force())
        .or_else(loose)
        .unwrap_or(ThrustUnit::GramForce)
}

fn unit_of_cells(sheet: &Sheet, index: usize) -> String {
    let units = sheet.rows.iter().filter_map(|row| row.cells.get(index)).map(|cell| unit_behind(cell));
    units.map(str::to_owned).find(|unit| !unit.is_empty()).unwrap_or_default()
}

/// The first voltage in the lines around the table, in millivolts: a figure with V behind it.
fn stated_voltage(sheet: &Sheet) -> Option<u32> {
    for text in sheet.left_out.iter().map(|line| &line.text).chain(&sheet.headers) {
        let words: Vec<&str> = text
            .split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | ':' | ';' | '=' | '/'))
            .filter(|word| !word.is_empty())
            .collect();
        for (at, word) in words.iter().enumerate() {
            let unit = unit_behind(word);
            let next = words.get(at + 1).copied().unwrap_or_default();
            let is_volts = |unit: &str| {
                matches!(unit.trim_end_matches([',', '.']), "V" | "v" | "VDC" | "volts" | "Volts")
            };
            let figure = number(word, word.contains(','));
            let stated = is_volts(unit) || (unit.is_empty() && is_volts(next));
            if let Some(volts) = figure.filter(|volts| stated && STATED_VOLTS.contains(volts)) {
                return Some((volts * 1000.0).round() as u32);
            }
        }
    }
    None
}
