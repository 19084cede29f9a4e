//! The bench in the browser: every box, the rack, the shop and the cards beside the saw, served to this machine.
//!
//! [`serve`] is the way in. The pages are whole without script; script only adds what moves. Everything shown is
//! computed from the documents in the store at the time of asking.

mod assets;
mod chapters;
mod clock;
pub mod demo;
mod download;
mod drafts;
pub mod edit;
mod error;
mod figure;
mod forms;
mod invitation;
mod packets;
mod pages;
mod planner;
mod policy;
mod qr;
mod routes;
pub mod scene;
mod secret;
mod server;
mod state;

pub use chapters::{Preview, Previewed};
pub use invitation::{Invitation, InvitationError, MINUTES};
pub use routes::router;
pub use server::{Config, Reach, ServeError, serve};
pub use state::Bench;
