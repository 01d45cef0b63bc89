//! Links and codes: what goes in comes out, and the same card with it.

pub mod generated;

use std::collections::BTreeSet;
use std::path::Path;

use liftmargin_document::card_report::report;
use liftmargin_document::model::{Bundle, Pack, Setup};
use liftmargin_document::record::{Record, closed};
use liftmargin_document::share::qr::{Qr, qr};
use liftmargin_document::share::{self, ShareFault, fragment};
use liftmargin_document::{open, open_strict};

const DEMO: &str = include_str!("../../../demo-data/mountain-road.json");

/// What one setup refers to, found in another way than `closed` does: by reading the setup's own fields.
fn needed(bundle: &Bundle, setup: &Setup) -> BTreeSet<(&'static str, String)> {
    let mut needed = BTreeSet::new();
    needed.insert(("setups", setup.id.clone()));
    needed.insert(("airframes", setup.airframe.clone()));
    needed.insert(("sites", setup.site.clone()));
    needed.extend(setup.load.iter().map(|load| ("items", load.item.clone())));
    for pack in setup.supply.strings.iter().flat_map(|string| &string.packs) {
        match pack.key().split_once(' ') {
            Some(("pack", id)) => {
                needed.insert(("packs", id.to_owned()));
                let (_, pack) = Pack::find(bundle, id).expect("there");
                needed.insert(("pack_types", pack.pack_type.clone()));
            }
            Some((_, id)) => {
                needed.insert(("pack_types", id.to_owned()));
            }
            None => panic!("a pack not chosen"),
        }
    }
    needed
}

fn held(bundle: &Bundle) -> BTreeSet<(&'static str, String)> {
    let lists: [(&str, Vec<String>); 6] = [
        ("airframes", bundle.airframes.iter().map(|record| record.id.clone()).collect()),
        ("pack_types", bundle.pack_types.iter().map(|record| record.id.clone()).collect()),
        ("packs", bundle.packs.iter().map(|record| record.id.clone()).collect()),
        ("items", bundle.items.iter().map(|record| record.id.clone()).collect()),
        ("sites", bundle.sites.iter().map(|record| record.id.clone()).collect()),
        ("setups", bundle.setups.iter().map(|record| record.id.clone()).collect()),
    ];
    lists.into_iter().flat_map(|(list, ids)| ids.into_iter().map(move |id| (list, id))).collect()
}

fn median_and_greatest(mut sizes: Vec<usize>) -> (usize, usize) {
    sizes.sort_unstable();
    (sizes[sizes.len() / 2], *sizes.last().expect("some"))
}

/// A thousand setups: the closed bundle holds exactly what is needed, and comes out of its link word for word. Says how
/// large they are.
#[test]
fn prop_a_link_gives_back_the_closed_bundle_and_nothing_else() {
    let (mut texts, mut links, mut codes) = (Vec::new(), Vec::new(), Vec::new());
    for seed in 0..1000 {
        let bundle = generated::bundle(seed);
        let closed = closed(&bundle, "setup").expect("there");
        assert_eq!(held(&closed), needed(&bundle, &bundle.setups[0]), "seed {seed}");
        let link = fragment(&bundle, "setup").expect("small enough");
        let opened = share::read(&link).expect("its own link");
        assert_eq!(opened.bundle, closed, "seed {seed}");
        assert!(opened.broken.is_empty() && opened.unknown.is_empty(), "seed {seed}");
        texts.push(serde_json::to_string(&closed).expect("JSON").len());
        let whole = format!("https://liftmargin.example/app/{link}");
        if let Ok(code) = qr(&whole) {
            assert_eq!(read_modules(&code), whole, "seed {seed}");
            codes.push(code.side as usize - 8);
        }
        links.push(link.len());
    }
    let bytes = |letters: &usize| (letters - share::ROUTE.len() - 1) * 5 / 8;
    let (median, greatest) = median_and_greatest(links.iter().map(bytes).collect());
    println!("packed: median {median} bytes, greatest {greatest} bytes");
    let (median, greatest) = median_and_greatest(texts);
    println!("JSON without spaces: median {median} bytes, greatest {greatest} bytes");
    let (median, greatest) = median_and_greatest(links);
    println!("link: median {median} letters, greatest {greatest} letters");
    println!("codes that a phone reads: {} of 1000", codes.len());
    let (median, greatest) = median_and_greatest(codes);
    println!("code: median {median} modules a side, greatest {greatest} modules");
}

