//! From where a drawing is seen: parallel projection onto the paper.

use crate::space::Vec3;
use crate::units::Angle;

/// A parallel projection in the box frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The direction of looking, from the eye into the drawing.
    pub direction: Vec3,
    /// What points up on the paper, as near as the direction of looking allows.
    pub up: Vec3,
}

/// The axes of the paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Paper {
    pub(super) right: Vec3,
    pub(super) up: Vec3,
    /// From the paper to the eye.
    pub(super) toward: Vec3,
}

impl View {
    /// From the front: length to the right, height up.
    pub const FRONT: Self = Self { direction: Vec3::Y, up: Vec3::Z };
    /// From the back.
    pub const BACK: Self = Self { direction: Vec3::new(0.0, -1.0, 0.0), up: Vec3::Z };
    /// From the right side: depth to the right, height up.
    pub const RIGHT: Self = Self { direction: Vec3::new(-1.0, 0.0, 0.0), up: Vec3::Z };
    /// From the left side.
    pub const LEFT: Self = Self { direction: Vec3::X, up: Vec3::Z };
    /// From above: length to the right, depth up.
    pub const TOP: Self = Self { direction: Vec3::new(0.0, 0.0, -1.0), up: Vec3::Y };
    /// From below: length to the right, front edge on top.
    pub const BELOW: Self = Self { direction: Vec3::Z, up: Vec3::new(0.0, -1.0, 0.0) };
    /// Isometric: front, right side and top, the three axes equally shortened (by √(2/3)).
    pub const ISOMETRIC: Self = Self { direction: Vec3::new(-1.0, 1.0, -1.0), up: Vec3::Z };

    /// Looking at the front, walked to the right by `around` and risen by `above`.
    pub fn turned(around: Angle, above: Angle) -> Self {
        let flat = above.cos();
        let direction = Vec3::new(-around.sin() * flat, around.cos() * flat, -above.sin());
        // Straight from above or below there is no up: take the depth.
        let up = if flat > 1e-9 { Vec3::Z } else { Vec3::new(-around.sin(), around.cos(), 0.0) };
        Self { direction, up }
    }

    pub(super) fn paper(&self) -> Paper {
        let ahead = self.direction.unit();
        let mut right = ahead.cross(self.up);
        if right.norm() < 1e-9 {
            // Up along the line of sight says nothing: take the least of the axes instead.
            right = super::loops::Flat::square_to(ahead).u;
        }
        let right = right.unit();
        Paper { right, up: right.cross(ahead), toward: -ahead }
    }

    /// Where a point falls on the paper: to the right and up, millimeters at full scale.
    pub fn place(&self, p: Vec3) -> (f64, f64) {
        self.paper().place(p)
    }

    /// How near a point is to the eye, along the line of sight, millimeters; larger is nearer.
    pub fn nearness(&self, p: Vec3) -> f64 {
        self.paper().toward.dot(p)
    }
}

impl Paper {
    pub(super) fn place(&self, p: Vec3) -> (f64, f64) {
        (self.right.dot(p), self.up.dot(p))
    }
}
