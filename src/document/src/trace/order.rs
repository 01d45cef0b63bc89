//! Rows put in the order of their time; recorders that started anew joined.

use super::TraceRow;
use super::notes::TraceNote;

/// A recorder that starts anew has run at least so long before.
const RAN_BEFORE_S: f64 = 20.0;
/// And starts within so much of the time that it began with.
const NEAR_START_S: f64 = 5.0;
/// So many rows then follow in order.
const FOLLOW: usize = 3;
/// A gap is so many usual steps long, and at least two seconds.
const GAP_STEPS: f64 = 10.0;
const LEAST_GAP_S: f64 = 2.0;

/// Puts rows in order and tells what was done.
pub(super) fn ordered(rows: &mut [TraceRow], is_in_order: bool, notes: &mut Vec<TraceNote>) {
    if !is_in_order {
        put_in_order(rows, notes);
    }
    tell_steps(rows, notes);
}

fn put_in_order(rows: &mut [TraceRow], notes: &mut Vec<TraceNote>) {
    let restarts = join_restarts(rows);
    if restarts > 0 {
        notes.push(TraceNote::Restarted { times: restarts });
    }
    let (mut latest, mut out_of_order) = (f64::NEG_INFINITY, 0);
    for row in rows.iter() {
        out_of_order += usize::from(row.time_s < latest);
        latest = latest.max(row.time_s);
    }
    if out_of_order > 0 {
        rows.sort_by(|one, other| one.time_s.total_cmp(&other.time_s));
        notes.push(TraceNote::OutOfOrder { rows: out_of_order });
    }
}

/// A time that falls back to near its beginning, and goes on from there, is a recorder that started anew: it is put one step
/// after what stands before.
fn join_restarts(rows: &mut [TraceRow]) -> usize {
    let Some(first_s) = rows.first().map(|row| row.time_s) else { return 0 };
    let (mut shift_s, mut latest_s, mut count) = (0.0, first_s, 0);
    for place in 1..rows.len() {
        let raw_s = rows.get(place).map_or(0.0, |row| row.time_s);
        let fell = raw_s + shift_s < latest_s - RAN_BEFORE_S && (raw_s - first_s).abs() < NEAR_START_S;
        if fell && goes_on(rows, place, latest_s - shift_s) {
            let step_s = rows.get(place + 1).map_or(0.0, |next| next.time_s - raw_s);
            shift_s = latest_s + step_s - raw_s;
            count += 1;
        }
        if let Some(row) = rows.get_mut(place) {
            row.time_s += shift_s;
            latest_s = latest_s.max(row.time_s);
        }
    }
    count
}

fn goes_on(rows: &[TraceRow], from: usize, before_s: f64) -> bool {
    let following = rows.get(from..).unwrap_or_default().iter().take(FOLLOW + 1);
    let times: Vec<f64> = following.map(|row| row.time_s).collect();
    times.len() > FOLLOW && times.is_sorted() && times.iter().all(|time_s| *time_s < before_s)
}

fn tell_steps(rows: &[TraceRow], notes: &mut Vec<TraceNote>) {
    let steps = || {
        rows.windows(2).filter_map(|pair| match pair {
            [before, after] => Some(after.time_s - before.time_s),
            _ => None,
        })
    };
    let mut sample: Vec<f64> = steps().filter(|step| *step > 0.0).step_by(rows.len() / 5000 + 1).collect();
    sample.sort_by(f64::total_cmp);
    let usual_s = sample.get(sample.len() / 2).copied().unwrap_or(1.0);
    let gap_s = (GAP_STEPS * usual_s).max(LEAST_GAP_S);
    let (mut gaps, mut longest_s, mut together_s, mut same) = (0, 0.0_f64, 0.0, 0);
    for step_s in steps() {
        same += usize::from(step_s == 0.0);
        if step_s > gap_s {
            gaps += 1;
            longest_s = longest_s.max(step_s);
            together_s += step_s;
        }
    }
    if gaps > 0 {
        notes.push(TraceNote::Gaps { gaps, longest_s, together_s });
    }
    if same > 0 {
        notes.push(TraceNote::SameTime { rows: same });
    }
}
