//! The whole card: hand-worked cross-checks from published formulas, and what must always hold.

use crate::craft::{heavy, profile, site};
use crate::table::assert_close;
use liftmargin_core::air::Site;
use liftmargin_core::aircraft::Trim;
use liftmargin_core::card::{Card, Cautious, Outcome, Prepared, Sampler, Setup, card};
use liftmargin_core::flight::{Flight, ReservePolicy, Sample};
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::input_range::InputRange;
use liftmargin_core::limits::{CheckKind, State, Thresholds};
use liftmargin_core::mass::sum;
use liftmargin_core::profile::{Leg, Plan, Profile, plan};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{Length, Ratio, ThermodynamicTemperature, Time, Velocity};
use proptest::prelude::*;
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

fn computed(setup: &Setup, site: &Site) -> Card {
    card(setup, site, &Thresholds::default()).expect("inside the bounds")
}

fn flown(setup: &Setup, site: &Site) -> Option<Flight> {
    match computed(setup, site).outcome {
        Outcome::Flies(flight) => Some(*flight),
        _ => None,
    }
}

fn minutes(setup: &Setup, site: &Site) -> f64 {
    flown(setup, site).map_or(0.0, |flight| flight.flight_time.get::<second>() / 60.0)
}

fn sampler<'a>(
    setup: &'a Setup,
    site: &'a Site,
    thresholds: &'a Thresholds,
    uncertainty: &Uncertainty,
    seed: u64,
) -> Sampler<'a> {
    let prepared = Prepared::new(setup, site, thresholds).expect("inside the bounds");
    prepared.sampler(uncertainty, seed).expect("inside the bounds").expect("flies")
}

/// Hover power of a flat eight-rotor by hand: momentum theory (Leishman, Principles of Helicopter Aerodynamics,
/// ch. 2, from memory), figure of merit √(2/π) C_T^1.5 / C_P, Drela's first-order motor model (MIT 2007, from memory).
#[test]
fn val_momentum_theory_and_motor_model_hover_power() {
    let mut setup = heavy(LayoutKind::OctoCross, 6.0);
    setup.profile.height = Length::new::<meter>(0.0);
    let here = site(0.0, 15.0, 0.0);
    let card = computed(&setup, &here);
    let density = card.air.density.value;
    let thrust_n = card.mass.all_up_mass.value * 9.806_65 / 8.0;
    let (diameter_m, c_t, c_p) = (0.66_f64, 0.1_f64, 0.037);
    let area_m2 = core::f64::consts::PI / 4.0 * diameter_m * diameter_m;
    let ideal_w = thrust_n * (thrust_n / (2.0 * density * area_m2)).sqrt();
    let figure_of_merit = 0.797_885 * c_t.powf(1.5) / c_p;
    let shaft_w = ideal_w / figure_of_merit;
    let speed_rad_s = core::f64::consts::TAU * (thrust_n / (c_t * density * diameter_m.powi(4))).sqrt();
    let k_v = 130.0 * core::f64::consts::TAU / 60.0;
    let current_a = shaft_w / speed_rad_s * k_v + 1.2;
    let voltage_v = speed_rad_s / k_v + current_a * 0.04;
    let bus_w = 8.0 * voltage_v * current_a / 0.97;
    // Six digits in the constant of the figure of merit.
    assert_close(card.hover.power.value, bus_w, 1e-5, "hover power");
}

