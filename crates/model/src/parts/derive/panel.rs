//! Panels: plates bounded by the sides of a ring, solid, striped, of sheet, or veneered.
//!
//! # Frame
//! A panel lies flat: u along the box's length (its grain), v front to back, w up, show face up.

use super::ring::{Ring, edge_cut, end_cut};
use super::{Builder, DeriveError, NewPart, usual_machine};
use crate::design::Build;
use crate::parts::cut::{Arris, Cut, Edge, End, Face, Operation, Span};
use crate::parts::part::{JointKind, Origin, PartId, Role, Seam};
use crate::space::{Plane, Pose, Vec3};
use crate::units::{Angle, Length};

/// What panel to make.
pub(super) struct Panel<'p> {
    pub(super) name: &'p str,
    pub(super) role: Role,
    pub(super) build: &'p Build,
    /// Its outside faces.
    pub(super) ring: Ring,
    /// Underside and upper face.
    pub(super) z: (f64, f64),
    pub(super) explode: Vec3,
}

/// One slice of a panel: a block in plan and height.
struct Slice<'p> {
    name: String,
    role: Role,
    wood: &'p str,
    rings: Angle,
    y: (f64, f64),
    z: (f64, f64),
    origin: Origin,
}

impl Builder<'_> {
    /// Adds a panel; gives its parts from front to back (core first for a veneered one).
    pub(super) fn panel(&mut self, panel: &Panel<'_>) -> Vec<PartId> {
        let (low, high) = plan_bounds(panel);
        let whole = |wood, rings, origin, z| Slice {
            name: panel.name.to_string(),
            role: panel.role,
            wood,
            rings,
            y: (low.y, high.y),
            z,
            origin,
        };
        let slices = match panel.build {
            Build::Solid(w) => vec![whole(&w.wood, w.rings.angle(), Origin::Board, panel.z)],
            Build::Sheet(id) => vec![whole(id, Angle::ZERO, Origin::Sheet, panel.z)],
            Build::Veneered { core, face, veneer } => {
                let v = veneer.to_mm();
                if v * 2.0 >= panel.z.1 - panel.z.0 {
                    self.errors.push(DeriveError::TooLarge {
                        what: "the veneer",
                        key: veneer_key(panel.role),
                        value: *veneer,
                        most: Length::mm((panel.z.1 - panel.z.0) / 2.0 - 0.5),
                        why: "two veneers must leave a core between them",
                    });
                    return Vec::new();
                }
                let mut slices =
                    vec![whole(core, Angle::ZERO, Origin::Sheet, (panel.z.0 + v, panel.z.1 - v))];
                for (side, z) in
                    [("below", (panel.z.0, panel.z.0 + v)), ("above", (panel.z.1 - v, panel.z.1))]
                {
                    let mut leaf = whole(&face.wood, face.rings.angle(), Origin::VeneerLeaf, z);
                    leaf.name = format!("{} veneer {side}", panel.name);
                    leaf.role = Role::Veneer;
                    slices.push(leaf);
                }
                slices
            }
            Build::Striped(strips) => strips_of(panel, strips, low.y, high.y),
        };
        let ids: Vec<PartId> = slices.iter().map(|s| self.slice(panel, s, low.x, high.x)).collect();
        let thickness = panel.z.1 - panel.z.0;
        match panel.build {
            Build::Striped(_) => {
                for pair in ids.windows(2) {
                    let area = (high.x - low.x) * thickness;
                    self.joint(pair[0], pair[1], JointKind::Glued, Seam::Edge, area, 0.0);
                }
                for id in &ids {
                    self.parts[id.0].layer_of = ids.first().copied();
                }
            }
            Build::Veneered { .. } => {
                for leaf in ids.iter().skip(1) {
                    let area = (high.x - low.x) * (high.y - low.y);
                    self.joint(ids[0], *leaf, JointKind::Glued, Seam::Flat, area, 0.0);
                    self.parts[leaf.0].layer_of = Some(ids[0]);
                }
            }
            Build::Solid(_) | Build::Sheet(_) => {}
        }
        ids
    }

    fn slice(&mut self, panel: &Panel<'_>, slice: &Slice<'_>, x0: f64, x1: f64) -> PartId {
        let size = [x1 - x0, slice.y.1 - slice.y.0, slice.z.1 - slice.z.0].map(Length::mm);
        let pose = Pose { origin: Vec3::new(x0, slice.y.0, slice.z.0), ..Pose::IDENTITY };
        let cuts = (0..panel.ring.sides())
            .filter_map(|i| side_cut(&pose.plane_back(&panel.ring.face(i)), size))
            .map(|operation| Cut { machine: usual_machine(&operation), operation })
            .collect();
        self.add(NewPart {
            name: slice.name.clone(),
            role: slice.role,
            wood: slice.wood,
            rings: slice.rings,
            size,
            pose,
            cuts,
            explode: panel.explode,
            origin: slice.origin,
        })
    }

    /// A rabbet all round a rectangular panel; `width` from the panel's own edge: [at the ends, at the long edges].
    pub(super) fn rabbet_round(
        &mut self,
        ids: &[PartId],
        face: Face,
        width: [f64; 2],
        depth: f64,
        key: &'static str,
    ) {
        let Some((&first, &last)) = ids.first().zip(ids.last()) else {
            return;
        };
        let rabbet = |arris, w: f64| Operation::Rabbet {
            arris,
            width: Length::mm(w),
            depth: Length::mm(depth),
            span: Span::Through,
            lean: Angle::ZERO,
        };
        for (id, edge) in [(first, Edge::Lower), (last, Edge::Upper)] {
            let most = self.parts[id.0].size[1];
            if width[1] > most.to_mm() {
                self.errors.push(DeriveError::TooLarge {
                    what: "the rabbet round the panel",
                    key,
                    value: Length::mm(width[1]),
                    most,
                    why: "it must lie within the outermost strip; make that strip wider",
                });
                return;
            }
            self.cut_part(id, rabbet(Arris::Long(face, edge), width[1]));
        }
        for &id in ids {
            self.cut_part(id, rabbet(Arris::Cross(face, End::Start), width[0]));
            self.cut_part(id, rabbet(Arris::Cross(face, End::Finish), width[0]));
        }
    }
}

