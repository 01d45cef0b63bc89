//! Whatever a crew does on the screens can be saved, and is opened again as it was: any sequence of edits.

use liftmargin_core::cell::Chemistry;
use liftmargin_document::bench_csv::{inspect, read};
use liftmargin_document::edit::{add, copy, delete, new_day, new_setup};
use liftmargin_document::fields::Entry;
use liftmargin_document::keys::{LAYOUTS, METERS};
use liftmargin_document::model::numbers::{GROUPS, STRING, WORDS};
use liftmargin_document::model::{
    Airframe, Bench, Bundle, Flight, FlownSetup, Item, ItemKind, Load, Pack, PackRef, PackString, PackType,
    Recording, Setup, Site,
};
use liftmargin_document::open::open;
use liftmargin_document::present::{Units, entry};
use liftmargin_document::record::{List, Record};
use liftmargin_document::resolve;
use liftmargin_document::workspace::{Workspace, bench_rows};
use proptest::prelude::*;

use super::{SCHEMA_2, file_of};

/// Something done on a screen; numbers choose among what is there.
#[derive(Debug, Clone)]
enum Edit {
    /// A text typed into a number field.
    Type {
        field: usize,
        record: usize,
        text: String,
        us_units: bool,
    },
    /// A number field emptied.
    Clear {
        field: usize,
        record: usize,
    },
    /// A value by a button or a drawing: anywhere in the range, ends included.
    Set {
        field: usize,
        record: usize,
        share: f64,
    },
    /// A choice made.
    Choose {
        word: usize,
        record: usize,
        key: usize,
    },
    /// A bench table taken.
    Bench {
        record: usize,
        csv: String,
    },
    /// The bench table removed.
    NoBench {
        record: usize,
    },
    Add {
        list: usize,
        name: String,
    },
    Copy {
        list: usize,
        record: usize,
        name: String,
    },
    Rename {
        list: usize,
        record: usize,
        name: String,
    },
    Delete {
        list: usize,
        record: usize,
    },
    PutOn {
        setup: usize,
        item: usize,
    },
    Switch {
        setup: usize,
        load: usize,
    },
    TakeOut {
        setup: usize,
        load: usize,
    },
    AddString {
        setup: usize,
        pack: usize,
    },
    StringNumber {
        setup: usize,
        string: usize,
        field: usize,
        value: Option<f64>,
    },
    TakeString {
        setup: usize,
        string: usize,
    },
}

/// A number as a table may hold it, sense or nonsense.
fn odd_number() -> impl Strategy<Value = String> {
    prop_oneof![
        (-1e3..1e5_f64).prop_map(|value| format!("{value:.3}")),
        (0.0..1.2_f64).prop_map(|value| format!("{value}")),
        prop::sample::select(vec![
            "1e300", "1e308", "-0", "105", "1e999", "", "1,200", "0.1e-320", "4301", "1e6"
        ])
        .prop_map(str::to_owned),
    ]
}

fn csv() -> impl Strategy<Value = String> {
    let header = prop::sample::select(vec![
        "Throttle (%),Voltage (V),Current (A),Thrust (g),Speed (rpm)",
        "Throttle,Voltage (V),Current (mA),Thrust (N),Speed (rpm)",
        "Voltage,Current,Thrust (kg)",
    ]);
    (header, prop::collection::vec(prop::collection::vec(odd_number(), 5), 1..6)).prop_map(
        |(header, rows)| {
            let rows = rows.into_iter().map(|cells| cells.join(","));
            core::iter::once(header.to_owned()).chain(rows).collect::<Vec<_>>().join("\n")
        },
    )
}

fn text_typed() -> impl Strategy<Value = String> {
    prop_oneof![
        odd_number(),
        (0.0..100.0_f64).prop_map(|value| format!("{value:.2}")),
        (0_u32..20).prop_map(|value| value.to_string()),
        "[0-9.,e+ -]{0,6}",
    ]
}

