//! The example boxes: read, derived, carved; no two parts overlap, and cuts lose no wood unaccounted.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads the project's own files and stops at the first surprise"
)]

use keepwright_model::caution::Weight;
use keepwright_model::design::{Defaults, Size, Statement, read_statement};
use keepwright_model::job::{HomeSwing, Shop};
use keepwright_model::parts::{BoxParts, DeriveError, Derived, JointKind, Seam, derive};
use keepwright_model::solids::{Solid, carve, finished, intersection_volume};
use keepwright_model::space::{Pose, Vec3};
use keepwright_model::units::Length;
use keepwright_model::wood;
use std::fs;
use std::path::Path;

fn examples() -> Vec<(String, Statement)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut names: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .filter(|p| !matches!(p.file_stem().unwrap().to_str().unwrap(), "rack" | "shop"))
        .collect();
    names.sort();
    names
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let name = path.file_name().unwrap().to_str().unwrap().to_string();
            let statement = read_statement(&text, &Defaults::default(), &wood::named)
                .unwrap_or_else(|p| panic!("{name}: {p:#?}"));
            (name, statement)
        })
        .collect()
}

/// The parts of a box, for the small shop.
fn parts_of(s: &Statement) -> Result<Derived, Vec<DeriveError>> {
    let shop = Shop::small_shop();
    let year = shop.home.year().unwrap();
    derive(s, &shop.part_settings(&HomeSwing::of(&year, shop.moisture)))
}

fn derived(name: &str, s: &Statement) -> Derived {
    parts_of(s).unwrap_or_else(|e| panic!("{name}: {e:#?}"))
}

/// Pairs of parts that share more wood than the tolerance, with the shared volume in mm³.
fn overlaps(parts: &BoxParts, solids: &[Solid]) -> Vec<String> {
    let mut found = Vec::new();
    for i in 0..solids.len() {
        for j in i + 1..solids.len() {
            let shared = intersection_volume(&solids[i], &solids[j]).to_mm3();
            if shared > 1e-3 {
                found.push(format!("{} × {}: {shared:.3} mm³", parts.parts[i].name, parts.parts[j].name));
            }
        }
    }
    found
}

#[test]
fn no_two_parts_overlap() {
    let mut all = Vec::new();
    for (name, statement) in examples() {
        let derived = derived(&name, &statement);
        let solids = finished(&derived.parts);
        for (part, solid) in derived.parts.parts.iter().zip(&solids) {
            if solid.volume().to_mm3() <= 0.0 {
                all.push(format!("{name}: {} has no wood", part.name));
            }
        }
        all.extend(overlaps(&derived.parts, &solids).into_iter().map(|o| format!("{name}: {o}")));
    }
    assert!(all.is_empty(), "parts overlap:\n{}", all.join("\n"));
}

#[test]
fn every_finished_part_is_a_closed_surface_of_its_volume() {
    for (name, statement) in examples() {
        let derived = derived(&name, &statement);
        for (part, solid) in derived.parts.parts.iter().zip(finished(&derived.parts)) {
            let mesh = solid.mesh();
            assert!(mesh.check().is_ok(), "{name}: {}: {:?}", part.name, mesh.problems());
            let (a, b) = (mesh.volume().to_mm3(), solid.volume().to_mm3());
            assert!((a - b).abs() < 1e-6 * b.max(1.0), "{name}: {}: {a} {b}", part.name);
            let block: f64 = part.size.iter().map(|l| l.to_mm()).product();
            assert!(carve(part).volume().to_mm3() <= block + 1e-6, "{name}: {}", part.name);
        }
    }
}

/// Statements that take each chapter from one of the examples: most combinations nobody has drawn.
fn mixed(examples: &[(String, Statement)], pick: &[usize], scale: f64, wall: f64) -> Statement {
    let from = |k: usize| &examples[pick[k] % examples.len()].1;
    let mut s = from(0).clone();
    s.shape = from(1).shape;
    s.corners = from(2).corners.clone();
    s.bottom = from(3).bottom.clone();
    s.lid = from(4).lid.clone();
    s.hinges = from(4).hinges;
    s.inside = from(5).inside.clone();
    s.base = from(6).base.clone();
    s.edges = from(7).edges;
    s.pull.clone_from(&from(8).pull);
    s.walls.thickness = Length::mm(wall);
    s.walls.cut = from(1).walls.cut;
    s.count = 1;
    let grow = |l: &mut Length| *l = *l * scale;
    match &mut s.size {
        Size::Outside { length, depth, height } | Size::Inside { length, depth, height } => {
            [length, depth, height].into_iter().for_each(grow);
        }
        Size::Contents(c) => c.items.iter_mut().for_each(|i| grow(&mut i.height)),
    }
    s
}

