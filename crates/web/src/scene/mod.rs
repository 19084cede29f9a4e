//! The box as the page draws it in space: exact solids, their wood, how they move, what to measure.
//!
//! Pure functions from a plan to structs that serialize. The script only draws them: every number about wood is
//! computed here.

mod element;
mod figure;
mod mesh;
mod number;
mod place;
mod sight;
mod sizes;
mod tone;

#[cfg(test)]
mod tests;

pub use element::element;
pub use figure::{Figure, Growth, figure};
pub use mesh::Mesh;
pub use number::Short;
pub use place::InStrip;
pub use sight::{Sight, SightError, line_drawing};
pub use sizes::{Place, Size};
pub use tone::Tones;

use keepwright_model::job::Plan;
use keepwright_model::parts::{Origin, Part};
use keepwright_model::space::{Pose, Vec3};
use keepwright_packet::drawings::{LidMotion, sawn};
use number::{pose, vector};
use serde::Serialize;
use sizes::Block;

/// A box in space.
///
/// # Units
/// Millimeters; box frame unless a field says otherwise.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Scene {
    /// What the maker calls the box.
    pub name: String,
    /// Least and greatest corner of what the closed box fills.
    pub low: [Short; 3],
    /// The greatest corner.
    pub high: [Short; 3],
    /// Likewise of the box wholly apart, together with its open lid.
    pub reach: [[Short; 3]; 2],
    /// How the lid opens; `None` for an open box.
    pub lid: Option<Lid>,
    /// The woods; a piece names one by its place here.
    pub woods: Vec<Wood>,
    /// How strongly the finish shines, outside and inside, 0 to 1.
    pub shine: [Short; 2],
    /// The solids.
    pub pieces: Vec<Piece>,
    /// The dimensions.
    pub sizes: Vec<Size>,
}

/// How the lid opens, all the way.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Lid {
    /// Lifted off.
    Lift {
        /// By this move.
        by: [Short; 3],
    },
    /// Drawn out.
    Slide {
        /// By this move.
        by: [Short; 3],
    },
    /// Turned on hinges.
    Turn {
        /// A point of the pins' line.
        at: [Short; 3],
        /// Its direction; by the right-hand rule the lid rises.
        along: [Short; 3],
        /// How far, degrees.
        degrees: Short,
    },
}

/// A wood of the box.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wood {
    /// Its id in the tables of woods.
    pub id: String,
    /// Its name as it is said.
    pub name: String,
    /// Its color.
    pub tones: Tones,
    /// Its figure.
    pub figure: Figure,
    /// What color and figure rest on.
    pub basis: &'static str,
}

/// One solid: a part, or the half of one that the saw divides.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Piece {
    /// The part's id, the same in the whole page: see [`part_id`].
    pub part: String,
    /// The part's name.
    pub name: String,
    /// What it does, in trade words.
    pub role: &'static str,
    /// Index of its wood.
    pub wood: usize,
    /// Whether it goes with the lid.
    pub lid: bool,
    /// From the part frame to the glued-up box: origin, u, v, w in a row.
    pub pose: [Short; 12],
    /// Let down by so much when the lid is sawn off and closed.
    pub closed: [Short; 3],
    /// Moved by so much when the box is wholly apart.
    pub apart: [Short; 3],
    /// Angle between its wide face and the growth rings, degrees.
    pub rings: Short,
    /// Its place in the strip it is cut from, if it is in one.
    pub strip: Option<InStrip>,
    /// From the part frame to the log: three rows of four numbers; growth rings are circles about the first axis.
    pub log: [Short; 12],
    /// Thickness of one ply, for a sheet good that has them; else zero.
    pub ply: Short,
    /// Its surface, in the part frame.
    pub mesh: Mesh,
}

/// A part's id in the page: its name with hyphens.
pub fn part_id(part: &Part) -> String {
    part.name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect()
}

