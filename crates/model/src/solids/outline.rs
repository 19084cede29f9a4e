//! Line drawings with hidden lines told apart: every edge against every face in front of it, exactly.
//!
//! An edge is hidden where the paper just left of it and just right of it are both covered by faces nearer
//! to the eye. Asking on both sides keeps edges that run along the outline of another part visible, and
//! hides edges that run behind the arris between two of its faces; depth is asked at the edge itself, so
//! parts that touch do not flicker.

use super::intervals::{self, Stretch};
use super::overlay;
use super::shell::{Edge, Shell};
use super::solid::Solid;
use super::view::{Paper, View};
use crate::space::{Plane, Vec3};
use crate::units::Angle;

/// How a line of a drawing is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// Visible, and beyond it the eye falls on something farther off: the outline of a part.
    Silhouette,
    /// Visible, the surface goes on at both sides: an arris, an inner corner, a joint line.
    Visible,
    /// Behind wood.
    Hidden,
}

/// One straight line of a drawing, at full scale, millimeters on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line2 {
    /// One end: to the right, up.
    pub a: (f64, f64),
    /// The other end.
    pub b: (f64, f64),
    /// The part it belongs to.
    pub item: u32,
    /// How it is seen.
    pub kind: LineKind,
}

impl Line2 {
    /// Length on the paper, millimeters.
    pub fn length(&self) -> f64 {
        (self.b.0 - self.a.0).hypot(self.b.1 - self.a.1)
    }
}

/// Wood nearer to the eye than this hides an edge, millimeters: touching parts do not hide each other.
const DEPTH: f64 = 1e-4;
/// How far beside an edge it is asked what covers the paper, millimeters.
const BESIDE: f64 = 1e-5;
/// Shorter pieces of line are not drawn, millimeters.
pub(super) const SHORT: f64 = 1e-3;
/// A face whose normal is nearer than this to square with the line of sight is seen edge on, radians.
const EDGE_ON: f64 = 1e-7;
/// Joints between the facets of a round-over turn by less than this and are not drawn: 20°.
const FACET: Angle = Angle::degrees(20.0);

/// Draws solids, each with the number of the part it is, as seen in a view.
pub fn project(solids: &[(&Solid, u32)], view: &View) -> Vec<Line2> {
    let shells: Vec<(Shell, u32)> = solids.iter().map(|(s, item)| (s.shell(), *item)).collect();
    let shells: Vec<(&Shell, u32)> = shells.iter().map(|(s, item)| (s, *item)).collect();
    project_shells(&shells, view, FACET)
}

/// Draws outer surfaces, each with the number of the part it is. Edges that turn by less than `least` are
/// left out, unless they are an outline.
pub fn project_shells(shells: &[(&Shell, u32)], view: &View, least: Angle) -> Vec<Line2> {
    let paper = view.paper();
    let screens = Screens::of(shells, &paper);
    let mut tracer = Tracer::default();
    let mut lines = Vec::new();
    for (shell, item) in shells {
        for edge in shell.edges(Angle::ZERO) {
            if let Some(look) = Look::of(shell, &edge, &paper, least) {
                tracer.draw(&look, *item, &screens, &mut lines);
            }
        }
    }
    overlay::tidy(lines)
}

/// The faces turned to the eye, on the paper.
struct Screens {
    list: Vec<Screen>,
    points: Vec<(f64, f64)>,
    /// Start and end in `points` of each loop.
    loops: Vec<(usize, usize)>,
}

/// One face turned to the eye.
struct Screen {
    plane: Plane,
    /// Its loops in the list of loops.
    loops: (usize, usize),
    low: (f64, f64),
    high: (f64, f64),
    /// Nearness to the eye of its nearest corner.
    nearest: f64,
}

