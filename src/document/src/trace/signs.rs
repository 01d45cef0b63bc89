//! Which way current and counter run: some recorders write discharge as a negative current, or count down what is left.

use super::TraceRow;
use super::notes::TraceNote;

/// Seen so far, in the order of the file.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Signs {
    sum_a: f64,
    first_mah: Option<f64>,
    last_mah: Option<f64>,
    /// Rises of the counter less its falls.
    climbs: i64,
}

impl Signs {
    pub fn look(&mut self, row: &TraceRow) {
        if row.current_a.is_finite() {
            self.sum_a += row.current_a;
        }
        if row.used_mah.is_finite() {
            self.first_mah.get_or_insert(row.used_mah);
            if let Some(last_mah) = self.last_mah {
                self.climbs += i64::from(row.used_mah > last_mah) - i64::from(row.used_mah < last_mah);
            }
            self.last_mah = Some(row.used_mah);
        }
    }

    /// What the counter showed first, where it counts down.
    fn full_mah(&self) -> Option<f64> {
        self.first_mah.filter(|_| self.climbs < 0)
    }

    pub fn tell(&self, notes: &mut Vec<TraceNote>) {
        notes.extend((self.sum_a < 0.0).then_some(TraceNote::NegativeCurrent));
        notes.extend(self.full_mah().map(|_| TraceNote::CountsDown));
    }

    /// Discharge positive, charge used.
    pub fn turn(&self, row: &mut TraceRow) {
        if self.sum_a < 0.0 {
            row.current_a = -row.current_a;
        }
        if let Some(full_mah) = self.full_mah() {
            row.used_mah = full_mah - row.used_mah;
        }
    }
}