/// The box in space.
pub fn scene(plan: &Plan) -> Scene {
    let parts = &plan.parts;
    let milling = &plan.shop.stock.milling;
    let lost = milling.resaw_kerf + milling.sawn_face * 2.0;
    let (outside, inside) =
        (tone::effect(plan.statement.finish.outside), tone::effect(plan.statement.finish.inside));
    let woods: Vec<Wood> = plan
        .woods
        .iter()
        .map(|(id, name)| Wood {
            id: id.clone(),
            name: name.clone(),
            tones: tone::tones(id, outside, inside),
            figure: figure(id),
            basis: "color and figure from memory, by eye",
        })
        .collect();
    let motion = LidMotion::of(&plan.statement, parts);
    let (mut closed, mut reach) = (Vec::new(), Vec::new());
    let mut pieces = Vec::with_capacity(plan.solids.len());
    for sawn in sawn(parts, &plan.solids) {
        let Some(part) = parts.parts.get(sawn.part) else { continue };
        let Some(place) = place::place(parts, sawn.part, lost) else { continue };
        let shell = sawn.solid.shell();
        let open = motion.filter(|_| sawn.lid).map_or(Pose::IDENTITY, |m| m.pose(1.0));
        for &p in &shell.points {
            closed.push(p + sawn.closed);
            reach.push(p + sawn.closed + sawn.apart);
            reach.push(open.point(p + sawn.closed));
        }
        pieces.push(Piece {
            part: part_id(part),
            name: part.name.clone(),
            role: part.role.words(),
            wood: woods.iter().position(|w| w.id == part.wood).unwrap_or(0),
            lid: sawn.lid,
            pose: pose(&part.pose),
            closed: vector(sawn.closed),
            apart: vector(sawn.apart),
            rings: Short::of(part.rings.to_degrees()),
            strip: place.strip,
            log: place.log,
            ply: ply(part),
            mesh: mesh::mesh(part, &shell.posed(&part.pose.inverse())),
        });
    }
    let nothing = Block { low: Vec3::ZERO, high: Vec3::ZERO };
    let block = Block::around(closed).unwrap_or(nothing);
    let (low, high) = sizes::corners(block);
    let reach = sizes::corners(Block::around(reach).unwrap_or(nothing));
    Scene {
        name: plan.statement.name.clone(),
        low,
        high,
        reach: [reach.0, reach.1],
        lid: motion.map(lid),
        woods,
        shine: [outside, inside].map(|e| Short::of(e.shine)),
        pieces,
        sizes: sizes::sizes(plan, block),
    }
}

fn lid(motion: LidMotion) -> Lid {
    match motion {
        LidMotion::Lift(by) => Lid::Lift { by: vector(by) },
        LidMotion::Slide(by) => Lid::Slide { by: vector(by) },
        LidMotion::Turn { at, along, to } => {
            Lid::Turn { at: vector(at), along: vector(along), degrees: Short::of(to.to_degrees()) }
        }
    }
}

/// A usual thickness of a ply, millimeters.
///
/// # Source
/// Common practice: birch plywood is laid up of veneers of about 1.4 mm (from memory).
const PLY: f64 = 1.4;

/// Thickness of one ply: an odd number of them fills the sheet. Only plywood has plies.
fn ply(part: &Part) -> Short {
    let plywood =
        part.origin == Origin::Sheet && matches!(part.wood.as_str(), "baltic_birch" | "veneered_panel");
    let thickness = part.size[2].to_mm();
    if !plywood || thickness <= 0.0 {
        return Short::default();
    }
    let pairs = ((thickness / PLY - 1.0) / 2.0).round().max(1.0);
    Short::of(thickness / (2.0 * pairs + 1.0))
}

/// The scene as JSON that may stand in a page's script block: no `<` in it, so nothing can end the block.
///
/// # Errors
/// None are known: every field has a form in JSON.
pub fn json(scene: &Scene) -> Result<String, serde_json::Error> {
    serde_json::to_string(scene).map(|text| text.replace('<', "\\u003c"))
}
