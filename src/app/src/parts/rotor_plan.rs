//! The rotors seen from above, nose up: each one's load, its spin, the centre of gravity.
//!
//! Convention: forward is up, right is right. Metres in, drawing units 1 cm.

use leptos::ev;
use leptos::prelude::*;
use liftmargin_core::limits::State;

use super::svg::{Anchor, At, Svg};

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
    /// Throttle, 0 to 1.
    pub load: f64,
    /// How that stands.
    pub state: State,
    /// The load in words, "58 %".
    pub load_words: String,
}

/// What the plan shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The rotors.
    pub rotors: Vec<RotorSpot>,
    /// Rotor diameter, m.
    pub diameter_m: f64,
    /// Centre of gravity, forward and right, m.
    pub centre_of_gravity_m: (f64, f64),
    /// The rotor taken as stopped.
    pub stopped: Option<usize>,
    /// The plan in a sentence, for those who cannot see it.
    pub summary: String,
}

/// Name of the attribute that holds a rotor's place among the rotors.
pub const ROTOR: &str = "rotor";

/// The plan. A touch on a rotor reaches `on_touch`; the rotor is in the `data-rotor` of what was touched. A list to
/// choose from must stand beside it, for those who cannot touch.
#[component]
pub fn RotorPlan(
    /// What is shown.
    plan: Plan,
    /// Called when it is touched.
    on_touch: Box<dyn FnMut(ev::MouseEvent)>,
) -> impl IntoView {
    let reach = reach_cm(&plan);
    view! {
        <svg class="rotor-plan" viewBox=format!("{0:.0} {0:.0} {1:.0} {1:.0}", -reach, 2.0 * reach) role="img"
            aria-label=plan.summary.clone() inner_html=drawing(&plan, reach) on:click=on_touch />
    }
}

fn reach_cm(plan: &Plan) -> f64 {
    let far = plan.rotors.iter().map(|rotor| rotor.forward_m.abs().max(rotor.right_m.abs()));
    (far.fold(0.1, f64::max) + plan.diameter_m * 0.5) * 100.0 * 1.06
}

fn drawing(plan: &Plan, reach: f64) -> String {
    let mut svg = Svg::default();
    let (width, height) = (reach * 0.05, reach * 0.09);
    svg.path("rotor-nose", &format!("M0 {:.1}l{width:.1} {height:.1}h{:.1}z", -reach * 0.99, -2.0 * width));
    let centre = (At::Unit(0.0), At::Unit(0.0));
    for rotor in &plan.rotors {
        svg.line("rotor-arm", centre, (At::Unit(rotor.right_m * 100.0), At::Unit(-rotor.forward_m * 100.0)));
    }
    for (index, rotor) in plan.rotors.iter().enumerate() {
        draw_rotor(&mut svg, rotor, index, plan.diameter_m * 50.0, plan.stopped == Some(index));
    }
    let (forward, right) = plan.centre_of_gravity_m;
    draw_gravity(&mut svg, (right * 100.0, -forward * 100.0), reach * 0.045);
    svg.into_text()
}

/// The mark of the centre of gravity: a circle with two opposite quarters filled.
fn draw_gravity(svg: &mut Svg, place: (f64, f64), radius: f64) {
    svg.group("rotor-gravity", place, &[]);
    svg.title("Centre of gravity");
    svg.circle("rotor-gravity-ring", (0.0, 0.0), radius);
    let r = format!("{radius:.1}");
    svg.path(
        "rotor-gravity-quarters",
        &format!("M0 0V-{r}A{r} {r} 0 0 1 {r} 0zM0 0V{r}A{r} {r} 0 0 1 -{r} 0z"),
    );
    svg.end_group();
}

/// A rotor: disc, or half a disc for one of a pair (the upper one is the left half).
fn draw_rotor(svg: &mut Svg, rotor: &RotorSpot, index: usize, radius: f64, stopped: bool) {
    let number = index.to_string();
    let size = format!("{:.1}", radius * if rotor.upper.is_some() { 0.26 } else { 0.36 });
    let attributes = [
        ("font-size", size.as_str()),
        ("data-rotor", number.as_str()),
        ("data-load", rotor.state.key()),
        ("data-stopped", if stopped { "true" } else { "false" }),
    ];
    svg.group("rotor", (rotor.right_m * 100.0, -rotor.forward_m * 100.0), &attributes);
    svg.path("rotor-disc", &disc(radius, rotor.upper));
    svg.path("rotor-fill", &disc(radius * rotor.load.clamp(0.0, 1.0).sqrt(), rotor.upper));
    svg.path("rotor-spin", &spin_arrow(radius * 0.86, rotor.clockwise, rotor.upper));
    let (side, class) = match rotor.upper {
        None => (0.0, "rotor-words"),
        Some(true) => (-radius * 0.44, "rotor-words rotor-words-half"),
        Some(false) => (radius * 0.44, "rotor-words rotor-words-half"),
    };
    let words = if stopped { "out" } else { &rotor.load_words };
    svg.text(class, (At::Unit(side), At::Unit(0.0)), Anchor::Middle, words);
    svg.end_group();
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
