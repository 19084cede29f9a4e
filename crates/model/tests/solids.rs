//! Solids against closed forms worked out by hand, against conservation, and against an independent
//! mesh kernel.

use boolmesh::prelude::{Manifold, OpType, compute_boolean};
use keepwright_model::solids::{Mesh, Solid, block_face, intersection_volume, section};
use keepwright_model::space::{Convex, Plane, Pose, Vec3};
use keepwright_model::units::{Angle, Length};
use proptest::prelude::*;

const CUT: u32 = block_face::FIRST_CUT;

fn block(length: f64, width: f64, thickness: f64) -> Solid {
    Solid::block(Length::mm(length), Length::mm(width), Length::mm(thickness))
}

/// Cuts both ends at 45°, long side on the show face.
fn miter(wall: &mut Solid, length: f64, thickness: f64) {
    let start = Plane::through(Vec3::new(0.0, 0.0, thickness), Vec3::new(1.0, 0.0, 1.0));
    let end = Plane::through(Vec3::new(length, 0.0, thickness), Vec3::new(-1.0, 0.0, 1.0));
    // The wood lies on the side of the miter planes that the inward normals (1, 0, 1) and (−1, 0, 1) point to.
    wall.cut(&Convex::new(vec![start]), CUT);
    wall.cut(&Convex::new(vec![end]), CUT + 1);
}

/// The region of a key slot at one end: everything beyond the slot's bottom, between two heights.
fn slot(at_end: bool, length: f64, thickness: f64, face: f64, low: f64, wide: f64) -> Convex {
    // The bottom stands square to the corner's diagonal, `face` from the tip along the show face.
    let (u, lean) = if at_end { (length - face, 1.0) } else { (face, -1.0) };
    let bottom = Plane::through(Vec3::new(u, 0.0, thickness), Vec3::new(lean, 0.0, 1.0)).flipped();
    Convex::new(vec![
        bottom,
        Plane::through(Vec3::new(0.0, low, 0.0), -Vec3::Y),
        Plane::through(Vec3::new(0.0, low + wide, 0.0), Vec3::Y),
    ])
}

/// Checks a mesh against its solid: closed, outward, same volume.
fn sound(solid: &Solid) -> Mesh {
    let mesh = solid.mesh();
    let problems = mesh.problems();
    assert!(problems.is_empty(), "{problems:?}");
    let (v, w) = (solid.volume().to_mm3(), mesh.volume().to_mm3());
    assert!((v - w).abs() < 1e-6 + 1e-9 * v, "cells {v}, mesh {w}");
    let own = |i: usize| mesh.tags[i] != block_face::SEAM;
    assert!((0..mesh.tags.len()).all(own), "a seam on the outside");
    mesh
}

struct Case {
    name: &'static str,
    given: Solid,
    /// Cubic millimeters, worked out by hand beside each case.
    want: f64,
}

fn mitered(length: f64, width: f64, thickness: f64) -> Solid {
    let mut s = block(length, width, thickness);
    miter(&mut s, length, thickness);
    s
}

fn cases() -> Vec<Case> {
    let mut rabbeted = block(300.0, 80.0, 12.0);
    rabbeted.cut(&Convex::block(Vec3::new(-1.0, -1.0, -1.0), Vec3::new(301.0, 6.0, 6.0)), CUT);
    let mut grooved = mitered(250.0, 100.0, 12.0);
    grooved.cut(&Convex::block(Vec3::new(-1.0, 8.0, -1.0), Vec3::new(251.0, 14.0, 5.0)), CUT + 2);
    let mut probe = mitered(200.0, 90.0, 12.7);
    probe.cut(&Convex::block(Vec3::new(-1.0, -1.0, -1.0), Vec3::new(201.0, 6.35, 6.35)), CUT + 2);
    for (low, tag) in [(25.0, CUT + 3), (60.0, CUT + 4)] {
        probe.cut(&slot(false, 200.0, 12.7, 20.0, low, 3.175), tag);
        probe.cut(&slot(true, 200.0, 12.7, 20.0, low, 3.175), tag);
    }
    let mut fingers = block(60.0, 70.0, 10.0);
    for i in 0..3 {
        let low = 10.0 + 20.0 * f64::from(i);
        fingers.cut(&Convex::block(Vec3::new(-1.0, low, -1.0), Vec3::new(10.0, low + 10.0, 11.0)), CUT);
    }
    vec![
        // FM-07: 200 × 120 × 75.
        Case { name: "block", given: block(200.0, 120.0, 75.0), want: 1_800_000.0 },
        // Mean length 300 − 12 over both miters: 288 × 80 × 12.
        Case { name: "mitered wall", given: mitered(300.0, 80.0, 12.0), want: 288.0 * 80.0 * 12.0 },
        // 300 × (80 × 12 − 6 × 6).
        Case { name: "rabbet", given: rabbeted, want: 300.0 * (960.0 - 36.0) },
        // Mitered wall 238 × 100 × 12; the groove's mean depth below the show face is 12 − 2.5 = 9.5, where
        // the wall is 250 − 19 = 231 long: 231 × 6 × 5.
        Case { name: "groove in a mitered wall", given: grooved, want: 238.0 * 1200.0 - 231.0 * 30.0 },
        // Mitered side 187.3 × 90 × 12.7; rabbet at mean depth 12.7 − 3.175 = 9.525: (200 − 19.05) × 6.35²;
        // four slots, each the triangle of base 20 on the show face and height 10 to the miter, 3.175 wide.
        // The sum, 205 517.543 625, was also found by two other kernels before this one was written.
        Case { name: "mitered side with rabbet and slots", given: probe, want: 205_517.543_625 },
        // 60 × 70 × 10 less three sockets of 10 × 10 × 10.
        Case { name: "fingers", given: fingers, want: 42_000.0 - 3_000.0 },
    ]
}

