//! From a statement to the parts of one box: pure functions, nothing stored twice.

mod bottom;
mod check;
mod error;
mod fingers;
mod hinges;
mod inside;
mod keys;
mod lid;
mod lid_frame;
mod panel;
mod ring;
mod settings;
mod size;
mod stand;
mod tongue;
mod walls;

pub use error::DeriveError;
pub use settings::{Settings, Swing};

use super::blank::{Allowance, AllowanceKind, Blank};
use super::cut::{Cut, Machine, NotchPurpose, Operation};
use super::part::{Assembly, BoxParts, Hardware, Joint, JointKind, Origin, Part, PartId, Role, Run, Seam};
use crate::caution::Caution;
use crate::design::{Build, Registration, Statement};
use crate::reason::Reason;
use crate::space::{Pose, Vec3};
use crate::units::{Angle, Area, Length};
use size::Shell;

/// The parts of a stated box, what to know about them, and how their numbers came about.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The parts.
    pub parts: BoxParts,
    /// What to know.
    pub cautions: Vec<Caution>,
    /// Where the main numbers come from.
    pub reasons: Vec<Reason>,
}

/// Derives the parts of one box.
///
/// # Errors
/// Every contradiction found, each with the key of the statement to change.
pub fn derive(statement: &Statement, settings: &Settings<'_>) -> Result<Derived, Vec<DeriveError>> {
    let mut reasons = Vec::new();
    let shell = size::shell(statement, &mut reasons).map_err(|e| vec![e])?;
    let mut b = Builder {
        s: statement,
        set: settings,
        shell,
        parts: Vec::with_capacity(32),
        joints: Vec::with_capacity(32),
        runs: Vec::new(),
        floats: Vec::new(),
        box_cuts: Vec::new(),
        lid_cuts: Vec::new(),
        extra_assemblies: Vec::new(),
        hardware: Vec::new(),
        cautions: Vec::new(),
        reasons,
        errors: Vec::new(),
        walls: Vec::new(),
        lid_parts: Vec::new(),
        loose: Vec::new(),
        lid_seat: 0.0,
        top: 0.0,
        frame_opening: None,
        saw_line: None,
        saw_cut: None,
    };
    b.walls();
    // Without walls there is nothing to hold the rest.
    if !b.errors.is_empty() {
        return Err(b.errors);
    }
    b.bottom();
    b.lid();
    b.corners();
    b.inside();
    b.stand();
    b.check();
    b.finish()
}

/// Work in progress on one box.
struct Builder<'a> {
    s: &'a Statement,
    set: &'a Settings<'a>,
    shell: Shell,
    parts: Vec<Part>,
    joints: Vec<Joint>,
    runs: Vec<Run>,
    floats: Vec<super::part::Float>,
    box_cuts: Vec<super::part::AssemblyCut>,
    lid_cuts: Vec<super::part::AssemblyCut>,
    extra_assemblies: Vec<Assembly>,
    hardware: Vec<Hardware>,
    cautions: Vec<Caution>,
    reasons: Vec<Reason>,
    errors: Vec<DeriveError>,
    walls: Vec<PartId>,
    /// Parts of a lid that is an assembly of its own.
    lid_parts: Vec<PartId>,
    /// Parts that are not glued into box or lid (dividers, sliding lid).
    loose: Vec<PartId>,
    /// Height of the lid's underside.
    lid_seat: f64,
    /// Highest point of the closed box.
    top: f64,
    /// Clear length and depth inside a lid's frame.
    frame_opening: Option<(f64, f64)>,
    /// What the saw and the clean-up take when the lid is sawn off: from and to, above the lower edge.
    saw_line: Option<(f64, f64)>,
    /// The cut that takes it, made after the keys.
    saw_cut: Option<super::part::AssemblyCut>,
}

/// What the trade calls the sides of a rectangle; a polygon's sides are numbered from the front.
fn side_name(sides: usize, i: usize) -> String {
    match (sides, i) {
        (4, 0) => "front".into(),
        (4, 1) => "right".into(),
        (4, 2) => "back".into(),
        (4, 3) => "left".into(),
        (_, i) => format!("side {}", i + 1),
    }
}

/// A new part's particulars, before it gets its blank.
struct NewPart<'n> {
    name: String,
    role: Role,
    wood: &'n str,
    rings: Angle,
    size: [Length; 3],
    pose: Pose,
    cuts: Vec<Cut>,
    explode: Vec3,
    origin: Origin,
}

