//! The shop folder: everything a maker enters, kept safe.
//!
//! ```text
//! shop folder/  shop.sqlite   documents with every version, history, runs, ticks, devices, settings
//!               pictures/     pictures of boards, each named by the checksum of its bytes
//!               backups/      checked copies of shop.sqlite, rotated
//!               shop.lock     held by the one program that has the folder open
//! ```
//!
//! A [`Store`] is a handle to one open folder; clones share it, and any thread may use it. Calls block until
//! the disk has what they changed. A document (a box, a board, the shop) is a text that this crate never
//! reads into; each save of it is a new [`Version`] and none is ever overwritten. Times come from the caller.
//!
//! No type of the database library is public, and the tests in `tests/contract/` use public methods only, so
//! that another kind of store can be held to the same tests.

pub mod archive;
pub mod backup;
mod boards;
mod devices;
mod documents;
mod error;
mod files;
mod history;
mod ids;
mod jobs;
mod mend;
mod migrate;
mod open;
mod pictures;
mod rows;
mod runs;
mod settings;
mod ticks;
mod time;
mod versions;

pub use boards::{Board, BoardMark, NewBoard, Stock, StockState};
pub use devices::{Device, Lock, Paired, Place, Rights, Source};
pub use documents::{Document, Kind, MOST_NAME, MOST_TEXT, Shelf};
pub use error::{Error, OpenError};
pub use history::Event;
pub use ids::{DeviceId, DocumentId, RunId, VersionId};
pub use jobs::{BoxLine, Job, JobState};
pub use open::Store;
pub use pictures::{BoardPicture, MOST_PICTURE, PictureKind};
pub use runs::{Run, RunState};
pub use ticks::{Mark, NewTick, PlanTick, Tick, Ticked};
pub use time::{By, Time};
pub use versions::{Saved, Standing, Stepped, Version, VersionLine};
