//! A one-time link by which a device of the local network is paired.

use crate::qr::Qr;
use crate::secret;
use crate::state::Bench;
use crate::{clock, policy::who::PAIR};
use keepwright_store::{Place, Rights, Time};
use std::net::IpAddr;
use thiserror::Error;

/// How long a link can be used, in minutes.
pub const MINUTES: i64 = 10;

/// A link that was just made. It is shown once; what is kept cannot be turned back into it.
#[derive(Clone, Debug)]
pub struct Invitation {
    /// The link, once for each address by which this machine is reached; never empty.
    pub links: Vec<String>,
    /// What a device that uses it may do.
    pub rights: Rights,
    /// When it ends.
    pub until: Time,
}

/// Why there is no link.
#[derive(Debug, Error)]
pub enum InvitationError {
    /// The bench answers this machine only, or the machine is in no network.
    #[error(
        "no other device can reach this bench: stop it, connect this machine to the shop's network, and start it \
         with `keepwright bench --lan`"
    )]
    OutOfReach,
    /// The store.
    #[error(transparent)]
    Store(#[from] keepwright_store::Error),
    /// No random bytes.
    #[error("this system gives no random numbers: {0}")]
    Random(getrandom::Error),
}

impl Bench {
    /// Makes a link that pairs one device, within [`MINUTES`]. Links made earlier and not used end with it.
    ///
    /// # Errors
    /// [`InvitationError`].
    pub fn invite(&self, rights: Rights) -> Result<Invitation, InvitationError> {
        if self.others().is_empty() {
            return Err(InvitationError::OutOfReach);
        }
        let code = secret::random_code().map_err(InvitationError::Random)?;
        let now = Time::seconds(clock::now());
        let until = now.plus(60 * MINUTES);
        self.store().withdraw_pairings()?;
        self.store().offer_pairing(&code, Place::Lan, rights, until, now)?;
        let links = self.others().iter().map(|address| link(*address, self.port(), &code)).collect();
        Ok(Invitation { links, rights, until })
    }
}

impl Invitation {
    /// The link and a code of it for a camera, as lines for a terminal.
    pub fn lines(&self) -> String {
        let mut lines = String::new();
        for link in &self.links {
            if let Some(qr) = Qr::of(link) {
                lines.push_str(&qr.blocks());
            }
            lines.push_str(link);
            lines.push('\n');
        }
        lines
    }
}

fn link(address: IpAddr, port: u16, code: &str) -> String {
    let host = match address {
        IpAddr::V4(v4) => v4.to_string(),
        IpAddr::V6(v6) => format!("[{v6}]"),
    };
    format!("http://{host}:{port}{PAIR}{code}")
}
