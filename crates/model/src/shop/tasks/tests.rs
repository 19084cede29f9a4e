//! From a box to its calendar.

use super::super::finish::{Finishing, finish_plan, six_faces};
use super::super::glue::{Gluing, glue_ups};
use super::super::scene::{keyed_box, part};
use super::super::schedule::{Day, backward, forward};
use super::super::time::{ByArea, tally, tally_glue, timing};
use super::*;
use crate::design::{Coat, FinishKind};
use crate::parts::Hardware;
use crate::space::Vec3;

fn finish(inside_first: bool) -> Finish {
    Finish {
        outside: Coat { kind: FinishKind::OilAndWax, coats: 2 },
        inside: Coat { kind: FinishKind::Shellac, coats: 2 },
        inside_first,
    }
}

fn of(parts: &BoxParts, finish: &Finish, boxes: u32) -> Vec<Task> {
    let settings = Settings::usual();
    let glue_ups = glue_ups(&Gluing { parts, finish, settings: &settings.gluing, gravity: &|_| None }).value;
    let coats = finish_plan(&Finishing {
        finish,
        outside: six_faces(parts.outside),
        inside: six_faces(parts.inside),
        floating: &[],
        shellac_cut: 1.5,
    })
    .value;
    let mut work = tally(parts);
    tally_glue(&mut work, &glue_ups);
    let sand = |phase, minutes| ByArea { title: "sand".into(), phase, each: Minutes::minutes(minutes) };
    let by_area = [sand(Phase::SandBefore, 20.0), sand(Phase::SandAfter, 30.0)];
    let timing = timing(&work, &by_area, boxes, &settings);
    tasks(&Job { parts, glue_ups: &glue_ups, finish, coats: &coats, timing: &timing, settings: &settings })
}

fn at(tasks: &[Task], key: &str) -> usize {
    tasks.iter().position(|t| t.key == key).unwrap_or_else(|| panic!("no task {key}"))
}

/// Whether `later` waits for `earlier`, by way of any tasks.
fn follows(tasks: &[Task], later: usize, earlier: usize) -> bool {
    tasks[later].after.iter().any(|&a| a == earlier || follows(tasks, a, earlier))
}

#[test]
fn the_order_of_a_keyed_box() {
    let keyed = of(&keyed_box(2), &finish(true), 1);
    let order = [
        "rest",
        "stock",
        "sand.inside",
        "finish.inside.2",
        "glue.1.1",
        "keys.1",
        "sand.outside",
        "finish.outside.3",
    ];
    for pair in order.windows(2) {
        assert!(follows(&keyed, at(&keyed, pair[1]), at(&keyed, pair[0])), "{pair:?}");
    }
    let glue = &keyed[at(&keyed, "glue.1.1")];
    assert_eq!(glue.continuity, Continuity::InOneGo);
    assert!((glue.wait.to_hours() - 24.0).abs() < 1e-9, "machines wait for the cure");
    let later = of(&keyed_box(0), &finish(false), 1);
    assert!(follows(&later, at(&later, "finish.inside.1"), at(&later, "glue.1.1")));
    assert!(later.iter().all(|t| !t.key.starts_with("keys")));
}

/// The words name what the box has: no keys, lid or tray of another one.
#[test]
fn tasks_name_what_the_box_has() {
    let title = |tasks: &[Task], key: &str| tasks[at(tasks, key)].title.clone();
    let mut hinged = keyed_box(0);
    hinged.hardware.push(Hardware { name: "butt hinge, leaf 25 × 10 mm".into(), count: 2 });
    let bare = of(&hinged, &finish(true), 1);
    assert!(bare.iter().all(|t| t.key != "trim"));
    assert_eq!(title(&bare, "fit"), "fit hinges");
    assert_eq!(title(&bare, "last"), "photograph, pack");
    let tray = part("tray bottom", Role::TrayBottom, [100.0, 80.0, 3.0], Vec3::X);
    hinged.parts.push(tray);
    hinged.hardware.push(Hardware { name: "cloth on card, 400 cm² net".into(), count: 1 });
    let lined = of(&hinged, &finish(true), 1);
    assert_eq!(title(&lined, "fit"), "fit hinges, tray");
    assert_eq!(title(&lined, "last"), "line, photograph, pack");
}

/// Two coats of oil and one of wax are not three of one product.
#[test]
fn coats_are_counted_by_product() {
    let tasks = of(&keyed_box(0), &finish(true), 1);
    let outside: Vec<&str> =
        tasks.iter().filter(|t| t.key.starts_with("finish.outside")).map(|t| t.title.as_str()).collect();
    assert_eq!(outside.len(), 3);
    assert!(outside[0].ends_with("coat 1 of 2") && outside[1].ends_with("coat 2 of 2"), "{outside:?}");
    assert!(outside[2].ends_with("one coat"), "{outside:?}");
}

/// The dates of the whole job hold together in both directions; a batch takes no fewer days.
#[test]
fn on_the_calendar() {
    let week = Settings::usual().week;
    let start = Day::parse("2026-03-02").unwrap();
    let one = forward(&of(&keyed_box(2), &finish(true), 1), &week, start).unwrap().value;
    let ten = forward(&of(&keyed_box(2), &finish(true), 10), &week, start).unwrap().value;
    assert!(ten.last >= one.last);
    // Rest 14, milled wood 1, glue 1, keys 1, oil 1 day twice, cure 14: 32 days at the least.
    assert!(one.last.to_days() - start.to_days() >= 32, "{}", one.last);
    let back = backward(&of(&keyed_box(2), &finish(true), 1), &week, one.last, Some(start)).unwrap();
    assert!(back.value.first >= start && back.cautions.is_empty());
}
