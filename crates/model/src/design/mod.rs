//! The box as the maker states it: sizes, woods, joints. Everything else follows from this.
//!
//! [`Statement`] is the whole of it, with every choice made explicit; [`read_statement`] reads the maker's
//! file and [`write_statement`] writes it.

mod corner;
mod inside;
mod lid;
mod locate;
mod problem;
mod rack_file;
mod read;
mod shop_file;
mod statement;
mod usual;
mod write;

pub use corner::{CornerJoint, CornerName, FingerJoint, KeyDepth, KeyRow, Keys, LooseTongue, Spacing};
pub use inside::{Cloth, Contents, Dividers, Inside, Item, Lining, Tray, TrayJoint};
pub use lid::{Frame, FramePanel, Lid, LidKind, PanelHold, Pull, Registration, SawnTop};
pub use locate::locate;
pub use problem::{Place, Problem, place_of, show_problems};
pub use rack_file::{DefectFace, DefectKind, RackBoard, RackDefect, RackFile, RackPrice, RackSurface};
pub use read::page::WoodNames;
pub use read::rack::read_rack;
pub use read::shop::read_shop;
pub use read::{Defaults, FORMAT, MOST_IN_BATCH, read_statement, read_statement_bytes, text_of};
pub use shop_file::{
    AllowancesPart, BandsawPart, ClampsPart, GluePart, HomePart, Measured, MoneyPart, OverheadPart,
    PlanerPart, RouterPart, SawPart, ShopFile, ShopPart, TiltSide, ToothForm, WeekPart, WoodPart,
};
pub use statement::{
    Base, Bottom, BottomHold, Build, Coat, Edges, Finish, FinishKind, Hinges, Profile, RingCut, Shape, Size,
    SizeAt, Statement, StripMethod, Strips, WallCut, Walls, WoodUse,
};
pub use write::write_statement;
