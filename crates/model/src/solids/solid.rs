//! A solid as disjoint convex cells: cutting, keeping, measuring and moving it.

use super::cell::{Cell, Scratch};
use super::{NEGLIGIBLE, THIN};
use crate::space::{Convex, Plane, Pose, Vec3};
use crate::units::{Length, Volume};

/// Tags of the six faces of a blank, and where the tags of cuts may begin.
pub mod block_face {
    /// The end at u = 0.
    pub const START: u32 = 0;
    /// The end at u = length.
    pub const END: u32 = 1;
    /// The edge at v = 0.
    pub const LOW_EDGE: u32 = 2;
    /// The edge at v = width.
    pub const HIGH_EDGE: u32 = 3;
    /// The face at w = 0.
    pub const BACK: u32 = 4;
    /// The show face, at w = thickness.
    pub const SHOW: u32 = 5;
    /// The first tag free for cuts.
    pub const FIRST_CUT: u32 = 6;
    /// The inner face between two cells: wood on both sides.
    pub const SEAM: u32 = u32::MAX;
}

/// The least block along the axes that holds a solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The lowest corner.
    pub min: Vec3,
    /// The highest corner.
    pub max: Vec3,
}

impl Bounds {
    /// Whether two blocks overlap by more than `margin` millimeters in every direction.
    pub fn overlaps(&self, other: &Self, margin: f64) -> bool {
        let apart = |a0: f64, a1: f64, b0: f64, b1: f64| a1 <= b0 + margin || b1 <= a0 + margin;
        !(apart(self.min.x, self.max.x, other.min.x, other.max.x)
            || apart(self.min.y, self.max.y, other.min.y, other.max.y)
            || apart(self.min.z, self.max.z, other.min.z, other.max.z))
    }

    /// The least block that holds both.
    #[must_use]
    pub fn joined(&self, o: &Self) -> Self {
        Self {
            min: Vec3::new(self.min.x.min(o.min.x), self.min.y.min(o.min.y), self.min.z.min(o.min.z)),
            max: Vec3::new(self.max.x.max(o.max.x), self.max.y.max(o.max.y), self.max.z.max(o.max.z)),
        }
    }
}

/// The half-spaces of one cut that took wood: kept so that a seam laid bare later finds its maker.
#[derive(Clone, Debug, PartialEq)]
struct Cut {
    region: Convex,
    tag: u32,
}

/// A polyhedron as disjoint convex cells.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Solid {
    cells: Vec<Cell>,
    cuts: Vec<Cut>,
}

impl Solid {
    /// A blank in its part frame: 0 to length along u, 0 to width along v, 0 to thickness along w.
    /// Its faces carry the tags of [`block_face`]. A size of nothing or less gives an empty solid.
    pub fn block(length: Length, width: Length, thickness: Length) -> Self {
        Self::block_between(Vec3::ZERO, Vec3::new(length.to_mm(), width.to_mm(), thickness.to_mm()))
    }

    /// The block with the given lowest and highest corner, faces tagged as a blank's.
    pub fn block_between(min: Vec3, max: Vec3) -> Self {
        let d = max - min;
        // Written so that a size that is no number is empty too.
        let real = d.x > THIN && d.y > THIN && d.z > THIN && (d.x + d.y + d.z).is_finite();
        let cells = if real { vec![Cell::block(min, max, [0, 1, 2, 3, 4, 5])] } else { Vec::new() };
        Self { cells, cuts: Vec::new() }
    }

    /// The disjoint convex cells.
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// Whether no wood is left.
    pub fn is_empty(&self) -> bool {
        self.cells.is_empty()
    }

    /// Takes away everything inside a convex region, bounded or not; the new faces get the tag.
    /// Says whether any wood was taken.
    pub fn cut(&mut self, region: &Convex, tag: u32) -> bool {
        let mut scratch = Scratch::default();
        let mut carver = Carver { region, tag, scratch: &mut scratch, left: Vec::new(), order: Vec::new() };
        let mut touched = false;
        let mut i = 0;
        let mut untouched = self.cells.len();
        while i < untouched {
            if carver.carve(&self.cells[i]) {
                touched = true;
                // The last unvisited cell takes the carved one's place: the rest stays where it lies.
                untouched -= 1;
                self.cells.swap(i, untouched);
            } else {
                i += 1;
            }
        }
        if touched {
            self.cells.truncate(untouched);
            self.cells.append(&mut carver.left);
            self.cuts.push(Cut { region: region.clone(), tag });
        }
        touched
    }

    /// Keeps only what is inside a convex region; the new faces get the tag. Says whether any wood was taken.
    pub fn keep(&mut self, region: &Convex, tag: u32) -> bool {
        let mut touched = false;
        for plane in &region.planes {
            touched |= self.cut(&Convex::beyond(*plane), tag);
        }
        touched
    }

    /// Adds another solid that touches or stands clear of this one, as glue does. The two must not overlap.
    pub fn join(&mut self, other: &Self) {
        self.cells.extend_from_slice(&other.cells);
        self.cuts.extend_from_slice(&other.cuts);
    }

    /// Volume of the wood.
    pub fn volume(&self) -> Volume {
        Volume::mm3(self.cells.iter().map(Cell::volume).sum())
    }