fn edit() -> impl Strategy<Value = Edit> {
    let at = || 0..64_usize;
    let name = || ".{0,8}";
    prop_oneof![
        4 => (at(), at(), text_typed(), any::<bool>())
            .prop_map(|(field, record, text, us_units)| Edit::Type { field, record, text, us_units }),
        2 => (at(), at()).prop_map(|(field, record)| Edit::Clear { field, record }),
        4 => (at(), at(), prop_oneof![Just(0.0), Just(1.0), 0.0..1.0])
            .prop_map(|(field, record, share)| Edit::Set { field, record, share }),
        4 => (at(), at(), at()).prop_map(|(word, record, key)| Edit::Choose { word, record, key }),
        2 => (at(), csv()).prop_map(|(record, csv)| Edit::Bench { record, csv }),
        1 => at().prop_map(|record| Edit::NoBench { record }),
        1 => (at(), name()).prop_map(|(list, name)| Edit::Add { list, name }),
        1 => (at(), at(), name()).prop_map(|(list, record, name)| Edit::Copy { list, record, name }),
        1 => (at(), at(), name()).prop_map(|(list, record, name)| Edit::Rename { list, record, name }),
        1 => (at(), at()).prop_map(|(list, record)| Edit::Delete { list, record }),
        1 => (at(), at()).prop_map(|(setup, item)| Edit::PutOn { setup, item }),
        1 => (at(), at()).prop_map(|(setup, load)| Edit::Switch { setup, load }),
        1 => (at(), at()).prop_map(|(setup, load)| Edit::TakeOut { setup, load }),
        2 => (at(), at()).prop_map(|(setup, pack)| Edit::AddString { setup, pack }),
        2 => (at(), at(), at(), prop::option::of(-100.0..100.0_f64))
            .prop_map(|(setup, string, field, value)| Edit::StringNumber { setup, string, field, value }),
        1 => (at(), at()).prop_map(|(setup, string)| Edit::TakeString { setup, string }),
    ]
}

fn entries() -> Vec<&'static dyn Entry> {
    GROUPS.iter().flat_map(|group| group.iter().copied()).collect()
}

/// One of as many as there are.
fn pick<T>(all: &[T], at: usize) -> Option<&T> {
    all.get(at % all.len().max(1))
}

fn id_of(list: List, bundle: &Bundle, at: usize) -> Option<String> {
    pick(&list.names(bundle), at).map(|(id, _)| id.clone())
}

fn add_one(bundle: &Bundle, list: List, name: String) -> Bundle {
    match list {
        List::Airframes => add(bundle, Airframe { name, ..Airframe::default() }, "airframe").0,
        List::PackTypes => add(bundle, PackType { name, ..PackType::default() }, "pack-type").0,
        List::Packs => add(bundle, Pack { name, ..Pack::default() }, "pack").0,
        List::Items => add(bundle, Item { name, ..Item::default() }, "item").0,
        List::Sites => add(bundle, Site { name, ..Site::default() }, "site").0,
        List::Setups => new_setup(bundle, &name).0,
        List::FlownSetups => add(bundle, FlownSetup { name, ..FlownSetup::default() }, "flown").0,
        List::Flights => add(bundle, Flight { name, ..Flight::default() }, "flight").0,
        List::Recordings => add(bundle, Recording { name, ..Recording::default() }, "recording").0,
        List::DayPlans => new_day(bundle, &name).0,
    }
}

/// Everything that a choice may be: the file's keys, ids, nothing.
fn choices(bundle: &Bundle) -> Vec<String> {
    let keys = [Chemistry::KEYS, ItemKind::KEYS, LAYOUTS, METERS].concat().into_iter().map(str::to_owned);
    let ids = List::ALL.into_iter().flat_map(|list| list.names(bundle)).map(|(id, _)| id);
    keys.chain(ids).chain([String::new()]).collect()
}

fn apply(bundle: &mut Bundle, edit: Edit) -> Option<()> {
    match edit {
        Edit::Type { field, record, text, us_units } => {
            let entry = *pick(&entries(), field)?;
            let id = id_of(entry.list(), bundle, record)?;
            let units = if us_units { Units::us() } else { Units::metric() };
            let number = entry.number();
            if let Ok(value) = entry::read(&text, number, units) {
                entry.put(bundle, &id, Some(value));
            }
        }
        Edit::Clear { field, record } => {
            let entry = *pick(&entries(), field)?;
            entry.put(bundle, &id_of(entry.list(), bundle, record)?, None);
        }
        Edit::Set { field, record, share } => {
            let entry = *pick(&entries(), field)?;
            let range = entry.number().range;
            let value = entry.number().unit.from_si(range.min + share * (range.max - range.min));
            entry.put(bundle, &id_of(entry.list(), bundle, record)?, Some(value));
        }
        Edit::Choose { word, record, key } => {
            let word = pick(&WORDS, word)?;
            let key = pick(&choices(bundle), key)?.clone();
            word.set(bundle, &id_of(word.list, bundle, record)?, key);
        }
        Edit::Bench { record, csv } => {
            let sheet = inspect(&csv);
            let rows = bench_rows(&read(&sheet, &sheet.guessed).ok()?);
            let id = id_of(List::Airframes, bundle, record)?;
            let table =
                Bench { name: "Stand".to_owned(), air_density_kg_m3: 1.225, rows, ..Bench::default() };
            Airframe::find_mut(bundle, &id)?.propulsion.bench = Some(table);
        }
        Edit::NoBench { record } => {
            let id = id_of(List::Airframes, bundle, record)?;
            Airframe::find_mut(bundle, &id)?.propulsion.bench = None;
        }
        Edit::Add { list, name } => *bundle = add_one(bundle, *pick(&List::ALL, list)?, name),
        Edit::Copy { list, record, name } => {
            let list = *pick(&List::ALL, list)?;
            *bundle = copy(list, bundle, &id_of(list, bundle, record)?, &name).ok()?.0;
        }
        Edit::Rename { list, record, name } => {
            let list = *pick(&List::ALL, list)?;
            let id = id_of(list, bundle, record)?;
            list.set_name(bundle, &id, name);
        }
        Edit::Delete { list, record } => {
            let list = *pick(&List::ALL, list)?;
            *bundle = delete(list, bundle, &id_of(list, bundle, record)?).ok()?;
        }
        other => on_board(bundle, &other)?,
    }
    Some(())
}

