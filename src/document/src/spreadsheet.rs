//! Tables for the crew's spreadsheet.
//!
//! Format    RFC 4180: CRLF, quotes where needed. Semicolons between the columns where the decimal mark is a comma, as spreadsheets
//!           of such languages read it. A byte-order mark first, without which the usual ones take UTF-8 for something else.
//!           A text that a spreadsheet would run as a formula gets an apostrophe in front: records come from other people too

use crate::present::units::{DecimalMark, Units};

const BYTE_ORDER_MARK: &str = "\u{feff}";
const APOSTROPHE: char = '\'';

/// Records one below the other; all have as many fields.
pub(crate) fn table(units: Units, records: impl Iterator<Item = Vec<String>>) -> String {
    let delimiter = if units.decimal_mark() == DecimalMark::Comma { b';' } else { b',' };
    let mut writer = csv::WriterBuilder::new()
        .delimiter(delimiter)
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    for record in records {
        // Into memory, and all records have as many fields: nothing can fail.
        let _ = writer.write_record(record);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    format!("{BYTE_ORDER_MARK}{}", String::from_utf8(bytes).unwrap_or_default())
}

/// Words, such that no spreadsheet runs them.
pub(crate) fn words(text: &str) -> String {
    let plain = text.replace('\u{a0}', " ");
    if is_run(&plain) { format!("{APOSTROPHE}{plain}") } else { plain }
}

/// The words again.
pub(crate) fn words_back(cell: &str) -> &str {
    cell.strip_prefix(APOSTROPHE).filter(|rest| is_run(rest)).unwrap_or(cell)
}

fn is_run(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@', '\t', '\r'])
}

/// A number as it is kept, every digit of it.
pub(crate) fn exact(value: f64, units: Units) -> String {
    let text = value.to_string();
    if units.decimal_mark() == DecimalMark::Comma { text.replace('.', ",") } else { text }
}
