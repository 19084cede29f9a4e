//! Where a plane cuts a solid: the outlines of the cut wood, in the plane.

use super::WELD;
use super::loops::{self, Flat};
use super::solid::{Solid, block_face};
use crate::space::{Convex, Plane, Vec3};
use crate::units::Area;

/// The cut face of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The point of the plane nearest the model's origin; the drawing's own origin.
    pub origin: Vec3,
    /// Direction of the drawing's first axis.
    pub u: Vec3,
    /// Direction of the second axis; u × v is the plane's normal.
    pub v: Vec3,
    /// One for each separate piece of cut wood: first the outline, counterclockwise seen against the
    /// normal, then its holes, clockwise. Millimeters along u and v.
    pub faces: Vec<Vec<Vec<(f64, f64)>>>,
}

/// The outlines of the wood in a plane, seen from the side that the normal points to.
pub fn section(solid: &Solid, plane: &Plane) -> Section {
    // What is below the plane shows the cut as its top face.
    let mut below = solid.clone();
    below.keep(&Convex::new(vec![*plane]), block_face::SEAM - 1);
    let shell = below.shell();
    let flat = Flat::square_to(plane.n);
    let in_plane = |p: &Vec3| plane.distance(*p).abs() < WELD;
    let faces = shell
        .faces
        .iter()
        .filter(|f| f.plane.n.dot(plane.n) > 0.0)
        .filter(|f| f.loops.iter().flatten().all(|&i| in_plane(&shell.point(i))))
        .map(|f| f.loops.iter().map(|l| l.iter().map(|&i| flat.place(shell.point(i))).collect()).collect())
        .collect();
    Section { origin: plane.n * plane.d, u: flat.u, v: flat.v, faces }
}

impl Section {
    /// Area of the cut wood.
    pub fn area(&self) -> Area {
        Area::mm2(self.faces.iter().flatten().map(|l| loops::flat_area(l)).sum())
    }
}
