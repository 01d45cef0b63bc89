//! What the learner foretells of what it has not seen: each run in turn, or each quarter of a single one.

use super::cell_fit::CellFit;
use super::measured_run::MeasuredRun;

/// Parts of a single run, alike in points.
const PARTS: usize = 4;

/// Errors where they were held out.
pub(super) struct HeldOut {
    /// Mean absolute error of the voltage, V.
    pub mean_error_v: f64,
    /// Mean square of it over the variance foretold, at least 1.
    pub inflation: f64,
}

pub(super) fn held_out(courses: &[&MeasuredRun], several: bool) -> HeldOut {
    let mut sums = Sums::default();
    if several {
        for left_out in 0..courses.len() {
            let others: Vec<&MeasuredRun> = courses
                .iter()
                .enumerate()
                .filter(|(index, _)| *index != left_out)
                .map(|(_, course)| *course)
                .collect();
            sums.add(
                &CellFit::of(&others, &|_| true, others.len() > 1).doubted(),
                courses[left_out],
                &|_| true,
            );
        }
    } else {
        for course in courses {
            let size = course.points.len().div_ceil(PARTS);
            for part in 0..PARTS {
                let counts = |index: usize| index / size != part;
                sums.add(&CellFit::of(&[course], &counts, false), course, &|index| !counts(index));
            }
        }
    }
    sums.held_out()
}

#[derive(Default)]
struct Sums {
    absolute_v: f64,
    points: f64,
    ratio: f64,
    parts: f64,
}

impl Sums {
    fn add(&mut self, fit: &CellFit<'_>, course: &MeasuredRun, was_held_out: &dyn Fn(usize) -> bool) {
        let foretold = fit.foretold(course);
        let (mut square, mut variance) = (0.0, 0.0);
        for (index, (error_v, foretold)) in fit.errors(course).iter().zip(foretold).enumerate() {
            if was_held_out(index) {
                self.absolute_v += error_v.abs();
                self.points += 1.0;
                square += error_v * error_v;
                variance += foretold;
            }
        }
        if variance > 0.0 {
            self.ratio += square / variance;
            self.parts += 1.0;
        }
    }

    fn held_out(&self) -> HeldOut {
        HeldOut {
            mean_error_v: self.absolute_v / self.points.max(1.0),
            inflation: (self.ratio / self.parts.max(1.0)).max(1.0),
        }
    }
}
