//! The course of a found flight: samples, and the hardest the packs are used.

use uom::si::electric_charge::coulomb;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

use crate::flight::params::{Extremes, Sample, StringSample};
use crate::flight::search::Search;
use crate::flight::segment::Sight;
use crate::supply::joined::Kernel;
use crate::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, Ratio, ThermodynamicTemperature, Time,
};

/// Samples being taken.
pub(super) struct Record {
    pub samples: Vec<Sample>,
    pub extremes: Extremes,
}

impl Record {
    pub fn new(kernel: &Kernel) -> Self {
        let start = kernel.units.iter().map(|unit| unit.start_temperature_k).fold(0.0, f64::max);
        Self {
            samples: Vec::with_capacity(256),
            extremes: Extremes {
                c_rate: Ratio::new::<ratio>(0.0),
                share_of_c_rating: Ratio::new::<ratio>(0.0),
                cell_voltage: ElectricPotential::new::<volt>(f64::INFINITY),
                temperature: ThermodynamicTemperature::new::<kelvin>(start),
            },
        }
    }

    /// Of the flight with this time on set, from motor start to the end of the way home.
    pub fn of(search: &mut Search, on_set_s: f64) -> Self {
        let course = search.segment.course;
        let mut record = Self::new(&course.kernel);
        search.replay(on_set_s, &mut |sight| record.see(&course.kernel, sight));
        record
    }

    /// Takes a sample; always goes on.
    pub fn see(&mut self, kernel: &Kernel, sight: &Sight) -> bool {
        let sample = sample(kernel, sight);
        for string in &sample.strings {
            self.extremes.cell_voltage = self.extremes.cell_voltage.min(string.cell_voltage);
            if string.temperature > self.extremes.temperature {
                self.extremes.temperature = string.temperature;
            }
        }
        for unit in &kernel.units {
            let current_a = sight.moment.current_a(unit).abs();
            self.extremes.c_rate = self.extremes.c_rate.max(Ratio::new::<ratio>(current_a / unit.one_c_a));
            let of_rating = Ratio::new::<ratio>(current_a / unit.rated_a);
            self.extremes.share_of_c_rating = self.extremes.share_of_c_rating.max(of_rating);
        }
        self.samples.push(sample);
        true
    }
}

pub(super) fn sample(kernel: &Kernel, sight: &Sight) -> Sample {
    let strings = (0..kernel.strings())
        .map(|index| {
            let view = kernel.string_view(index, sight.states, sight.moment);
            StringSample {
                current: ElectricCurrent::new::<ampere>(view.current_a),
                used: ElectricCharge::new::<coulomb>(view.used_c),
                cell_voltage: ElectricPotential::new::<volt>(view.lowest_cell_v),
                state_of_charge: Ratio::new::<ratio>(view.least_state_of_charge),
                temperature: ThermodynamicTemperature::new::<kelvin>(view.warmest_k),
            }
        })
        .collect();
    Sample {
        time: Time::new::<second>(sight.time_s),
        leg: sight.kind,
        bus_voltage: ElectricPotential::new::<volt>(sight.moment.working.bus_v),
        bus_current: ElectricCurrent::new::<ampere>(sight.moment.working.bus_a),
        strings,
    }
}