/// What the samples show delivered at the bus, by the trapezium rule, is the legs' power and the steady load's in time.
#[test]
fn energy_at_the_bus_is_that_of_the_legs() {
    let (setup, here) = (heavy(LayoutKind::CoaxialQuad, 6.0), site(2200.0, 12.0, 4.0));
    let flight = flown(&setup, &here).expect("flies");
    let mass = sum(&setup.items).expect("mass");
    let trim = Trim::new(&setup.airframe, &mass).expect("trim");
    let Plan::Legs(legs) = plan(&trim, &here, &setup.profile).expect("plan") else { panic!("no way home") };
    let supply = &setup.supply;
    let steady_w = (supply.auxiliary_power / supply.converter_efficiency).value;
    let of =
        |legs: &[Leg]| legs.iter().map(|leg| (leg.power.value + steady_w) * leg.duration.value).sum::<f64>();
    let on_set_j = (legs.on_set.value + steady_w) * flight.time_on_set.value;
    let asked_j = of(&legs.outbound) + on_set_j + of(&legs.homebound);
    let watts = |sample: &Sample| (sample.bus_voltage * sample.bus_current).value;
    let pairs = flight.samples.windows(2).filter(|pair| pair[0].leg == pair[1].leg);
    let given_j: f64 = pairs
        .map(|pair| 0.5 * (watts(&pair[0]) + watts(&pair[1])) * (pair[1].time - pair[0].time).value)
        .sum();
    // Each leg is flown at constant power: what is left is the arithmetic.
    assert_close(given_j, asked_j, 1e-9, "energy at the bus");
}

/// Common practice, no source: 20 % left in two strings of 12,000 mAh is down at 19,200 mAh on the bus meter.
#[test]
fn common_practice_land_by_of_two_strings() {
    let flight = flown(&heavy(LayoutKind::CoaxialQuad, 6.0), &site(900.0, 20.0, 2.0)).expect("flies");
    let land_by_mah = flight.marks.land_by.value / 3.6;
    assert!((19_199.0..=19_200.001).contains(&land_by_mah), "{land_by_mah} mAh");
    assert!(flight.marks.turn_back < flight.marks.land_by);
}

#[test]
fn verdict_names_what_is_worst() {
    let here = site(2200.0, 12.0, 2.0);
    let good = computed(&heavy(LayoutKind::OctoCross, 4.0), &here);
    assert_ne!(good.verdict.state, State::No, "{:?}", good.checks.first());
    let mut heavier = heavy(LayoutKind::OctoCross, 4.0);
    heavier.airframe.mass_limit = Some(good.mass.all_up_mass * 0.9);
    let over = computed(&heavier, &here);
    assert_eq!((over.verdict.state, over.verdict.worst), (State::No, Some(CheckKind::AllUpMass)));
    let sunk = computed(&heavy(LayoutKind::QuadCross, 60.0), &here);
    assert!(matches!(sunk.outcome, Outcome::CannotHover { .. }), "{:?}", sunk.outcome);
    assert_eq!(sunk.verdict.state, State::No);
}

#[test]
fn wind_above_the_transit_airspeed_leaves_no_way_home() {
    let blown = computed(&heavy(LayoutKind::CoaxialQuad, 4.0), &site(500.0, 20.0, 12.0));
    assert!(matches!(blown.outcome, Outcome::NoWayHome { .. }), "{:?}", blown.outcome);
    assert_eq!(blown.verdict.state, State::No);
}

#[test]
fn regress_samples_drawn_in_parts_are_those_drawn_at_once() {
    let (setup, site) = (heavy(LayoutKind::CoaxialQuad, 6.0), site(2200.0, 12.0, 4.0));
    let uncertainty = Uncertainty::for_evidence(&setup.airframe.unit.evidence);
    let thresholds = Thresholds::default();
    let sampler = sampler(&setup, &site, &thresholds, &uncertainty, 3);
    let part = |range| sampler.sample(range);
    let mut joined = part(0..10);
    joined.join(part(10..10));
    joined.join(part(10..48));
    assert_eq!(joined, part(0..48));
    assert_eq!(joined.summary(), sampler.cautious(48));
}