/// Edits of what a setup has on board.
fn on_board(bundle: &mut Bundle, edit: &Edit) -> Option<()> {
    let setup_at = |bundle: &Bundle, at| id_of(List::Setups, bundle, at);
    match *edit {
        Edit::PutOn { setup, item } => {
            let (id, item) = (setup_at(bundle, setup)?, id_of(List::Items, bundle, item)?);
            Setup::find_mut(bundle, &id)?.load.push(Load { item, on: true, ..Load::default() });
        }
        Edit::Switch { setup, load } => {
            let id = setup_at(bundle, setup)?;
            let loads = &mut Setup::find_mut(bundle, &id)?.load;
            let place = load % loads.len().max(1);
            let load = loads.get_mut(place)?;
            load.on = !load.on;
        }
        Edit::TakeOut { setup, load } => {
            let id = setup_at(bundle, setup)?;
            let loads = &mut Setup::find_mut(bundle, &id)?.load;
            if load < loads.len() {
                loads.remove(load);
            }
        }
        Edit::AddString { setup, pack } => {
            let types = List::PackTypes.names(bundle).into_iter().map(|(id, _)| PackRef::Type(id));
            let packs = List::Packs.names(bundle).into_iter().map(|(id, _)| PackRef::Pack(id));
            let all: Vec<PackRef> = types.chain(packs).chain([PackRef::default()]).collect();
            let id = setup_at(bundle, setup)?;
            let string =
                PackString { packs: vec![pick(&all, pack)?.clone(); 1 + pack % 3], ..PackString::default() };
            Setup::find_mut(bundle, &id)?.supply.strings.push(string);
        }
        Edit::StringNumber { setup, string, field, value } => {
            let id = setup_at(bundle, setup)?;
            let strings = &mut Setup::find_mut(bundle, &id)?.supply.strings;
            let place = string % strings.len().max(1);
            pick(&STRING, field)?.set(strings.get_mut(place)?, value);
        }
        Edit::TakeString { setup, string } => {
            let id = setup_at(bundle, setup)?;
            let strings = &mut Setup::find_mut(bundle, &id)?.supply.strings;
            if string < strings.len() {
                strings.remove(string);
            }
        }
        _ => {}
    }
    Some(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2048))]

    #[test]
    fn prop_any_sequence_of_edits_is_saved_and_opened_as_it_was(edits in prop::collection::vec(edit(), 1..24)) {
        let mut bundle = open(SCHEMA_2).expect("opens").bundle;
        for edit in edits {
            apply(&mut bundle, edit);
        }
        let opened = open(&file_of(&bundle)).expect("what was saved opens");
        prop_assert_eq!(&opened.broken, &[]);
        prop_assert_eq!(&opened.bundle, &bundle);
        let kept = Workspace {
            stamp_ms: 1.0, selected: String::new(), units: Units::us(), bundle, broken: Vec::new(),
        };
        let text = kept.write().expect("it can be kept");
        prop_assert_eq!(&Workspace::read(&text), &Ok(kept));
        // A card, or words on the field that has none.
        let setup = opened.bundle.setups.first().map(|setup| setup.id.clone());
        if let Some(Err(fault)) = setup.map(|id| resolve(&opened.bundle, &id)) {
            prop_assert!(!fault.field().is_empty() && !fault.to_string().is_empty());
        }
    }
}