impl Screens {
    fn of(shells: &[(&Shell, u32)], paper: &Paper) -> Self {
        let mut made = Self { list: Vec::new(), points: Vec::new(), loops: Vec::new() };
        let all = shells.iter().flat_map(|(s, _)| s.faces.iter().map(move |f| (s, f)));
        for (shell, face) in all.filter(|(_, f)| f.plane.n.dot(paper.toward) > EDGE_ON) {
            let first_loop = made.loops.len();
            let (mut low, mut high) =
                ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY));
            let mut nearest = f64::NEG_INFINITY;
            for ring in &face.loops {
                let start = made.points.len();
                for &i in ring {
                    let p = shell.point(i);
                    let (x, y) = paper.place(p);
                    low = (low.0.min(x), low.1.min(y));
                    high = (high.0.max(x), high.1.max(y));
                    nearest = nearest.max(paper.toward.dot(p));
                    made.points.push((x, y));
                }
                made.loops.push((start, made.points.len()));
            }
            let loops = (first_loop, made.loops.len());
            made.list.push(Screen { plane: face.plane, loops, low, high, nearest });
        }
        made
    }
}

/// An edge on its way to the paper.
struct Look {
    /// Its ends in space.
    a: Vec3,
    b: Vec3,
    /// Its ends on the paper.
    from: (f64, f64),
    to: (f64, f64),
    length: f64,
    /// Nearness to the eye of its farther end.
    farthest: f64,
    turned: Turned,
}

/// How the two faces at an edge are turned.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Turned {
    /// Both to the eye.
    Toward,
    /// One to the eye, and the edge is sharp enough to be drawn within the surface.
    Half,
    /// One to the eye; only an outline is drawn.
    Faint,
    /// The wood itself hides it.
    Away,
}

impl Look {
    fn of(shell: &Shell, edge: &Edge, paper: &Paper, least: Angle) -> Option<Self> {
        let (a, b) = (shell.point(edge.a), shell.point(edge.b));
        let (from, to) = (paper.place(a), paper.place(b));
        let length = (to.0 - from.0).hypot(to.1 - from.1);
        let facing = |face: u32| shell.faces.get(face as usize).map(|f| f.plane.n.dot(paper.toward));
        let (left, right) = (facing(edge.left)?, facing(edge.right)?);
        let sharp = edge.turn > least;
        let (toward, away) = (left.max(right) > EDGE_ON, left.min(right) < -EDGE_ON);
        let turned = match (toward, left.min(right) > EDGE_ON) {
            (_, true) => Turned::Toward,
            (true, false) if edge.inner && away => Turned::Away,
            (true, false) if sharp => Turned::Half,
            (true, false) => Turned::Faint,
            (false, false) => Turned::Away,
        };
        let farthest = paper.toward.dot(a).min(paper.toward.dot(b));
        let drawn = length > SHORT && (sharp || turned == Turned::Faint);
        drawn.then_some(Self { a, b, from, to, length, farthest, turned })
    }

    fn along(&self, t: f64) -> (f64, f64) {
        (self.from.0 + (self.to.0 - self.from.0) * t, self.from.1 + (self.to.1 - self.from.1) * t)
    }
}

/// Stretches of one edge, in fractions of it, by what covers the paper beside it.
#[derive(Default)]
struct Tracer {
    /// Left and right: covered by nearer wood.
    nearer: [Vec<Stretch>; 2],
    /// Left and right: the surface goes on at the edge's own depth.
    level: [Vec<Stretch>; 2],
    crossings: Vec<f64>,
    corners: Vec<(f64, f64)>,
    hidden: Vec<Stretch>,
    joined: Vec<Stretch>,
    seen: Vec<Stretch>,
    open: Vec<Stretch>,
}

