//! What a card counts with, in one line: each part with the field that it comes from.

use crate::model::{
    Airframe, Bundle, EqualStrings, Pack, PackRef, PackString, PackType, Setup, Site, entered_once,
};
use crate::present::answer::{Toward, stepped};
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};
use crate::record::Record;

/// One part of the line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountedWith {
    /// "Wind 4.0 m/s, gust 7.0 m/s".
    pub words: String,
    /// The list of the record that holds it.
    pub list: &'static str,
    /// The record.
    pub id: String,
    /// The path of the field in it.
    pub path: &'static str,
}

/// What the card of a setup counts with; nothing for what is not chosen yet.
pub fn counts_with(bundle: &Bundle, setup: &Setup, units: Units) -> Vec<CountedWith> {
    let of_setup = |path, words| CountedWith { words, list: "setups", id: setup.id.clone(), path };
    let mut parts = Vec::new();
    if let Some((_, site)) = Site::find(bundle, &setup.site) {
        let of_site = |path, words| CountedWith { words, list: "sites", id: site.id.clone(), path };
        let speed = |m_s| shown(m_s, Choice::Speed, 0.5, units);
        parts.push(of_setup("site", site.name.clone()));
        // As core does: a gust below the wind is the wind.
        let gust_m_s = site.gust_m_s.max(site.wind_m_s);
        parts.push(of_site("wind_m_s", format!("wind {}, gust {}", speed(site.wind_m_s), speed(gust_m_s))));
    }
    let length = |m| shown(m, Choice::Distance, 1.0, units);
    let place = &setup.profile;
    parts.push(of_setup(
        "profile.distance_m",
        format!("{} away, {} up", length(place.distance_m), length(place.height_m)),
    ));
    if let Some((_, airframe)) = Airframe::find(bundle, &setup.airframe) {
        parts.push(of_setup("airframe", airframe.name.clone()));
    }
    parts.extend(
        entered_once(&setup.supply.strings)
            .iter()
            .map(|alike| of_setup("supply", alike_words(bundle, alike, units))),
    );
    parts
}

/// "3 strings of 2 × Six cells, as warm as the air, full".
pub(crate) fn alike_words(bundle: &Bundle, alike: &EqualStrings, units: Units) -> String {
    let strings = if alike.count == 1 { "1 string".to_owned() } else { format!("{} strings", alike.count) };
    format!("{strings} of {}", string_words(bundle, &alike.string, units))
}

/// Which strings of a supply are meant, by number: "string 2", "strings 1 to 3".
pub fn which_strings(first: usize, count: usize) -> String {
    match count {
        1 => format!("string {}", first + 1),
        _ => format!("strings {} to {}", first + 1, first + count),
    }
}

/// Strings that are entered together, by what they are; by their numbers too where there are others beside them.
pub fn strings_title(
    bundle: &Bundle,
    strings: &[PackString],
    first: usize,
    count: usize,
    units: Units,
) -> String {
    let Some(string) = strings.get(first) else { return String::new() };
    if count == strings.len() {
        return alike_words(bundle, &EqualStrings { count, string: string.clone() }, units);
    }
    let which = which_strings(first, count).replacen('s', "S", 1);
    format!("{which}: {}", string_words(bundle, string, units))
}

/// "2 × Six cells, as warm as the air, full".
pub(crate) fn string_words(bundle: &Bundle, string: &PackString, units: Units) -> String {
    let name = |pack: &PackRef| match pack {
        PackRef::Type(id) => PackType::find(bundle, id).map(|(_, there)| there.name.clone()),
        PackRef::Pack(id) => Pack::find(bundle, id).map(|(_, there)| there.name.clone()),
    };
    let names: Vec<String> = string
        .packs
        .iter()
        .map(|pack| name(pack).unwrap_or_else(|| "a pack to be chosen".to_owned()))
        .collect();
    let alike = names.chunk_by(PartialEq::eq);
    let packs: Vec<String> = alike
        .filter_map(|same| match same {
            [one] => Some(one.clone()),
            [one, ..] => Some(format!("{} × {one}", same.len())),
            [] => None,
        })
        .collect();
    let packs = if packs.is_empty() { "no pack".to_owned() } else { packs.join(" + ") };
    let temperature = string.temperature_c.map_or_else(
        || "as warm as the air".to_owned(),
        |celsius| shown(Unit::Celsius.to_si(celsius), Choice::Temperature, 1.0, units),
    );
    format!("{packs}, {temperature}, {}", charge_words(bundle, string, units))
}

/// "full", "3.85 V a cell"; of single packs what the register knows of the least charged.
fn charge_words(bundle: &Bundle, string: &PackString, units: Units) -> String {
    let a_cell = |volt| format!("{} a cell", stepped(volt, Unit::Volt, 0.01, Toward::Down, units));
    if let Some(volt) = string.rest_cell_voltage_v {
        return a_cell(volt);
    }
    let single = string.packs.iter().filter_map(|pack| match pack {
        PackRef::Pack(id) => Pack::find(bundle, id).map(|(_, pack)| pack),
        PackRef::Type(_) => None,
    });
    let (mut lowest_v, mut most_mah) = (None::<f64>, None::<f64>);
    for pack in single {
        let own_v = pack.cell_voltages_v.iter().copied().reduce(f64::min);
        lowest_v = lowest_v.into_iter().chain(own_v).reduce(f64::min);
        let own_mah = pack.used_mah.filter(|used| *used > 0.0 && own_v.is_none());
        most_mah = most_mah.into_iter().chain(own_mah).reduce(f64::max);
    }
    let used = most_mah.map(|mah| {
        let mah = (mah / 50.0).ceil() * 50.0;
        format!("{mah:.0}\u{a0}mAh taken out by landings")
    });
    let known: Vec<String> = lowest_v.map(a_cell).into_iter().chain(used).collect();
    if known.is_empty() { "full".to_owned() } else { known.join(", ") }
}

fn shown(si: f64, choice: Choice, step: f64, units: Units) -> String {
    stepped(si, units.get(choice), step, Toward::Nearest, units).to_string()
}
