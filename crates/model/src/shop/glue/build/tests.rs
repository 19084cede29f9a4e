//! Glue-ups of small boxes against hand calculations and the trade's check rows.

use super::super::super::scene::{joint, keyed_box, part, ring};
use super::super::super::settings::{Bearing, Settings};
use super::super::plan::StepKind;
use super::*;
use crate::design::Coat;
use crate::parts::{JointKind, Role};
use crate::space::Vec3;
use crate::units::{Force, Length};

const SHELLAC_INSIDE: Finish = Finish {
    outside: Coat { kind: FinishKind::Oil, coats: 2 },
    inside: Coat { kind: FinishKind::Shellac, coats: 2 },
    inside_first: true,
};

fn plan(parts: &BoxParts, settings: &GlueSettings) -> Checked<Vec<GlueUp>> {
    glue_ups(&Gluing { parts, finish: &SHELLAC_INSIDE, settings, gravity: &|_| Some(0.50) })
}

fn usual() -> GlueSettings {
    Settings::usual().gluing
}

/// Row AD-06: four miters of 12 × 75 mm, both faces, 0.10 mm film, 20 % waste: 10182.34 mm², 1.2219 mL; the first
/// coat on end grain doubles it (common practice: budget two coats on miters).
#[test]
fn glue_for_four_miters() {
    let walls = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    let mut settings = usual();
    settings.glue.sizes_miters = false;
    let one = &plan(&walls, &settings).value[0].stages[0];
    assert!((one.area.to_mm2() - 10_182.34).abs() < 0.01, "AD-06 area {}", one.area.to_mm2());
    assert!((one.volume.to_ml() - 1.2219).abs() < 1e-4, "AD-06 volume {}", one.volume.to_ml());
    settings.glue.sizes_miters = true;
    let sized = &plan(&walls, &settings).value[0];
    assert!((sized.volume().to_ml() - 2.4438).abs() < 2e-4);
    assert!(sized.stages[0].steps.iter().any(|s| s.kind == StepKind::Size));
}

/// Row BC-01 through the plan, and the diagonal of 200 × 120 by Pythagoras (233.2381 mm); half a millimeter
/// between the diagonals is 0.5 × 233.238 / (2 × 200 × 120) rad = 0.1392°.
#[test]
fn pressure_and_square() {
    let walls = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    let mut settings = usual();
    for (bearing, want) in [(Bearing::Bare, 0.39284), (Bearing::Shoes, 0.55556)] {
        settings.bearing = bearing;
        let got = plan(&walls, &settings);
        let stage = &got.value[0].stages[0];
        let c = stage.clamping.unwrap();
        assert!((c.pressure.value() - want).abs() < 1e-5, "BC-01 {bearing:?}");
        assert!((c.corner.resultant.value() - 707.107).abs() < 1e-3);
        assert!(c.wanted > c.pressure && got.cautions.iter().any(|c| c.code == "band-below-wanted"));
        let d = stage.diagonals.unwrap();
        assert!((d.target.to_mm() - 233.2381).abs() < 1e-4);
        assert!((d.degrees_at_limit.unwrap() - 0.1392).abs() < 1e-4);
        assert!(stage.reasons.iter().any(|r| r.key.ends_with(".pressure")));
    }
    settings.tension = Force::newtons(1000.0);
    assert!(plan(&walls, &settings).cautions.iter().all(|c| c.code != "band-below-wanted"));
}

/// Regular rings by hand: hexagon of side 100: across corners 200; triangle of side 100: height 86.6025; octagon
/// of side 50: across corners 50 / sin 22.5° = 130.6563.
#[test]
fn rings_of_many_sides() {
    for (sides, side, want, count) in [(6, 100.0, 200.0, 3), (3, 100.0, 86.6025, 3), (8, 50.0, 130.6563, 4)] {
        let walls = ring(&vec![side; sides], 60.0, 10.0);
        let d = plan(&walls, &usual()).value[0].stages[0].diagonals.unwrap();
        assert!((d.target.to_mm() - want).abs() < 1e-4, "{sides} sides: {}", d.target.to_mm());
        assert_eq!((d.count, d.degrees_at_limit), (count, None));
    }
}

