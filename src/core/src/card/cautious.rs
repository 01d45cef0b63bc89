//! Middle and cautious figures of a card by seeded sampling.
//!
//! Formula   each draw flies the whole flight with its own mass, power, packs, wind and temperature; leg powers
//!           follow the central ones by P ∝ m^a ρ^b with a and b taken from the aircraft at the set by small steps
//! Units     SI
//! Source    sampling is its own method; deviations: `spread::Uncertainty`
//! Valid     a setup that flies in the middle
//! Assumes   inputs independent; over one deviation the power law holds for every leg as it does on set

use core::ops::Range;

use super::params::Setup;
use super::prepared::Prepared;
use crate::air::{Site, wind_at};
use crate::aircraft::Trim;
use crate::flight::{FlightSettings, fly_brief};
use crate::input_error::InputError;
use crate::profile::{LEAST_GROUND_SPEED_M_S, Leg, LegDemand, LegKind, Plan};
use crate::spread::{Draw, Input, Uncertainty, contributions, draws, quantiles};
use crate::supply::Supply;
use crate::units::{ElectricCharge, MassDensity, Ratio, Time, Velocity};
use uom::si::electric_charge::coulomb;
use uom::si::ratio::ratio;
use uom::si::time::second;

/// Steps of twice the usual length: below a thousandth of the result (tests/it/flight.rs), where the spread
/// is some hundredths.
const REFINEMENT: f64 = 0.5;

/// What the doubt in the inputs makes of a flight.
#[derive(Debug, Clone, PartialEq)]
pub struct Cautious {
    /// Half of the flights last longer.
    pub median_flight_time: Time,
    /// One flight in ten is shorter.
    pub flight_time: Time,
    /// One flight in ten must be down before this on the meter on board.
    pub land_by: ElectricCharge,
    /// One flight in ten must turn back before this on the meter on board.
    pub turn_back: ElectricCharge,
    /// Share of the flights that come home as planned.
    pub comes_home: Ratio,
    /// Where the doubt in flight time comes from, largest first.
    pub contributions: Vec<(Input, Ratio)>,
}

impl<'a> Prepared<'a> {
    /// Flies the setup with drawn inputs; none where even the middle does not fly.
    ///
    /// # Errors
    /// As `card`, and `InputError::OutOfRange` for a deviation outside its bound.
    pub fn sampler(&self, uncertainty: &Uncertainty, seed: u64) -> Result<Option<Sampler<'a>>, InputError> {
        uncertainty.validate()?;
        let Plan::Legs(central) = self.plan()? else { return Ok(None) };
        Ok(Some(Sampler {
            setup: self.setup,
            site: self.site,
            central: central.clone(),
            law: PowerLaw::of(self)?,
            uncertainty: *uncertainty,
            seed,
        }))
    }
}

/// Flies one setup with inputs drawn from a seed. A draw that cannot fly counts as zero.
#[derive(Debug, Clone)]
pub struct Sampler<'a> {
    setup: &'a Setup,
    site: &'a Site,
    central: LegDemand,
    law: PowerLaw,
    uncertainty: Uncertainty,
    seed: u64,
}

impl Sampler<'_> {
    /// The draws `part` of the seed, for work that is done piece by piece: the parts of a range joined are the range.
    pub fn sample(&self, part: Range<usize>) -> Samples {
        let mut samples = Samples::default();
        for draw in draws(&self.uncertainty, self.seed, part.end).skip(part.start) {
            // A draw beyond the documented ranges tells nothing of this flight.
            if let Ok(flown) = self.fly(&draw) {
                samples.push(&draw, flown);
            }
        }
        samples
    }

    /// The cautious figures of so many draws; none where there are none.
    pub fn cautious(&self, samples: usize) -> Option<Cautious> {
        self.sample(0..samples).summary()
    }

    pub(super) fn uncertainty(&self) -> &Uncertainty {
        &self.uncertainty
    }

    /// Flight time, land-by and turn-back of one draw; zeros where it cannot fly.
    pub(super) fn fly(&self, draw: &Draw) -> Result<[f64; 3], InputError> {
        let supply = drawn_supply(&self.setup.supply, draw);
        let Some(legs) = self.drawn_legs(draw) else { return Ok([0.0; 3]) };
        let coarse =
            FlightSettings { refinement: Ratio::new::<ratio>(REFINEMENT), ..FlightSettings::default() };
        Ok(match fly_brief(&supply, &legs, &self.setup.policy, &coarse)? {
            Ok(brief) => [brief.flight_time.value, brief.marks.land_by.value, brief.marks.turn_back.value],
            Err(_) => [0.0; 3],
        })
    }

    /// The central legs with the draw's powers and, in transit, the draw's wind; none where it blows them away.
    fn drawn_legs(&self, draw: &Draw) -> Option<LegDemand> {
        let profile = &self.setup.profile;
        let wind = wind_at(self.site.wind, profile.height);
        let drawn = wind * draw.wind_factor;
        let slower =
            |central: Velocity, now: Velocity| (now.value >= LEAST_GROUND_SPEED_M_S).then(|| central / now);
        let out = slower(profile.transit_airspeed + wind, profile.transit_airspeed + drawn)?;
        let needs_way_home = profile.distance.value > 0.0;
        let home = if needs_way_home {
            slower(profile.transit_airspeed - wind, profile.transit_airspeed - drawn)?
        } else {
            out
        };
        let factor = draw.power_factor * self.law.factor(draw, self.site);
        let leg = |leg: &Leg| {
            let stretch = match leg.kind {
                LegKind::Transit => out.value,
                LegKind::Return => home.value,
                LegKind::WarmUp
                | LegKind::Climb
                | LegKind::OnSet
                | LegKind::Descent
                | LegKind::Landing
                | LegKind::GoAround => 1.0,
            };
            Leg { kind: leg.kind, duration: leg.duration * stretch, power: leg.power * factor }
        };
        Some(LegDemand {
            outbound: self.central.outbound.iter().map(leg).collect(),
            on_set: self.central.on_set * factor,
            homebound: self.central.homebound.iter().map(leg).collect(),
        })
    }
}

