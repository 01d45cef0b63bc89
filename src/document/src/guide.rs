//! A new setup by the hand: what is still missing, which numbers nobody has entered, and what to begin with.
//!
//! What a new record begins with is common practice, no source: mid-size values that are refused nowhere. They are noted as
//! assumed until somebody enters one.

use crate::fields::{Entry, Group};
use crate::model::numbers::{FRAME, PACK_TYPE, PROPULSION, SITE};
use crate::model::{Airframe, Bundle, Layout, PackType, Propulsion, Setup, Site};
use crate::present::entry::show_number;
use crate::present::units::Units;
use crate::record::{List, Record};

/// One thing to do, with the field that it is done in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// In words.
    pub words: String,
    /// The list of the record.
    pub list: List,
    /// The record.
    pub id: String,
    /// The path of the field in it.
    pub path: &'static str,
}

/// What a setup still lacks, in the order in which it is best entered: airframe, packs, what is on board, site.
pub fn missing(bundle: &Bundle, setup: &Setup) -> Vec<Step> {
    let step =
        |words: &str, path| Step { words: words.to_owned(), list: List::Setups, id: setup.id.clone(), path };
    let mut steps = Vec::new();
    if Airframe::find(bundle, &setup.airframe).is_none() {
        steps.push(step("Airframe: choose one, or begin a new one", "airframe"));
    }
    let packs = || setup.supply.strings.iter().flat_map(|string| &string.packs);
    if packs().next().is_none() || packs().any(|pack| pack.id().is_empty()) {
        steps.push(step("Packs: choose what is on board", "supply"));
    }
    if setup.load.is_empty() {
        steps.push(step("On board: camera, lens, stabiliser", "load"));
    }
    if Site::find(bundle, &setup.site).is_none() {
        steps.push(step("Site: where it flies", "site"));
    }
    steps
}

/// Numbers of a setup's airframe, packs and site that nobody has entered.
pub fn assumed(bundle: &Bundle, setup: &Setup, units: Units) -> Vec<Step> {
    let mut records = vec![(List::Airframes, setup.airframe.clone())];
    for pack in setup.supply.strings.iter().flat_map(|string| &string.packs) {
        let of_type = (List::PackTypes, pack.id().to_owned());
        if !records.contains(&of_type) {
            records.push(of_type);
        }
    }
    records.push((List::Sites, setup.site.clone()));
    let of_record = |(list, id): &(List, String)| -> Vec<Step> {
        let step = |entry: &&'static dyn Entry| {
            let value = entry.value(bundle, id)?;
            let unit = units.of(entry.number().range).symbol();
            let words =
                format!("{} {} {unit}", entry.number().label, show_number(value, entry.number(), units));
            Some(Step {
                words: words.trim_end().to_owned(),
                list: *list,
                id: id.clone(),
                path: entry.number().path,
            })
        };
        let is_assumed = |entry: &&&'static dyn Entry| {
            paths(bundle, *list, id).iter().any(|path| path == entry.number().path)
        };
        groups(*list).iter().flat_map(|group| group.iter()).filter(is_assumed).filter_map(step).collect()
    };
    records.iter().flat_map(of_record).collect()
}

/// Whether a number of a record was entered by nobody.
pub fn is_assumed(bundle: &Bundle, list: List, id: &str, path: &str) -> bool {
    paths(bundle, list, id).iter().any(|assumed| assumed == path)
}

/// A number is entered, or all of a record are said to be right.
pub fn entered(bundle: &mut Bundle, list: List, id: &str, path: Option<&str>) {
    let assumed = match list {
        List::Airframes => Airframe::find_mut(bundle, id).map(|of| &mut of.assumed),
        List::PackTypes => PackType::find_mut(bundle, id).map(|of| &mut of.assumed),
        List::Sites => Site::find_mut(bundle, id).map(|of| &mut of.assumed),
        _ => None,
    };
    if let Some(assumed) = assumed {
        assumed.retain(|own| path.is_some_and(|path| path != own));
    }
}

fn paths<'a>(bundle: &'a Bundle, list: List, id: &str) -> &'a [String] {
    match list {
        List::Airframes => Airframe::find(bundle, id).map(|(_, of)| &of.assumed),
        List::PackTypes => PackType::find(bundle, id).map(|(_, of)| &of.assumed),
        List::Sites => Site::find(bundle, id).map(|(_, of)| &of.assumed),
        _ => None,
    }
    .map_or(&[], Vec::as_slice)
}

fn groups(list: List) -> Vec<Group> {
    match list {
        List::Airframes => vec![FRAME, PROPULSION],
        List::PackTypes => vec![PACK_TYPE],
        List::Sites => vec![SITE],
        _ => Vec::new(),
    }
}

/// Who else counts with a record, where more than one setup does; else nothing.
pub fn shared_by(bundle: &Bundle, list: List, id: &str) -> String {
    let users = list.used_by(bundle, id);
    let setups: Vec<String> =
        users.into_iter().filter(|(of, _)| *of == List::Setups).map(|(_, name)| name).collect();
    if setups.len() < 2 {
        return String::new();
    }
    format!("Shared by {} setups: {}. A change here changes all of them.", setups.len(), setups.join("; "))
}

fn named(paths: &[&str]) -> Vec<String> {
    paths.iter().map(|path| (*path).to_owned()).collect()
}

/// A mid-size flat quad.
pub fn new_airframe() -> Airframe {
    Airframe {
        name: "New airframe".to_owned(),
        layout: Layout { kind: "quad-cross".to_owned(), arm_length_m: 0.5, ..Layout::default() },
        frame_mass_kg: 5.0,
        propulsion: Propulsion {
            rotor_diameter_m: 0.55,
            rotor_pitch_m: Some(0.2),
            velocity_constant_rpm_v: Some(150.0),
            motor_current_limit_a: 50.0,
            controller_current_limit_a: 60.0,
            ..Propulsion::default()
        },
        assumed: named(&[
            "frame_mass_kg",
            "layout.arm_length_m",
            "propulsion.rotor_diameter_m",
            "propulsion.rotor_pitch_m",
            "propulsion.velocity_constant_rpm_v",
            "propulsion.motor_current_limit_a",
            "propulsion.controller_current_limit_a",
        ]),
        ..Airframe::default()
    }
}

/// A common size.
pub fn new_pack_type() -> PackType {
    PackType {
        name: "New pack".to_owned(),
        chemistry: "lithium-polymer".to_owned(),
        cells_in_series: 6,
        capacity_mah: 10_000.0,
        cell_resistance_mohm: 2.0,
        mass_kg: 1.4,
        continuous_c_rating: 15.0,
        assumed: named(&[
            "cells_in_series",
            "capacity_mah",
            "cell_resistance_mohm",
            "mass_kg",
            "continuous_c_rating",
        ]),
        ..PackType::default()
    }
}

/// The sea shore on a standard day.
pub fn new_site() -> Site {
    Site {
        name: "New site".to_owned(),
        qnh_hpa: 1013.25,
        temperature_c: 15.0,
        relative_humidity_percent: 50.0,
        assumed: named(&["elevation_m", "qnh_hpa", "temperature_c", "wind_m_s", "gust_m_s"]),
        ..Site::default()
    }
}
