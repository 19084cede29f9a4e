//! Line drawings against drawings worked out by hand, and against rays shot through the cells.

use keepwright_model::solids::{
    Line2, LineKind, Solid, Tint, View, block_face, project, project_shells, visible_faces,
};
use keepwright_model::space::{Convex, Plane, Pose, Vec3};
use keepwright_model::units::Angle;
use proptest::prelude::*;

const CUT: u32 = block_face::FIRST_CUT;

fn cube(size: f64) -> Solid {
    Solid::block_between(Vec3::ZERO, Vec3::new(size, size, size))
}

fn between(a: (f64, f64, f64), b: (f64, f64, f64)) -> Solid {
    Solid::block_between(Vec3::new(a.0, a.1, a.2), Vec3::new(b.0, b.1, b.2))
}

fn count(lines: &[Line2], kind: LineKind) -> usize {
    lines.iter().filter(|l| l.kind == kind).count()
}

fn total(lines: &[Line2], item: u32, kind: LineKind) -> f64 {
    lines.iter().filter(|l| (l.item, l.kind) == (item, kind)).map(Line2::length).sum()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// From a general direction a cube shows nine edges, six of them its outline, and hides three. An edge along
/// e is shortened to √(1 − (e·d)²) of its length, d the unit direction of looking.
#[test]
fn a_cube_from_anywhere() {
    let view = View::turned(Angle::degrees(30.0), Angle::degrees(25.0));
    let lines = project(&[(&cube(40.0), 7)], &view);
    assert_eq!(count(&lines, LineKind::Silhouette), 6);
    assert_eq!(count(&lines, LineKind::Visible), 3);
    assert_eq!(count(&lines, LineKind::Hidden), 3);
    assert!(lines.iter().all(|l| l.item == 7));
    // Three edges of each direction are visible, one is hidden: the sum over all four by hand.
    let d = Vec3::new(
        -0.5 * 25f64.to_radians().cos(),
        0.75f64.sqrt() * 25f64.to_radians().cos(),
        -25f64.to_radians().sin(),
    );
    let want: f64 = [d.x, d.y, d.z].iter().map(|c| 4.0 * 40.0 * (1.0 - c * c).sqrt()).sum();
    assert!(near(lines.iter().map(Line2::length).sum(), want));
    let hidden: f64 = lines.iter().filter(|l| l.kind == LineKind::Hidden).map(Line2::length).sum();
    assert!(near(hidden, want / 4.0));
}

/// In the isometric view all edges are shortened by √(2/3); the nearest and the farthest corner fall on one
/// point, from which three visible and three hidden edges run out by turns.
#[test]
fn an_isometric_cube() {
    let lines = project(&[(&cube(40.0), 0)], &View::ISOMETRIC);
    assert_eq!((lines.len(), count(&lines, LineKind::Hidden)), (12, 3));
    assert!(lines.iter().all(|l| near(l.length(), 40.0 * (2.0f64 / 3.0).sqrt())));
}

#[test]
fn a_block_square_on() {
    let block = between((0.0, 0.0, 0.0), (300.0, 200.0, 80.0));
    for (view, width, height) in [
        (View::FRONT, 300.0, 80.0),
        (View::BACK, 300.0, 80.0),
        (View::LEFT, 200.0, 80.0),
        (View::RIGHT, 200.0, 80.0),
        (View::TOP, 300.0, 200.0),
        (View::BELOW, 300.0, 200.0),
    ] {
        let lines = project(&[(&block, 0)], &view);
        assert_eq!((lines.len(), count(&lines, LineKind::Silhouette)), (4, 4), "{view:?}");
        let sum: f64 = lines.iter().map(Line2::length).sum();
        assert!(near(sum, 2.0 * (width + height)), "{view:?}");
    }
    // The front view has the box's own x and z.
    assert_eq!(View::FRONT.place(Vec3::new(3.0, 9.0, 5.0)), (3.0, 5.0));
    assert_eq!(View::TOP.place(Vec3::new(3.0, 9.0, 5.0)), (3.0, 9.0));
    assert_eq!(View::RIGHT.place(Vec3::new(3.0, 9.0, 5.0)), (9.0, 5.0));
}

/// A, 40 × 30 on paper, stands before B, whose left and bottom edge run behind A for 20 and 30 mm.
#[test]
fn one_block_before_another() {
    let a = between((0.0, 0.0, 0.0), (40.0, 10.0, 30.0));
    let b = between((10.0, 50.0, 10.0), (60.0, 60.0, 50.0));
    let lines = project(&[(&a, 0), (&b, 1)], &View::FRONT);
    assert!(near(total(&lines, 0, LineKind::Silhouette), 140.0));
    assert!(near(total(&lines, 1, LineKind::Silhouette), 20.0 + 20.0 + 40.0 + 50.0));
    assert!(near(total(&lines, 1, LineKind::Hidden), 20.0 + 30.0));
    assert_eq!(lines.len(), 4 + 4 + 2);
    // From behind, B is whole and A loses its overlap.
    let lines = project(&[(&a, 0), (&b, 1)], &View::BACK);
    assert!(near(total(&lines, 1, LineKind::Silhouette), 180.0));
    assert!(near(total(&lines, 0, LineKind::Hidden), 30.0 + 20.0));
    // Filled: B's front is 50 × 40 less the 30 × 20 behind A.
    let shells = [a.shell(), b.shell()];
    let tints = visible_faces(&[(&shells[0], 0), (&shells[1], 1)], &View::FRONT);
    let areas: Vec<(u32, f64)> = tints.iter().map(|t| (t.item, area(t))).collect();
    assert_eq!(areas.len(), 2);
    assert!(near(areas[0].1, 1200.0) && near(areas[1].1, 2000.0 - 600.0), "{areas:?}");
}

fn area(tint: &Tint) -> f64 {
    let ring = |l: &Vec<(f64, f64)>| {
        let next = l.iter().cycle().skip(1);
        l.iter().zip(next).map(|(p, q)| p.0 * q.1 - p.1 * q.0).sum::<f64>() / 2.0
    };
    tint.loops.iter().map(ring).sum()
}

/// Two blocks stacked flush look like one block with a joint line round it, from any side.
#[test]
fn touching_parts_do_not_flicker() {
    let low = between((0.0, 0.0, 0.0), (60.0, 40.0, 20.0));
    let high = between((0.0, 0.0, 20.0), (60.0, 40.0, 50.0));
    let one = between((0.0, 0.0, 0.0), (60.0, 40.0, 50.0));
    let turned = View::turned(Angle::degrees(35.0), Angle::degrees(20.0));
    for view in [View::FRONT, View::RIGHT, View::ISOMETRIC, turned] {
        let two = project(&[(&low, 0), (&high, 1)], &view);
        let whole = project(&[(&one, 0)], &view);
        for kind in [LineKind::Silhouette, LineKind::Visible, LineKind::Hidden] {
            let sum = total(&two, 0, kind) + total(&two, 1, kind);
            let joint = sum - total(&whole, 0, kind);
            let place = |x, y| view.place(Vec3::new(x, y, 20.0));
            let along = |a: (f64, f64), b: (f64, f64)| (b.0 - a.0).hypot(b.1 - a.1);
            let (front, side) =
                (along(place(0.0, 0.0), place(60.0, 0.0)), along(place(60.0, 0.0), place(60.0, 40.0)));
            let square_on = view == View::FRONT || view == View::RIGHT;
            // The joint shows on the front and on the right side, or on the one seen.
            let want = match kind {
                LineKind::Silhouette => 0.0,
                // It runs on behind; in the square views it lies behind itself.
                LineKind::Hidden if square_on => 0.0,
                LineKind::Visible | LineKind::Hidden => front + side,
            };
            assert!(near(joint, want), "{view:?} {kind:?}: {joint} is not {want}");
        }
        assert!(two.iter().all(|l| l.length() > 1.0));
    }
}

/// Seen from above, a mitered box shows its outside, its inside and four joint lines of t√2.
#[test]
fn a_mitered_box_from_above() {
    let wall = |length: f64| {
        let mut s = between((0.0, 0.0, 0.0), (length, 80.0, 12.0));
        let start = Plane::through(Vec3::new(0.0, 0.0, 12.0), Vec3::new(1.0, 0.0, 1.0));
        let end = Plane::through(Vec3::new(length, 0.0, 12.0), Vec3::new(-1.0, 0.0, 1.0));
        s.cut(&Convex::new(vec![start]), CUT);
        s.cut(&Convex::new(vec![end]), CUT + 1);
        s
    };
    let pose = |x, y, u: Vec3| Pose::new(Vec3::new(x, y, 0.0), u, Vec3::Z);
    // Show face outward: the origin of each part frame lies on the inside face.
    let walls = [
        wall(300.0).posed(&pose(0.0, 12.0, Vec3::X)),
        wall(200.0).posed(&pose(288.0, 0.0, Vec3::Y)),
        wall(300.0).posed(&pose(300.0, 188.0, -Vec3::X)),
        wall(200.0).posed(&pose(12.0, 200.0, -Vec3::Y)),
    ];
    let items: Vec<(&Solid, u32)> = walls.iter().zip(0..).collect();
    let lines = project(&items, &View::TOP);
    let sum = |kind| (0..4).map(|i| total(&lines, i, kind)).sum::<f64>();
    assert!(near(sum(LineKind::Silhouette), 1000.0 + 2.0 * (276.0 + 176.0)));
    assert!(near(sum(LineKind::Visible), 4.0 * 12.0 * 2f64.sqrt()));
    assert!(near(sum(LineKind::Hidden), 0.0));
    let lines = project(&items, &View::FRONT);
    // The joint of a mitered corner lies on the arris; the inside and the ends of the side walls are hidden.
    assert!(near(sum_of(&lines, LineKind::Silhouette), 760.0));
    assert!(near(sum_of(&lines, LineKind::Hidden), 2.0 * 80.0));
}

fn sum_of(lines: &[Line2], kind: LineKind) -> f64 {
    lines.iter().filter(|l| l.kind == kind).map(Line2::length).sum()
}

/// A round-over in facets is drawn by its first and last line only, but its outline is whole.
#[test]
fn facets_are_not_drawn() {
    let mut s = between((0.0, 0.0, 0.0), (100.0, 50.0, 20.0));
    // A quarter round of radius 10 in nine facets: tangent planes at 5°, 15° ... 85°.
    for i in 0..9 {
        let angle = (5.0 + 10.0 * f64::from(i)).to_radians();
        let n = Vec3::new(0.0, -angle.sin(), angle.cos());
        let middle = Vec3::new(0.0, 10.0, 10.0);
        s.cut(&Convex::beyond(Plane::through(middle + n * 10.0, n)), CUT);
    }
    let shell = s.shell();
    // Lines along x: four arrises less one, plus ten between facets and faces.
    let along_x = |e: &&keepwright_model::solids::Edge| {
        let step = shell.point(e.b) - shell.point(e.a);
        step.y.abs() + step.z.abs() < 1e-9
    };
    assert_eq!(shell.edges(Angle::ZERO).iter().filter(along_x).count(), 13);
    assert_eq!(shell.edges(Angle::degrees(20.0)).iter().filter(along_x).count(), 3);
    let lines = project_shells(&[(&shell, 0)], &View::FRONT, Angle::degrees(20.0));
    assert_eq!(lines.len(), 4);
}

/// How much wood there is along the line of sight from a point to the eye, millimeters.
fn wood_before(solids: &[Solid], p: Vec3, toward: Vec3) -> f64 {
    let mut most = 0.0f64;
    for cell in solids.iter().flat_map(Solid::cells) {
        let (mut from, mut to) = (0.0f64, f64::INFINITY);
        for face in cell.faces() {
            let (d, slope) = (face.plane.distance(p), face.plane.n.dot(toward));
            if slope.abs() < 1e-12 {
                if d > 0.0 {
                    to = 0.0;
                }
            } else if slope > 0.0 {
                to = to.min(-d / slope);
            } else {
                from = from.max(-d / slope);
            }
        }
        most = most.max(to - from);
    }
    most
}

/// Distance of a point from a line's inside, and whether it lies near one of its ends.
fn from_line(l: &Line2, p: (f64, f64)) -> (f64, bool) {
    let (dx, dy) = (l.b.0 - l.a.0, l.b.1 - l.a.1);
    let t = ((p.0 - l.a.0) * dx + (p.1 - l.a.1) * dy) / (dx * dx + dy * dy);
    let foot = (l.a.0 + dx * t.clamp(0.0, 1.0), l.a.1 + dy * t.clamp(0.0, 1.0));
    let end = [l.a, l.b].iter().any(|e| (p.0 - e.0).hypot(p.1 - e.1) < 0.05);
    ((p.0 - foot.0).hypot(p.1 - foot.1), end)
}

fn a_scene() -> impl Strategy<Value = (Vec<Solid>, View)> {
    let notch = (0.0..50.0f64, 0.0..30.0f64, 0.0..15.0f64, 5.0..30.0f64);
    let part = (prop::collection::vec(notch, 0..4), -10.0..10.0f64, -10.0..10.0f64, -1.0..1.0f64);
    let view = (-170.0..170.0f64, -80.0..80.0f64);
    (prop::collection::vec(part, 1..4), view).prop_map(|(parts, (around, above))| {
        let solids = parts.into_iter().zip(0u8..).map(|((notches, x, y, lean), i)| {
            let mut s = between((0.0, 0.0, 0.0), (60.0, 40.0, 20.0));
            for ((a, b, c, size), tag) in notches.into_iter().zip(CUT..) {
                let min = Vec3::new(a, b, c);
                let turned = Pose::new(min, Vec3::new(1.0, lean * 0.4, 0.0), Vec3::new(0.0, 1.0, lean));
                let region = Convex::block(Vec3::ZERO, Vec3::new(size, size * 0.7, size));
                s.cut(&region.posed(&turned), tag);
            }
            // Parts stand apart in depth, so that no two share space.
            let turned = Pose::new(Vec3::new(x, 80.0 * f64::from(i), y), Vec3::new(1.0, 0.0, lean), Vec3::Y);
            s.posed(&turned)
        });
        (solids.collect(), View::turned(Angle::degrees(around), Angle::degrees(above)))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    /// Every point of every edge is drawn visible where no wood lies between it and the eye, hidden else.
    #[test]
    fn lines_agree_with_rays((solids, view) in a_scene()) {
        let items: Vec<(&Solid, u32)> = solids.iter().zip(0..).collect();
        let shells: Vec<_> = solids.iter().map(Solid::shell).collect();
        let given: Vec<_> = shells.iter().zip(0..).collect();
        let lines = project_shells(&given, &view, Angle::ZERO);
        prop_assert!(!project(&items, &view).is_empty());
        for shell in &shells {
            for edge in shell.edges(Angle::ZERO) {
                let (a, b) = (shell.point(edge.a), shell.point(edge.b));
                for k in 1..8 {
                    let p = a + (b - a) * (f64::from(k) / 8.0 + 0.013);
                    let wood = wood_before(&solids, p, -view.direction.unit());
                    let at = view.place(p);
                    let near: Vec<_> = lines.iter().map(|l| (l.kind, from_line(l, at))).collect();
                    // Too near to call: a ray that grazes wood, or where a line changes its kind.
                    let close = near.iter().any(|(_, (d, end))| *d < 0.05 && *end);
                    if (1e-7..0.05).contains(&wood) || close {
                        continue;
                    }
                    let hidden = wood > 0.05;
                    let fits = near.iter().any(|(kind, (d, _))| {
                        *d < 2e-4 && (*kind == LineKind::Hidden) == hidden
                    });
                    prop_assert!(fits, "{p:?} hidden: {hidden}, lines near: {near:?}");
                }
            }
        }
    }

    /// The filled areas together cover each face's nearest points once and nothing else.
    #[test]
    fn tints_agree_with_rays((solids, view) in a_scene(), spots in prop::collection::vec((0.0..1.0f64, 0.0..1.0f64), 40)) {
        let shells: Vec<_> = solids.iter().map(Solid::shell).collect();
        let given: Vec<_> = shells.iter().zip(0..).collect();
        let tints = visible_faces(&given, &view);
        for (shell, item) in &given {
            for face in &shell.faces {
                // A spot of the face, from its first three corners.
                let Some([a, b, c]) = face.loops[0].first_chunk::<3>() else { continue };
                let (a, b, c) = (shell.point(*a), shell.point(*b), shell.point(*c));
                for (s, t) in spots.iter().take(3) {
                    let p = a + (b - a) * *s + (c - b) * (*s * *t);
                    let on = solids[*item as usize].cells().iter().any(|cell| cell.faces().iter().all(|f| f.plane.distance(p) < 1e-9));
                    let wood = wood_before(&solids, p, -view.direction.unit());
                    let at = view.place(p);
                    let clear = tints.iter().flat_map(|x| &x.loops).all(|l| {
                        let next = l.iter().cycle().skip(1);
                        l.iter().zip(next).all(|(p, q)| from_line(&Line2 { a: *p, b: *q, item: 0, kind: LineKind::Visible }, at).0 > 0.05)
                    });
                    if !on || !clear || (1e-7..0.05).contains(&wood) {
                        continue;
                    }
                    let here: Vec<_> = tints.iter().filter(|x| holds(x, at)).collect();
                    let own = here.iter().any(|x| (x.item, x.tag, x.normal) == (*item, face.tag, face.plane.n));
                    prop_assert_eq!(here.len(), 1);
                    prop_assert_eq!(own, wood < 1e-7);
                }
            }
        }
    }
}

fn holds(tint: &Tint, at: (f64, f64)) -> bool {
    let mut inside = false;
    for l in &tint.loops {
        for (p, q) in l.iter().zip(l.iter().cycle().skip(1)) {
            if (p.1 > at.1) != (q.1 > at.1) && at.0 < p.0 + (q.0 - p.0) * (at.1 - p.1) / (q.1 - p.1) {
                inside = !inside;
            }
        }
    }
    inside
}