impl Builder<'_> {
    /// Adds a part with the shop's usual allowances.
    fn add(&mut self, new: NewPart<'_>) -> PartId {
        let id = PartId(self.parts.len());
        // A part stated of a sheet good comes from a sheet, whatever its kind usually comes from.
        let sheet = new.origin == Origin::Board && crate::wood::sheet(new.wood).is_some();
        let origin = if sheet { Origin::Sheet } else { new.origin };
        let blank = Blank { finished: new.size, allowances: self.allowances(origin) };
        self.parts.push(Part {
            name: new.name,
            role: new.role,
            wood: new.wood.to_string(),
            rings: new.rings,
            size: new.size,
            blank,
            origin,
            cuts: new.cuts,
            pose: new.pose,
            layer_of: None,
            run: None,
            explode: new.explode,
        });
        id
    }

    fn allowances(&self, origin: Origin) -> Vec<Allowance> {
        let zero = Length::ZERO;
        let (ends, edges) = (self.set.end_trim * 2.0, self.set.edge_trim * 2.0);
        let trim = Allowance { kind: AllowanceKind::Trim, length: ends, width: edges, thickness: zero };
        match origin {
            Origin::Board => vec![
                trim,
                Allowance {
                    kind: AllowanceKind::Sanding,
                    length: zero,
                    width: zero,
                    thickness: self.set.sanding * 2.0,
                },
                Allowance {
                    kind: AllowanceKind::Milling,
                    length: zero,
                    width: zero,
                    thickness: self.set.milling,
                },
            ],
            Origin::Sheet | Origin::VeneerLeaf => vec![trim],
            Origin::KeyStrip => vec![Allowance {
                kind: AllowanceKind::Kerf,
                length: self.set.kerf * core::f64::consts::SQRT_2,
                width: zero,
                thickness: zero,
            }],
        }
    }

    fn joint(&mut self, a: PartId, b: PartId, kind: JointKind, seam: Seam, area: f64, cross_grain: f64) {
        self.joints.push(Joint {
            a,
            b,
            kind,
            seam,
            area: Area::mm2(area),
            cross_grain: Length::mm(cross_grain),
        });
    }

    fn error(&mut self, what: &'static str, key: &'static str, remedy: &'static str) {
        self.errors.push(DeriveError::Contradiction { what, key, remedy });
    }

    fn cut_part(&mut self, id: PartId, operation: Operation) {
        let machine = usual_machine(&operation);
        self.parts[id.0].cuts.push(Cut { operation, machine });
    }

    fn finish(mut self) -> Result<Derived, Vec<DeriveError>> {
        if !self.errors.is_empty() {
            return Err(self.errors);
        }
        let shell = &self.shell;
        let (low0, high0) = shell.ring.bounds(0.0);
        let (low1, high1) = shell.ring.bounds(shell.height);
        let over = self.s.lid.overhang.to_mm() * 2.0;
        let outside = [
            (high0.x.max(high1.x) - low0.x.min(low1.x)) + over,
            (high0.y.max(high1.y) - low0.y.min(low1.y)) + over,
            self.top - self.base_height(),
        ];
        let inner = shell.ring.offset(-shell.thickness);
        let narrow_at = if shell.ring.lean >= 0.0 { shell.floor } else { self.lid_seat };
        let (low, high) = inner.bounds(narrow_at);
        let inside = [high.x - low.x, high.y - low.y, self.inside_height()];
        let mut assemblies = Vec::new();
        let of_box: Vec<PartId> = (0..self.parts.len())
            .map(PartId)
            .filter(|id| {
                !self.lid_parts.contains(id)
                    && !self.loose.contains(id)
                    && !self.extra_assemblies.iter().any(|a| a.parts.contains(id))
            })
            .collect();
        assemblies.push(Assembly {
            name: "box".into(),
            parts: of_box,
            cuts: core::mem::take(&mut self.box_cuts),
        });
        if !self.lid_parts.is_empty() {
            assemblies.push(Assembly {
                name: "lid".into(),
                parts: core::mem::take(&mut self.lid_parts),
                cuts: core::mem::take(&mut self.lid_cuts),
            });
        }
        assemblies.append(&mut self.extra_assemblies);
        Ok(Derived {
            parts: BoxParts {
                parts: self.parts,
                assemblies,
                joints: self.joints,
                runs: self.runs,
                floats: self.floats,
                hardware: self.hardware,
                outside: outside.map(Length::mm),
                inside: inside.map(Length::mm),
            },
            cautions: self.cautions,
            reasons: self.reasons,
        })
    }

    /// Clear height from the floor to the underside of the closed lid.
    fn inside_height(&self) -> f64 {
        let sawn = match &self.s.lid.kind {
            crate::design::LidKind::Sawn { kerf, clean_up, .. } => (*kerf + *clean_up * 2.0).to_mm(),
            _ => 0.0,
        };
        self.lid_seat - self.shell.floor - sawn
    }

    fn hinged(&self) -> bool {
        self.s.lid.registration == Registration::Hinges
    }
}

/// The wood and rings that stand for a panel's movement: its own, or those of its widest strip.
fn main_wood(build: &Build) -> (&str, Angle) {
    match build {
        Build::Solid(w) => (&w.wood, w.rings.angle()),
        Build::Striped(strips) => strips
            .pattern
            .iter()
            .max_by(|a, b| a.1.to_mm().total_cmp(&b.1.to_mm()))
            .map_or(("", Angle::ZERO), |(w, _)| (w.wood.as_str(), w.rings.angle())),
        Build::Sheet(id) | Build::Veneered { core: id, .. } => (id, Angle::ZERO),
    }
}

/// The machine that the trade would reach for first.
fn usual_machine(operation: &Operation) -> Machine {
    match operation {
        Operation::EndCut { .. }
        | Operation::EdgeCut { .. }
        | Operation::Rabbet { .. }
        | Operation::Groove { .. }
        | Operation::EdgeGroove { .. }
        | Operation::EndSlot { .. } => Machine::TableSaw,
        Operation::Notch { purpose, .. } => match purpose {
            NotchPurpose::HingeLeaf => Machine::HandTools,
            NotchPurpose::HalfLap | NotchPurpose::Finger | NotchPurpose::Opening => Machine::TableSaw,
        },
        Operation::Chamfer { .. } | Operation::RoundOver { .. } => Machine::RouterTable,
        Operation::Bevel { .. } => Machine::HandTools,
    }
}
