//! The card of a machine set-up.

use super::card::{Card, Cell, Draft, Fact, Passes, Sketch, minds};
use keepwright_model::job::Plan;
use keepwright_model::saw::{Pass, Setup};
use keepwright_model::units::Length;
use keepwright_packet::drawings::{Room, setup_drawing};
use keepwright_packet::setup_words as words;
use keepwright_packet::shown::{Showing, and, capital, counted};
use keepwright_packet::svg;

/// The paper that a sketch is drawn for, millimeters: so little that on a tablet its letters of 3.4 and 4.2 mm are 27 and
/// 34 pixels high, to be read from a meter.
const ROOM: Room = Room::new(70.0, 46.0);
/// Pixels to the millimeter on a tablet; a narrower screen shows less.
const PIXELS: f64 = 8.0;

/// The card of the set-up with this index.
pub(crate) fn card(plan: &Plan, index: usize, setup: &Setup) -> Card {
    let show = &Showing::of(plan);
    let title = capital(setup.purpose.words());
    Draft {
        key: key(setup),
        set: set(setup),
        under: format!("{} · set-up {} of {}", words::with(show, setup), index + 1, plan.saw.setups.len()),
        pieces: setup.members.iter().map(|m| m.name.clone()).collect(),
        settings: words::settings(show, setup),
        sketch: sketch(show, index, setup),
        facts: facts(show, setup),
        passes: passes(show, setup),
        timers: Vec::new(),
        ticks: words::ticks(&plan.parts, setup),
        cautions: minds(show, setup.cautions.iter()),
        title,
    }
    .card()
}

/// What the set-up is for: the kind of cut, and the pieces by name and place.
fn key(setup: &Setup) -> Vec<String> {
    let mut key = vec![setup.purpose.words().to_owned()];
    key.extend(setup.members.iter().map(|m| format!("{} / {}", m.name, m.at)));
    key
}

/// All that is set, as text: what a tick was made for. Lengths to a hundredth of a millimeter, so that a rounding in the
/// last place makes no other plan.
fn set(setup: &Setup) -> Vec<String> {
    let mm = |l: Length| format!("{:.2}", l.to_mm() + 0.0);
    let pass = |p: &Pass| format!("{} {}", mm(p.distance), mm(p.height));
    let all = |passes: &[Pass]| passes.iter().map(pass).collect::<Vec<_>>().join(" / ");
    let mut set = vec![
        format!("{:?} {:?} {:?}", setup.machine, setup.purpose, setup.cutter),
        format!(
            "{:.3} {:?} {:.3}",
            setup.tilt.to_degrees() + 0.0,
            setup.lean,
            setup.gauge.to_degrees() + 0.0
        ),
        format!("{:?} {:?} {:?}", setup.guide, setup.side, setup.offcut),
        all(&setup.passes),
        setup.more_stops.iter().map(|l| mm(*l)).collect::<Vec<_>>().join(" "),
    ];
    set.extend(setup.members.iter().map(|m| {
        let stopped = m.stopped.map(|(a, b)| format!("{} {}", mm(a), mm(b)));
        format!(
            "{} / {} × {}: {} {:?} {} {} {} {stopped:?}",
            m.name,
            m.at,
            m.count,
            m.size.map(mm).join(" "),
            m.placement,
            mm(m.excess),
            m.turned,
            all(&m.own_passes)
        )
    }));
    set
}

fn sketch(show: &Showing, index: usize, setup: &Setup) -> Option<Sketch> {
    let drawing = setup_drawing(setup, show.shown, ROOM)?;
    let says = format!("Sketch of the set-up: {}, {}", setup.purpose.words(), words::machine(setup.machine));
    Some(Sketch { svg: svg::inline(&drawing, PIXELS, &says, &format!("set-up-{}-", index + 1)) })
}

fn facts(show: &Showing, setup: &Setup) -> Vec<Fact> {
    let mut facts = Vec::new();
    if setup.test_piece {
        facts.push(Fact::new("First", "a test piece of the same thickness; measure it before the parts"));
    }
    let lies = words::lies(setup);
    if !lies.is_empty() {
        facts.push(Fact::new("Work lies", lies));
    }
    let held = words::held_by(setup);
    if !held.is_empty() {
        facts.push(Fact::new("Held by", held));
    }
    facts.extend(words::offcut(setup).map(|(what, goes)| Fact::new(what, goes)));
    if let Some(flip) = setup.flip {
        facts.push(Fact::new("Turning", flip.says));
    }
    for list in words::pass_lists(setup) {
        if let ([_, ..], [one]) = (list.of.as_slice(), list.passes.as_slice()) {
            facts.push(Fact::new(
                &capital(&and(&list.of)),
                format!("guide to blade {}", show.both(one.distance)),
            ));
        }
    }
    let stopped = words::stopped(show, setup);
    if !stopped.is_empty() {
        facts.push(Fact::new("Stopped, between marks", stopped.join("; ")));
    }
    facts
}

fn passes(show: &Showing, setup: &Setup) -> Vec<Passes> {
    let guide = capital(&words::guide(setup).0);
    let height = capital(words::height_name(setup));
    let list = |list: words::PassList| {
        let first = list.passes.first().map_or(Length::ZERO, |p| p.height);
        let level = list.passes.iter().all(|p| p.height.same(first));
        let cell = |l: Length| Cell { value: show.bare(l), other: show.bare_other(l) };
        let rows = list.passes.iter().map(|p| {
            let mut row = vec![cell(p.distance)];
            row.extend((!level).then(|| cell(p.height)));
            row
        });
        let mut heads = vec![format!("{guide}, {}", show.unit())];
        heads.extend((!level).then(|| format!("{height}, {}", show.unit())));
        let count = capital(&counted(list.passes.len(), "pass", "passes"));
        let lead = if list.of.is_empty() {
            count
        } else {
            format!("{}: {}", capital(&and(&list.of)), count.to_lowercase())
        };
        Passes { lead, heads, rows: rows.collect() }
    };
    // A single place of a piece is a fact among the others.
    words::pass_lists(setup).into_iter().filter(|l| l.passes.len() > 1).map(list).collect()
}
