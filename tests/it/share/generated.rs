//! Setups made by chance as crews enter them: numbers of two to five digits, tables of six to twenty rows, one to eight things of
//! payload, packs by type or by label. No real product.

use liftmargin_document::model::{
    Airframe, Bench, BenchRow, Bundle, Item, ItemKind, Layout, Load, Pack, PackRef, PackString, PackType,
    Place, Profile, Propulsion, Reserve, Setup, Site, Supply,
};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;

const WORDS: &[&str] = &[
    "Heavy",
    "eight",
    "ridge",
    "Zoom",
    "35 mm",
    "old packs",
    "Körper",
    "крюк",
    "bend",
    "two-man",
    "\"B\" camera",
    "night",
    "夜",
    "valley",
    "spare",
    "long lens",
    "gyro, tall",
];

struct Chance(Pcg64Mcg);

impl Chance {
    fn whole(&mut self, from: u32, to: u32) -> u32 {
        self.0.random_range(from..=to)
    }

    fn yes(&mut self, share: f64) -> bool {
        self.0.random_range(0.0..1.0) < share
    }

    /// A number with so many decimals.
    fn number(&mut self, from: f64, to: f64, decimals: i32) -> f64 {
        let scale = 10_f64.powi(decimals);
        (self.0.random_range(from..to) * scale).round() / scale
    }

    fn name(&mut self) -> String {
        let count = self.whole(1, 4);
        let words: Vec<&str> = (0..count).map(|_| WORDS[self.0.random_range(0..WORDS.len())]).collect();
        words.join(" ")
    }

    fn maybe(&mut self, share: f64, from: f64, to: f64, decimals: i32) -> Option<f64> {
        self.yes(share).then(|| self.number(from, to, decimals))
    }

    fn position(&mut self) -> [f64; 3] {
        core::array::from_fn(|_| if self.yes(0.4) { 0.0 } else { self.number(-0.4, 0.4, 2) })
    }

    fn key(&mut self, keys: &[&str]) -> String {
        keys[self.0.random_range(0..keys.len())].to_owned()
    }
}

/// One bundle with a setup `setup`, what it needs, and much that it does not.
pub fn bundle(seed: u64) -> Bundle {
    let mut chance = Chance(Pcg64Mcg::seed_from_u64(seed));
    let mut bundle = Bundle::new();
    for index in 0..chance.whole(1, 3) {
        bundle.airframes.push(airframe(&mut chance, index));
        bundle.pack_types.push(pack_type(&mut chance, index));
        bundle.sites.push(site(&mut chance, index));
    }
    let items = chance.whole(1, 8);
    for index in 0..items + 2 {
        bundle.items.push(item(&mut chance, index));
    }
    for index in 0..chance.whole(0, 4) {
        bundle.packs.push(pack(&mut chance, index));
    }
    let setup = setup(&mut chance, items, bundle.packs.len() as u32);
    bundle.setups.push(setup);
    bundle
}

