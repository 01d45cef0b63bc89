//! Two places and what is flown there.

use liftmargin_document::model::{Load, PackRef, PackString, Profile, Reserve, Setup, Site, Supply};

pub fn sites() -> Vec<Site> {
    let site = |id: &str, name: &str, numbers: [f64; 6]| {
        let [elevation_m, qnh_hpa, temperature_c, relative_humidity_percent, wind_m_s, gust_m_s] = numbers;
        Site {
            id: id.to_owned(),
            name: name.to_owned(),
            elevation_m,
            qnh_hpa,
            temperature_c,
            relative_humidity_percent,
            wind_m_s,
            gust_m_s,
            ..Site::default()
        }
    };
    vec![
        site("pass", "Pass road, upper bends", [2_200.0, 1_016.0, 9.0, 55.0, 5.0, 8.0]),
        site("base", "Valley base", [900.0, 1_014.0, 27.0, 40.0, 2.0, 4.0]),
    ]
}

/// Warm from the heated case.
const PACK_TEMPERATURE_C: f64 = 25.0;

/// So many strings of so many packs in series.
fn strings(pack: &str, parallel: usize, series: usize) -> Vec<PackString> {
    let packs = vec![PackRef::Type(pack.to_owned()); series];
    let temperature_c = Some(PACK_TEMPERATURE_C);
    vec![PackString { packs, temperature_c, ..PackString::default() }; parallel]
}

/// Three strings of two packs in series.
fn six_packs(pack: &str) -> Vec<PackString> {
    strings(pack, 3, 2)
}

pub fn setups() -> Vec<Setup> {
    let large = ["head-large", "body-a", "lens-50", "focus", "link-large"];
    let zoom = ["head-large", "body-a", "lens-zoom", "focus", "link-large"];
    let small = ["head-small", "body-b", "lens-35", "link-small"];
    let two = strings("eight-6", 2, 1);
    let follow = setup("bend-follow", "Bend follow, 50 mm", "eight", "pass", six_packs("six-7"), &large);
    let long = setup("bend-zoom", "Bend follow, zoom", "eight", "pass", six_packs("six-7"), &zoom);
    let mut early = setup(
        "first-light",
        "First light, packs from the truck",
        "eight",
        "pass",
        six_packs("six-7"),
        &large,
    );
    early.supply.strings.iter_mut().for_each(|string| string.temperature_c = Some(3.0));
    let mut ridge =
        setup("ridge-zoom", "Ridge reveal, zoom, old packs", "eight", "pass", six_packs("six-7-old"), &zoom);
    ridge.profile.height_m = 120.0;
    ridge.profile.distance_m = 450.0;
    let scout = setup("base-light", "Base plates, light", "flat", "base", two, &small);
    vec![follow, long, ridge, early, scout]
}

fn setup(id: &str, name: &str, airframe: &str, site: &str, strings: Vec<PackString>, load: &[&str]) -> Setup {
    Setup {
        id: id.to_owned(),
        name: name.to_owned(),
        airframe: airframe.to_owned(),
        supply: supply(strings),
        load: load
            .iter()
            .map(|item| Load { item: (*item).to_owned(), on: true, ..Load::default() })
            .collect(),
        profile: Profile {
            warm_up_s: 20.0,
            height_m: 40.0,
            distance_m: 150.0,
            climb_rate_m_s: 2.5,
            descent_rate_m_s: 1.5,
            transit_airspeed_m_s: 12.0,
            manoeuvre_allowance_percent: 10.0,
            landing_s: 20.0,
            go_around_s: 30.0,
            ..Profile::default()
        },
        reserve: Reserve { share_percent: 20.0, loaded_cell_floor_v: 3.3, ..Reserve::default() },
        site: site.to_owned(),
        ..Setup::default()
    }
}

fn supply(strings: Vec<PackString>) -> Supply {
    Supply {
        strings,
        position_m: [-0.05, 0.0, -0.03],
        string_resistance_mohm: 4.0,
        bus_resistance_mohm: 1.0,
        auxiliary_power_w: 12.0,
        converter_efficiency: 0.9,
        meter: "bus".to_owned(),
        ..Supply::default()
    }
}