#[test]
fn cautious_is_seeded_below_the_middle_and_wider_for_an_estimate() {
    let (setup, here) = (heavy(LayoutKind::CoaxialQuad, 6.0), site(2200.0, 12.0, 4.0));
    let uncertainty = Uncertainty::for_evidence(&setup.airframe.unit.evidence);
    let run = |uncertainty: &Uncertainty, seed| -> Cautious {
        let thresholds = Thresholds::default();
        sampler(&setup, &here, &thresholds, uncertainty, seed).cautious(256).expect("sampled")
    };
    let bench = run(&uncertainty, 7);
    assert_eq!(bench, run(&uncertainty, 7));
    assert!(bench.flight_time < bench.median_flight_time);
    assert!(bench.flight_time < flown(&setup, &here).expect("flies").flight_time);
    let wide = Uncertainty { power: Ratio::new::<ratio>(0.15), ..uncertainty };
    assert!(run(&wide, 7).flight_time < bench.flight_time);
    let shares: f64 = bench.contributions.iter().map(|(_, share)| share.value).sum();
    assert_close(shares, 1.0, 1e-9, "shares of doubt");
}

/// From anywhere in a bound's range; `share` 0 to 1.
fn within(range: &InputRange, share: f64) -> f64 {
    range.min + share * (range.max - range.min)
}

fn anywhere(shares: [f64; 14]) -> (Site, Profile) {
    let [elevation, qnh, temperature, humidity, wind, gust, rest @ ..] = shares;
    let mut here = site(0.0, 15.0, 0.0);
    here.elevation = Length::new::<meter>(within(&Site::ELEVATION, elevation));
    here.qnh.value = within(&Site::QNH, qnh);
    here.temperature = ThermodynamicTemperature::new::<kelvin>(within(&Site::TEMPERATURE, temperature));
    here.relative_humidity = Ratio::new::<ratio>(humidity);
    here.wind = Velocity::new::<meter_per_second>(within(&Site::WIND, wind * wind));
    here.gust = Velocity::new::<meter_per_second>(within(&Site::GUST, gust));
    let [height, distance, climb, descent, transit, manoeuvre, landing, go_around] = rest;
    let seconds = |range, share| Time::new::<second>(within(range, share));
    let speed = |range, share| Velocity::new::<meter_per_second>(within(range, share));
    let plan = Profile {
        height: Length::new::<meter>(within(&Profile::HEIGHT, height)),
        distance: Length::new::<meter>(within(&Profile::DISTANCE, distance * distance)),
        climb_rate: speed(&Profile::CLIMB_RATE, climb),
        descent_rate: speed(&Profile::DESCENT_RATE, descent),
        transit_airspeed: speed(&Profile::TRANSIT_AIRSPEED, transit),
        manoeuvre_allowance: Ratio::new::<ratio>(within(&Profile::MANOEUVRE_ALLOWANCE, manoeuvre)),
        landing: seconds(&Profile::LANDING, landing),
        go_around: seconds(&Profile::GO_AROUND, go_around),
        ..profile()
    };
    (here, plan)
}

