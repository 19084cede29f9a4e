//! The surface of a piece: flat faces in triangles, and the arrises that are drawn as lines.

use super::number::{Short, vector};
use keepwright_model::parts::{Cut, NotchPurpose, Operation, Part, Role};
use keepwright_model::solids::{FIRST_ASSEMBLY_CUT, Shell, block_face};
use keepwright_model::units::Angle;
use serde::Serialize;

/// A piece's surface in the part frame, millimeters.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Mesh {
    /// Corners: u, v, w of each in a row.
    pub points: Vec<Short>,
    /// Corner indices of the triangles, three to each, counterclockwise seen from outside, face after face.
    pub triangles: Vec<u32>,
    /// For each flat face five numbers in a row: the outward normal, which finish it gets (0 none, 1 outside, 2 inside), how many
    /// triangles it has.
    pub faces: Vec<Short>,
    /// Arrises and inner corners: two corner indices for each line. The joints between the flats of a round-over and
    /// faces that run on flat have none.
    pub edges: Vec<u32>,
}

/// Edges between flats that turn by less than this belong to a rounded arris and are not drawn.
const FACET: Angle = Angle::degrees(25.0);

/// Which finish a face gets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// None: a face that is glued, or lies in a joint.
    Bare,
    /// The outside's.
    Outside,
    /// The inside's.
    Inside,
}

impl Side {
    /// The number that stands for it in [`Mesh::faces`].
    const fn number(self) -> f64 {
        match self {
            Self::Bare => 0.0,
            Self::Outside => 1.0,
            Self::Inside => 2.0,
        }
    }
}

/// The surface of a piece of a part; `shell` in the part frame.
pub(super) fn mesh(part: &Part, shell: &Shell) -> Mesh {
    let mut made = Mesh { points: shell.points.iter().flat_map(|p| vector(*p)).collect(), ..Mesh::default() };
    let mut triangles = Vec::new();
    for face in &shell.faces {
        let before = triangles.len();
        shell.face_triangles(face, &mut triangles);
        made.faces.extend(vector(face.plane.n));
        made.faces.push(Short::of(side(part, face.tag).number()));
        made.faces.push(Short::of((triangles.len() - before) as f64));
    }
    made.triangles = triangles.as_flattened().to_vec();
    made.edges = shell.edges(FACET).iter().flat_map(|e| [e.a, e.b]).collect();
    made
}

/// Which finish the faces get that a blank face or cut made.
fn side(part: &Part, tag: u32) -> Side {
    let cut = tag.checked_sub(block_face::FIRST_CUT).and_then(|i| part.cuts.get(i as usize));
    match part.role {
        Role::Tongue => return Side::Bare,
        Role::Key | Role::Pull | Role::Foot | Role::Plinth => {
            return if tag >= FIRST_ASSEMBLY_CUT { Side::Bare } else { Side::Outside };
        }
        Role::Lining | Role::TrayWall | Role::TrayBottom | Role::Divider | Role::Bearer => {
            return cut.map_or(Side::Inside, |cut| of_cut(cut, Side::Inside));
        }
        Role::Ledge | Role::Lip => return Side::Inside,
        _ => {}
    }
    let bottom = part.role == Role::Bottom || part.name.starts_with("bottom");
    match (tag, cut) {
        (block_face::SHOW, _) if bottom => Side::Inside,
        (block_face::BACK, _) if !bottom => Side::Inside,
        (_, Some(cut)) => of_cut(cut, Side::Outside),
        _ if tag >= FIRST_ASSEMBLY_CUT => Side::Bare,
        _ => Side::Outside,
    }
}

/// A cut's own faces: joints stay bare, shaped arrises and square ends are finished with the face they belong to.
fn of_cut(cut: &Cut, seen: Side) -> Side {
    let miter = |a: Angle, b: Angle| a.abs().to_degrees() + b.abs().to_degrees() > 1.0;
    match cut.operation {
        Operation::EndCut { gauge, tilt, .. } if miter(gauge, tilt) => Side::Bare,
        Operation::Rabbet { .. }
        | Operation::Groove { .. }
        | Operation::EdgeGroove { .. }
        | Operation::EndSlot { .. }
        | Operation::Notch {
            purpose: NotchPurpose::HalfLap | NotchPurpose::Finger | NotchPurpose::HingeLeaf,
            ..
        } => Side::Bare,
        Operation::EndCut { .. }
        | Operation::EdgeCut { .. }
        | Operation::Notch { purpose: NotchPurpose::Opening, .. }
        | Operation::Chamfer { .. }
        | Operation::RoundOver { .. }
        | Operation::Bevel { .. } => seen,
    }
}
