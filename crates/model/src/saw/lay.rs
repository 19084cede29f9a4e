//! How a part lies at the machine, and what the maker sets so that a wanted plane comes out.
//!
//! Everything is in the part frame: `across` points from the guide to the blade, `feed` the way the
//! work is pushed, `up` away from the table.

use super::settings::Side;
use super::setup::{Placement, Surface};
use crate::parts::{Edge, End, Face};
use crate::space::{Plane, Vec3};
use crate::units::Length;

/// Angles and lengths below this are nothing.
pub(super) const EPS: f64 = 1e-9;

/// Outward normal of a surface of the block.
pub(super) fn normal(surface: Surface) -> Vec3 {
    match surface {
        Surface::Face(Face::Show) => Vec3::Z,
        Surface::Face(Face::Back) => -Vec3::Z,
        Surface::Edge(Edge::Upper) => Vec3::Y,
        Surface::Edge(Edge::Lower) => -Vec3::Y,
        Surface::End(End::Finish) => Vec3::X,
        Surface::End(End::Start) => -Vec3::X,
    }
}

/// The surface whose outward normal comes nearest to a direction.
fn facing(direction: Vec3) -> Surface {
    let (x, y, z) = (direction.x.abs(), direction.y.abs(), direction.z.abs());
    if x >= y && x >= z {
        Surface::End(if direction.x > 0.0 { End::Finish } else { End::Start })
    } else if y >= z {
        Surface::Edge(if direction.y > 0.0 { Edge::Upper } else { Edge::Lower })
    } else {
        Surface::Face(if direction.z > 0.0 { Face::Show } else { Face::Back })
    }
}

/// How far the surface of the block lies out along its own normal.
pub(super) fn reach(surface: Surface, size: [f64; 3]) -> f64 {
    match surface {
        Surface::Face(Face::Show) => size[2],
        Surface::Edge(Edge::Upper) => size[1],
        Surface::End(End::Finish) => size[0],
        Surface::Face(Face::Back) | Surface::Edge(Edge::Lower) | Surface::End(End::Start) => 0.0,
    }
}

/// The part of a flat polygon that a plane leaves.
fn clipped(polygon: &[Vec3], plane: &Plane) -> Vec<Vec3> {
    let mut left = Vec::with_capacity(polygon.len() + 1);
    let next = polygon.iter().cycle().skip(1);
    for (a, b) in polygon.iter().zip(next) {
        let (da, db) = (plane.distance(*a), plane.distance(*b));
        if da <= 0.0 {
            left.push(*a);
        }
        if (da < 0.0 && db > 0.0) || (da > 0.0 && db < 0.0) {
            left.push(*a + (*b - *a) * (da / (da - db)));
        }
    }
    left
}

/// A part at the machine.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lay {
    pub(super) placement: Placement,
    pub(super) across: Vec3,
    pub(super) feed: Vec3,
    pub(super) up: Vec3,
    size: [f64; 3],
}

impl Lay {
    /// The part with `down` on the table and `toward` meeting a guide on that side of the blade.
    pub(super) fn new(down: Surface, toward: Surface, side: Side, size: [Length; 3]) -> Self {
        let (across, up) = (-normal(toward), -normal(down));
        let right = if side == Side::Left { across } else { -across };
        let feed = up.cross(right);
        Self {
            placement: Placement { down, toward, pushed: facing(-feed) },
            across,
            feed,
            up,
            size: size.map(Length::to_mm),
        }
    }

    /// Height of a surface's plane along a direction that is its normal or the reverse.
    fn coordinate(&self, surface: Surface, along: Vec3) -> Vec3 {
        along * (normal(surface).dot(along) * reach(surface, self.size))
    }

    /// A point of the table line along which places are measured: on the gauge (or half way along the
    /// part, at a rip fence), with nothing along `across`.
    fn base(&self, at_gauge: bool, level: Surface) -> Vec3 {
        let level = self.coordinate(level, self.up);
        let far = self.coordinate(self.placement.pushed.opposite(), self.feed);
        let near = self.coordinate(self.placement.pushed, self.feed);
        level + if at_gauge { near } else { (near + far) * 0.5 }
    }

    /// Coordinate along `across` where the part meets its guide, a stop or fence as broad as the part: its
    /// furthest point toward the guide after the planes already cut.
    fn contact(&self, done: &[Plane], excess: f64) -> f64 {
        let toward = -self.across;
        let block = reach(self.placement.toward, self.size) + excess;
        if done.iter().all(|p| p.n.dot(toward) <= EPS) {
            return -block;
        }
        let [l, w, t] = self.size;
        let stretch = toward * excess;
        let mut furthest = f64::NEG_INFINITY;
        for z in [0.0, t] {
            let mut face: Vec<Vec3> = [(0.0, 0.0), (l, 0.0), (l, w), (0.0, w)]
                .iter()
                .map(|(x, y)| {
                    let p = Vec3::new(*x, *y, z);
                    let at_guide = (p.dot(toward) - reach(self.placement.toward, self.size)).abs() < EPS;
                    if at_guide { p + stretch } else { p }
                })
                .collect();
            for plane in done {
                face = clipped(&face, plane);
            }
            furthest = face.iter().map(|p| p.dot(toward)).fold(furthest, f64::max);
        }
        if furthest.is_finite() { -furthest } else { -block }
    }

    /// Guide to the place where a plane meets the table, along the gauge's fence (or square to a rip fence).
    pub(super) fn distance(&self, plane: &Plane, done: &[Plane], excess: f64, at_gauge: bool) -> f64 {
        let base = self.base(at_gauge, self.placement.down);
        let slope = plane.n.dot(self.across);
        (plane.d - plane.n.dot(base)) / slope - self.contact(done, excess)
    }

    /// Height of a point above the table.
    pub(super) fn above_table(&self, p: Vec3) -> f64 {
        p.dot(self.up) + reach(self.placement.down, self.size)
    }

    /// Thickness of the part as it lies.
    pub(super) fn stands(&self) -> f64 {
        reach(self.placement.down, self.size) + reach(self.placement.down.opposite(), self.size)
    }

    /// Tilt (positive: leaning away from the guide) and gauge angle (positive: the edge on the gauge is
    /// the longer) of a plane whose normal points away from the guide.
    pub(super) fn angles(&self, n: Vec3) -> (f64, f64) {
        let tilt = (-n.dot(self.up)).clamp(-1.0, 1.0).asin();
        let gauge = n.dot(self.feed).atan2(n.dot(self.across));
        (tilt, gauge)
    }
}
