//! The day drawn: a lane for the crew and one a set, the supply below; a slider lies over all of it and reads the moment touched.

use leptos::prelude::*;
use liftmargin_core::day::DayEventKind;
use liftmargin_document::ground::day_lanes::{Bar, Lanes, event_word};

use super::Worked;
use crate::live::{live, text, typed};
use crate::parts::svg::{Anchor, At, Svg};

const LANE: f64 = 34.0;
const HEAD: f64 = 18.0;
const SUPPLY: f64 = 30.0;
const STEPS: u32 = 288;

/// The drawing with its slider.
pub fn timeline(worked: Memo<Worked>) -> AnyView {
    let step = RwSignal::new(None::<u32>);
    let drawn = move || {
        worked.with(|worked| match worked {
            Worked::Fault(_) => None,
            Worked::Day(worked) => Some(drawing(&Lanes::of(&worked.0, &worked.1), step)),
        })
    };
    let reading = move || match step.get() {
        None => "Touch the drawing to read the day at a moment.".to_owned(),
        Some(step) => worked.with(|worked| match worked {
            Worked::Fault(_) => String::new(),
            Worked::Day(day) => {
                let share = f64::from(step) / f64::from(STEPS);
                Lanes::of(&day.0, &day.1).reading(&day.0, &day.1, share)
            }
        }),
    };
    view! {
        <section class="wide day-timeline">
            <h2>"The day"</h2>
            <div class="day-touch">
            {live(drawn)}
            <input class="no-print" type="range" min="0" max=STEPS.to_string() step="1" aria-label="Moment of the day"
                prop:value=text(move || step.get().unwrap_or(0).to_string()) aria-valuetext=text(reading)
                on:input=typed(move |value| step.set(value.parse().ok())) />
            </div>
            <output class="plot-reading no-print" data-figure="moment">{text(reading)}</output>
            <p class="day-key quiet">{key()}</p>
        </section>
    }
    .into_any()
}

/// What the bars are, each with its shape.
fn key() -> Vec<AnyView> {
    let shown = [
        DayEventKind::Flight,
        DayEventKind::WarmUp,
        DayEventKind::CoolDown,
        DayEventKind::WaitForCharger,
        DayEventKind::Charge,
        DayEventKind::WaitForSet,
    ];
    let one = |kind: DayEventKind| {
        let mut svg = Svg::default();
        bar(&mut svg, 0.0, &Bar { kind, from: 0.0, to: 1.0 });
        view! {
            <span class="day-key-one">
                <svg width="22" height="16" aria-hidden="true" inner_html=svg.into_text() />
                {event_word(kind)}
            </span>
        }
        .into_any()
    };
    shown.map(one).into()
}

fn drawing(lanes: &Lanes, step: RwSignal<Option<u32>>) -> AnyView {
    let height = HEAD + LANE * (lanes.lanes.len() + 1) as f64 + SUPPLY;
    let mut svg = Svg::default();
    for (share, hour) in &lanes.hours {
        let x = At::Percent(share * 100.0);
        svg.line("day-hour", (x, At::Unit(HEAD - 4.0)), (x, At::Unit(height)));
        let anchor = if *share < 0.08 {
            Anchor::Start
        } else if *share > 0.92 {
            Anchor::End
        } else {
            Anchor::Middle
        };
        svg.text("day-words", (x, At::Unit(HEAD - 6.0)), anchor, hour);
    }
    let wrap = At::Percent(lanes.wrap * 100.0);
    svg.line("day-wrap", (wrap, At::Unit(HEAD - 4.0)), (wrap, At::Unit(height)));
    for (index, lane) in core::iter::once(&lanes.crew).chain(&lanes.lanes).enumerate() {
        let top = HEAD + LANE * index as f64;
        svg.text("day-words", (At::Unit(0.0), At::Unit(top + 11.0)), Anchor::Start, &lane.name);
        for own in &lane.bars {
            bar(&mut svg, top + 14.0, own);
        }
    }
    supply(&mut svg, lanes, height);
    let line = text(move || {
        let mut cursor = Svg::default();
        if let Some(step) = step.get() {
            let x = At::Percent(f64::from(step) * 100.0 / f64::from(STEPS));
            cursor.line("plot-cursor", (x, At::Unit(HEAD - 4.0)), (x, At::Unit(height)));
        }
        cursor.into_text()
    });
    view! {
        <figure class="plot">
            <svg class="day-drawing" width="100%" height=height.to_string() role="img" aria-label="The day of each pack set; the rows below say the same">
                <g inner_html=svg.into_text() />
                <g inner_html=line />
            </svg>
        </figure>
    }
    .into_any()
}

/// A stretch: each kind has a height and a place of its own, not its colour alone.
fn bar(svg: &mut Svg, top: f64, bar: &Bar) {
    let (class, down, tall) = match bar.kind {
        DayEventKind::Flight => ("day-flight", 0.0, 16.0),
        DayEventKind::Charge => ("day-charge", 6.0, 10.0),
        DayEventKind::WarmUp => ("day-warm", 0.0, 6.0),
        DayEventKind::CoolDown => ("day-cool", 12.0, 4.0),
        DayEventKind::WaitForCharger => ("day-wait", 7.0, 2.0),
        DayEventKind::WaitForSet => ("day-wait", 4.0, 8.0),
    };
    let size = (At::Percent((bar.to - bar.from) * 100.0), At::Unit(tall));
    svg.rect(class, (At::Percent(bar.from * 100.0), At::Unit(top + down)), size);
}

/// Supply in use, from the bottom up.
fn supply(svg: &mut Svg, lanes: &Lanes, bottom: f64) {
    svg.text("day-words", (At::Unit(0.0), At::Unit(bottom - SUPPLY + 11.0)), Anchor::Start, "Supply in use");
    let ends = lanes.supply.iter().skip(1).map(|(from, _)| *from).chain([1.0]);
    for ((from, share), to) in lanes.supply.iter().zip(ends) {
        let tall = share * 16.0;
        let size = (At::Percent((to - from) * 100.0), At::Unit(tall));
        svg.rect("day-supply", (At::Percent(from * 100.0), At::Unit(bottom - tall)), size);
    }
}
