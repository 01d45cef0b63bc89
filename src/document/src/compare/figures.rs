//! What each setup comes to: the figures of its card, worked out in short steps, and the rows they stand in.

use liftmargin_core::card::GreatestWind;
use liftmargin_core::limits::Verdict;
use liftmargin_core::units::{Mass, Ratio, Time};

use super::{Column, CompareRow};
use crate::present::answer;
use crate::present::{Headline, Reading, Standing, Units};
use crate::sheet::{RowWork, SheetInputs};
use crate::words::{checks, wind};

/// What one setup comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnFigures {
    /// Land by, minutes, tightest margin: cautious.
    pub standing: Standing,
    /// The verdict over all checks.
    pub verdict: Verdict,
    /// Half the flights are longer; none without a flight.
    pub typical: Option<Time>,
    /// All-up mass.
    pub all_up_mass: Mass,
    /// Throttle in hover with packs as they are at the start.
    pub throttle: Option<Ratio>,
    /// The same at land-by.
    pub throttle_at_land_by: Option<Ratio>,
    /// The greatest wind in which all margins are kept.
    pub wind: Option<GreatestWind>,
}

impl ColumnFigures {
    /// What the work on a row of the sheet found; none before all is found.
    pub fn of(work: RowWork<'_>, inputs: &SheetInputs) -> Option<Self> {
        let (card, cautious, wind) = work.found()?;
        let judged = card.judged(cautious.as_ref(), &inputs.thresholds);
        let headline = Headline::new(&card, cautious.as_ref(), None, true);
        Some(Self {
            standing: Standing::new(&card, &judged, headline),
            verdict: judged.verdict,
            typical: headline.map(|headline| headline.median_flight_time),
            all_up_mass: card.mass.all_up_mass,
            throttle: card.hover.throttle,
            throttle_at_land_by: card.hover.throttle_at_land_by,
            wind,
        })
    }
}

/// Stands where there is no figure.
const NONE: &str = "–";

/// A figure in words, and how good it is: more is better. None where there is nothing to be better at.
type Told = (String, Option<f64>);

pub(super) fn rows(columns: &[Column], units: Units) -> Vec<CompareRow> {
    let throttle = |share: Option<Ratio>| {
        let words = share.map_or_else(|| NONE.to_owned(), |share| answer::throttle(share, units).to_string());
        (words, share.map(|share| -share.value))
    };
    let row =
        |key: &str, name: &str, tell: &dyn Fn(&ColumnFigures) -> Told| told_row(columns, key, name, tell);
    let mut rows = vec![
        row("verdict", "Verdict", &|of| {
            (
                format!("{}\n{}", checks::state_word(of.verdict.state), checks::verdict(&of.verdict)),
                Some(state_score(of)),
            )
        }),
        row("flight-time", "Flight time", &|of| {
            let typical = of.typical.map(|typical| format!("\ntypical {}", answer::time(typical)));
            let words = format!("{}{}", of.standing.flight_time_words(), typical.unwrap_or_default());
            (words, score(of.standing.flight_time, |time| time.value))
        }),
        row("land-by", "Land by", &|of| {
            (of.standing.land_by_words(units), score(of.standing.land_by, |charge| charge.value))
        }),
        row("tightest-margin", "Tightest margin", &|of| {
            let margin = of.standing.tightest.and_then(|(_, margin)| margin).map(|margin| margin.value);
            // A worse state is worse, whatever the margin; margins are shares, far below this step.
            (of.standing.tightest_words(), margin.map(|margin| margin + 1e6 * state_score(of)))
        }),
        row("all-up-mass", "All-up weight", &|of| {
            (answer::mass(of.all_up_mass, units).to_string(), Some(-of.all_up_mass.value))
        }),
        row("hover-throttle", "Hover throttle", &|of| throttle(of.throttle)),
        row("hover-throttle-at-land-by", "Hover throttle at land-by", &|of| throttle(of.throttle_at_land_by)),
        row("greatest-wind", "Works in wind", &|of| {
            (wind::greatest(of.wind.as_ref(), units), Some(of.wind.map_or(0.0, |wind| wind.mean.value)))
        }),
    ];
    // The answer itself leads, whether it differs or not.
    rows.iter_mut().take(3).for_each(|row| row.leads = true);
    rows
}

fn state_score(of: &ColumnFigures) -> f64 {
    -f64::from(of.verdict.state as u8)
}

/// A flight that is not assured is worse than any, none at all is worse still.
fn score<T: Copy>(reading: Reading<T>, value: fn(T) -> f64) -> Option<f64> {
    match reading {
        Reading::Computing => None,
        Reading::NoFlight => Some(-2.0),
        Reading::NotAssured => Some(-1.0),
        Reading::Known(figure) => Some(value(figure)),
    }
}

fn told_row(columns: &[Column], key: &str, name: &str, tell: &dyn Fn(&ColumnFigures) -> Told) -> CompareRow {
    let told: Vec<Told> = columns
        .iter()
        .map(|column| match &column.figures {
            None => ("…".to_owned(), None),
            Some(Ok(figures)) => tell(figures),
            Some(Err(fault)) if key == "verdict" => (format!("Not ready\n{fault}"), None),
            Some(Err(_)) => (NONE.to_owned(), None),
        })
        .collect();
    let best = told.iter().filter_map(|(words, score)| Some((score.as_ref()?, words)));
    let best =
        best.max_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, words)| large(words).to_owned());
    let cells: Vec<String> = told.into_iter().map(|(words, _)| words).collect();
    let mut row = CompareRow::new(key, name, cells);
    let differs = row.cells.windows(2).any(|pair| match pair {
        [one, other] => large(one) != large(other),
        _ => false,
    });
    let is_known = columns.iter().all(|column| column.figures.is_some());
    if differs && is_known {
        // Figures that look alike are alike.
        row.best = row.cells.iter().map(|cell| Some(large(cell)) == best.as_deref()).collect();
    }
    row
}

/// What stands large in a cell.
fn large(cell: &str) -> &str {
    cell.split('\n').next().unwrap_or(cell)
}