/// P ∝ m^a ρ^b around the aircraft at the set.
#[derive(Debug, Clone, Copy)]
struct PowerLaw {
    mass_exponent: f64,
    density_exponent: f64,
}

const STEP: f64 = 0.05;

impl PowerLaw {
    fn of(at: &Prepared<'_>) -> Result<Self, InputError> {
        let density = at.set_air.density;
        let still = Velocity::default();
        let power_w = |trim: &Trim<'_>, density: MassDensity| {
            Ok::<_, InputError>(trim.power(density, still, still)?.value)
        };
        let middle = power_w(&at.trim, density)?;
        let heavier = power_w(&at.trim.with_weight(at.trim.weight() * (1.0 + STEP)), density)?;
        let thinner = power_w(&at.trim, density * (1.0 - STEP))?;
        Ok(Self {
            mass_exponent: (heavier / middle).ln() / STEP.ln_1p(),
            density_exponent: (thinner / middle).ln() / (-STEP).ln_1p(),
        })
    }

    fn factor(&self, draw: &Draw, site: &Site) -> Ratio {
        let kelvin = site.temperature.value;
        let density_factor = kelvin / (kelvin + draw.temperature_offset.value);
        Ratio::new::<ratio>(
            draw.mass_factor.value.powf(self.mass_exponent) * density_factor.powf(self.density_exponent),
        )
    }
}

fn drawn_supply(supply: &Supply, draw: &Draw) -> Supply {
    let mut drawn = supply.clone();
    for pack in drawn.strings.iter_mut().flat_map(|string| &mut string.packs) {
        pack.cell.capacity *= draw.capacity_factor.value;
        pack.cell.resistance *= draw.resistance_factor_of(pack.cell.resistance_spread).value;
        if let Some(measured) = &mut pack.health.measured_capacity {
            *measured *= draw.capacity_factor.value;
        }
        if let Some(measured) = &mut pack.health.measured_cell_resistance {
            *measured *= draw.resistance_factor.value;
        }
        pack.temperature += draw.temperature_offset;
    }
    drawn
}

/// Flights drawn so far.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Samples {
    deviations: Vec<[f64; 6]>,
    flight_time_s: Vec<f64>,
    land_by_c: Vec<f64>,
    turn_back_c: Vec<f64>,
}

impl Samples {
    fn push(&mut self, draw: &Draw, [flight_time_s, land_by_c, turn_back_c]: [f64; 3]) {
        self.deviations.push(draw.deviations);
        self.flight_time_s.push(flight_time_s);
        self.land_by_c.push(land_by_c);
        self.turn_back_c.push(turn_back_c);
    }

    /// Takes in the draws of another part.
    pub fn join(&mut self, other: Self) {
        self.deviations.extend(other.deviations);
        self.flight_time_s.extend(other.flight_time_s);
        self.land_by_c.extend(other.land_by_c);
        self.turn_back_c.extend(other.turn_back_c);
    }

    /// How many did not come home as planned.
    pub(super) fn not_home(&self) -> usize {
        self.flight_time_s.iter().filter(|time_s| **time_s <= 0.0).count()
    }

    /// What they say; none of none.
    pub fn summary(self) -> Option<Cautious> {
        let contributions = contributions(&self.deviations, &self.flight_time_s);
        let time = quantiles(&self.flight_time_s)?;
        let charge = |samples: &[f64]| Some(ElectricCharge::new::<coulomb>(quantiles(samples)?.cautious));
        let home = self.flight_time_s.len() - self.not_home();
        Some(Cautious {
            comes_home: Ratio::new::<ratio>(home as f64 / self.flight_time_s.len() as f64),
            median_flight_time: Time::new::<second>(time.median),
            flight_time: Time::new::<second>(time.cautious),
            land_by: charge(&self.land_by_c)?,
            turn_back: charge(&self.turn_back_c)?,
            contributions,
        })
    }
}
