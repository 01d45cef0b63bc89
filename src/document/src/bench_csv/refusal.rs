//! Why a table could not be read, in words.

use core::fmt;

use super::MOST_BYTES;

/// Why a sheet gives no bench rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BenchCsvError {
    /// More text than is looked at.
    TooLarge {
        /// Bytes given.
        bytes: usize,
    },
    /// The sheet has no rows.
    NoRows,
    /// A line that has not as many cells as there are columns, and nothing tells which is missing.
    CellsMissing {
        /// Line of the text.
        line: u64,
        /// Its cells.
        cells: usize,
        /// Columns of the table.
        columns: usize,
    },
    /// One cell a line, and their number is no multiple of the columns.
    CellsOver {
        /// Cells below the titles.
        cells: usize,
        /// Titles.
        columns: usize,
    },
    /// More than one table in the text, and none chosen.
    SeveralTables {
        /// How many.
        count: usize,
    },
    /// A column that is needed was not chosen.
    NotChosen {
        /// What it holds.
        quantity: &'static str,
    },
    /// A chosen column that the sheet does not have.
    NoSuchColumn {
        /// What it should hold.
        quantity: &'static str,
        /// The column, from 0.
        index: usize,
    },
    /// An empty cell where a figure is needed.
    Empty {
        /// Row, from 1 below the titles.
        row: usize,
        /// Line of the file.
        line: u64,
        /// Title of the column.
        column: String,
    },
    /// A cell that is not a number.
    NotANumber {
        /// Row, from 1 below the titles.
        row: usize,
        /// Line of the file.
        line: u64,
        /// Title of the column.
        column: String,
        /// What stands there.
        value: String,
    },
}

impl fmt::Display for BenchCsvError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes } => {
                write!(
                    f,
                    "the file has {bytes} bytes, a bench table has at most {MOST_BYTES}: choose another"
                )
            }
            Self::NoRows => write!(f, "no line with at least two figures was found: no table"),
            Self::CellsMissing { line, cells, columns } => write!(
                f,
                "line {line} has {cells} cells, the table has {columns} columns: which of them it is cannot be told, put a \
                 - where one is empty"
            ),
            Self::CellsOver { cells, columns } => write!(
                f,
                "{cells} cells cannot be shared among {columns} columns: put a - where one is empty"
            ),
            Self::SeveralTables { count } => {
                write!(f, "{count} tables stand in one: choose the one of your rotor")
            }
            Self::NotChosen { quantity } => write!(f, "choose the column that holds the {quantity}"),
            Self::NoSuchColumn { quantity, index } => {
                write!(f, "the table has no column {} for the {quantity}", index + 1)
            }
            Self::Empty { row, line, column } => {
                write!(f, "row {row} (line {line}): \"{column}\" is empty, a number is needed")
            }
            Self::NotANumber { row, line, column, value } => {
                write!(f, "row {row} (line {line}): \"{value}\" in \"{column}\" is not a number")
            }
        }
    }
}

impl core::error::Error for BenchCsvError {}