/// Least and greatest plan coordinates over the panel's thickness.
fn plan_bounds(panel: &Panel<'_>) -> (Vec3, Vec3) {
    let (a, b) = (panel.ring.bounds(panel.z.0), panel.ring.bounds(panel.z.1));
    (
        Vec3::new(a.0.x.min(b.0.x), a.0.y.min(b.0.y), panel.z.0),
        Vec3::new(a.1.x.max(b.1.x), a.1.y.max(b.1.y), panel.z.1),
    )
}

/// The cut along one side plane, if the plane touches the block at all.
fn side_cut(plane: &Plane, size: [Length; 3]) -> Option<Operation> {
    let s = size.map(Length::to_mm);
    let reach = plane.n.x.max(0.0) * s[0] + plane.n.y.max(0.0) * s[1] + plane.n.z.max(0.0) * s[2] - plane.d;
    if reach < -1e-7 {
        return None;
    }
    Some(if plane.n.x.abs() < 1e-9 {
        edge_cut(plane, if plane.n.y > 0.0 { Edge::Upper } else { Edge::Lower }, size)
    } else {
        end_cut(plane, if plane.n.x > 0.0 { End::Finish } else { End::Start }, size)
    })
}

/// The strips that fill a width: the pattern repeated and centered, the outermost trimmed alike.
fn strips_of<'p>(panel: &Panel<'p>, strips: &'p crate::design::Strips, y0: f64, y1: f64) -> Vec<Slice<'p>> {
    let one: f64 = strips.pattern.iter().map(|(_, w)| w.to_mm()).sum();
    if one <= 0.0 {
        return Vec::new();
    }
    let repeats = ((y1 - y0) / one - 1e-9).ceil().max(1.0);
    let mut at = f64::midpoint(y0, y1) - repeats * one / 2.0;
    let mut out = Vec::new();
    while at < y1 - 1e-9 && out.len() < 500 {
        for (wood, width) in &strips.pattern {
            let (from, to) = (at.max(y0), (at + width.to_mm()).min(y1));
            at += width.to_mm();
            // A sliver under half a millimeter is planed off with the edge, not glued on.
            if to - from > 0.5 {
                out.push(Slice {
                    name: format!("{} strip {}", panel.name, out.len() + 1),
                    role: Role::Strip,
                    wood: &wood.wood,
                    rings: wood.rings.angle(),
                    y: (from, to),
                    z: panel.z,
                    origin: Origin::Board,
                });
            }
        }
    }
    // Where a sliver was left out its neighbor takes its width.
    if let Some(first) = out.first_mut() {
        first.y.0 = y0;
    }
    if let Some(last) = out.last_mut() {
        last.y.1 = y1;
    }
    out
}

const fn veneer_key(role: Role) -> &'static str {
    match role {
        Role::Bottom => "bottom.veneered.veneer",
        Role::FramePanel => "lid.panel.veneered.veneer",
        _ => "lid.veneered.veneer",
    }
}