#[test]
fn volumes_by_hand() {
    for case in cases() {
        let got = case.given.volume().to_mm3();
        assert!((got - case.want).abs() < 1e-7, "{}: {got} is not {}", case.name, case.want);
        let mesh = sound(&case.given);
        assert!((mesh.volume().to_mm3() - case.want).abs() < 1e-6, "{}: mesh", case.name);
    }
}

/// A blank of 8 corners and 12 triangles stays one; a rabbet over the full length makes a hexagonal prism:
/// 12 corners, 18 edges, 8 faces, and 2 × 12 − 4 = 20 triangles (Euler).
#[test]
fn meshes_have_no_needless_corners() {
    let all = cases();
    let shape = |name: &str| {
        let case = all.iter().find(|c| c.name == name).expect("named above");
        let (shell, mesh) = (case.given.shell(), case.given.mesh());
        let edges = shell.edges(Angle::ZERO).len();
        (shell.points.len(), edges, shell.faces.len(), mesh.triangles.len())
    };
    assert_eq!(shape("block"), (8, 12, 6, 12));
    assert_eq!(shape("mitered wall"), (8, 12, 6, 12));
    assert_eq!(shape("rabbet"), (12, 18, 8, 20));
    // Three sockets through the end: each takes 4 corners of the end face's two long edges and adds 4.
    assert_eq!(shape("fingers"), (8 + 24, 12 + 36, 6 + 12, 2 * 32 - 4));
}

#[test]
fn few_cells() {
    for case in cases() {
        let cells = case.given.cells().len();
        assert!(cells <= 14, "{}: {cells} cells", case.name);
    }
}

/// Centroid of a mitered wall: the trapezium of parallel sides a (show face) and b, thickness t, has its
/// centroid at t/3 · (a + 2b)/(a + b) from the side a (any handbook of plane figures).
#[test]
fn centroid_of_a_mitered_wall() {
    let wall = mitered(300.0, 80.0, 12.0);
    let c = wall.centroid().expect("wood");
    let depth = 12.0 / 3.0 * (300.0 + 2.0 * 276.0) / (300.0 + 276.0);
    assert!((c - Vec3::new(150.0, 40.0, 12.0 - depth)).norm() < 1e-9, "{c:?}");
}

#[test]
fn coplanar_tools_leave_no_slivers() {
    let mut wall = block(200.0, 90.0, 12.0);
    // All of these touch a face of the blank, to within the noise of trigonometry.
    let hair = 3e-8;
    for d in [-hair, 0.0, hair] {
        assert!(
            !wall.cut(&Convex::block(Vec3::new(200.0 + d, -5.0, -5.0), Vec3::new(300.0, 95.0, 20.0)), CUT)
        );
        assert!(!wall.cut(&Convex::beyond(Plane { n: Vec3::Z, d: 12.0 + d }), CUT));
    }
    assert_eq!(wall.cells().len(), 1);
    // A notch whose sides lie in the blank's faces leaves just the other side.
    wall.cut(&Convex::block(Vec3::new(hair, -hair, -hair), Vec3::new(50.0, 90.0 + hair, 12.0 - hair)), CUT);
    assert_eq!(wall.cells().len(), 1);
    assert!((wall.volume().to_mm3() - 150.0 * 90.0 * 12.0).abs() < 1e-3);
    sound(&wall);
}

