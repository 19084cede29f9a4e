//! Volumes, weights and faces of the finished parts.

use super::living::name_of;
use crate::parts::{BoxParts, Part, Role};
use crate::solids::{Solid, block_face};
use crate::space::Vec3;
use crate::units::{Area, Density, Mass, MoistureContent, Volume};
use crate::wood;

/// What one finished part holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartMeasure {
    /// Volume of wood.
    pub volume: Volume,
    /// Weight at today's moisture; `None` if the wood's density is not known.
    pub mass: Option<Mass>,
}

/// Faces to sand and finish, of one box.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Faces {
    /// Outside faces.
    pub outside: Area,
    /// Inside faces, linings, trays and dividers among them.
    pub inside: Area,
    /// Show edges: rims, lid edges, pulls.
    pub edges: Area,
}

/// Density at a moisture content.
fn density(id: &str, moisture: MoistureContent) -> Option<Density> {
    if let Some(sheet) = wood::sheet(id) {
        return Some(sheet.density.value);
    }
    wood::species(id)?.density(moisture)
}

/// Volume and weight of each part.
pub(super) fn measures(parts: &BoxParts, solids: &[Solid], moisture: MoistureContent) -> Vec<PartMeasure> {
    let mut known: Vec<(&str, Option<Density>)> = Vec::new();
    parts
        .parts
        .iter()
        .zip(solids)
        .map(|(part, solid)| {
            let volume = solid.volume();
            let found = known.iter().find(|(id, _)| *id == part.wood).map(|(_, d)| *d);
            let density = found.unwrap_or_else(|| {
                let d = density(&part.wood, moisture);
                known.push((&part.wood, d));
                d
            });
            // kg/m³ × mm³ × 1e-6 = grams.
            let mass = density.map(|d| Mass::grams(d.value() * volume.to_mm3() * 1e-6));
            PartMeasure { volume, mass }
        })
        .collect()
}

/// Area of the faces of a solid that carry a tag.
fn tagged(solid: &Solid, tag: u32) -> f64 {
    let mut sum = 0.0;
    for cell in solid.cells() {
        for face in cell.faces().iter().filter(|f| f.tag == tag) {
            let mut points = cell.outline(face);
            let Some(first) = points.next() else { continue };
            let mut twice = Vec3::ZERO;
            let mut last: Option<Vec3> = None;
            for p in points {
                if let Some(q) = last {
                    twice = twice + (q - first).cross(p - first);
                }
                last = Some(p);
            }
            sum += twice.norm() / 2.0;
        }
    }
    sum
}

/// Sums the faces that are sanded and finished.
pub(super) fn faces(parts: &BoxParts, solids: &[Solid]) -> Faces {
    let (mut outside, mut inside, mut edges) = (0.0, 0.0, 0.0);
    for (part, solid) in parts.parts.iter().zip(solids) {
        let (show, back) = (tagged(solid, block_face::SHOW), tagged(solid, block_face::BACK));
        match part.role {
            Role::Wall | Role::FrameMember | Role::FramePanel | Role::LidPanel | Role::Top => {
                outside += show;
                inside += back;
                edges += edge_area(part);
            }
            Role::Bottom => {
                inside += show;
                outside += back;
            }
            Role::Strip | Role::Veneer if part.name.starts_with("bottom") => {
                inside += show;
                outside += back;
            }
            Role::Strip | Role::Veneer => {
                outside += show;
                inside += back;
            }
            Role::Lining | Role::TrayWall | Role::TrayBottom | Role::Divider | Role::Bearer => {
                inside += show + back;
            }
            Role::Plinth | Role::Foot => outside += show,
            Role::Pull => edges += show + edge_area(part),
            Role::Ledge | Role::Lip | Role::Key | Role::Tongue => {}
        }
    }
    Faces { outside: Area::mm2(outside), inside: Area::mm2(inside), edges: Area::mm2(edges) }
}

/// One long edge of a part: the rim of a wall, the outside edge of a lid.
fn edge_area(part: &Part) -> f64 {
    (part.size[0] * part.size[2]).to_mm2()
}

/// The woods of a box by name, each once, the one with most wood first.
pub(super) fn woods(parts: &BoxParts, measures: &[PartMeasure]) -> Vec<(String, String)> {
    let mut sums: Vec<(&str, f64)> = Vec::new();
    for (part, m) in parts.parts.iter().zip(measures) {
        match sums.iter_mut().find(|(id, _)| *id == part.wood) {
            Some((_, v)) => *v += m.volume.to_mm3(),
            None => sums.push((&part.wood, m.volume.to_mm3())),
        }
    }
    sums.sort_by(|a, b| b.1.total_cmp(&a.1));
    sums.into_iter().map(|(id, _)| (id.to_string(), name_of(id))).collect()
}