/// To the last bit: JSON of the cards holds every digit.
#[test]
fn prop_a_shared_setup_has_the_same_card() {
    let mine = open_strict(DEMO).expect("demo");
    let cards = report(&mine).expect("cards");
    for (setup, card) in mine.setups.iter().zip(cards) {
        let link = fragment(&mine, &setup.id).expect("small enough");
        let theirs = share::read(&link).expect("its own link").bundle;
        assert_eq!(report(&theirs).expect("card"), [card], "{}", setup.id);
    }
}

/// The same for setups made by chance: either the same card, or the same refusal.
#[test]
fn prop_a_shared_setup_made_by_chance_has_the_same_card() {
    let mut flying = 0;
    for seed in 0..24 {
        let bundle = generated::bundle(seed);
        let theirs = share::read(&fragment(&bundle, "setup").expect("small")).expect("whole").bundle;
        match (report(&bundle), report(&theirs)) {
            (Ok(mine), Ok(theirs)) => {
                assert_eq!(mine, theirs, "seed {seed}");
                flying += 1;
            }
            (mine, theirs) => assert_eq!(mine.is_err(), theirs.is_err(), "seed {seed}"),
        }
    }
    println!("{flying} of 24 have a card");
    assert!(flying >= 8, "{flying}");
}

/// Any number and any text, exactly: also what no crew enters, and fields of a later version.
#[test]
fn prop_every_bit_of_a_number_comes_through() {
    let mut bundle = generated::bundle(1);
    let odd = [-0.0, 1e-320, 1.0 / 3.0, 1e300, 9_007_199_254_740_993.0, -17.0, 0.1 + 0.2, f64::MIN_POSITIVE];
    bundle.items.truncate(1);
    bundle.setups[0].load.truncate(1);
    for number in odd {
        bundle.items[0].mass_kg = number;
        bundle.items[0].name = "\u{0}\"\\\u{feff}\u{1f681}".to_owned();
        bundle.items[0]
            .extra
            .insert("later".to_owned(), serde_json::json!([1, 1.0, number, null, {"": "x"}, u64::MAX]));
        let link = fragment(&bundle, "setup").expect("small");
        let there = share::read(&link).expect("whole").bundle;
        assert_eq!(there.items[0].mass_kg.to_bits(), number.to_bits());
        assert_eq!(there.items[0], bundle.items[0]);
    }
}