#[test]
fn cutting_all_and_nothing() {
    let mut wall = block(200.0, 90.0, 12.0);
    assert!(!wall.cut(&Convex::block(Vec3::new(300.0, 0.0, 0.0), Vec3::new(400.0, 1.0, 1.0)), CUT));
    assert!(!wall.cut(&Convex::new(vec![Plane { n: Vec3::X, d: f64::NAN }]), CUT), "no plane, no cut");
    assert!(wall.cut(&Convex::default(), CUT), "no half-space means everywhere");
    assert!(wall.is_empty() && wall.bounds().is_none() && wall.centroid().is_none());
    assert!(wall.mesh().triangles.is_empty());
    assert!(block(0.0, 10.0, 10.0).is_empty() && block(f64::NAN, 1.0, 1.0).is_empty());
}

/// A hole through a panel (a square pull) makes a surface of one handle: V − E + F = 0.
#[test]
fn a_hole_is_an_inner_outline() {
    let mut panel = block(100.0, 60.0, 8.0);
    panel.cut(&Convex::block(Vec3::new(40.0, 20.0, -1.0), Vec3::new(60.0, 40.0, 9.0)), CUT);
    let shell = panel.shell();
    let show: Vec<_> = shell.faces_tagged(block_face::SHOW).collect();
    assert_eq!(show.len(), 1);
    assert_eq!(show[0].loops.len(), 2);
    assert!((shell.area(show[0]).to_mm2() - (6000.0 - 400.0)).abs() < 1e-9);
    assert_eq!(shell.faces_tagged(CUT).count(), 4);
    let mesh = sound(&panel);
    assert_eq!(mesh.points.len() + mesh.triangles.len(), 3 * mesh.triangles.len() / 2);
}

/// Two blocks that touch along one edge only: still two triangles to every edge.
#[test]
fn touching_along_a_line_stays_manifold() {
    let mut both = Solid::block_between(Vec3::ZERO, Vec3::new(10.0, 10.0, 10.0));
    both.join(&Solid::block_between(Vec3::new(10.0, 10.0, 0.0), Vec3::new(20.0, 20.0, 10.0)));
    let mesh = sound(&both);
    assert_eq!((mesh.points.len(), mesh.triangles.len()), (16, 24));
}

/// A seam that a later cut lays bare is tagged by that cut.
#[test]
fn seams_laid_bare_find_their_cut() {
    let mut s = block(100.0, 50.0, 20.0);
    s.cut(&Convex::block(Vec3::new(40.0, 20.0, -1.0), Vec3::new(60.0, 30.0, 21.0)), CUT);
    // The second cut runs out from the first along the same two planes, both ways.
    s.cut(&Convex::block(Vec3::new(-1.0, 20.0, 5.0), Vec3::new(40.0, 30.0, 15.0)), CUT + 1);
    s.cut(&Convex::block(Vec3::new(60.0, 20.0, 5.0), Vec3::new(101.0, 30.0, 15.0)), CUT + 2);
    s.cut(&Convex::block(Vec3::new(40.0, 30.0, 5.0), Vec3::new(60.0, 51.0, 15.0)), CUT + 3);
    let mesh = sound(&s);
    for tag in [CUT, CUT + 1, CUT + 2, CUT + 3] {
        assert!(mesh.tags.contains(&tag));
    }
}

#[test]
fn sections_show_the_cut_wood() {
    let wall = &cases()[3].given;
    // Square to the grain at mid length: 100 × 12 less the groove of 6 × 5.
    let cut = section(wall, &Plane::through(Vec3::new(125.0, 0.0, 0.0), Vec3::X));
    assert_eq!((cut.faces.len(), cut.faces[0].len(), cut.faces[0][0].len()), (1, 1, 8));
    assert!((cut.area().to_mm2() - (1200.0 - 30.0)).abs() < 1e-9);
    // Parallel to the show face, 2 mm off the back, through the groove: two strips.
    let cut = section(wall, &Plane::through(Vec3::new(0.0, 0.0, 2.0), Vec3::Z));
    assert_eq!(cut.faces.len(), 2);
    assert!((cut.area().to_mm2() - (250.0 - 20.0) * (100.0 - 6.0)).abs() < 1e-8);
    // In a face of the wood, and clear of it.
    let face = section(wall, &Plane::through(Vec3::new(0.0, 0.0, 12.0), Vec3::Z));
    assert!((face.area().to_mm2() - 25_000.0).abs() < 1e-8);
    assert!(section(wall, &Plane::through(Vec3::new(0.0, 0.0, 40.0), Vec3::Z)).faces.is_empty());
}