/// A small repeatable generator (`SplitMix64`; Steele, Lea, Flood 2014), so that a failure names its case.
fn random(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// Law: whatever chapters are put together, the box is refused with reasons, or its parts are closed solids
/// that do not overlap.
#[test]
fn any_mix_of_chapters_is_refused_or_sound() {
    let examples = examples();
    let mut state = 20_261_125;
    let (mut sound, mut refused) = (0, 0);
    let mut all = Vec::new();
    for case in 0..400 {
        let pick: Vec<usize> = (0..9).map(|_| usize::try_from(random(&mut state) % 6).unwrap()).collect();
        let share = |r: u64| (r % 1000) as f64 / 1000.0;
        let scale = 0.8 + 1.2 * share(random(&mut state));
        let wall = 6.0 + 12.0 * share(random(&mut state));
        let statement = mixed(&examples, &pick, scale, wall);
        let Ok(derived) = parts_of(&statement) else {
            refused += 1;
            continue;
        };
        sound += 1;
        let solids = finished(&derived.parts);
        let name = format!("case {case}: {pick:?} × {scale:.2}, wall {wall:.2}");
        // A key that breaks through to a panel is drawn as stated and cautioned as what cannot be made.
        let warned =
            derived.cautions.iter().any(|c| c.code == "key-through-hollow" && c.weight == Weight::Cannot);
        let found = overlaps(&derived.parts, &solids);
        all.extend(
            found.into_iter().filter(|o| !(warned && o.contains("key "))).map(|o| format!("{name}: {o}")),
        );
        for (part, solid) in derived.parts.parts.iter().zip(&solids) {
            if solid.volume().to_mm3() <= 0.0 {
                all.push(format!("{name}: {} has no wood", part.name));
            } else if let Err(e) = solid.mesh().check() {
                all.push(format!("{name}: {} is not closed: {e:?}", part.name));
            }
        }
    }
    assert!(
        all.is_empty(),
        "{} faults:\n{}",
        all.len(),
        all.iter().take(25).cloned().collect::<Vec<_>>().join("\n")
    );
    assert!(sound > 60 && refused > 20, "{sound} sound, {refused} refused");
}

/// Area over which two solids touch square to a direction: the wood that meets when one is pushed a hair toward
/// the other, over the hair.
fn touching(a: &Solid, b: &Solid, toward: Vec3) -> f64 {
    let hair = 0.01;
    let pushed = a.posed(&Pose { origin: toward * hair, ..Pose::IDENTITY });
    intersection_volume(&pushed, b).to_mm3() / hair
}

/// Every glued joint touches: no gap where a joint is meant to be tight. Judged on the solids alone; a rabbet's side
/// clearance and a finger's play are gaps by design, and such joints touch on their other faces.
#[test]
fn glued_joints_touch_over_their_area() {
    let mut loose = Vec::new();
    let mut judged = 0;
    for (name, statement) in examples() {
        let derived = derived(&name, &statement);
        let parts = &derived.parts;
        let solids = finished(parts);
        let mut directions = vec![Vec3::X, Vec3::Y, Vec3::Z];
        for k in 0..12 {
            let turn = f64::from(k) * core::f64::consts::PI / 12.0;
            directions.push(Vec3::new(turn.cos(), turn.sin(), 0.0));
        }
        for joint in parts.joints.iter().filter(|j| j.kind == JointKind::Glued && j.area.to_mm2() > 0.0) {
            let (a, b) = (&solids[joint.a.0], &solids[joint.b.0]);
            let best =
                directions.iter().flat_map(|d| [touching(a, b, *d), touching(a, b, -*d)]).fold(0.0, f64::max);
            judged += 1;
            let share = best / joint.area.to_mm2();
            // A miter loses to the slots and hollows cut through it; a panel in a rabbet touches on one of its two faces.
            let least = if joint.seam == Seam::Miter { 0.55 } else { 0.2 };
            if share < least || (joint.seam == Seam::Miter && share > 1.02) {
                let (x, y) = (&parts.parts[joint.a.0].name, &parts.parts[joint.b.0].name);
                loose.push(format!("{name}: {x} on {y} ({:?}): {share:.3} of its area", joint.seam));
            }
        }
    }
    assert!(loose.is_empty(), "joints that do not touch as stated:\n{}", loose.join("\n"));
    assert!(judged > 150, "{judged}");
}
