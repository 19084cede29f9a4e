//! Exact solids of planar parts: a blank as a list of disjoint convex cells, cuts taken from it, its
//! volume, its outer faces, a watertight mesh, and line drawings of it.
//!
//! A box part is convex stock cut by planes, so a cut is clipping of convex cells: no curved surface and
//! no general mesh intersection is needed. Coordinates are plain millimeters inside this room.

mod carve;
mod cell;
mod intervals;
mod loops;
mod mesh;
mod outline;
mod overlay;
mod patch;
mod section;
mod shell;
mod solid;
mod triangulate;
mod view;
mod visible;
mod weld;

pub use carve::{FIRST_ASSEMBLY_CUT, carve, finished};
pub use cell::{Cell, CellFace};
pub use mesh::{Mesh, MeshProblem};
pub use outline::{Line2, LineKind, project, project_shells};
pub use section::{Section, section};
pub use shell::{Edge, Shell, ShellFace};
pub use solid::{Bounds, Solid, block_face, intersection_volume};
pub use view::View;
pub use visible::{Tint, visible_faces};

/// A corner this near to a plane lies on it, millimeters.
///
/// Coordinates of a box part are good to about 1e-12 mm, so a ten-millionth keeps noise out and wood in.
pub(crate) const ON: f64 = 1e-7;

/// A cut that reaches no deeper than this into a cell takes nothing, millimeters: coplanar tool faces
/// leave no slivers.
pub(crate) const THIN: f64 = 1e-6;

/// Less wood than this is no wood, cubic millimeters.
pub(crate) const NEGLIGIBLE: f64 = 1e-9;

/// Corners nearer than this are one corner, millimeters; wider than [`THIN`], so that what a cut leaves
/// alone closes up in the mesh.
pub(crate) const WELD: f64 = 2e-6;