    /// Center of gravity of even wood; `None` when empty.
    pub fn centroid(&self) -> Option<Vec3> {
        let (mut volume, mut moment) = (0.0, Vec3::ZERO);
        for cell in &self.cells {
            let (v, m) = cell.moments();
            volume += v;
            moment = moment + m;
        }
        (volume > 0.0).then(|| moment * (1.0 / volume))
    }

    /// The bounding box; `None` when empty.
    pub fn bounds(&self) -> Option<Bounds> {
        self.cells.iter().map(cell_bounds).reduce(|a, b| a.joined(&b))
    }

    /// The same solid seen from another frame.
    #[must_use]
    pub fn posed(&self, pose: &Pose) -> Self {
        Self {
            cells: self.cells.iter().map(|c| c.posed(pose)).collect(),
            cuts: self.cuts.iter().map(|c| Cut { region: c.region.posed(pose), tag: c.tag }).collect(),
        }
    }

    /// The tag of the cut that took the wood at a point, or reaches nearest to it; `None` when uncut.
    pub(super) fn taken_by(&self, p: Vec3) -> Option<u32> {
        let beyond = |c: &Cut| {
            let reach = c.region.planes.iter().map(|h| h.distance(p)).fold(f64::NEG_INFINITY, f64::max);
            // The first of several cuts that hold the point took the wood.
            reach.max(0.0)
        };
        self.cuts.iter().min_by(|a, b| beyond(a).total_cmp(&beyond(b))).map(|c| c.tag)
    }
}

fn cell_bounds(cell: &Cell) -> Bounds {
    Bounds { min: cell.min(), max: cell.max() }
}

/// Volume that two solids share; zero when they only touch.
pub fn intersection_volume(a: &Solid, b: &Solid) -> Volume {
    let (Some(box_a), Some(box_b)) = (a.bounds(), b.bounds()) else {
        return Volume::ZERO;
    };
    if !box_a.overlaps(&box_b, THIN) {
        return Volume::ZERO;
    }
    let mut scratch = Scratch::default();
    let mut total = 0.0;
    for cell in a.cells.iter().filter(|c| cell_bounds(c).overlaps(&box_b, THIN)) {
        for other in b.cells.iter().filter(|c| cell_bounds(c).overlaps(&cell_bounds(cell), THIN)) {
            total += shared_volume(cell, other, &mut scratch);
        }
    }
    Volume::mm3(total)
}

/// Volume of the overlap of two cells, cubic millimeters.
fn shared_volume(cell: &Cell, other: &Cell, scratch: &mut Scratch) -> f64 {
    let mut rest: Option<Cell> = None;
    for face in other.faces() {
        let now = rest.as_ref().unwrap_or(cell);
        match Meeting::of(now, &face.plane) {
            Meeting::Beyond => return 0.0,
            Meeting::Within => {}
            Meeting::Across(_) => {
                if let Some((inside, _)) = now.split(&face.plane, block_face::SEAM, None, scratch) {
                    rest = Some(inside);
                }
            }
        }
    }
    rest.as_ref().unwrap_or(cell).volume()
}

/// How a cell lies to a half-space.
enum Meeting {
    /// No wood inside it.
    Beyond,
    /// All inside it.
    Within,
    /// On both sides; carries the greatest distance outside.
    Across(f64),
}

impl Meeting {
    fn of(cell: &Cell, plane: &Plane) -> Self {
        let judge = |(lo, hi): (f64, f64)| {
            if lo > -THIN {
                Self::Beyond
            } else if hi < THIN {
                Self::Within
            } else {
                Self::Across(hi)
            }
        };
        match judge(cell.box_extent(plane)) {
            Self::Across(_) => judge(cell.extent(plane)),
            clear => clear,
        }
    }
}

/// Takes one region out of cell after cell.
struct Carver<'a> {
    region: &'a Convex,
    tag: u32,
    scratch: &'a mut Scratch,
    /// What is left of the carved cells.
    left: Vec<Cell>,
    /// The planes that cross the cell at hand, farthest reach outside first.
    order: Vec<(f64, Plane)>,
}

impl Carver<'_> {
    /// Adds what is left of a cell to `left`; false (and nothing added) when the region misses the cell.
    fn carve(&mut self, cell: &Cell) -> bool {
        self.order.clear();
        for plane in &self.region.planes {
            match Meeting::of(cell, plane) {
                Meeting::Beyond => return false,
                Meeting::Within => {}
                Meeting::Across(reach) => self.order.push((reach, *plane)),
            }
        }
        // The plane that leaves most wood outside goes first: later cuts then meet few, small cells.
        self.order.sort_by(|a, b| b.0.total_cmp(&a.0));
        let before = self.left.len();
        let mut rest: Option<Cell> = None;
        for (_, plane) in &self.order {
            let now = rest.as_ref().unwrap_or(cell);
            match Meeting::of(now, plane) {
                Meeting::Beyond => {
                    self.left.truncate(before);
                    return false;
                }
                Meeting::Within => {}
                Meeting::Across(_) => {
                    let split = now.split(plane, block_face::SEAM, Some(self.tag), self.scratch);
                    let Some((inside, outside)) = split else {
                        // Only a plane that is no plane (a number missing) comes here: it takes nothing.
                        self.left.truncate(before);
                        return false;
                    };
                    self.left.extend(outside.filter(|c| c.volume() > NEGLIGIBLE));
                    rest = Some(inside);
                }
            }
        }
        if rest.is_some_and(|taken| taken.volume() <= NEGLIGIBLE) {
            self.left.truncate(before);
            return false;
        }
        true
    }
}