/// Eight surfaces at a quarter minute and 1.5 to close: 3.5 of 5 minutes, one stage. At 0.6 minutes: 6.3, so two
/// stages of facing corners, 3.9 each.
#[test]
fn what_the_open_time_allows() {
    let walls = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    let mut settings = usual();
    let once = plan(&walls, &settings);
    assert_eq!(once.value[0].stages.len(), 1);
    assert!((once.value[0].stages[0].needs.value() - 3.5).abs() < 1e-12);
    settings.per_surface = Minutes::minutes(0.6);
    let twice = plan(&walls, &settings);
    let stages = &twice.value[0].stages;
    assert_eq!(stages.iter().map(|s| s.joints.clone()).collect::<Vec<_>>(), [[0, 2], [1, 3]]);
    assert!(stages.iter().all(|s| (s.needs.value() - 3.9).abs() < 1e-12 && s.surfaces == 4));
    assert!(twice.cautions.iter().any(|c| c.code == "open-time-split"));
    settings.per_surface = Minutes::minutes(2.0);
    assert!(plan(&walls, &settings).cautions.iter().any(|c| c.code == "open-time-too-short"));
}

#[test]
fn the_floating_bottom_stays_dry_and_keys_come_last() {
    let parts = keyed_box(2);
    let got = plan(&parts, &usual());
    let stages = &got.value[0].stages;
    let kinds: Vec<StageKind> = stages.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [StageKind::Ring, StageKind::Keys]);
    assert_eq!(stages[0].dry.iter().map(|p| p.0).collect::<Vec<_>>(), [4]);
    assert!(stages[0].steps.iter().any(|s| s.kind == StepKind::Insert && s.says.contains("no glue")));
    for s in stages {
        assert!(s.joints.iter().all(|&j| parts.joints[j].kind == JointKind::Glued));
    }
    // Eight keys, two faces each against two slot faces.
    assert_eq!(stages[1].surfaces, 32);
    // Long-grain glue area of a key is 2 d² (row KY): 8 keys of d = 8 mm, both faces of the joint.
    assert!((stages[1].area.to_mm2() - 8.0 * 2.0 * 64.0 * 2.0).abs() < 1e-9);
}

/// A panel glued between the members of a frame goes in while the frame closes; in a rabbet it follows.
#[test]
fn a_glued_panel_closes_with_its_frame() {
    let mut frame = ring(&[160.0, 100.0, 160.0, 100.0], 8.0, 20.0);
    for p in &mut frame.parts {
        p.role = Role::FrameMember;
    }
    frame.parts.push(part("panel", Role::FramePanel, [120.0, 60.0, 8.0], Vec3::X));
    for m in 0..4 {
        frame.joints.push(joint(4, m, JointKind::Glued, Seam::Flat, 500.0));
    }
    let got = plan(&frame, &usual());
    let stages = &got.value[0].stages;
    assert!(stages.iter().all(|s| s.kind == StageKind::Ring));
    assert_eq!(stages.iter().map(|s| s.joints.len()).sum::<usize>(), 8);
    let tongue = crate::parts::Cut {
        operation: crate::parts::Operation::Rabbet {
            arris: crate::parts::Arris::Long(crate::parts::Face::Back, crate::parts::Edge::Lower),
            width: Length::mm(6.0),
            depth: Length::mm(4.0),
            span: crate::parts::Span::Through,
            lean: Angle::ZERO,
        },
        machine: crate::parts::Machine::TableSaw,
    };
    for m in 0..4 {
        frame.parts[m].cuts.push(tongue.clone());
    }
    let kinds: Vec<StageKind> = plan(&frame, &usual()).value[0].stages.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [StageKind::Ring, StageKind::Added]);
}

#[test]
fn epoxy_warns_and_is_not_squeezed() {
    let walls = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    let mut settings = usual();
    settings.glue = super::super::adhesive::glue("epoxy_slow").unwrap().clone();
    let got = plan(&walls, &settings);
    assert!(got.cautions.iter().any(|c| c.code == "epoxy-skin"));
    assert!(got.cautions.iter().all(|c| c.code != "band-below-wanted"));
    assert!(got.value[0].stages[0].steps.iter().any(|s| s.says.contains("starved")));
}

