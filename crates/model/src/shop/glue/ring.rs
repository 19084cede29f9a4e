//! The ring of a glue-up: what a band does to it and how it is checked for square.

use super::super::settings::GlueSettings;
use super::adhesive::Pressing;
use super::band;
use super::build::{Gluing, joints_of};
use super::plan::{Clamping, Diagonals, StageKind};
use super::stages::Group;
use crate::parts::{Joint, Part, Seam};
use crate::units::{Area, Length, Stress};

/// The specific gravity taken for a wood that nobody has looked up: a middling hardwood.
const MIDDLING: f64 = 0.55;

/// The ring of a group: its members and miters.
pub(super) struct Ring {
    pub(super) sides: u32,
    pub(super) mitered: bool,
    /// Longest member along each of two directions square to each other, for four sides.
    pub(super) rectangle: Option<(Length, Length)>,
    pub(super) side: Length,
    smallest: Area,
    gravity: f64,
}

impl Ring {
    pub(super) fn of(gluing: &Gluing<'_>, group: &Group) -> Option<Self> {
        if group.kind != StageKind::Ring {
            return None;
        }
        let parts = gluing.parts;
        let corners: Vec<&Joint> = group
            .units
            .iter()
            .flat_map(|u| joints_of(parts, u))
            .filter(|j| matches!(j.seam, Seam::Miter | Seam::Fingers))
            .collect();
        let sides = u32::try_from(corners.len()).ok().filter(|n| *n >= 3)?;
        let mut members: Vec<&Part> =
            corners.iter().flat_map(|j| [j.a, j.b]).filter_map(|id| parts.parts.get(id.0)).collect();
        members.dedup_by(|a, b| core::ptr::eq(*a, *b));
        let along = |x: bool| {
            members
                .iter()
                .filter(|p| (p.pose.u.x.abs() > p.pose.u.y.abs()) == x)
                .map(|p| p.size[0])
                .fold(Length::ZERO, Length::max)
        };
        let gravity = members.iter().filter_map(|p| (gluing.gravity)(&p.wood)).fold(0.0, f64::max);
        Some(Self {
            sides,
            mitered: corners.iter().all(|j| j.seam == Seam::Miter),
            rectangle: (sides == 4).then(|| (along(true), along(false))),
            side: members.iter().map(|p| p.size[0]).fold(Length::ZERO, Length::max),
            smallest: corners
                .iter()
                .map(|j| j.area)
                .fold(Area::mm2(f64::INFINITY), |a, b| if b < a { b } else { a }),
            gravity: if gravity > 0.0 { gravity } else { MIDDLING },
        })
    }

    pub(super) fn clamping(&self, gluing: &Gluing<'_>) -> Clamping {
        let s = gluing.settings;
        let corner = band::at_corner(s.tension, self.sides, s.bearing);
        let wanted = match s.glue.pressing {
            Pressing::Clamped => band::wanted_pressure(self.gravity),
            Pressing::Contact => Stress::ZERO,
        };
        Clamping {
            tension: s.tension,
            corner,
            pressure: band::pressure(corner.across, self.smallest),
            wanted,
            tension_wanted: band::tension_for(wanted, self.smallest, self.sides, s.bearing),
            left_at_far_corner: band::left_after(s.friction, self.sides, self.sides / 2),
        }
    }

    /// Rectangles: √(length² + depth²). Regular rings: across opposite corners, or corner to opposite side.
    pub(super) fn diagonals(&self, settings: &GlueSettings) -> Option<Diagonals> {
        let limit = settings.diagonals;
        if let Some((l, w)) = self.rectangle {
            let (l, w) = (l.to_mm(), w.to_mm());
            let target = l.hypot(w);
            if target <= 0.0 {
                return None;
            }
            // Skewed by an angle e the squares of the diagonals part by 4·L·W·sin e.
            let lean = (limit.to_mm() * target / (2.0 * l * w).max(1e-9)).clamp(0.0, 1.0).asin();
            return Some(Diagonals {
                target: Length::mm(target),
                count: 2,
                limit,
                degrees_at_limit: Some(lean.to_degrees()),
            });
        }
        let half = core::f64::consts::PI / f64::from(self.sides);
        let s = self.side.to_mm();
        let (target, count) = if self.sides.is_multiple_of(2) {
            (s / half.sin(), self.sides / 2)
        } else {
            (s / (2.0 * (half / 2.0).tan()), self.sides)
        };
        Some(Diagonals { target: Length::mm(target), count, limit, degrees_at_limit: None })
    }
}
