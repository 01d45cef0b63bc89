//! The verdict is the worst of all that is shown: over the demo and 500 setups and sites made by chance it is never better than
//! any check, figure or sentence beside it, and a meter has one figure on one basis.

use crate::share::generated;
use liftmargin_core::air::Site;
use liftmargin_core::card::{Prepared, Setup};
use liftmargin_core::limits::{State, Thresholds};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::present::{
    Headline, Reading, Standing, Units, answer, by_meter, flight_of, turn_back_lines,
};
use liftmargin_document::words::{self, checks, contingency, way_out};
use liftmargin_document::{open_strict, resolve};

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");
const SAMPLES: usize = 16;
const GENERATED: u64 = 500;
/// Sentences with any of these say that it does not fly, or not come home: nothing but No may stand above them.
const SAYS_NO: [&str; 4] = ["not assured", "no flight", "Do not take off", "cannot hover"];

/// All that stands on a card with one verdict: sentences, and the worst state that a figure means.
struct Shown {
    verdict: State,
    sentences: Vec<String>,
    meant: Vec<(String, State)>,
}

/// What a card, its checks, its figures and what stands below it say; none where the file is refused.
fn shown(setup: &Setup, site: &Site) -> Option<Shown> {
    let (thresholds, units) = (Thresholds::default(), Units::default());
    let prepared = Prepared::new(setup, site, &thresholds).ok()?;
    let card = prepared.card().ok()?;
    let sampler = prepared.sampler(&Uncertainty::for_airframe(&setup.airframe), 1).ok()?;
    let cautious = sampler.and_then(|sampler| sampler.cautious(SAMPLES));
    let judged = card.judged(cautious.as_ref(), &thresholds);
    let verdict = judged.verdict.state;
    let mut meant: Vec<(String, State)> =
        judged.checks.iter().map(|check| (format!("{:?}", check.kind), check.state)).collect();
    let mut sentences = vec![checks::verdict(&judged.verdict)];
    for check in judged.checks.iter().filter(|check| check.state == State::No) {
        let (value, limit) = (checks::value(check, units), checks::limit(check, units));
        let bare = limit.trim_start_matches("at most ").trim_start_matches("at least ");
        assert!(value != bare, "{:?} fails with two equal figures: {value}, {limit}", check.kind);
    }
    sentences.extend(words::outcome(&card.outcome, &setup.policy, units));
    let state_of = |kind| judged.checks.iter().find(|check| check.kind == kind).map(|check| check.state);
    let lists = prepared.contingencies().ok()?;
    let speeds = lists.as_ref().and_then(|there| there.speeds);
    let notes = way_out::notes(&card, state_of, setup.profile.transit_airspeed, speeds.as_ref(), units);
    for (kind, note) in notes {
        // What falls when a rotor stops is never fine.
        if note.starts_with("Falls") {
            meant.push((note.clone(), State::Watch));
            assert!(state_of(kind) >= Some(State::Watch), "{kind:?} is fine and says: {note}");
        }
        sentences.push(note);
    }
    let headline = Headline::new(&card, cautious.as_ref(), None, true);
    let standing = Standing::new(&card, &judged, headline);
    for (name, is_none) in [
        ("land by", matches!(standing.land_by, Reading::NotAssured | Reading::NoFlight)),
        ("flight time", matches!(standing.flight_time, Reading::NotAssured | Reading::NoFlight)),
    ] {
        meant.push((name.to_owned(), if is_none { State::No } else { State::Fine }));
    }
    sentences.extend([standing.land_by_words(units), standing.flight_time_words()]);
    if let Some((flight, headline)) = flight_of(&card).zip(headline) {
        meant.extend(one_figure_a_meter(flight, headline, lists.as_ref().map(|there| &there.turn_back)));
        sentences.extend(headline.why_not_known().map(str::to_owned));
        for lost in lists.iter().flat_map(|there| &there.strings_lost) {
            sentences.push(contingency::lost_string(lost, units));
        }
    }
    Some(Shown { verdict, sentences, meant })
}

/// By each meter the cautious figure is at most the typical one, by that on board the very one at the top; a mark that is
/// none means No.
fn one_figure_a_meter(
    flight: &liftmargin_core::flight::Flight,
    headline: Headline,
    table: Option<&liftmargin_core::card::TurnBackTable>,
) -> Vec<(String, State)> {
    let units = Units::default();
    let mah = |charge: ElectricCharge| answer::charge(charge, units).to_string();
    let (Some(land_by), Some(turn_back)) = (headline.land_by, headline.turn_back) else {
        return vec![("a figure that is not known".to_owned(), State::No)];
    };
    let mut meant = Vec::new();
    for line in by_meter(flight, headline).expect("known") {
        assert!(
            line.land_by.cautious <= line.land_by.typical
                && line.turn_back.cautious <= line.turn_back.typical
        );
        if line.is_on_board {
            assert_eq!(
                (mah(line.land_by.cautious), mah(line.turn_back.cautious)),
                (mah(land_by), mah(turn_back))
            );
        }
        let is_none = line.land_by.cautious.value <= 0.0 || line.turn_back.cautious.value <= 0.0;
        meant.push((format!("{line:?}"), if is_none { State::No } else { State::Fine }));
    }
    let rows = table.and_then(|table| turn_back_lines(table, flight, headline)).unwrap_or_default();
    for cell in rows.iter().flat_map(|row| row.turn_back.iter().flatten()) {
        assert!(cell.cautious <= land_by && cell.cautious <= cell.typical, "{cell:?} above {land_by:?}");
    }
    meant
}

#[track_caller]
fn check(name: &str, setup: &Setup, site: &Site) -> Option<State> {
    let shown = shown(setup, site)?;
    for (what, state) in &shown.meant {
        assert!(shown.verdict >= *state, "{name}: {:?} above {what}: {state:?}", shown.verdict);
    }
    for sentence in &shown.sentences {
        let says_no = SAYS_NO.iter().any(|words| sentence.contains(words));
        assert!(!says_no || shown.verdict == State::No, "{name}: {:?} above \"{sentence}\"", shown.verdict);
    }
    Some(shown.verdict)
}

#[test]
fn prop_the_demo_never_contradicts_itself() {
    let bundle = open_strict(DEMO).expect("opens");
    let judged = bundle.setups.iter().filter_map(|setup| {
        let (core, site) = resolve(&bundle, &setup.id).ok()?;
        check(&setup.name, &core, &site)
    });
    assert_eq!(judged.count(), bundle.setups.len());
}

/// As many windy sites as calm ones: what is not assured is mostly the way home.
#[test]
fn prop_no_setup_made_by_chance_contradicts_itself() {
    let mut counts = [0_usize; 3];
    for seed in 0..GENERATED {
        let mut bundle = generated::bundle(seed);
        if seed % 2 == 1 {
            for site in &mut bundle.sites {
                (site.wind_m_s, site.gust_m_s) =
                    (site.wind_m_s.mul_add(1.5, 3.0), site.gust_m_s.mul_add(1.5, 6.0));
            }
        }
        let Ok((setup, site)) = resolve(&bundle, "setup") else { continue };
        match check(&format!("seed {seed}"), &setup, &site) {
            Some(State::Fine) => counts[0] += 1,
            Some(State::Watch) => counts[1] += 1,
            Some(State::No) => counts[2] += 1,
            None => {}
        }
    }
    println!("fine, watch, no: {counts:?}");
    assert!(counts.iter().sum::<usize>() >= 250 && counts[1] > 0 && counts[2] > 0, "{counts:?}");
}
