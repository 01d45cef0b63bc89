//! The flight in the air as signals: its plan made once, where it stands at every tick.

#![allow(clippy::large_types_passed_by_value, reason = "handles, copied as a signal is")]

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use liftmargin_core::air::Site;
use liftmargin_core::airborne::CautiousMarks;
use liftmargin_core::card::Setup;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::airborne::{
    ClockStep, Home, InFlight, PlannedFlight, clock_step, follow, set_back_unseen,
};
use liftmargin_document::log::resolve_flown;
use liftmargin_document::model::{Aloft, Flight};
use liftmargin_document::record::Record;
use uom::si::electric_charge::milliampere_hour;

use crate::live::memo;
use crate::platform::clock;
use crate::store::Store;

/// Where the flight stands is looked at so often.
pub const TICK: Duration = Duration::from_millis(500);

/// What was flown, resolved, with the plan to follow it by.
pub struct Planned {
    /// As flown.
    pub setup: Setup,
    /// Where.
    pub site: Site,
    /// The plan.
    pub plan: PlannedFlight,
}

/// One flight in the air.
#[derive(Clone, Copy)]
pub struct Air {
    store: Store,
    id: StoredValue<String>,
    /// The entry.
    pub flight: Memo<Option<Flight>>,
    /// The plan; none where what was flown cannot be resolved or does not fly.
    pub planned: StoredValue<Option<Arc<Planned>>>,
    /// The way home now.
    pub home: Memo<Home>,
    /// Milliseconds since 1970, at the last tick.
    pub now: RwSignal<f64>,
    /// Where it stands.
    pub at: Memo<Option<InFlight>>,
    /// What was noticed of the wall clock.
    pub clock: RwSignal<String>,
}

impl Air {
    /// Follows a flight.
    pub fn start(store: Store, id: &str) -> Self {
        let own = id.to_owned();
        let flight = memo(move || {
            store.bundle.with(|bundle| Flight::find(bundle, &own).map(|(_, flight)| flight.clone()))
        });
        let planned =
            StoredValue::new(flight.get_untracked().and_then(|flight| plan(store, &flight)).map(Arc::new));
        let asked = memo(move || {
            let aloft = flight.get()?.aloft?;
            Some(((aloft.distance_m, aloft.wind_m_s), aloft.elsewhere_at_s.unwrap_or(0.0)))
        });
        let home = memo(move || {
            let there = asked.get().zip(planned.get_value());
            there.map_or(Home::Planned, |((elsewhere, since_s), planned)| {
                PlannedFlight::home(&planned.setup, &planned.site, elsewhere, since_s)
                    .unwrap_or(Home::None { since_s })
            })
        });
        let now = RwSignal::new(clock::now_ms());
        let at = memo(move || {
            let flight = flight.get()?;
            let now = now.get().min(end_ms(&flight));
            planned.with_value(|planned| follow(&planned.as_ref()?.plan, &flight, home.get(), now).ok())
        });
        let air = Self {
            store,
            id: StoredValue::new(id.to_owned()),
            flight,
            planned,
            home,
            now,
            at,
            clock: RwSignal::new(String::new()),
        };
        air.tick();
        air
    }

    fn tick(self) {
        let last = StoredValue::new((clock::now_ms(), clock::run_ms()));
        let unseen = self.flight.with_untracked(|flight| set_back_unseen(flight.as_ref()?, clock::now_ms()));
        if let Some(by_s) = unseen {
            self.set_back(by_s, "The phone's clock stands before what was last noted in this flight: it goes on from there. Check the time in the air.".to_owned());
        }
        clock::every(TICK, move || {
            let (wall_ms, run_ms) = (clock::now_ms(), clock::run_ms());
            let (wall_before, run_before) = last.get_value();
            last.set_value((wall_ms, run_ms));
            match clock_step(wall_before, run_before, wall_ms, run_ms) {
                ClockStep::Steady => {}
                ClockStep::SetBack { by_s } => {
                    self.set_back(by_s, format!("The phone's clock was set back by {by_s:.0} s: the time in the air goes on as it ran."));
                }
                ClockStep::RanAhead { by_s } => {
                    let minutes = by_s / 60.0;
                    self.clock.set(format!("The clock went on by {minutes:.0} min at once (phone asleep, or set): check the time in the air."));
                }
            }
            self.now.set(wall_ms);
        });
    }

    /// Moves the stamps with a wall clock that was set back.
    fn set_back(self, by_s: f64, words: String) {
        self.clock.set(words);
        self.change("the clock", move |flight| {
            flight.lift_off_unix_ms -= 1000.0 * by_s;
            if let Some(aloft) = &mut flight.aloft {
                aloft.clock_jumped_s -= by_s;
            }
        });
    }

    /// Seconds since lift-off, now.
    pub fn elapsed_s(self) -> f64 {
        let start =
            self.flight.with_untracked(|flight| flight.as_ref().map(|flight| flight.lift_off_unix_ms));
        start.map_or(0.0, |start| (clock::now_ms() - start) / 1000.0)
    }

    /// Changes the entry, and writes it at once.
    pub fn change(self, words: &str, change: impl FnOnce(&mut Flight) + 'static) {
        let id = self.id.get_value();
        self.store.edit_alone(
            words,
            Box::new(move |bundle| {
                if let Some(flight) = Flight::find_mut(bundle, &id) {
                    change(flight);
                }
            }),
        );
        self.store.flush_then(|| ());
    }

    /// Changes what belongs to the time in the air.
    pub fn change_aloft(self, words: &str, change: impl FnOnce(&mut Aloft) + 'static) {
        self.change(words, move |flight| {
            if let Some(aloft) = &mut flight.aloft {
                change(aloft);
            }
        });
    }

    /// The entry's id.
    pub fn id(self) -> String {
        self.id.get_value()
    }
}

/// When the flight's time stops: at touchdown.
fn end_ms(flight: &Flight) -> f64 {
    let down_at_s = flight.aloft.as_ref().and_then(|aloft| aloft.down_at_s);
    down_at_s.map_or(f64::INFINITY, |down_at_s| flight.lift_off_unix_ms + 1000.0 * down_at_s)
}

fn plan(store: Store, flight: &Flight) -> Option<Planned> {
    let (setup, site) = store.bundle.with_untracked(|bundle| resolve_flown(bundle, flight, true)).ok()?;
    let cautious = flight.aloft.as_ref().and_then(|aloft| {
        let mah = ElectricCharge::new::<milliampere_hour>;
        let land_by = mah(aloft.cautious_land_by_mah?);
        // A flight that an earlier version began has the one mark.
        Some(CautiousMarks { land_by, turn_back: aloft.cautious_turn_back_mah.map_or(land_by, mah) })
    });
    let plan = PlannedFlight::new(&setup, &site, cautious).ok()??;
    Some(Planned { setup, site, plan })
}
