//! Functions alike beside each other: gzip sees 32 kB back, a module is forty times as long. A twentieth less to load.
//!
//! A function is the set of its shingles, six bytes each, of which a rare one counts more; next comes the function that shares
//! most with the last few. wasm-opt sorts functions by name and mends what refers to them: the order goes in as names.

use std::collections::BTreeMap;

use anyhow::{Result, ensure};
use wasm_encoder::{NameMap, NameSection, Section as _};
use wasmparser::{Parser, Payload, TypeRef};

/// wasm-opt's pass for a module from `named`.
pub const SORTED: &str = "--reorder-functions-by-name";

const SHINGLE: usize = 6;
/// A shingle of more functions than this tells nothing.
const COMMON: usize = 400;
/// What the functions before still count, each time one more stands between.
const FADES: f64 = 0.7;

/// The module with names by which its functions sort into an order of likeness.
pub fn named(module: &[u8]) -> Result<Vec<u8>> {
    let (mut imported, mut bodies) = (0, Vec::new());
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            }
            Payload::CodeSectionEntry(body) => {
                bodies.push(body.as_bytes());
            }
            Payload::CustomSection(section) => ensure!(section.name() != "name", "names were left in"),
            _ => {}
        }
    }
    let mut rank = vec![0; bodies.len()];
    for (place, function) in by_likeness(&bodies).into_iter().enumerate() {
        rank[function] = place;
    }
    let mut names = NameMap::new();
    for (index, place) in (imported..).zip(rank) {
        names.append(index, &format!("{place:06}"));
    }
    let mut section = NameSection::new();
    section.functions(&names);
    let mut named = module.to_vec();
    section.append_to(&mut named);
    Ok(named)
}

fn by_likeness(bodies: &[&[u8]]) -> Vec<usize> {
    // In order: a build is the same on every machine.
    let mut holders: BTreeMap<&[u8], Vec<usize>> = BTreeMap::new();
    for (function, body) in bodies.iter().enumerate() {
        for shingle in body.windows(SHINGLE) {
            let holders = holders.entry(shingle).or_default();
            if holders.last() != Some(&function) {
                holders.push(function);
            }
        }
    }
    // What stands with which others, and how much that tells.
    let mut shared: Vec<Vec<(&[usize], f64)>> = vec![Vec::new(); bodies.len()];
    for holders in holders.values().filter(|holders| (2..=COMMON).contains(&holders.len())) {
        let rarity = (bodies.len() as f64 / holders.len() as f64).ln();
        for function in holders {
            shared[*function].push((holders, rarity));
        }
    }
    let norm =
        |function: usize| shared[function].iter().map(|(_, rarity)| rarity).sum::<f64>().sqrt().max(1.0);
    let norms: Vec<f64> = (0..bodies.len()).map(norm).collect();

    let mut order = Vec::with_capacity(bodies.len());
    let mut likeness = vec![0.0; bodies.len()];
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    while let Some((at, _)) = left
        .iter()
        .enumerate()
        .max_by(|(_, one), (_, other)| f64::total_cmp(&likeness[**one], &likeness[**other]))
    {
        let next = left.remove(at);
        order.push(next);
        for likeness in &mut likeness {
            *likeness *= FADES;
        }
        for (holders, rarity) in &shared[next] {
            for holder in *holders {
                likeness[*holder] += rarity / (norms[next] * norms[*holder]);
            }
        }
    }
    order
}
