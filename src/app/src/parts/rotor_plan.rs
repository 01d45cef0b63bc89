//! The rotors seen from above, nose up: each one's load, its spin, the centre of gravity.
//!
//! Convention: forward is up, right is right. Metres in, drawing units 1 cm.

use leptos::{ev, prelude::*};

/// One rotor.
#[derive(Debug, Clone, PartialEq)]
pub struct RotorSpot {
    /// Forward of the centre, m.
    pub forward_m: f64,
    /// Right of the centre, m.
    pub right_m: f64,
    /// Seen from above.
    pub clockwise: bool,
    /// Half of a pair: `Some(true)` for the upper one.
    pub upper: Option<bool>,
    /// Share of the rotor's greatest thrust in use, 0 to 1.
    pub load: f64,
    /// The load in words, "58 %".
    pub load_words: String,
}

/// The plan.
#[component]
pub fn RotorPlan(
    /// The rotors.
    #[prop(into)]
    rotors: Signal<Vec<RotorSpot>>,
    /// Rotor diameter, m.
    #[prop(into)]
    diameter_m: Signal<f64>,
    /// Centre of gravity, forward and right, m.
    #[prop(into)]
    centre_of_gravity_m: Signal<(f64, f64)>,
    /// The rotor taken as stopped.
    #[prop(into)]
    failed: Signal<Option<usize>>,
    /// Called when one is touched: it, or none if it was the stopped one.
    #[prop(into)]
    on_select: Callback<Option<usize>>,
) -> impl IntoView {
    let reach = Memo::new(move |_| rotors.with(|rotors| reach_cm(rotors, diameter_m.get())));
    let view_box = move || format!("{0} {0} {1} {1}", -reach.get(), 2.0 * reach.get());
    let spots = move || {
        let radius = diameter_m.get() * 50.0;
        let chosen = failed.get();
        let spot = |(index, rotor): (usize, RotorSpot)| {
            let stopped = chosen == Some(index);
            let select = move || on_select.run((!stopped).then_some(index));
            view! { <Spot rotor index radius stopped select=Callback::new(move |()| select()) /> }
        };
        rotors.get().into_iter().enumerate().map(spot).collect_view()
    };
    view! {
        <svg class="rotor-plan" viewBox=view_box role="group" aria-label="Rotors seen from above, nose up">
            <path class="rotor-nose" d=move || nose(reach.get()) />
            {move || rotors.get().iter().map(arm).collect_view()}
            {spots}
            {move || gravity_mark(centre_of_gravity_m.get(), reach.get())}
        </svg>
    }
}

fn reach_cm(rotors: &[RotorSpot], diameter_m: f64) -> f64 {
    let furthest =
        rotors.iter().map(|rotor| rotor.forward_m.abs().max(rotor.right_m.abs())).fold(0.1, f64::max);
    (furthest + diameter_m * 0.5).mul_add(100.0, 0.0) * 1.06
}

fn nose(reach: f64) -> String {
    let (width, height) = (reach * 0.05, reach * 0.09);
    format!("M{:.1} {:.1}l{width:.1} {height:.1}h{:.1}z", 0.0, -reach * 0.99, -2.0 * width)
}

fn arm(rotor: &RotorSpot) -> impl IntoView + use<> {
    view! {
        <line class="rotor-arm" x1="0" y1="0" x2=format!("{:.1}", rotor.right_m * 100.0)
            y2=format!("{:.1}", -rotor.forward_m * 100.0) />
    }
}

fn gravity_mark((forward, right): (f64, f64), reach: f64) -> impl IntoView {
    let (x, y, r) = (right * 100.0, -forward * 100.0, reach * 0.045);
    view! {
        <g class="rotor-gravity" transform=format!("translate({x:.1} {y:.1})")>
            <title>"Centre of gravity"</title>
            <circle r=format!("{r:.1}") />
            <path d=format!("M0 0V{:.1}A{r:.1} {r:.1} 0 0 1 {r:.1} 0zM0 0V{r:.1}A{r:.1} {r:.1} 0 0 1 {:.1} 0z", -r, -r) />
        </g>
    }
}