/// Odd boxes do not break it: no assemblies, joints that point nowhere.
#[test]
fn survives_broken_parts() {
    let mut lost = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    lost.joints.push(joint(77, 99, JointKind::Glued, Seam::Miter, 10.0));
    lost.joints.push(joint(0, 99, JointKind::Glued, Seam::Tongue, 10.0));
    plan(&lost, &usual());
    lost.assemblies.clear();
    assert!(plan(&lost, &usual()).value.is_empty());
}

/// A leaf of 300 × 200 mm by hand: 600 cm² a face, two faces, a minute for 500 cm²: 2.4 minutes and 1.5 to close.
/// Two leaves at 4.8 + 1.5 no longer fit five minutes.
#[test]
fn large_faces_take_their_time() {
    let mut parts = ring(&[320.0, 220.0, 320.0, 220.0], 60.0, 10.0);
    for (name, role) in [("lid", Role::LidPanel), ("lid leaf 1", Role::Veneer), ("lid leaf 2", Role::Veneer)]
    {
        parts.assemblies[0].parts.push(crate::parts::PartId(parts.parts.len()));
        parts.parts.push(part(name, role, [300.0, 200.0, 6.0], Vec3::X));
    }
    parts.parts[5].layer_of = Some(crate::parts::PartId(4));
    parts.parts[6].layer_of = Some(crate::parts::PartId(4));
    parts.joints.push(joint(4, 5, JointKind::Glued, Seam::Flat, 60_000.0));
    let one = plan(&parts, &usual());
    let panel = |p: &Checked<Vec<GlueUp>>| -> Vec<(String, f64)> {
        let stages = p.value[0].stages.iter().filter(|s| s.kind == StageKind::Panel);
        stages.map(|s| (s.title.clone(), (s.needs.value() * 10.0).round() / 10.0)).collect()
    };
    assert_eq!(panel(&one), [("box: lid from strips or leaves".to_string(), 3.9)]);
    parts.joints.push(joint(4, 6, JointKind::Glued, Seam::Flat, 60_000.0));
    let two = plan(&parts, &usual());
    assert_eq!(panel(&two).len(), 2);
    let split = two.cautions.iter().find(|c| c.code == "open-time-split").unwrap();
    // Both leaves' edges in a wall's rabbet go in with the panel, as one lot, after the ring.
    for leaf in [4, 5] {
        parts.joints.push(joint(leaf, 0, JointKind::Glued, Seam::Flat, 500.0));
    }
    let set_in = plan(&parts, &usual());
    let added: Vec<(&str, usize)> = set_in.value[0]
        .stages
        .iter()
        .filter(|s| s.kind == StageKind::Added)
        .map(|s| (s.title.as_str(), s.joints.len()))
        .collect();
    assert_eq!(added, [("box: glue on the lid", 2)]);
    assert_eq!(panel(&set_in).len(), 2);
    assert!(split.says.contains("6.3 minutes") && split.says.contains("every other seam"), "{}", split.says);
}

/// Keys are glued one at a time, so nothing is spread within one open time; one joint is not "1 joints".
#[test]
fn steps_say_one_and_many() {
    let keyed = plan(&keyed_box(2), &usual()).value;
    let keys = keyed.iter().flat_map(|g| &g.stages).find(|s| s.kind == StageKind::Keys).unwrap();
    assert!(keys.steps.iter().all(|s| s.kind != StepKind::Spread), "{:?}", keys.steps);
    assert!(keys.steps.iter().any(|s| s.kind == StepKind::Close && s.says.contains("mL of")));
    let mut footed = ring(&[200.0, 120.0, 200.0, 120.0], 75.0, 12.0);
    footed.parts.push(part("foot", Role::Foot, [20.0, 20.0, 10.0], Vec3::X));
    footed.assemblies[0].parts.push(crate::parts::PartId(4));
    footed.joints.push(joint(4, 0, JointKind::Glued, Seam::Flat, 400.0));
    let added = plan(&footed, &usual()).value;
    let foot = added.iter().flat_map(|g| &g.stages).find(|s| s.kind == StageKind::Added).unwrap();
    assert!(foot.steps[0].says.starts_with("Try the joint dry"), "{}", foot.steps[0].says);
}
