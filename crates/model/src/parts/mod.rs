//! Parts: each a blank and the cuts made to it. Everything else follows from these.

mod blank;
mod cut;
mod cut_region;
mod derive;
mod part;

pub use blank::{Allowance, AllowanceKind, Blank};
pub use cut::{Arris, Cut, Edge, End, Face, Machine, NotchPurpose, Operation, Span};
pub use derive::{DeriveError, Derived, Settings, Swing, derive};
pub use part::{
    Assembly, AssemblyCut, AssemblyOperation, BoxParts, CornerLoss, Figure, Float, Hardware, Joint,
    JointKind, Origin, Part, PartId, Role, Run, Seam,
};
