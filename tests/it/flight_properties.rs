//! Properties of flights over drawn supplies: what is worse never flies longer, and nothing breaks in the bounds.

use liftmargin_core::cell::{CellParams, Chemistry};
use liftmargin_core::flight::{
    BriefFlight, FlightSettings, LEG_DURATION, LEG_POWER, LossMoment, ON_SET_POWER, ReservePolicy, fly,
    fly_brief, string_lost,
};
use liftmargin_core::input_range::InputRange;
use liftmargin_core::profile::{Leg, LegDemand, LegKind};
use liftmargin_core::supply::{Health, Meter, MeterPlace, Pack, PackString, Supply};
use liftmargin_core::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Mass, Power, Ratio, ThermodynamicTemperature,
    Time,
};
use proptest::prelude::*;
use uom::si::electric_charge::{coulomb, milliampere_hour};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
use uom::si::time::second;

use crate::rig;

/// Common supplies: identical strings over the range that crews fly.
#[derive(Debug, Clone)]
struct Common {
    strings: usize,
    capacity_ah: f64,
    cell_milliohm: f64,
    celsius: f64,
    cycles: u32,
    share_of_charge: f64,
    hover_w_per_ah: f64,
    reserve: f64,
}

fn common() -> impl Strategy<Value = Common> {
    let packs = (1_usize..=4, 5.0..30.0, 5.0..40.0, -15.0..40.0);
    (packs, 0_u32..400, 0.6..=1.0, 60.0..250.0, 0.0..0.5).prop_map(
        |((strings, capacity_ah, milliohm_ah, celsius), cycles, share_of_charge, hover_w_per_ah, reserve)| {
            Common {
                strings,
                capacity_ah,
                cell_milliohm: milliohm_ah / capacity_ah,
                celsius,
                cycles,
                share_of_charge,
                hover_w_per_ah,
                reserve,
            }
        },
    )
}

impl Common {
    fn pack(&self) -> Pack {
        let mut pack = rig::pack(self.capacity_ah, self.cell_milliohm);
        pack.temperature = ThermodynamicTemperature::new::<degree_celsius>(self.celsius);
        pack.health.cycles = self.cycles;
        pack.rest_voltage = Some(ElectricPotential::new::<volt>(12.0 * (3.8 + 0.4 * self.share_of_charge)));
        pack
    }

    fn supply(&self) -> Supply {
        rig::supply(&vec![self.pack(); self.strings])
    }

    fn demand(&self) -> LegDemand {
        rig::close_by(self.hover_w_per_ah * self.capacity_ah * self.strings as f64)
    }

    fn brief(&self) -> Option<BriefFlight> {
        let flown = fly_brief(
            &self.supply(),
            &self.demand(),
            &rig::reserve(self.reserve),
            &FlightSettings::default(),
        );
        flown.expect("in range").ok()
    }

    /// Time on set, s; less than nothing without a flight. The power homebound changes with the load.
    fn on_set_s(&self) -> f64 {
        self.brief().map_or(-1.0, |flight| flight.time_on_set.get::<second>())
    }
}