/// A rotor: disc, or half a disc for one of a pair (the upper one is the left half).
#[component]
fn Spot(rotor: RotorSpot, index: usize, radius: f64, stopped: bool, select: Callback<()>) -> impl IntoView {
    let place = format!("translate({:.1} {:.1})", rotor.right_m * 100.0, -rotor.forward_m * 100.0);
    let level = if rotor.load > 1.0 {
        "no"
    } else if rotor.load > 0.7 {
        "watch"
    } else {
        "fine"
    };
    let side = match rotor.upper {
        None => ("", 0.0),
        Some(true) => (", upper", -radius * 0.5),
        Some(false) => (", lower", radius * 0.5),
    };
    let state = if stopped { "stopped".to_owned() } else { format!("load {}", rotor.load_words) };
    let spin = if rotor.clockwise { "clockwise" } else { "counter-clockwise" };
    let name = format!("Rotor {}{}, {spin}, {state}", index + 1, side.0);
    let keyed = move |event: ev::KeyboardEvent| {
        if matches!(event.key().as_str(), "Enter" | " ") {
            event.prevent_default();
            select.run(());
        }
    };
    let size = radius * if rotor.upper.is_none() { 0.34 } else { 0.26 };
    let words = if stopped { "out".to_owned() } else { rotor.load_words.clone() };
    view! {
        <g class="rotor" transform=place data-load=level data-stopped=stopped.to_string() tabindex="0" role="button"
            aria-pressed=stopped.to_string() aria-label=name on:click=move |_| select.run(()) on:keydown=keyed>
            <path class="rotor-disc" d=disc(radius, rotor.upper) />
            <path class="rotor-fill" d=disc(radius * rotor.load.clamp(0.0, 1.0).sqrt(), rotor.upper) />
            <path class="rotor-spin" d=spin_arrow(radius * 0.86, rotor.clockwise, rotor.upper) />
            <text class="rotor-words" x=format!("{:.1}", side.1 * 0.84) y=format!("{:.1}", size * 0.36) text-anchor="middle"
                font-size=format!("{size:.1}")>{words}</text>
        </g>
    }
}

/// A full circle, or its left (upper rotor) or right half.
fn disc(radius: f64, upper: Option<bool>) -> String {
    let r = format!("{radius:.1}");
    match upper {
        None => format!("M0 -{r}A{r} {r} 0 1 1 0 {r}A{r} {r} 0 1 1 0 -{r}z"),
        Some(true) => format!("M-1 -{r}A{r} {r} 0 0 0 -1 {r}z"),
        Some(false) => format!("M1 -{r}A{r} {r} 0 0 1 1 {r}z"),
    }
}

/// A short arc with a head, on the outer side.
fn spin_arrow(radius: f64, clockwise: bool, upper: Option<bool>) -> String {
    let middle: f64 = match upper {
        Some(true) => 205.0,
        Some(false) => -25.0,
        None => -90.0,
    };
    let half = if upper.is_some() { 22.0 } else { 32.0 };
    let (from, to) = if clockwise { (middle - half, middle + half) } else { (middle + half, middle - half) };
    let at = |degrees: f64, r: f64| (r * degrees.to_radians().cos(), r * degrees.to_radians().sin());
    let ((x0, y0), (x1, y1)) = (at(from, radius), at(to, radius));
    let back = if clockwise { to - 13.0 } else { to + 13.0 };
    let ((xa, ya), (xb, yb)) = (at(back, radius * 1.1), at(back, radius * 0.9));
    let sweep = u8::from(clockwise);
    format!(
        "M{x0:.1} {y0:.1}A{radius:.1} {radius:.1} 0 0 {sweep} {x1:.1} {y1:.1}M{xa:.1} {ya:.1}L{x1:.1} {y1:.1}L{xb:.1} {yb:.1}"
    )
}
