//! The fit of the bench table as a plot: rows as measured, the unit as learned, and as it works here on low packs.

use leptos::prelude::*;
use liftmargin_core::card::Card;
use liftmargin_core::constants::STANDARD_GRAVITY_M_S2;
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::propulsion::{PropulsionUnit, curve};
use liftmargin_core::units::{ElectricCurrent, ElectricPotential, MassDensity};
use liftmargin_document::model::{Airframe, Bench};
use liftmargin_document::present::{Choice, Units};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::ResolvedAirframe;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::power::watt;

use super::super::card::card_of;
use crate::live::live;
use crate::parts::{Ink, Panel, Plot, Series, StillPlot};
use crate::store::{Answer, Store, flight_of};

const CURVE_POINTS: usize = 40;

/// Power over thrust: rows of the table, the fitted curve at the stand's density and highest voltage, and the curve at
/// the site's density and the packs' voltage at land-by.
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
        let card = card_of(answer.saved);
        let plot = answer
            .airframe
            .with(|resolved| plot(resolved.as_ref()?.as_ref().ok()?, &bench, card.as_deref(), units))?;
        Some(view! { <StillPlot plot /> }.into_any())
    })
}

fn plot(resolved: &ResolvedAirframe, bench: &Bench, card: Option<&Card>, units: Units) -> Option<Plot> {
    let mass = units.get(Choice::Mass);
    let held = |thrust_n: f64| mass.from_si(thrust_n / STANDARD_GRAVITY_M_S2);
    let rows = resolved.fit.as_ref()?.residuals.iter().filter_map(|residual| {
        let row = bench.rows.get(residual.row.checked_sub(1)?)?;
        Some((held(row.thrust_n?), residual.power.get::<watt>()))
    });
    let drawn = |unit: &PropulsionUnit, density, voltage| {
        let points = curve(unit, density, voltage, CURVE_POINTS).ok()?;
        let place = |at: &liftmargin_core::propulsion::CurvePoint| {
            (held(at.point.thrust.value), at.point.bus_power.get::<watt>())
        };
        Some(points.iter().map(place).collect::<Vec<_>>())
    };
    let unit = &resolved.airframe.unit;
    // The rows were measured with the table's own rotor.
    let measured = resolved.fit.as_ref().map_or(unit, |fit| &fit.unit);
    let highest_v = bench.rows.iter().filter_map(|row| row.voltage_v).fold(0.0, f64::max);
    let stand = MassDensity::new::<kilogram_per_cubic_meter>(bench.air_density_kg_m3);
    let learned = drawn(&without_limits(measured), stand, ElectricPotential::new::<volt>(highest_v))?;
    let mut series = vec![
        Series { name: "table".to_owned(), ink: Ink::Dots, points: rows.collect() },
        Series { name: "fitted".to_owned(), ink: Ink::Line, points: learned },
    ];
    let here = card.and_then(|card| drawn(unit, card.air.density, flight_of(card)?.bus_voltage_at_land_by));
    if let Some(points) = here {
        series.push(Series { name: "here, packs low".to_owned(), ink: Ink::Dashed, points });
    }
    Some(Plot {
        x_title: "Thrust".to_owned(),
        x_unit: mass.symbol().to_owned(),
        x_decimals: 1,
        panels: vec![Panel {
            title: "Power".to_owned(),
            unit: "W".to_owned(),
            decimals: 0,
            series,
            limits: Vec::new(),
            from_zero: true,
        }],
        marks: Vec::new(),
        summary: "Electrical power over thrust: rows of the bench table, the fitted curve, and the curve here with the packs low up to the current limits.".to_owned(),
        decimal_mark: units.decimal_mark(),
    })
}

/// A stand may drive a motor beyond the limits that hold in flight.
fn without_limits(unit: &PropulsionUnit) -> PropulsionUnit {
    let most = |bound: f64| ElectricCurrent::new::<ampere>(bound);
    let mut free = *unit;
    free.motor.current_limit = most(MotorParams::CURRENT_LIMIT.max);
    free.controller.current_limit = most(ControllerParams::CURRENT_LIMIT.max);
    free
}
