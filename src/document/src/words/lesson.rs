//! What recordings teach of packs, in sentences: what would change, from what to what, and how sure it is.

use crate::log::PackLesson;

/// One line a fact.
pub fn lesson_words(lesson: &PackLesson) -> Vec<String> {
    let names: Vec<&str> = lesson.packs.iter().map(|(_, _, name)| name.as_str()).collect();
    let recordings = if lesson.recordings == 1 { "recording" } else { "recordings" };
    let mut lines = vec![
        format!("From {} {recordings}, for {}:", lesson.recordings, names.join(", ")),
        format!(
            "resistance of a cell {:.1} → {:.1} mΩ (±{:.0} %); the voltage of a cell is met within {:.0} mV where it was held out",
            lesson.cell_resistance_before_mohm,
            lesson.cell_resistance_mohm,
            (100.0 * lesson.resistance_spread).ceil().max(1.0),
            lesson.held_out_error_mv.ceil(),
        ),
    ];
    lines.push(lesson.capacity_mah.map_or_else(
        || {
            "capacity: not told; it takes a rest voltage after the flight, and three tenths of the pack flown"
                .to_owned()
        },
        |(capacity_mah, error)| {
            format!(
                "capacity {:.0} → {:.0} mAh (±{:.0} %)",
                lesson.capacity_before_mah,
                (capacity_mah / 50.0).floor() * 50.0,
                (100.0 * error).ceil().max(1.0),
            )
        },
    ));
    if lesson.cell_resistance_mohm < lesson.cell_resistance_before_mohm {
        lines.push("Less resistance than was entered gives more minutes: take it only if the packs were not warmer than on the next flights.".to_owned());
    }
    lines
}