impl Tracer {
    fn draw(&mut self, look: &Look, item: u32, screens: &Screens, lines: &mut Vec<Line2>) {
        let mut add = |(s, e): Stretch, kind| {
            lines.push(Line2 { a: look.along(s), b: look.along(e), item, kind });
        };
        if look.turned == Turned::Away {
            add((0.0, 1.0), LineKind::Hidden);
            return;
        }
        self.look_beside(look, screens);
        let short = SHORT / look.length;
        let [left, right] = &mut self.nearer;
        intervals::unite(left, 0.0);
        intervals::unite(right, 0.0);
        intervals::common(left, right, &mut self.hidden);
        intervals::unite(&mut self.hidden, short);
        self.hidden.retain(|h| h.1 - h.0 > short);
        intervals::reach_ends(&mut self.hidden, short);
        intervals::outside((0.0, 1.0), &self.hidden, short, &mut self.seen);
        if look.turned == Turned::Toward {
            self.hidden.iter().for_each(|h| add(*h, LineKind::Hidden));
            self.seen.iter().for_each(|s| add(*s, LineKind::Visible));
            return;
        }
        let [left, right] = &mut self.level;
        intervals::unite(left, 0.0);
        intervals::unite(right, 0.0);
        intervals::common(left, right, &mut self.joined);
        intervals::unite(&mut self.joined, short);
        self.joined.retain(|j| j.1 - j.0 > short);
        intervals::reach_ends(&mut self.joined, short);
        for &stretch in &self.seen {
            intervals::outside(stretch, &self.joined, short, &mut self.open);
            self.open.iter().for_each(|s| add(*s, LineKind::Silhouette));
        }
        if look.turned == Turned::Half {
            self.hidden.iter().for_each(|h| add(*h, LineKind::Hidden));
            intervals::common(&self.seen, &self.joined, &mut self.open);
            self.open.iter().for_each(|s| add(*s, LineKind::Visible));
        }
    }

    /// Fills the lists of what covers the paper just left and right of an edge.
    fn look_beside(&mut self, look: &Look, screens: &Screens) {
        for list in self.nearer.iter_mut().chain(&mut self.level) {
            list.clear();
        }
        let low = (look.from.0.min(look.to.0) - BESIDE, look.from.1.min(look.to.1) - BESIDE);
        let high = (look.from.0.max(look.to.0) + BESIDE, look.from.1.max(look.to.1) + BESIDE);
        let reached = screens.list.iter().filter(|s| {
            s.low.0 < high.0
                && low.0 < s.high.0
                && s.low.1 < high.1
                && low.1 < s.high.1
                && s.nearest > look.farthest - DEPTH
        });
        for screen in reached {
            let (da, db) = (screen.plane.distance(look.a), screen.plane.distance(look.b));
            if da < -DEPTH || db < -DEPTH {
                // The stretch that lies behind the face's plane.
                let t = (-DEPTH - da) / (db - da);
                let behind = if da >= -DEPTH {
                    (t, 1.0)
                } else if db >= -DEPTH {
                    (0.0, t)
                } else {
                    (0.0, 1.0)
                };
                self.cover(look, screens, screen, behind, false);
            } else if look.turned != Turned::Toward && da < DEPTH && db < DEPTH {
                self.cover(look, screens, screen, (0.0, 1.0), true);
            }
        }
    }

    /// Adds the stretches, within a given one, where a face covers the paper beside the edge.
    fn cover(&mut self, look: &Look, screens: &Screens, screen: &Screen, within: Stretch, level: bool) {
        let along = ((look.to.0 - look.from.0) / look.length, (look.to.1 - look.from.1) / look.length);
        let loops = screens.loops.get(screen.loops.0..screen.loops.1).unwrap_or(&[]);
        for (side, beside) in [BESIDE, -BESIDE].into_iter().enumerate() {
            self.crossings.clear();
            for &(start, end) in loops {
                // Each corner in the edge's own axes: along it (in fractions of it) and to its left.
                self.corners.clear();
                let ring = screens.points.get(start..end).unwrap_or(&[]);
                self.corners.extend(ring.iter().map(|p| {
                    let (x, y) = (p.0 - look.from.0, p.1 - look.from.1);
                    ((x * along.0 + y * along.1) / look.length, along.0 * y - along.1 * x - beside)
                }));
                let Some(&last) = self.corners.last() else {
                    continue;
                };
                let mut p = last;
                for &q in &self.corners {
                    if (p.1 > 0.0) != (q.1 > 0.0) {
                        self.crossings.push(p.0 + (q.0 - p.0) * p.1 / (p.1 - q.1));
                    }
                    p = q;
                }
            }
            self.crossings.sort_unstable_by(f64::total_cmp);
            let list = if level { &mut self.level[side] } else { &mut self.nearer[side] };
            // Between the first and second crossing the face covers the line, then again from the third on.
            for pair in self.crossings.chunks_exact(2) {
                let stretch = (pair[0].max(within.0), pair[1].min(within.1));
                if stretch.0 < stretch.1 {
                    list.push(stretch);
                }
            }
        }
    }
}