fn airframe(chance: &mut Chance, index: u32) -> Airframe {
    let is_free = chance.yes(0.15);
    let kinds = ["quad-cross", "hex-cross", "octo-plus", "coaxial-quad", "coaxial-tri"];
    let places = if is_free { chance.whole(4, 8) } else { 0 };
    let (diameter_m, full_rpm) = (chance.number(0.5, 0.75, 4), chance.number(5000.0, 6500.0, 0));
    Airframe {
        id: format!("frame-{index}"),
        name: chance.name(),
        layout: Layout {
            kind: if is_free { "free".to_owned() } else { chance.key(&kinds) },
            arm_length_m: chance.number(0.3, 1.2, 2),
            coaxial_spacing_m: chance.number(0.05, 0.2, 2),
            places: (0..places)
                .map(|at| Place {
                    position_m: chance.position(),
                    clockwise: at % 2 == 0,
                    role: "single".to_owned(),
                    ..Place::default()
                })
                .collect(),
            ..Layout::default()
        },
        frame_mass_kg: chance.number(3.0, 9.0, 2),
        frame_position_m: chance.position(),
        mass_limit_kg: chance.maybe(0.7, 10.0, 60.0, 1),
        drag_area_m2: chance.maybe(0.2, 0.05, 0.6, 2),
        tilt_limit_deg: chance.maybe(0.2, 15.0, 40.0, 0),
        propulsion: Propulsion {
            rotor_diameter_m: diameter_m,
            rotor_pitch_m: chance.maybe(0.7, 0.1, 0.3, 3),
            velocity_constant_rpm_v: chance.yes(0.8).then(|| (full_rpm / 42.0).round()),
            motor_resistance_ohm: chance.maybe(0.3, 0.01, 0.1, 3),
            no_load_current_a: chance.maybe(0.3, 0.3, 3.0, 1),
            motor_current_limit_a: chance.number(60.0, 90.0, 0),
            controller_current_limit_a: chance.number(60.0, 120.0, 0),
            bench: chance.yes(0.8).then(|| bench(chance, diameter_m, full_rpm)),
            ..Propulsion::default()
        },
        ..Airframe::default()
    }
}

/// As a stand would measure a rotor of C_T 0.1 and C_P 0.037 up to full throttle on 50 V.
fn bench(chance: &mut Chance, diameter_m: f64, full_rpm: f64) -> Bench {
    let (rows, with_speed, with_throttle) = (chance.whole(6, 20), chance.yes(0.7), chance.yes(0.8));
    let air_density_kg_m3 = chance.number(1.0, 1.25, 3);
    let row = |chance: &mut Chance, at: u32| {
        let throttle = 0.3 + 0.7 * f64::from(at + 1) / f64::from(rows);
        let rpm = full_rpm * throttle.powf(0.9);
        let per_s = rpm / 60.0;
        let thrust_n = 0.1 * air_density_kg_m3 * per_s.powi(2) * diameter_m.powi(4);
        let current_a = 0.037 * air_density_kg_m3 * per_s.powi(3) * diameter_m.powi(5) / (0.88 * 50.0);
        let close =
            |chance: &mut Chance, value: f64, decimals| chance.number(value * 0.999, value * 1.001, decimals);
        // Tables are in grams mostly: what they come to in newtons has more digits.
        let grams = close(chance, thrust_n / 9.806_65e-3, 0);
        BenchRow {
            throttle: with_throttle.then(|| (throttle * 100.0).round() / 100.0),
            voltage_v: Some(close(chance, 50.0 - current_a * 0.02, 2)),
            current_a: Some(close(chance, current_a, 2)),
            thrust_n: Some((grams * 9.806_65e-3 * 1e6).round() / 1e6),
            speed_rpm: with_speed.then(|| close(chance, rpm, 0)),
            ..BenchRow::default()
        }
    };
    Bench {
        name: chance.name(),
        air_density_kg_m3,
        rows: (0..rows).map(|at| row(chance, at)).collect(),
        ..Bench::default()
    }
}

fn pack_type(chance: &mut Chance, index: u32) -> PackType {
    PackType {
        id: format!("pack-type-{index}"),
        name: chance.name(),
        chemistry: chance.key(&[
            "lithium-polymer",
            "lithium-polymer-high-voltage",
            "lithium-ion-cylindrical",
        ]),
        cells_in_series: 12,
        capacity_mah: chance.number(40.0, 320.0, 0) * 100.0,
        cell_resistance_mohm: chance.number(0.5, 6.0, 2),
        mass_kg: chance.number(1.4, 5.0, 2),
        continuous_c_rating: chance.number(5.0, 35.0, 0),
        cycles: if chance.yes(0.5) { chance.whole(1, 200) } else { 0 },
        measured_capacity_mah: chance.maybe(0.2, 4000.0, 30_000.0, 0),
        measured_cell_resistance_mohm: chance.maybe(0.2, 0.5, 6.0, 2),
        ..PackType::default()
    }
}

