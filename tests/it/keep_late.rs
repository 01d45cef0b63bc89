//! What is read after the first card, with the database played by hand.

use liftmargin_document::keep::{Keeper, LATE, Late, Row};
use liftmargin_document::model::{Bundle, Recording};
use rand::SeedableRng as _;
use rand_pcg::Pcg64Mcg;

use crate::keep::{Tab, demo, kept, runs};
use crate::keep_damaged::{DAMAGES, damage, everything_with_copies, is_kept};

/// Read after the first card, recordings are neither written nor deleted by what happens before.
#[test]
fn regress_what_is_read_late_is_left_alone_until_then() {
    let mut bundle = demo();
    for number in 0..20 {
        let (id, name) = (format!("recording-{number}"), "a recording".to_owned());
        bundle.recordings.push(Recording { id, name, ..Recording::default() });
    }
    let mut database = kept(&bundle);
    let is_late = |row: &Row| row.key.starts_with(&format!("{}/", LATE.key()));
    let (late_rows, early): (Vec<Row>, Vec<Row>) = database.rows().into_iter().partition(is_late);
    assert_eq!(late_rows.len(), 20);
    let (keeper, loaded) = Keeper::load("tab", &early);
    let mut tab = Tab { keeper, bundle: loaded.bundle, told: Vec::new() };
    tab.bundle.items[0].mass_kg += 1.0;
    assert_eq!(tab.save(&mut database), [format!("items/{}", tab.bundle.items[0].id)]);
    tab.bundle.recordings.push(Recording { id: "new".to_owned(), ..Recording::default() });
    let mut late = Late::default();
    for row in &late_rows {
        let damaged = row.key.ends_with("-7").then(|| "damaged".to_owned());
        late.read(&row.key, damaged.as_deref().or(row.now.as_deref()));
    }
    let (with, late, aside) = tab.keeper.take_late(&tab.bundle, late);
    assert_eq!((with.recordings.len(), aside.len()), (20, 1));
    assert_eq!(with.recordings[0], bundle.recordings[0]);
    let mut earlier = loaded_without(&with);
    late.follow(&mut earlier);
    assert_eq!(earlier.recordings.len(), 19);
    tab.bundle = with;
    assert_eq!(tab.save(&mut database), ["recordings/new"]);
    tab.bundle.recordings.remove(3);
    assert_eq!(tab.save(&mut database), ["recordings/recording-3"]);
}

/// A harmed recording hides no other, its copy before stands in, it is told, and its text stays.
#[test]
fn prop_a_damaged_recording_hides_no_other() {
    let mut random = Pcg64Mcg::seed_from_u64(8);
    let (whole, database) = everything_with_copies();
    let is_late = |row: &Row| row.key.starts_with(&format!("{}/", LATE.key()));
    for trial in 0..runs(40) as usize {
        let recording = &whole.recordings[trial / DAMAGES % whole.recordings.len()];
        let key = format!("{}/{}", LATE.key(), recording.id);
        let mut hurt = database.clone();
        let text = damage(trial, &key, &database.now[&key], &mut random);
        if text == database.now[&key] {
            continue;
        }
        hurt.now.insert(key.clone(), text.clone());
        let (late_rows, early): (Vec<Row>, Vec<Row>) = hurt.rows().into_iter().partition(is_late);
        let (mut keeper, loaded) = Keeper::load("tab", &early);
        let mut late = Late::default();
        for row in &late_rows {
            late.read(&row.key, row.now.as_deref());
        }
        assert_eq!(late.unread(), std::slice::from_ref(&key));
        for row in late_rows.iter().filter(|row| row.key == key) {
            late.read_previous(&row.key, row.previous.as_deref());
        }
        let (with, _, aside) = keeper.take_late(&loaded.bundle, late);
        assert_eq!(aside.len(), 1, "trial {trial}: {text}");
        let stands_in = hurt.previous.contains_key(&key) && trial % DAMAGES < 3;
        assert_eq!(with.recordings.len(), whole.recordings.len() - usize::from(!stands_in), "trial {trial}");
        for other in whole.recordings.iter().filter(|other| other.id != recording.id) {
            assert!(with.recordings.contains(other));
        }
        let mut tab = Tab { keeper, bundle: with, told: Vec::new() };
        tab.bundle.items[0].mass_kg += 1.0;
        tab.save(&mut hurt);
        assert!(is_kept(&hurt, &text), "trial {trial}: {text}");
    }
}

fn loaded_without(bundle: &Bundle) -> Bundle {
    Bundle { recordings: Vec::new(), ..bundle.clone() }
}
