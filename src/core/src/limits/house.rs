//! The house limits: common practice, no source. Makers' limits and local rules come first.

use super::params::{State, Thresholds};
use crate::units::{Ratio, ThermodynamicTemperature, Velocity};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::velocity::meter_per_second;

impl Default for Thresholds {
    fn default() -> Self {
        let share = Ratio::new::<ratio>;
        Self {
            thrust_to_weight_least: share(1.5),
            thrust_to_weight_fine: share(1.8),
            hover_throttle_fine: share(0.65),
            hover_throttle_greatest: share(0.75),
            pack_coldest: ThermodynamicTemperature::new::<degree_celsius>(5.0),
            pack_cold_fine: ThermodynamicTemperature::new::<degree_celsius>(15.0),
            pack_warm_fine: ThermodynamicTemperature::new::<degree_celsius>(50.0),
            pack_warmest: ThermodynamicTemperature::new::<degree_celsius>(60.0),
            fine_share_of_limit: share(0.85),
            control_thrust_share: share(0.2),
            gust_control_share: share(0.1),
            wind_hold_fine: share(0.8),
            way_home_fine: share(0.6),
            way_home_greatest: share(0.9),
            failure_thrust_fine: share(1.15),
            balance_fine: share(1.10),
            balance_greatest: share(1.25),
            climb_rate_least: Velocity::new::<meter_per_second>(1.0),
            climb_rate_fine: Velocity::new::<meter_per_second>(2.0),
            comes_home_least: share(0.90),
            comes_home_fine: share(0.98),
            reserve_share_usual: share(0.20),
        }
    }
}

impl Thresholds {
    /// How a rotor's throttle stands: what is fine in hover is fine, above full throttle nothing is.
    pub fn throttle_state(&self, throttle: Ratio) -> State {
        if throttle.value > 1.0 {
            State::No
        } else if throttle > self.hover_throttle_fine {
            State::Watch
        } else {
            State::Fine
        }
    }
}
