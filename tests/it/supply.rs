//! Supplies: the circuit against hand-solved ones, plain figures, refusals, leads.

use liftmargin_core::input_error::InputError;
use liftmargin_core::supply::{MeterPlace, Share, Supply, SupplyFault, lead_resistance, share_load};
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::{milliohm, ohm};
use uom::si::f64::{
    ElectricPotential, ElectricalResistance, Length, Mass, Power, Ratio, ThermodynamicTemperature,
};
use uom::si::length::foot;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::rig;
use crate::table::assert_close;

struct Circuit {
    /// Volts and milliohms of each source.
    sources: &'static [(f64, f64)],
    common_milliohm: f64,
    load_w: f64,
    /// Amperes of each source, volts at the load.
    currents_a: &'static [f64],
    bus_v: f64,
}

/// Solved by hand: a node voltage is chosen, currents (E − V)/R and the load's power follow.
const BY_HAND: [Circuit; 5] = [
    // One source.
    Circuit {
        sources: &[(50.0, 5.0)],
        common_milliohm: 5.0,
        load_w: 4900.0,
        currents_a: &[100.0],
        bus_v: 49.0,
    },
    // Two alike: node 49.5 V.
    Circuit {
        sources: &[(50.0, 10.0), (50.0, 10.0)],
        common_milliohm: 5.0,
        load_w: 4900.0,
        currents_a: &[50.0, 50.0],
        bus_v: 49.0,
    },
    // The second older and less full: node 49 V, 125 A through 4 mΩ.
    Circuit {
        sources: &[(50.0, 10.0), (49.5, 20.0)],
        common_milliohm: 4.0,
        load_w: 6062.5,
        currents_a: &[100.0, 25.0],
        bus_v: 48.5,
    },
    // The second so empty that the first charges it: node 49 V.
    Circuit {
        sources: &[(50.0, 10.0), (48.0, 20.0)],
        common_milliohm: 0.0,
        load_w: 2450.0,
        currents_a: &[100.0, -50.0],
        bus_v: 49.0,
    },
    // Three: node 45 V.
    Circuit {
        sources: &[(50.0, 50.0), (49.0, 50.0), (47.0, 100.0)],
        common_milliohm: 10.0,
        load_w: 200.0 * 43.0,
        currents_a: &[100.0, 80.0, 20.0],
        bus_v: 43.0,
    },
];

fn solve(circuit: &Circuit, load_w: f64) -> Share {
    let sources: Vec<_> = circuit
        .sources
        .iter()
        .map(|&(emf_v, inner)| {
            (ElectricPotential::new::<volt>(emf_v), ElectricalResistance::new::<milliohm>(inner))
        })
        .collect();
    let common = ElectricalResistance::new::<milliohm>(circuit.common_milliohm);
    share_load(&sources, common, Power::new::<watt>(load_w)).expect("in range")
}

// Circuit laws, solved by hand above; rounding only.
#[test]
fn circuits_as_solved_by_hand() {
    for circuit in &BY_HAND {
        let Share::Carried(sharing) = solve(circuit, circuit.load_w) else { panic!("carried by hand") };
        assert_close(sharing.bus_voltage.get::<volt>(), circuit.bus_v, 1e-9, "bus voltage");
        for (got, &want_a) in sharing.currents.iter().zip(circuit.currents_a) {
            assert_close(got.get::<ampere>(), want_a, 1e-9, "current");
        }
    }
}

// Greatest power E²/(4R), circuit laws: 50 V behind 10 mΩ is 62.5 kW.
#[test]
fn the_greatest_power_of_a_circuit_as_solved_by_hand() {
    let circuit = &BY_HAND[1];
    assert!(matches!(solve(circuit, 62_499.0), Share::Carried(_)));
    let Share::VoltageCollapse { greatest } = solve(circuit, 62_501.0) else { panic!("above the greatest") };
    assert_close(greatest.get::<watt>(), 62_500.0, 1e-9, "greatest power");
}

// Common practice, no source: twelve cells in series stand at 50.4 V full.
#[test]
fn common_practice_twelve_cells_full() {
    assert_close(rig::two_strings().full_rest_voltage().get::<volt>(), 50.4, 1e-9, "full rest voltage");
}

#[test]
fn charge_on_board_is_of_the_weakest_pack() {
    let (mut strong, mut weak) = (rig::pack(12.0, 1.5), rig::pack(10.0, 1.5));
    strong.cells_in_series = 6;
    weak.cells_in_series = 6;
    let mut supply = rig::supply(&[strong]);
    supply.strings[0].packs.push(weak);
    let on_board = supply.charge_on_board().expect("in range");
    assert_close(on_board.get::<ampere_hour>(), 10.0, 1e-9, "charge on board");
}

// Ohms per 1,000 ft at 20 °C: a published wire table (excerpt), 12 AWG 1.588, 13 AWG 2.003, 14 AWG 2.525; 4 digits.
#[test]
fn val_wire_table_resistance() {
    for (gauge, want_ohm) in [(12, 1.588), (13, 2.003), (14, 2.525)] {
        let at = ThermodynamicTemperature::new::<degree_celsius>(20.0);
        let ten_feet = lead_resistance(gauge, Length::new::<foot>(10.0), at).expect("in range");
        assert_close(ten_feet.get::<ohm>() * 100.0, want_ohm, 5e-4, "resistance");
    }
}

/// Puts one field out of its range.
type Spoil<'a> = &'a dyn Fn(&mut Supply);

#[test]
fn supply_refusals_name_the_field() {
    let spoilt = |spoil: Spoil| {
        let mut supply = rig::two_strings();
        spoil(&mut supply);
        supply.validate().expect_err("refused")
    };
    let fields: [(&str, Spoil); 10] = [
        ("lead_resistance", &|s| s.bus_resistance = ElectricalResistance::new::<ohm>(-1.0)),
        ("auxiliary_power", &|s| s.auxiliary_power = Power::new::<watt>(f64::NAN)),
        ("converter_efficiency", &|s| s.converter_efficiency = Ratio::new::<ratio>(0.0)),
        ("meter_scale_error", &|s| s.meter.scale_error = Ratio::new::<ratio>(1.0)),
        ("pack_mass", &|s| s.strings[0].packs[0].mass = Mass::new::<kilogram>(1e9)),
        ("cells_in_series", &|s| s.strings[1].packs[0].cells_in_series = 0),
        ("cycles", &|s| s.strings[1].packs[0].health.cycles = 1_000_000),
        ("rest_voltage", &|s| {
            s.strings[1].packs[0].rest_voltage = Some(ElectricPotential::new::<volt>(60.0));
        }),
        ("packs_in_series", &|s| s.strings[0].packs = vec![rig::pack(12.0, 1.5); 9]),
        ("strings_in_parallel", &|s| s.strings = vec![s.strings[0].clone(); 9]),
    ];
    for (field, spoil) in fields {
        assert_eq!(spoilt(spoil).field(), field);
    }
    assert_eq!(spoilt(&|s| s.strings.clear()), InputError::Supply(SupplyFault::Empty));
    assert_eq!(
        spoilt(&|s| s.strings[1].packs[0].cells_in_series = 6),
        InputError::Supply(SupplyFault::UnequalStrings { string: 1, cells: 6, expected: 12 })
    );
    assert_eq!(
        spoilt(&|s| s.meter.place = MeterPlace::String(2)),
        InputError::Supply(SupplyFault::NoSuchString { string: 2, strings: 2 })
    );
}