/// Tolerance of "never longer": the search stops within 5 ms on each side.
const CLOSE_S: f64 = 0.02;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn prop_worse_never_flies_longer(setup in common(), by in 0.0_f64..1.0) {
        let usual = setup.on_set_s();
        let worse = [
            ("colder", Common { celsius: (setup.celsius - 20.0 * by).max(-20.0), ..setup.clone() }),
            ("older", Common { cycles: setup.cycles + (300.0 * by) as u32, ..setup.clone() }),
            ("heavier", Common { hover_w_per_ah: setup.hover_w_per_ah * (1.0 + by), ..setup.clone() }),
            ("more reserve", Common { reserve: setup.reserve + 0.3 * by, ..setup.clone() }),
            ("more resistance", Common { cell_milliohm: setup.cell_milliohm * (1.0 + by), ..setup.clone() }),
            ("less charge", Common { share_of_charge: setup.share_of_charge - 0.3 * by, ..setup.clone() }),
        ];
        for (what, worse) in worse {
            let got = worse.on_set_s();
            prop_assert!(got <= usual + CLOSE_S, "{what}: {got} s, was {usual} s");
        }
    }

    #[test]
    fn prop_marks_are_in_order(setup in common()) {
        let flown = fly(&setup.supply(), &setup.demand(), &rig::reserve(setup.reserve)).expect("in range");
        if let Ok(flight) = flown {
            let mah = |charge: ElectricCharge| charge.get::<milliampere_hour>();
            for marks in &flight.marks_by_meter {
                prop_assert!(marks.turn_back <= marks.land_by && marks.land_by <= marks.capacity);
            }
            let strings: f64 = flight.marks_by_meter[1..].iter().map(|marks| mah(marks.land_by)).sum();
            let bus = mah(flight.marks_by_meter[0].land_by);
            prop_assert!((strings / bus - 1.0).abs() < 1e-9, "{strings} on the strings, {bus} on the bus");
            // Allowed: what is on board less the reserve's share of the present capacity.
            let present = mah(setup.pack().present_capacity().expect("in range"));
            let charge = setup.pack().state_of_charge().expect("in range").get::<ratio>();
            let allowed = setup.strings as f64 * present * (charge - setup.reserve);
            prop_assert!(bus <= allowed * (1.0 + 1e-6), "{bus} of {allowed}");
            let first = flight.marks_by_meter[1].land_by.get::<coulomb>();
            for marks in &flight.marks_by_meter[2..] {
                prop_assert!((marks.land_by.get::<coulomb>() / first - 1.0).abs() < 1e-9);
            }
            for sample in &flight.samples {
                let sum: f64 = sample.strings.iter().map(|string| string.current.value).sum();
                prop_assert!((sum - sample.bus_current.value).abs() < 1e-6 * sample.bus_current.value.abs().max(1.0));
            }
        }
    }

    #[test]
    fn prop_a_lost_string_never_raises_the_voltage(setup in common(), old in 1.0..3.0, share in 0.0..1.0) {
        let mut other = setup.pack();
        other.cell.resistance *= old;
        let supply = rig::supply(&[setup.pack(), other, setup.pack()]);
        let demand = rig::close_by(setup.hover_w_per_ah * setup.capacity_ah * 3.0);
        let when = LossMoment::OnSetShare(Ratio::new::<ratio>(share));
        for lost in 0..3 {
            let settings = FlightSettings::default();
            let loss = string_lost(&supply, &demand, &rig::reserve(0.2), &settings, lost, when).expect("in range");
            if let Ok(loss) = loss && let (Some(before), Some(after)) = (loss.cell_voltage_before, loss.cell_voltage_at_once) {
                // The lost string may have held the weakest cell: then the others' must be seen against the bus.
                if lost != 1 {
                    prop_assert!(after <= before, "{after:?} after {before:?}");
                }
            }
        }
    }
}

/// Anywhere in a bound, its ends among it.
fn within(range: &InputRange) -> impl Strategy<Value = f64> + use<> {
    let (min, max) = (range.min, range.max);
    prop_oneof![1 => Just(min), 1 => Just(max), 6 => min..=max]
}

fn any_pack(cells: u32) -> impl Strategy<Value = Pack> {
    let cell = (0_usize..3, within(&CellParams::CAPACITY), within(&CellParams::RESISTANCE));
    let age = (
        0_u32..=1000,
        proptest::option::of(within(&Health::MEASURED_CAPACITY)),
        proptest::option::of(within(&Health::MEASURED_CELL_RESISTANCE)),
    );
    let rest = proptest::option::of(0.0..=1.0);
    let body = (within(&Pack::MASS), within(&Pack::CONTINUOUS_C_RATING), within(&Pack::TEMPERATURE));
    (cell, age, rest, body).prop_map(move |((chemistry, capacity, resistance), age, rest, body)| {
        let chemistry = Chemistry::ALL[chemistry];
        let range = chemistry.rest_voltage_bound();
        let rest_v =
            |share: f64| f64::from(cells) * (range.min + share * (range.max - range.min) * 0.999_999);
        Pack {
            cell: CellParams {
                chemistry,
                capacity: ElectricCharge::new::<coulomb>(capacity),
                resistance: ElectricalResistance::new::<ohm>(resistance),
                resistance_spread: Ratio::new::<ratio>(0.0),
            },
            cells_in_series: cells,
            mass: Mass::new::<kilogram>(body.0),
            continuous_c_rating: Ratio::new::<ratio>(body.1),
            health: Health {
                cycles: age.0,
                measured_capacity: age.1.map(ElectricCharge::new::<coulomb>),
                measured_cell_resistance: age.2.map(ElectricalResistance::new::<ohm>),
            },
            rest_voltage: rest.map(|share| ElectricPotential::new::<volt>(rest_v(share))),
            temperature: ThermodynamicTemperature::new::<kelvin>(body.2),
        }
    })
}