#[test]
fn touching_parts_share_nothing() {
    // Four mitered walls of a box 300 × 200 × 80 with walls of 12.
    let pose = |x, y, u: Vec3| Pose::new(Vec3::new(x, y, 0.0), u, Vec3::Z);
    let (long, short) = (mitered(300.0, 80.0, 12.0), mitered(200.0, 80.0, 12.0));
    // Show face outward: w = u × v points out of the box when the walls run counterclockwise seen from above.
    let walls = [
        long.posed(&pose(0.0, 12.0, Vec3::X)),
        short.posed(&pose(288.0, 0.0, Vec3::Y)),
        long.posed(&pose(300.0, 188.0, -Vec3::X)),
        short.posed(&pose(12.0, 200.0, -Vec3::Y)),
    ];
    let whole = Solid::block_between(Vec3::ZERO, Vec3::new(300.0, 200.0, 80.0));
    let mut sum = 0.0;
    for (i, a) in walls.iter().enumerate() {
        sum += a.volume().to_mm3();
        assert!((intersection_volume(a, &whole).to_mm3() - a.volume().to_mm3()).abs() < 1e-6);
        for b in walls.iter().skip(i + 1) {
            assert!(intersection_volume(a, b).to_mm3() == 0.0);
        }
    }
    // 300 × 200 outside, 276 × 176 inside, 80 high.
    assert!((sum - 80.0 * (60_000.0 - 276.0 * 176.0)).abs() < 1e-6, "{sum}");
}

/// Our mesh as the other kernel's solid.
fn oracle(mesh: &Mesh) -> Manifold {
    let places: Vec<f64> = mesh.points.iter().flat_map(|p| [p.x, p.y, p.z]).collect();
    let corners: Vec<usize> = mesh.triangles.iter().flatten().map(|&i| i as usize).collect();
    Manifold::new(&places, &corners).expect("a closed mesh")
}

/// Volume of the other kernel's solid, by our own sum over its triangles.
fn oracle_volume(solid: &Manifold) -> f64 {
    let tails: Vec<u32> = solid.hs.iter().map(|h| u32::try_from(h.tail).expect("small")).collect();
    let mesh = Mesh {
        points: solid.ps.iter().map(|p| Vec3::new(p.x, p.y, p.z)).collect(),
        triangles: tails.chunks_exact(3).map(|t| [t[0], t[1], t[2]]).collect(),
        tags: Vec::new(),
    };
    mesh.volume().to_mm3()
}

/// A block as a tool, somewhere about a blank of 200 × 90 × 15, turned any way.
#[derive(Clone, Copy, Debug)]
struct Tool {
    size: Vec3,
    pose: Pose,
}

impl Tool {
    fn region(&self) -> Convex {
        Convex::block(Vec3::ZERO, self.size).posed(&self.pose)
    }

    fn solid(&self) -> Solid {
        Solid::block_between(Vec3::ZERO, self.size).posed(&self.pose)
    }
}

fn a_tool() -> impl Strategy<Value = Tool> {
    let size = (2.0..80.0f64, 2.0..60.0f64, 2.0..40.0f64);
    let place = (-20.0..190.0f64, -20.0..85.0f64, -15.0..12.0f64);
    let turned = (-1.0..1.0f64, -1.0..1.0f64, -1.0..1.0f64, -1.0..1.0f64);
    (size, place, turned).prop_map(|(s, o, t)| {
        let u = Vec3::new(1.2 + t.0, t.1, t.2);
        let pose = Pose::new(Vec3::new(o.0, o.1, o.2), u, Vec3::new(t.3, 1.5, t.0));
        Tool { size: Vec3::new(s.0, s.1, s.2), pose }
    })
}