fn pack(chance: &mut Chance, index: u32) -> Pack {
    Pack {
        id: format!("pack-{index}"),
        name: format!("{} {}", chance.name(), index + 1),
        pack_type: "pack-type-0".to_owned(),
        cycles: chance.whole(0, 200),
        measured_capacity_mah: chance.maybe(0.4, 4000.0, 30_000.0, 0),
        ..Pack::default()
    }
}

fn item(chance: &mut Chance, index: u32) -> Item {
    Item {
        id: format!("item-{index}"),
        name: chance.name(),
        kind: chance.key(ItemKind::KEYS),
        mass_kg: chance.number(0.05, 2.5, 2),
        position_m: chance.position(),
        power_w: if chance.yes(0.5) { 0.0 } else { chance.number(5.0, 60.0, 0) },
        ..Item::default()
    }
}

fn site(chance: &mut Chance, index: u32) -> Site {
    let wind_m_s = chance.number(0.0, 12.0, 1);
    Site {
        id: format!("site-{index}"),
        name: chance.name(),
        elevation_m: chance.number(0.0, 3500.0, 0),
        qnh_hpa: chance.number(985.0, 1035.0, 0),
        temperature_c: chance.number(-15.0, 38.0, 0),
        relative_humidity_percent: chance.number(10.0, 95.0, 0),
        wind_m_s,
        gust_m_s: wind_m_s + chance.number(0.0, 6.0, 1),
        ..Site::default()
    }
}

fn setup(chance: &mut Chance, items: u32, packs: u32) -> Setup {
    let (strings, in_series) = (chance.whole(1, 4), 1);
    let pack = |chance: &mut Chance| {
        if packs > 0 && chance.yes(0.3) {
            PackRef::Pack(format!("pack-{}", chance.whole(0, packs - 1)))
        } else {
            PackRef::Type("pack-type-0".to_owned())
        }
    };
    let string = PackString {
        packs: (0..in_series).map(|_| pack(chance)).collect(),
        rest_cell_voltage_v: chance.maybe(0.3, 3.8, 4.2, 2),
        temperature_c: chance.maybe(0.5, 5.0, 35.0, 0),
        ..PackString::default()
    };
    Setup {
        id: "setup".to_owned(),
        name: chance.name(),
        airframe: "frame-0".to_owned(),
        supply: Supply {
            strings: vec![string; strings as usize],
            position_m: chance.position(),
            string_resistance_mohm: chance.number(0.5, 6.0, 1),
            bus_resistance_mohm: chance.number(0.2, 3.0, 1),
            auxiliary_power_w: chance.number(0.0, 40.0, 0),
            converter_efficiency: chance.number(0.8, 0.95, 2),
            meter: "bus".to_owned(),
            ..Supply::default()
        },
        load: (0..items)
            .map(|index| Load { item: format!("item-{index}"), on: chance.yes(0.85), ..Load::default() })
            .collect(),
        profile: Profile {
            warm_up_s: chance.number(10.0, 60.0, 0),
            height_m: chance.number(5.0, 120.0, 0),
            distance_m: chance.number(0.0, 800.0, 0),
            climb_rate_m_s: chance.number(1.0, 4.0, 1),
            descent_rate_m_s: chance.number(1.0, 2.5, 1),
            transit_airspeed_m_s: chance.number(5.0, 12.0, 1),
            manoeuvre_allowance_percent: chance.number(0.0, 20.0, 0),
            landing_s: chance.number(10.0, 40.0, 0),
            go_around_s: chance.number(0.0, 60.0, 0),
            ..Profile::default()
        },
        reserve: Reserve {
            share_percent: 20.0,
            time_s: chance.maybe(0.2, 60.0, 240.0, 0),
            charge_mah: chance.maybe(0.1, 500.0, 3000.0, 0),
            loaded_cell_floor_v: chance.number(3.1, 3.5, 2),
            ..Reserve::default()
        },
        site: "site-0".to_owned(),
        ..Setup::default()
    }
}
