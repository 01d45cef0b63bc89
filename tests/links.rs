//! Hostile links under a lid on memory: a binary of its own, because the lid is on all that is allocated.

#[path = "it/share/generated.rs"]
#[allow(dead_code)]
mod generated;

#[path = "it/share/forged.rs"]
mod forged;

use std::alloc::System;

use cap::Cap;
use forged::{packed, text_of};
use liftmargin_document::open::{broken_as_file, save};
use liftmargin_document::share::{self, ShareFault, fragment};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

const LID_BYTES: usize = 64_000_000;

/// An allocation beyond it fails, which ends the test.
#[global_allocator]
static ALLOCATOR: Cap<System> = Cap::new(System, LID_BYTES);

/// A tenth in the daily run, all of them in `cargo xtask endure`.
fn count() -> u64 {
    if std::env::var_os("LIFTMARGIN_ENDURE").is_some() { 100_000 } else { 10_000 }
}

/// A refusal in words, or something that can be kept.
fn taken(link: &str) -> bool {
    match share::read(link) {
        Ok(opened) => {
            drop(broken_as_file(&opened.broken));
            drop(save(&opened.bundle));
            true
        }
        Err(fault) => {
            let words = fault.to_string();
            assert!(
                words.len() > 20 && words.ends_with(['.', ')']) || matches!(fault, ShareFault::Document(_)),
                "{words}"
            );
            false
        }
    }
}

/// Letters cut, doubled, replaced: the check over the text lets none through.
fn harmed(link: &str, random: &mut Pcg64Mcg) -> String {
    let mut letters: Vec<char> = link.chars().collect();
    for _ in 0..random.random_range(1..5) {
        let from = random.random_range(0..letters.len().max(1));
        let to = (from + random.random_range(1..20)).min(letters.len());
        match random.random_range(0..5) {
            0 => drop(letters.drain(from..to)),
            1 => {
                let copy = letters[from..to].to_vec();
                letters.splice(from..from, copy);
            }
            2 => letters.truncate(from),
            3 if from < letters.len() => letters[from] = char::from(random.random_range(0..128_u8)),
            _ => {
                let other = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"[random.random_range(0..32)];
                if from < letters.len() {
                    letters[from] = char::from(other);
                }
            }
        }
    }
    letters.into_iter().collect()
}

/// Somebody who knows the format: text that was harmed before it was packed, so that its check is right.
fn forged(text: &str, random: &mut Pcg64Mcg) -> String {
    const WORDS: &[&str] = &[
        "null",
        "1e308",
        "-1e999",
        "{}",
        "[",
        "]",
        "[[[[[[[[",
        "\"\"",
        "true",
        "18446744073709551616",
        "0",
        "0.0",
        ",",
        "{\"\":0}",
        "\"id\":",
        "liftmargin_schema",
        "99",
    ];
    let mut text = text.to_owned();
    for _ in 0..random.random_range(1..4) {
        let place = random.random_range(0..=text.len());
        let end = (place + random.random_range(0..6)).min(text.len());
        if text.is_char_boundary(place) && text.is_char_boundary(end) {
            text.replace_range(place..end, WORDS[random.random_range(0..WORDS.len())]);
        }
    }
    packed(text.as_bytes())
}

#[test]
fn prop_no_link_makes_it_panic_or_take_much_memory() {
    let links: Vec<String> =
        (0..20).map(|seed| fragment(&generated::bundle(seed), "setup").expect("small")).collect();
    let texts: Vec<String> = (0..20).map(|seed| text_of(&generated::bundle(seed), "setup")).collect();
    assert!(texts.iter().all(|text| taken(&packed(text.as_bytes()))), "honest ones by other hands are taken");
    let mut let_in = 0;
    for seed in 0..count() {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let of = (seed % 20) as usize;
        if seed % 2 == 0 {
            let link = harmed(&links[of], &mut random);
            // Only what means the same is let through: letters before the link, or none changed.
            if taken(&link) {
                assert_eq!(share::read(&link), share::read(&links[of]), "{link}");
            }
        } else {
            let_in += u64::from(taken(&forged(&texts[of], &mut random)));
        }
    }
    println!(
        "{} links, {let_in} forged ones were well formed; most memory {} kB",
        count(),
        ALLOCATOR.max_allocated() / 1000
    );
}

/// The greatest that each limit lets in.
#[test]
fn prop_bombs_do_not_burst() {
    let zeros = "0,".repeat(20_000);
    let bombs = [
        // Sixty times what is let in, in some letters.
        "A".repeat(4_000_000),
        format!("[{},[]]", "[".repeat(60_000)),
        format!("[[{}],[]]", "{\"\":[]},".repeat(8_000).trim_end_matches(',')),
        format!("[[{}],[{}]]", zeros.trim_end_matches(','), zeros.trim_end_matches(',')),
        format!(
            "[{{\"liftmargin_schema\":0,\"items\":[{}]}},[2]]",
            "[],".repeat(20_000).trim_end_matches(',')
        ),
        format!(
            "[{{\"liftmargin_schema\":0,\"items\":[{}]}},[2]]",
            "{},".repeat(20_000).trim_end_matches(',')
        ),
        format!("[\"\",[\"{}\"]]", "x".repeat(64_000)),
    ];
    for (index, bomb) in bombs.iter().enumerate() {
        let link = packed(bomb.as_bytes());
        println!("{index}: {} letters, taken: {}", link.len(), taken(&link));
    }
}
