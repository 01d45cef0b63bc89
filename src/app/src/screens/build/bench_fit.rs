//! The fit of the bench table as a plot: rows as measured, the unit as learned.

use leptos::prelude::*;
use liftmargin_core::constants::STANDARD_GRAVITY_M_S2;
use liftmargin_core::propulsion::curve;
use liftmargin_core::units::{ElectricPotential, MassDensity};
use liftmargin_document::listed::Listed;
use liftmargin_document::measure::{Choice, Units};
use liftmargin_document::resolve::ResolvedAirframe;
use liftmargin_document::schema::{Airframe, Bench};
use uom::si::electric_potential::volt;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::power::watt;

use crate::live::live;
use crate::parts::{Ink, Panel, Plot, Series, StillPlot};
use crate::store::{Answer, Store};

const CURVE_POINTS: usize = 40;

/// Power over thrust: rows of the table and the fitted curve at the stand's density and highest voltage.
pub fn fit_plot(airframe: &str) -> AnyView {
    let store = Store::here();
    let answer = Answer::here();
    let own = airframe.to_owned();
    live(move || {
        let units = store.units.get();
        let bench = store.bundle.with(|bundle| {
            let (_, airframe) = Airframe::find(bundle, &own)?;
            airframe.propulsion.bench.clone()
        })?;
        let plot = answer.airframe.with(|resolved| plot(resolved.as_ref()?.as_ref().ok()?, &bench, units))?;
        Some(view! { <StillPlot plot /> }.into_any())
    })
}

fn plot(resolved: &ResolvedAirframe, bench: &Bench, units: Units) -> Option<Plot> {
    let mass = units.get(Choice::Mass);
    let held = |thrust_n: f64| mass.from_si(thrust_n / STANDARD_GRAVITY_M_S2);
    let rows = resolved.fit.as_ref()?.residuals.iter().filter_map(|residual| {
        let row = bench.rows.get(residual.row.checked_sub(1)?)?;
        Some((held(row.thrust_n), residual.power.get::<watt>()))
    });
    let table: Vec<(f64, f64)> = rows.collect();
    let highest_v = bench.rows.iter().map(|row| row.voltage_v).fold(0.0, f64::max);
    let density = MassDensity::new::<kilogram_per_cubic_meter>(bench.air_density_kg_m3);
    let learned =
        curve(&resolved.airframe.unit, density, ElectricPotential::new::<volt>(highest_v), CURVE_POINTS)
            .ok()?;
    let learned =
        learned.iter().map(|at| (held(at.point.thrust.value), at.point.bus_power.get::<watt>())).collect();
    Some(Plot {
        x_title: "Thrust".to_owned(),
        x_unit: mass.symbol().to_owned(),
        x_decimals: 1,
        panels: vec![Panel {
            title: "Power".to_owned(),
            unit: "W".to_owned(),
            decimals: 0,
            series: vec![
                Series { name: "table".to_owned(), ink: Ink::Dots, points: table },
                Series { name: "fitted".to_owned(), ink: Ink::Line, points: learned },
            ],
            limits: Vec::new(),
            from_zero: true,
        }],
        marks: Vec::new(),
        summary: "Electrical power over thrust: rows of the bench table and the fitted curve.".to_owned(),
        decimal_mark: units.decimal_mark(),
    })
}