/// A tool on a grid of 5 mm, square to the blank: faces and edges meet exactly, again and again.
fn a_square_tool() -> impl Strategy<Value = Tool> {
    let size = (1..12u32, 1..8u32, 1..4u32);
    let place = (0..40u32, 0..18u32, 0..3u32);
    (size, place).prop_map(|(s, o)| {
        let grid = |a: u32, b: u32, c: u32| Vec3::new(f64::from(a), f64::from(b), f64::from(c)) * 5.0;
        let origin = grid(o.0, o.1, o.2) - Vec3::new(10.0, 5.0, 0.0);
        Tool { size: grid(s.0, s.1, s.2), pose: Pose { origin, ..Pose::IDENTITY } }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    /// Blank = what stays + what was taken, and the other kernel finds the same for both.
    #[test]
    fn cuts_agree_with_another_kernel(tools in prop::collection::vec(a_tool(), 1..5)) {
        let mut wall = block(200.0, 90.0, 15.0);
        let mut other = oracle(&wall.mesh());
        for (tool, tag) in tools.iter().zip(CUT..) {
            let before = wall.volume().to_mm3();
            let mut taken = wall.clone();
            taken.keep(&tool.region(), tag);
            let shared = intersection_volume(&wall, &tool.solid()).to_mm3();
            wall.cut(&tool.region(), tag);
            let after = wall.volume().to_mm3();
            prop_assert!((before - after - taken.volume().to_mm3()).abs() < 1e-4);
            prop_assert!((before - after - shared).abs() < 1e-4);
            let knife = oracle(&tool.solid().mesh());
            // The other kernel has no empty solid: it reports an error where the two do not meet.
            let both = compute_boolean(&other, &knife, OpType::Intersect).map_or(0.0, |m| oracle_volume(&m));
            prop_assert!((both - shared).abs() < 1e-4, "{both} {shared}");
            other = compute_boolean(&other, &knife, OpType::Subtract).expect("manifold in, manifold out");
            prop_assert!((oracle_volume(&other) - after).abs() < 1e-4, "{} {after}", oracle_volume(&other));
            sound(&wall);
        }
    }

    /// Volumes add up and the mesh stays closed when tools share faces and edges with the wood and with
    /// each other, also after a move that spoils every round number.
    #[test]
    fn square_cuts_stay_sound(tools in prop::collection::vec(a_square_tool(), 1..12)) {
        let pose = Pose::new(Vec3::new(13.7, -4.1, 88.3), Vec3::new(0.3, 0.5, -0.7), Vec3::new(0.2, 1.0, 0.9));
        let mut wall = block(200.0, 90.0, 15.0);
        let mut moved = wall.posed(&pose);
        // What stays, counted in cubes of 5 mm.
        let mut cubes = vec![true; 40 * 18 * 3];
        for (tool, tag) in tools.iter().zip(CUT..) {
            let region = tool.region();
            wall.cut(&region, tag);
            moved.cut(&region.posed(&pose), tag);
            for (i, cube) in cubes.iter_mut().enumerate() {
                let (x, y, z) = (i % 40, i / 40 % 18, i / 720);
                let middle = Vec3::new(x as f64 + 0.5, y as f64 + 0.5, z as f64 + 0.5) * 5.0;
                *cube &= !region.contains(middle, 0.0);
            }
        }
        let want = 125.0 * cubes.iter().filter(|c| **c).count() as f64;
        prop_assert!((wall.volume().to_mm3() - want).abs() < 1e-6);
        prop_assert!((moved.volume().to_mm3() - want).abs() < 1e-4);
        sound(&wall);
        sound(&moved);
    }

    /// The same with every tool a hair off the grid, from a thousandth of the limit of nearness to a
    /// thousand times it: the mesh stays closed.
    #[test]
    fn hairs_off_the_grid(
        tools in prop::collection::vec((a_square_tool(), -10.0..-4.0f64, -1.0..1.0f64, -1.0..1.0f64), 1..10),
    ) {
        let mut wall = block(200.0, 90.0, 15.0);
        for ((tool, power, shift, lean), tag) in tools.iter().zip(CUT..) {
            let hair = 10f64.powf(*power);
            let u = Vec3::new(1.0, lean * hair * 1e-2, -shift * hair * 1e-2);
            let shifted = Vec3::new(shift * hair, lean * hair, -shift * hair);
            let pose = Pose::new(tool.pose.origin + shifted, u, Vec3::Y);
            let before = wall.volume().to_mm3();
            let region = Convex::block(Vec3::ZERO, tool.size).posed(&pose);
            let mut taken = wall.clone();
            taken.keep(&region, tag);
            wall.cut(&region, tag);
            // What lies within the limit of nearness of a face may go either way: 1e-6 mm on every face.
            let after = wall.volume().to_mm3() + taken.volume().to_mm3();
            prop_assert!((before - after).abs() < 0.5, "{before} {after}");
        }
        let problems = wall.mesh().problems();
        prop_assert!(problems.is_empty(), "{problems:?}");
    }
}