fn any_kind() -> impl Strategy<Value = LayoutKind> {
    prop::sample::select(LayoutKind::ALL.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(160))]

    #[test]
    fn prop_any_input_in_range_gives_a_sound_card_or_names_a_field(
        shares in prop::array::uniform14(0.0..1.0f64), payload_kg in 0.0..60.0f64, kind in any_kind(),
    ) {
        let (here, plan) = anywhere(shares);
        let mut setup = heavy(kind, payload_kg);
        setup.profile = plan;
        match card(&setup, &here, &Thresholds::default()) {
            Err(refusal) => prop_assert!(!refusal.field().is_empty()),
            Ok(card) => {
                let text = format!("{card:?}");
                prop_assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
                if let Outcome::Flies(flight) = &card.outcome {
                    prop_assert!(flight.marks.turn_back <= flight.marks.land_by);
                    prop_assert!(flight.marks.land_by.value <= 0.8 * flight.marks.capacity.value * (1.0 + 1e-9));
                    prop_assert!(flight.extremes.cell_voltage >= setup.policy.loaded_cell_floor - liftmargin_core::units::ElectricPotential::new::<uom::si::electric_potential::volt>(1e-3));
                }
            }
        }
    }

    #[test]
    fn prop_worse_conditions_never_lengthen(
        payload_kg in 0.0..14.0f64, more_kg in 0.0..4.0f64, elevation_m in 0.0..3500.0f64, higher_m in 0.0..1500.0f64,
        temperature_c in -5.0..35.0f64, wind_m_s in 0.0..5.0f64, windier_m_s in 0.0..2.0f64,
        reserve in 0.1..0.4f64, more_reserve in 0.0..0.3f64, cycles in 0u32..200, older in 0u32..200, kind in any_kind(),
    ) {
        let build = |payload_kg: f64, reserve: f64, cycles: u32| {
            let mut setup = heavy(kind, payload_kg);
            setup.policy = ReservePolicy { share: Ratio::new::<ratio>(reserve), ..setup.policy };
            for pack in setup.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
                pack.health.cycles = cycles;
            }
            setup
        };
        let base = build(payload_kg, reserve, cycles);
        let here = site(elevation_m, temperature_c, wind_m_s);
        // Events are found to 0.1 s.
        let longest = minutes(&base, &here) + 0.2 / 60.0;
        prop_assert!(minutes(&build(payload_kg + more_kg, reserve, cycles), &here) <= longest, "heavier");
        prop_assert!(minutes(&build(payload_kg, reserve + more_reserve, cycles), &here) <= longest, "larger reserve");
        prop_assert!(minutes(&build(payload_kg, reserve, cycles + older), &here) <= longest, "older packs");
        prop_assert!(minutes(&base, &site(elevation_m + higher_m, temperature_c, wind_m_s)) <= longest, "thinner air");
        // A longer way home may be flown at less power than the work on set: only the latter must shrink.
        let on_set = |wind_m_s| flown(&base, &site(elevation_m, temperature_c, wind_m_s)).map_or(0.0, |f| f.time_on_set.value);
        prop_assert!(on_set(wind_m_s + windier_m_s) <= on_set(wind_m_s) + 0.2, "more wind");
    }
}

/// One step outside each bound of the site and the flight: refused, and the field is named.
#[test]
fn outside_a_bound_the_field_is_named() {
    type Spoil = fn(&mut Site, &mut Setup, f64);
    let cases: [(&InputRange, Spoil); 12] = [
        (&Site::ELEVATION, |site, _, v| site.elevation.value = v),
        (&Site::QNH, |site, _, v| site.qnh.value = v),
        (&Site::TEMPERATURE, |site, _, v| site.temperature.value = v),
        (&Site::RELATIVE_HUMIDITY, |site, _, v| site.relative_humidity.value = v),
        (&Site::WIND, |site, _, v| site.wind.value = v),
        (&Site::GUST, |site, _, v| site.gust.value = v),
        (&Profile::HEIGHT, |_, setup, v| setup.profile.height.value = v),
        (&Profile::DISTANCE, |_, setup, v| setup.profile.distance.value = v),
        (&Profile::TRANSIT_AIRSPEED, |_, setup, v| setup.profile.transit_airspeed.value = v),
        (&ReservePolicy::SHARE, |_, setup, v| setup.policy.share.value = v),
        (&ReservePolicy::LOADED_CELL_FLOOR, |_, setup, v| setup.policy.loaded_cell_floor.value = v),
        (&liftmargin_core::mass::Item::MASS, |_, setup, v| setup.items[0].mass.value = v),
    ];
    for (range, spoil) in cases {
        let span = range.max - range.min;
        for value in [range.min - 0.01 * span, range.max + 0.01 * span, f64::NAN, f64::INFINITY, -1e9, 1e9] {
            let (mut here, mut setup) = (site(500.0, 15.0, 2.0), heavy(LayoutKind::OctoCross, 4.0));
            spoil(&mut here, &mut setup, value);
            let refusal = card(&setup, &here, &Thresholds::default()).expect_err(range.field);
            assert_eq!(refusal.field(), range.field, "{value}");
        }
    }
}
