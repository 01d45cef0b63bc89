//! What is read after the first card, with the database played by hand.

use liftmargin_document::keep::LATE;
use liftmargin_document::model::{Aloft, Bundle, Flight, FlownSetup, Recording};
use liftmargin_document::record::List;
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

use crate::keep::{Database, Tab, demo, kept, runs, tell_others};

/// Read after the first card, a log is neither written nor deleted by what happens before; a flight in the air is there at once.
#[test]
fn regress_what_is_read_late_is_left_alone_until_then() {
    let bundle = long_log();
    let mut database = kept(&bundle);
    let mut tab = first(&database, "tab");
    let there = |bundle: &Bundle| (bundle.flights.len(), bundle.flown_setups.len(), bundle.recordings.len());
    assert_eq!(there(&tab.bundle), (1, 1, 0), "the flight in the air, and what is flown");
    assert_eq!(tab.bundle.flights[0], bundle.flights[4]);
    let before = tab.bundle.clone();
    tab.bundle.items[0].mass_kg += 1.0;
    assert_eq!(tab.save(&mut database), [format!("items/{}", tab.bundle.items[0].id)]);
    tab.bundle.flights[0].remark = "a reading".to_owned();
    assert_eq!(tab.save(&mut database), ["flights/flight-4"]);
    tab.bundle.recordings.push(Recording { id: "new".to_owned(), ..Recording::default() });
    database.now.insert("recordings/recording-7".to_owned(), "damaged".to_owned());
    let mut earlier = before;
    for part in LATE {
        let late = database.read_late(&tab.keeper, part);
        let (with, late, aside) = tab.keeper.take_late(&tab.bundle, late);
        assert_eq!(aside.len(), usize::from(part.contains(&List::Recordings)));
        late.follow(&mut earlier);
        tab.bundle = with;
    }
    assert_eq!(there(&earlier), (20, 20, 19));
    let mut expected = bundle.clone();
    expected.flights[4].remark = "a reading".to_owned();
    assert_eq!(tab.bundle.flights, expected.flights, "in their order");
    assert_eq!(tab.bundle.flown_setups, expected.flown_setups);
    assert_eq!(there(&tab.bundle), (20, 20, 20));
    assert_eq!(tab.save(&mut database), ["recordings/new"]);
    tab.bundle.recordings.remove(3);
    assert_eq!(tab.save(&mut database), ["recordings/recording-3"]);
    tab.bundle.flights[4].aloft = None;
    assert_eq!(tab.save(&mut database), ["flights/flight-4", "file/aloft"]);
    assert_eq!(there(&first(&database, "next").bundle), (0, 0, 0));
}

/// A log that was kept by an older version, or whose list of flights in the air is harmed, is read whole at the start, and the
/// list is made anew with nothing told.
#[test]
fn regress_a_log_without_its_list_of_flights_in_the_air() {
    let bundle = long_log();
    for harm in [None, Some("damaged")] {
        let mut database = kept(&bundle);
        let was = database.now.remove("file/aloft");
        if let Some(harm) = harm {
            database.now.insert("file/aloft".to_owned(), harm.to_owned());
        }
        let mut tab = first(&database, "tab");
        assert_eq!((tab.bundle.flights.len(), tab.bundle.flown_setups.len()), (20, 20));
        assert!(database.load("reader").1.aside.is_empty());
        tab.bundle.items[0].mass_kg += 1.0;
        assert_eq!(
            tab.save(&mut database),
            [format!("items/{}", tab.bundle.items[0].id), "file/aloft".to_owned()]
        );
        let text = |stored: &str| stored.split_once('\n').map(|(_, text)| text.to_owned());
        assert_eq!(text(&database.now["file/aloft"]), was.as_deref().and_then(text));
        assert_eq!(first(&database, "next").bundle.flights.len(), 1);
    }
}

