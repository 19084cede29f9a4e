//! The operations that the trade names, as data: reference face and edge, dimensions, machine class.
//!
//! # Frame
//! Part frame before cutting: a block 0..length along u (the grain), 0..width along v, 0..thickness
//! along w. The show face is w = thickness, the back face w = 0; the lower edge is v = 0, the upper
//! v = width; the start end is u = 0, the finish end u = length. Seen on the show face, u runs to the
//! right and v up.

use crate::space::{Convex, Plane, Vec3};
use crate::units::{Angle, Length};

/// An end of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// At u = 0: left, seen on the show face.
    Start,
    /// At u = length: right, seen on the show face.
    Finish,
}

/// A wide face of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// w = thickness.
    Show,
    /// w = 0.
    Back,
}

/// A narrow long edge of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// v = 0.
    Lower,
    /// v = width.
    Upper,
}

/// A line where a wide face meets an edge or an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Arris {
    /// Along u, between a face and an edge.
    Long(Face, Edge),
    /// Along v, between a face and an end.
    Cross(Face, End),
    /// Along w, between an edge and an end.
    Short(Edge, End),
}

/// How far along its direction a groove or rabbet runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Span {
    /// From end to end.
    Through,
    /// Stopped: between these distances from the part's origin.
    Stopped(Length, Length),
}

/// Class of machine or tool that makes a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Machine {
    /// Table saw.
    TableSaw,
    /// Bandsaw.
    BandSaw,
    /// Router table.
    RouterTable,
    /// Jointer and planer.
    Planer,
    /// Drill.
    Drill,
    /// Chisel, hand plane, hand saw, sanding block.
    HandTools,
}

/// One operation on one part, with all that it takes to set the machine.
#[derive(Clone, Debug, PartialEq)]
pub enum Operation {
    /// An end cut: square, miter, bevel or both at once.
    EndCut {
        /// Which end.
        end: End,
        /// Where the plane meets the show face on the lower edge line (v = 0, w = thickness), along u.
        at: Length,
        /// Miter-gauge angle away from a square crosscut, in the plane of the face; positive when the
        /// part grows shorter going up (toward v = width).
        gauge: Angle,
        /// Blade tilt away from upright; positive when the back face is shorter than the show face.
        tilt: Angle,
    },
    /// A long edge ripped, upright or beveled.
    EdgeCut {
        /// Which edge.
        edge: Edge,
        /// Where the plane meets the show face, along v.
        at: Length,
        /// Blade tilt away from upright; positive when the back face is narrower than the show face.
        tilt: Angle,
    },
    /// A rabbet along an arris between a face and an edge or an end.
    Rabbet {
        /// The arris that goes.
        arris: Arris,
        /// Across the face, measured on the face from the arris.
        width: Length,
        /// Into the thickness.
        depth: Length,
        /// How far it runs.
        span: Span,
        /// Lean of the shoulder away from square to the face: the shoulder at the rabbet's floor lies
        /// this angle further from the arris (positive) than at the face. For splayed walls.
        lean: Angle,
    },
    /// A groove in a face, along the grain (`along_grain`) or across it.
    Groove {
        /// In which face.
        face: Face,
        /// Runs along u; otherwise along v.
        along_grain: bool,
        /// From the lower edge (or the start end, when it runs across) to the nearer side of the groove, on the face.
        offset: Length,
        /// Its width on the face.
        width: Length,
        /// Into the thickness.
        depth: Length,
        /// How far it runs.
        span: Span,
        /// Lean of both sides away from square to the face: at the floor they lie this angle further up
        /// (toward larger v or u). For splayed walls.
        lean: Angle,
    },
    /// A groove in a long edge, along the grain, as for a panel in a frame.
    EdgeGroove {
        /// In which edge.
        edge: Edge,
        /// From the back face to the nearer side of the groove, along w.
        offset: Length,
        /// Its width along w.
        width: Length,
        /// Into the edge.
        depth: Length,
        /// How far it runs.
        span: Span,
    },
    /// A slot in the face of an end or edge cut (for a loose tongue, or a tongue groove): a flat box-shaped
    /// slot square to the cut plane.
    EndSlot {
        /// In which end's miter face.
        end: End,
        /// Where the end's cut meets the show face, along u (as [`Operation::EndCut`]).
        at: Length,
        /// Tilt of the end's cut.
        tilt: Angle,
        /// Distance from the back-face arris (the heel) to the middle of the slot, measured on the miter face.
        from_heel: Length,
        /// Slot width.
        width: Length,
        /// Slot depth, square to the miter face.
        depth: Length,
        /// How far it runs along v.
        span: Span,
    },
    /// A notch: a block out of the part, as for half-laps, fingers, hinge leaves.
    Notch {
        /// Least corner of the block.
        from: [Length; 3],
        /// Greatest corner of the block.
        to: [Length; 3],
        /// What it is for.
        purpose: NotchPurpose,
    },
    /// An arris taken off flat at 45°.
    Chamfer {
        /// Which arris.
        arris: Arris,
        /// Width on each face.
        width: Length,
    },
    /// An arris rounded to a quarter circle; solids carry it as [`Operation::ROUND_FACETS`] flats outside the circle.
    RoundOver {
        /// Which arris.
        arris: Arris,
        /// Radius.
        radius: Length,
    },
    /// A flat pared or planed at an angle: everything beyond a plane goes.
    Bevel {
        /// The plane in the part frame; its normal points to the wood that goes.
        plane: Plane,
    },
}

/// What a notch is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotchPurpose {
    /// Half-lap of dividers.
    HalfLap,
    /// Socket of a finger joint.
    Finger,
    /// Bed of a hinge leaf.
    HingeLeaf,
    /// Opening for a sliding lid, or a lowered wall.
    Opening,
}

/// One cut: the operation and the machine that makes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What is done.
    pub operation: Operation,
    /// With what.
    pub machine: Machine,
}

impl Operation {
    /// Flats by which a round-over is carried in solids.
    pub const ROUND_FACETS: u32 = 4;

    /// The regions of the block that this operation takes away, in the part frame.
    ///
    /// # Units
    /// Part frame, millimeters; `size` is the block's length, width, thickness.
    pub fn regions(&self, size: [Length; 3]) -> Vec<Convex> {
        super::cut_region::regions(self, size)
    }

    /// The plane of an end or edge cut in the part frame, normal outward; `None` for other operations.
    pub fn plane(&self, size: [Length; 3]) -> Option<Plane> {
        let t = size[2].to_mm();
        match *self {
            Self::EndCut { end, at, gauge, tilt } => {
                let sign = if end == End::Finish { 1.0 } else { -1.0 };
                let n = Vec3::new(sign * tilt.cos() * gauge.cos(), tilt.cos() * gauge.sin(), -tilt.sin());
                Some(Plane::through(Vec3::new(at.to_mm(), 0.0, t), n))
            }
            Self::EdgeCut { edge, at, tilt } => {
                let sign = if edge == Edge::Upper { 1.0 } else { -1.0 };
                let n = Vec3::new(0.0, sign * tilt.cos(), -tilt.sin());
                Some(Plane::through(Vec3::new(0.0, at.to_mm(), t), n))
            }
            _ => None,
        }
    }
}