fn saved(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("saved").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Links that went out stay good: one of the first way to pack, and one whose JSON is of the first schema.
#[test]
fn regress_links_that_went_out_open_as_the_files_they_were() {
    let demo = open_strict(DEMO).expect("demo");
    let opened = share::read(&saved("link-1.txt")).expect("link 1");
    assert_eq!(opened.bundle.setups[0].id, "bend-zoom");
    assert_eq!(opened.bundle.setups[0].load.len(), demo.setups[1].load.len());
    assert!(report(&opened.bundle).is_ok());
    let first = share::read(&saved("link-1-schema-1.txt")).expect("link of schema 1").bundle;
    assert_eq!(first, open(&saved("schema-1.json")).expect("schema 1").bundle);
}

#[test]
fn regress_what_is_no_link_is_refused_in_words() {
    let whole = fragment(&open_strict(DEMO).expect("demo"), "bend-zoom").expect("small");
    let cases = [
        ("", ShareFault::NoLink),
        ("https://liftmargin.example/#/card", ShareFault::NoLink),
        ("#/take/", ShareFault::NoLink),
        ("#/take/9ABC", ShareFault::OtherVersion { found: '9' }),
        ("#/take/1", ShareFault::Damaged),
        ("#/take/1AAAAAAAAAAAA", ShareFault::Damaged),
        ("#/take/1!", ShareFault::Damaged),
        (&whole[..whole.len() - 8], ShareFault::Damaged),
        (&whole.replace('E', "F"), ShareFault::Damaged),
        (&"A".repeat(100_001), ShareFault::TooLong { letters: 100_001, most: 100_000 }),
    ];
    for (link, expected) in cases {
        let fault = share::read(link).expect_err("no link");
        assert_eq!(fault, expected, "{}", &link[..link.len().min(40)]);
        assert!(fault.to_string().ends_with(['.', ')']), "{fault}");
    }
    // By hand, from a messenger: the page before it, spaces around it, another case.
    for link in [
        format!(" https://liftmargin.example/app/{whole}\n"),
        whole.to_lowercase(),
        whole.replace("#/take/", ""),
    ] {
        assert!(share::read(&link).is_ok(), "{}", &link[..40]);
    }
}

#[test]
fn regress_what_a_link_cannot_hold_says_so() {
    let mut bundle = generated::bundle(3);
    bundle.setups[0].name = "long ".repeat(20_000);
    assert!(matches!(fragment(&bundle, "setup"), Err(ShareFault::TooLarge { .. })));
    assert!(matches!(fragment(&bundle, "nobody"), Err(ShareFault::Document(_))));
    bundle.setups[0].name = (0..400_u32)
        .flat_map(|number| (number * number * 7919).to_string().into_bytes())
        .map(char::from)
        .collect();
    let link = fragment(&bundle, "setup").expect("a link can");
    let words = qr(&link).expect_err("no code can").to_string();
    assert!(words.contains("share the file"), "{words}");
}

/// Which modules of a code are dark, the quiet zone left out.
fn modules(code: &Qr) -> (usize, Vec<bool>) {
    let side = code.side as usize - 8;
    let mut dark = vec![false; side * side];
    for run in code.path.split('M').skip(1) {
        let numbers: Vec<usize> =
            run.split(|letter: char| !letter.is_ascii_digit()).filter_map(|part| part.parse().ok()).collect();
        for x in numbers[0]..numbers[0] + numbers[2] {
            dark[(numbers[1] - 4) * side + x - 4] = true;
        }
    }
    (side, dark)
}

/// The code's modules read by an independent decoder, without a camera.
fn read_modules(code: &Qr) -> String {
    let (side, dark) = modules(code);
    let grid = rqrr::SimpleGrid::from_func(side, |x, y| dark[y * side + x]);
    rqrr::Grid::new(grid).decode().expect("read").1
}

/// The code as a picture of so many dots a module, read by an independent decoder.
fn read_by_camera(code: &Qr, dots: usize) -> String {
    let side = code.side as usize * dots;
    let mut dark = vec![false; side * side];
    for run in code.path.split('M').skip(1) {
        let numbers: Vec<usize> =
            run.split(|letter: char| !letter.is_ascii_digit()).filter_map(|part| part.parse().ok()).collect();
        for x in numbers[0]..numbers[0] + numbers[2] {
            for dot in 0..dots * dots {
                dark[(numbers[1] * dots + dot / dots) * side + x * dots + dot % dots] = true;
            }
        }
    }
    let mut picture =
        rqrr::PreparedImage::prepare_from_greyscale(
            side,
            side,
            |x, y| if dark[y * side + x] { 0 } else { 255 },
        );
    let grids = picture.detect_grids();
    assert_eq!(grids.len(), 1, "one code");
    grids[0].decode().expect("read").1
}

/// rqrr is a decoder by other hands than the encoder.
#[test]
fn val_rqrr_reads_what_the_code_says() {
    for seed in 0..12 {
        let link = fragment(&generated::bundle(seed), "setup").expect("small");
        let link = format!("https://liftmargin.example/app/{link}");
        let Ok(code) = qr(&link) else { continue };
        assert_eq!(read_by_camera(&code, 3), link);
    }
    assert_eq!(
        read_by_camera(&qr("http://localhost/#/take/1ABC").expect("small"), 4),
        "http://localhost/#/take/1ABC"
    );
    assert_eq!(read_by_camera(&qr("plain text").expect("small"), 4), "plain text");
}