/// Two and three tabs that lift off, read the meter, land, rename and delete flights, some of them before their log is read, hear
/// of each other late, die and come back: nothing is lost in silence, and what is aloft for the last tab that told is there at once.
#[test]
fn prop_tabs_with_a_late_log_lose_nothing_in_silence() {
    for seed in 0..runs(60) {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let mut start = long_log();
        start.flights.truncate(4 + seed as usize % 5);
        let mut database = kept(&start);
        let count = 1 + seed as usize % 3;
        let mut tabs: Vec<Tab> = (0..count).map(|number| first(&database, &format!("tab{number}"))).collect();
        let (mut entered, mut replaced) = (Vec::new(), Vec::new());
        for step in 0..80 {
            let which = random.random_range(0..count);
            let tab = &mut tabs[which];
            match random.random_range(0..12) {
                0..5 => {
                    let word = format!("word {seed} {step}");
                    replaced.extend(change(&mut tab.bundle, &mut random, &word));
                    if tab.bundle.flights.iter().any(|flight| flight.name == word) {
                        entered.push(word);
                    }
                }
                5..8 => {
                    let written = tab.save(&mut database);
                    tell_others(&mut tabs, which, &written);
                }
                8 => tab.pull(&database),
                9..11 => {
                    for part in &LATE[..random.random_range(1..=2)] {
                        let late = database.read_late(&tab.keeper, part);
                        tab.bundle = tab.keeper.take_late(&tab.bundle, late).0;
                    }
                }
                _ => {
                    tab.save(&mut database);
                    tabs[which] = first(&database, &format!("tab{which}-{step}"));
                }
            }
        }
        for tab in &mut tabs {
            tab.save(&mut database);
        }
        let (_, loaded) = database.load("reader");
        for word in entered.iter().filter(|word| !replaced.contains(word)) {
            let quoted = format!("\"{word}\"");
            let there = loaded.bundle.flights.iter().any(|flight| flight.name == *word);
            let told = loaded.aside.iter().any(|aside| aside.record.text.contains(&quoted));
            assert!(there || told, "seed {seed}: {word} is lost");
        }
        if count > 1 {
            continue;
        }
        // One tab alone: all that it holds comes back, in its order, and what is in the air at once.
        let tab = &mut tabs[0];
        for part in LATE {
            let late = database.read_late(&tab.keeper, part);
            tab.bundle = tab.keeper.take_late(&tab.bundle, late).0;
        }
        tab.save(&mut database);
        assert_eq!(database.load("reader").1.bundle, tab.bundle, "seed {seed}");
        let aloft = |bundle: &Bundle| -> Vec<Flight> {
            bundle.flights.iter().filter(|flight| flight.aloft.is_some()).cloned().collect()
        };
        assert_eq!(first(&database, "next").bundle.flights, aloft(&tab.bundle), "seed {seed}");
    }
}

/// An edit of the log; gives the word it wrote over.
fn change(bundle: &mut Bundle, random: &mut Pcg64Mcg, word: &str) -> Option<String> {
    let (count, name) = (bundle.flights.len(), word.to_owned());
    let place = random.random_range(0..count.max(1));
    match random.random_range(0..6) {
        0 => {
            let id = name.replace(' ', "-");
            let copy = FlownSetup { id: format!("{id}-flown"), name: name.clone(), ..FlownSetup::default() };
            let aloft = Some(Aloft::default()).filter(|_| random.random());
            let flown_setup = copy.id.clone();
            bundle.flown_setups.push(copy);
            bundle.flights.push(Flight { id, name, flown_setup, aloft, ..Flight::default() });
            None
        }
        1 if count > 2 => {
            let flight = bundle.flights.remove(place);
            bundle.flown_setups.retain(|copy| copy.id != flight.flown_setup);
            bundle.recordings.retain(|recording| recording.flight != flight.id);
            Some(flight.name)
        }
        _ if count == 0 => None,
        kind => {
            let flight = &mut bundle.flights[place];
            match kind {
                2 => flight.aloft = None,
                3 => flight.aloft = Some(Aloft { meter_start_mah: 50.0, ..Aloft::default() }),
                _ => {}
            }
            Some(core::mem::replace(&mut flight.name, name))
        }
    }
}

/// Twenty flights as flown with their recordings; the fifth is in the air.
fn long_log() -> Bundle {
    let mut bundle = demo();
    for number in 0..20 {
        let (id, name) = (format!("flight-{number}"), format!("flight {number}"));
        let flown_setup = format!("flown-{number}");
        let aloft = (number == 4).then(Aloft::default);
        bundle.flown_setups.push(FlownSetup {
            id: flown_setup.clone(),
            name: name.clone(),
            ..FlownSetup::default()
        });
        bundle.recordings.push(Recording {
            id: format!("recording-{number}"),
            name: name.clone(),
            flight: id.clone(),
            ..Recording::default()
        });
        bundle.flights.push(Flight { id, name, flown_setup, aloft, ..Flight::default() });
    }
    bundle
}

/// A tab whose log is not read yet.
fn first(database: &Database, name: &str) -> Tab {
    let (keeper, loaded) = database.load_first(name);
    Tab { keeper, bundle: loaded.bundle, told: Vec::new() }
}