fn any_supply() -> impl Strategy<Value = Supply> {
    (1_usize..=8, 1_usize..=4, 1_u32..=16).prop_flat_map(|(strings, packs, cells)| {
        let string = proptest::collection::vec(any_pack(cells), packs);
        let leads = (within(&Supply::LEAD_RESISTANCE), within(&Supply::LEAD_RESISTANCE));
        let auxiliary = (within(&Supply::AUXILIARY_POWER), within(&Supply::CONVERTER_EFFICIENCY));
        (proptest::collection::vec(string, strings), leads, auxiliary, within(&Meter::SCALE_ERROR)).prop_map(
            |(strings, leads, auxiliary, scale_error)| Supply {
                strings: strings.into_iter().map(|packs| PackString { packs }).collect(),
                string_resistance: ElectricalResistance::new::<ohm>(leads.0),
                bus_resistance: ElectricalResistance::new::<ohm>(leads.1),
                auxiliary_power: Power::new::<watt>(auxiliary.0),
                converter_efficiency: Ratio::new::<ratio>(auxiliary.1),
                meter: Meter { place: MeterPlace::Bus, scale_error: Ratio::new::<ratio>(scale_error) },
            },
        )
    })
}

/// Powers spread over the decades, so that most supplies fly some of them.
fn any_power(range: &InputRange) -> impl Strategy<Value = f64> + use<> {
    let (min, max) = (range.min, range.max);
    (0.0_f64..=6.0).prop_map(move |decade| 10_f64.powf(decade).clamp(min, max))
}

fn any_leg() -> impl Strategy<Value = Leg> {
    let kinds = [LegKind::WarmUp, LegKind::Climb, LegKind::Return, LegKind::GoAround, LegKind::Landing];
    let duration = prop_oneof![4 => 0.0..120.0, 1 => within(&LEG_DURATION)];
    (0..kinds.len(), duration, any_power(&LEG_POWER)).prop_map(move |(kind, duration_s, power_w)| Leg {
        kind: kinds[kind],
        duration: Time::new::<second>(duration_s),
        power: Power::new::<watt>(power_w),
    })
}

fn any_demand() -> impl Strategy<Value = LegDemand> {
    let legs = || proptest::collection::vec(any_leg(), 0..3);
    (legs(), any_power(&ON_SET_POWER), legs()).prop_map(|(outbound, on_set_w, homebound)| LegDemand {
        outbound,
        on_set: Power::new::<watt>(on_set_w),
        homebound,
    })
}

fn any_policy() -> impl Strategy<Value = ReservePolicy> {
    let time = proptest::option::of(within(&ReservePolicy::TIME));
    let charge = proptest::option::of(within(&ReservePolicy::CHARGE));
    let floor = within(&ReservePolicy::LOADED_CELL_FLOOR);
    (within(&ReservePolicy::SHARE), time, charge, floor).prop_map(|(share, time, charge, floor)| {
        ReservePolicy {
            share: Ratio::new::<ratio>(share),
            time: time.map(Time::new::<second>),
            charge: charge.map(ElectricCharge::new::<coulomb>),
            loaded_cell_floor: ElectricPotential::new::<volt>(floor),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    // Unlike strings, series packs of unlike age, powers over six decades: always an answer, always a number.
    #[test]
    fn prop_every_input_in_its_bounds_has_an_answer(
        supply in any_supply(), demand in any_demand(), policy in any_policy(), share in 0.0..=1.0,
    ) {
        let settings = FlightSettings::default();
        if let Ok(flight) = fly(&supply, &demand, &policy).expect("in range") {
            let times = [flight.flight_time, flight.time_on_set, flight.turn_back_at, flight.land_by_at];
            prop_assert!(times.iter().all(|time| time.value.is_finite() && time.value >= 0.0), "{times:?}");
            prop_assert!(flight.bus_voltage_at_land_by.value.is_finite());
            prop_assert!(flight.turn_back_at <= flight.land_by_at);
            for sample in &flight.samples {
                prop_assert!(sample.bus_voltage.value.is_finite() && sample.bus_current.value.is_finite());
                for string in &sample.strings {
                    prop_assert!(string.cell_voltage.value.is_finite() && string.temperature.value.is_finite());
                    prop_assert!(string.state_of_charge.value.is_finite() && string.used.value.is_finite());
                }
            }
        }
        let when = LossMoment::OnSetShare(Ratio::new::<ratio>(share));
        if let Ok(loss) = string_lost(&supply, &demand, &policy, &settings, 0, when).expect("in range") {
            prop_assert!(loss.down_within.value.is_finite() && loss.at.value.is_finite());
            prop_assert!(loss.loads.iter().all(|load| load.current.value.is_finite() && load.c_rate.value.is_finite()));
        }
    }
}
