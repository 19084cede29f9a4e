//! How a box stands for a picture: how far apart, how far open; and the picture of it from any side.

use super::Room;
use super::axonometric::Scene;
use super::fitted;
use super::pieces::{Piece, piece, saw_band, sawn, shift};
use crate::drawing::Drawing;
use keepwright_model::design::{LidKind, Registration, Statement};
use keepwright_model::parts::{BoxParts, Role};
use keepwright_model::solids::{Solid, View, block_face};
use keepwright_model::space::{Convex, Plane, Pose, Vec3};
use keepwright_model::units::{Angle, Length};

/// A lid lifted off clears its lip or rabbet by this share of the box's depth, so that the inside is seen below it
/// from the usual view (common practice of drawings).
const LIFT_SHARE: f64 = 0.55;
/// The least that a lid is lifted, millimeters.
const LIFT_LEAST: f64 = 50.0;
/// A sliding lid is drawn out by this share of its length: its tail stays in the grooves.
const SLIDE_SHARE: f64 = 0.8;

/// Tag of the faces where a piece is cut through: no cut of the saw has it.
const SECTION: u32 = block_face::SEAM - 1;

/// How the lid opens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LidMotion {
    /// Lifted off by a move, box frame, millimeters.
    Lift(Vec3),
    /// Drawn out by a move, box frame, millimeters.
    Slide(Vec3),
    /// Turned on its hinges about an axis.
    Turn {
        /// A point of the pins' line, box frame, millimeters.
        at: Vec3,
        /// Direction of the pins' line; the lid rises as it turns by the right-hand rule.
        along: Vec3,
        /// How far it turns until it stops.
        to: Angle,
    },
}

impl LidMotion {
    /// The motion of this box's lid; `None` for an open box.
    pub fn of(statement: &Statement, parts: &BoxParts) -> Option<Self> {
        let walls = parts.parts.iter().filter(|p| p.role == Role::Wall);
        let seam = || {
            let rim = |p: &keepwright_model::parts::Part| {
                p.pose.point(Vec3::new(0.0, p.size[1].to_mm(), p.size[2].to_mm())).z
            };
            saw_band(parts).map_or_else(|| walls.clone().map(rim).fold(0.0, f64::max), |band| band.0)
        };
        match (&statement.lid.kind, statement.lid.registration) {
            (LidKind::None, _) => None,
            (LidKind::Sliding { .. }, _) => {
                let lid = parts.parts.iter().find(|p| p.role == Role::LidPanel)?;
                Some(Self::Slide(Vec3::X * (lid.size[0].to_mm() * SLIDE_SHARE)))
            }
            (_, Registration::Hinges) => {
                let hinges = statement.hinges?;
                // The pins stand over the back wall's outside face, where the closed lid meets the wall.
                let back = parts.parts.iter().find(|p| p.role == Role::Wall && p.name == "back")?;
                let face = back.pose.point(Vec3::new(0.0, 0.0, back.size[2].to_mm()));
                let at = Vec3::new(0.0, face.y, seam());
                Some(Self::Turn { at, along: -Vec3::X, to: hinges.opens_to })
            }
            (_, registration) => {
                let drop = match registration {
                    Registration::Lip { height, .. } => height,
                    Registration::Rabbet { depth, .. } => depth,
                    Registration::None | Registration::Lining | Registration::Hinges => Length::ZERO,
                };
                let lift = (parts.outside[1].to_mm() * LIFT_SHARE).max(LIFT_LEAST) + drop.to_mm();
                Some(Self::Lift(Vec3::Z * lift))
            }
        }
    }

    /// Where the lid goes when opened by a share of the whole way, 0 closed to 1 open.
    pub fn pose(&self, share: f64) -> Pose {
        match *self {
            Self::Lift(by) | Self::Slide(by) => shift(by * share),
            Self::Turn { at, along, to } => {
                let turn = to * share;
                let (sin, cos) = (turn.sin(), turn.cos());
                // Rodrigues' formula on the three axes.
                let turned = |v: Vec3| v * cos + along.cross(v) * sin + along * (along.dot(v) * (1.0 - cos));
                let (u, v, w) = (turned(Vec3::X), turned(Vec3::Y), turned(Vec3::Z));
                let spun = Pose { origin: Vec3::ZERO, u, v, w };
                Pose { origin: at - spun.point(at), u, v, w }
            }
        }
    }
}

/// How a box stands for a picture.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stance {
    /// How far the parts are out of their places: 0 together, 1 as in the drawing of the box apart.
    pub apart: f64,
    /// How far the lid is open: 0 closed, 1 as far as it goes.
    pub open: f64,
    /// What is cut away: all beyond this plane of the box frame, where the stance puts the pieces.
    pub cut: Option<Plane>,
}

impl Stance {
    /// The pieces where this stance puts them. Shares outside 0 to 1 count as the nearer end.
    fn pieces(&self, statement: &Statement, parts: &BoxParts, solids: &[Solid]) -> Vec<Piece> {
        let share = |s: f64| if s.is_finite() { s.clamp(0.0, 1.0) } else { 0.0 };
        let lid = LidMotion::of(statement, parts).map_or(Pose::IDENTITY, |m| m.pose(share(self.open)));
        sawn(parts, solids)
            .iter()
            .map(|s| {
                let by = s.closed + s.apart * share(self.apart);
                let opened = if s.lid { lid } else { Pose::IDENTITY };
                let mut made = piece(s, Pose { origin: opened.point(by), ..opened });
                if let Some(plane) = self.cut
                    && made.solid.keep(&Convex::new(vec![plane]), SECTION)
                {
                    made.shell = made.solid.shell();
                }
                made
            })
            .collect()
    }
}

/// The box in a stance as it is seen along a direction of looking, tinted in its woods, hidden lines left out.
///
/// # Units
/// `solids` as [`keepwright_model::solids::finished`] gives them, in the order of the parts; the direction in the box
/// frame, its length does not count. The drawing is in millimeters of the paper, no larger than `room`, and empty for
/// a direction of no length.
pub fn seen_along(
    statement: &Statement,
    parts: &BoxParts,
    solids: &[Solid],
    stance: Stance,
    direction: Vec3,
    room: Room,
) -> Drawing {
    let length = direction.norm();
    if !length.is_finite() || length < 1e-12 {
        return Drawing::new();
    }
    let ahead = direction.unit();
    // Straight from above or below the depth points up, as in the plain views.
    let up = if ahead.x.hypot(ahead.y) > 1e-6 { Vec3::Z } else { Vec3::Y };
    let view = View { direction: ahead, up };
    let pieces = stance.pieces(statement, parts, solids);
    let Some(scene) = Scene::of(&pieces, &view) else { return Drawing::new() };
    fitted(room, scene.size(), 1.0, |scale| {
        let mut drawing = Drawing::new();
        scene.draw(parts, &pieces, &view, scale, &mut drawing);
        drawing
    })
}
