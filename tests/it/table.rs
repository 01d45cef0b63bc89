//! Reading reference tables: CSV with units in the header, kept beside their SOURCE.md.

use std::path::Path;

/// The rows of `tests/references/<name>` as numbers, by header name.
pub struct Table {
    headers: csv::StringRecord,
    rows: Vec<csv::StringRecord>,
}

impl Table {
    pub fn read(name: &str) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("references").join(name);
        let mut reader = csv::Reader::from_path(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let headers = reader.headers().expect("headers").clone();
        let rows: Vec<_> = reader.records().map(|row| row.expect("row")).collect();
        assert!(!rows.is_empty(), "{name} has no rows");
        Self { headers, rows }
    }

    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|record| Row { headers: &self.headers, record })
    }
}

/// One row of a reference table.
pub struct Row<'a> {
    headers: &'a csv::StringRecord,
    record: &'a csv::StringRecord,
}

impl Row<'_> {
    pub fn text(&self, column: &str) -> &str {
        let index =
            self.headers.iter().position(|h| h == column).unwrap_or_else(|| panic!("no column {column}"));
        &self.record[index]
    }

    pub fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or_else(|e| panic!("{column}: {e}"))
    }
}

/// Fails unless `got` is within `relative` of `want`.
#[track_caller]
pub fn assert_close(got: f64, want: f64, relative: f64, what: &str) {
    let error = (got - want).abs() / want.abs();
    assert!(error <= relative, "{what}: got {got}, want {want}, off by {error:.2e}, allowed {relative:.0e}");
}
