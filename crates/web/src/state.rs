//! What all pages work with: the store, the secret, the names under which the bench answers.

use crate::demo;
use crate::error::PageError;
use crate::packets::Packets;
use crate::pages::cutting::live::Runs;
use crate::planner::{self, Ground};
use crate::policy::hosts::Hosts;
use crate::secret;
use crate::server::ServeError;
use keepwright_model::design::show_problems;
use keepwright_model::job::Shop;
use keepwright_store::{Document, DocumentId, Kind, Shelf, StockState, Store};
use std::net::IpAddr;
use std::sync::Arc;

/// The setting under which the secret of the tokens is kept, so that a page outlives a restart of the program.
const SECRET: &str = "secret";

/// An open shop, ready to answer; clones are handles to the same one.
#[derive(Clone, Debug)]
pub struct Bench(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    store: Store,
    secret: String,
    port: u16,
    hosts: Hosts,
    others: Vec<IpAddr>,
    runs: Runs,
    packets: Packets,
}

impl Bench {
    /// A bench over a store, answering on a port under its own names.
    ///
    /// # Errors
    /// When the store cannot be read, or the system gives no random bytes for a first secret.
    pub(crate) fn new(
        store: Store,
        port: u16,
        hosts: Hosts,
        others: Vec<IpAddr>,
    ) -> Result<Self, ServeError> {
        let secret = match store.setting(SECRET)? {
            Some(secret) => secret,
            None => {
                let fresh = secret::random_hex().map_err(ServeError::Random)?;
                store.set(SECRET, &fresh)?;
                fresh
            }
        };
        Ok(Self(Arc::new(Inner {
            store,
            secret,
            port,
            hosts,
            others,
            runs: Runs::default(),
            packets: Packets::default(),
        })))
    }

    /// A bench for tests that call the pages without a connection.
    ///
    /// # Errors
    /// As when serving.
    pub fn for_tests(store: Store) -> Result<Self, ServeError> {
        Self::for_tests_in_network(store, Vec::new())
    }

    /// As [`Bench::for_tests`], as if it were reached in a local network by these addresses too.
    ///
    /// # Errors
    /// As when serving.
    pub fn for_tests_in_network(store: Store, others: Vec<IpAddr>) -> Result<Self, ServeError> {
        let port = 4571;
        Self::new(store, port, Hosts::new(port, &others), others)
    }

    pub(crate) fn secret(&self) -> &str {
        &self.0.secret
    }

    pub(crate) fn port(&self) -> u16 {
        self.0.port
    }

    pub(crate) fn hosts(&self) -> &Hosts {
        &self.0.hosts
    }

    /// Addresses in the local network by which it answers; none unless asked for.
    pub(crate) fn others(&self) -> &[IpAddr] {
        &self.0.others
    }

    /// The store, for work that is off the async threads already.
    pub(crate) fn store(&self) -> &Store {
        &self.0.store
    }

    /// The cutting runs under way.
    pub(crate) fn runs(&self) -> &Runs {
        &self.0.runs
    }

    /// The packets that are made or kept.
    pub(crate) fn packets(&self) -> &Packets {
        &self.0.packets
    }

    /// Puts the secret of the tokens into the store again, where another shop has taken this one's place: pages that are
    /// open stay valid, and no archive brings a secret that somebody else knows.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub(crate) fn keep_secret(&self) -> Result<(), PageError> {
        Ok(self.0.store.set(SECRET, &self.0.secret)?)
    }

    /// Does work that reads the store or plans, on a thread that may block.
    ///
    /// # Errors
    /// What the work gives; [`PageError::Broken`] if it did not end.
    pub(crate) async fn work<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Self) -> Result<T, PageError> + Send + 'static,
    ) -> Result<T, PageError> {
        let bench = self.clone();
        tokio::task::spawn_blocking(move || work(&bench))
            .await
            .unwrap_or_else(|ended| Err(PageError::Broken(ended.to_string())))
    }

    /// The shop as stated.
    ///
    /// # Errors
    /// When its text has problems: they are named with their lines.
    pub(crate) fn shop(&self) -> Result<Shop, PageError> {
        let text = self.shop_text()?;
        planner::shop(&text).map_err(|problems| {
            PageError::refused(
                show_problems(&problems, "the shop", &text),
                "mend the shop's statement on its page, or go back to an earlier version of it",
            )
        })
    }

    /// The shop's text; that of the demo workshop for a folder without one.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub(crate) fn shop_text(&self) -> Result<String, PageError> {
        match self.store().shop()? {
            Some(document) => Ok(self.store().head(document.id)?.text),
            None => Ok(demo::SHOP.to_owned()),
        }
    }

    /// The shop and the boards that a box may use: those that are free, and those reserved or cut for it. A board whose text
    /// has a problem is left out; its own page says what is wrong with it.
    ///
    /// # Errors
    /// When the store cannot be read or the shop's text has problems.
    pub(crate) fn ground(&self, document: DocumentId) -> Result<Ground, PageError> {
        let shop = self.shop()?;
        let mut rack = Vec::new();
        for board in self.store().boards(Shelf::Kept)? {
            let usable = match (board.stock.state, board.stock.run) {
                (StockState::Free, _) => true,
                (StockState::Reserved | StockState::Used, Some(run)) => {
                    self.store().run_boxes(run)?.contains(&document)
                }
                (StockState::Reserved | StockState::Used, None) => false,
            };
            if usable {
                rack.extend(planner::boards(&board.head.text, &shop).unwrap_or_default());
            }
        }
        Ok(Ground { shop, rack })
    }

    /// A box by its address.
    ///
    /// # Errors
    /// When there is none, or the store cannot be read.
    pub(crate) fn find_box(&self, slug: &str) -> Result<Document, PageError> {
        self.store().document(Kind::Box, slug).map_err(|error| match error {
            keepwright_store::Error::NoSlug { .. } => {
                PageError::NoSuch { what: "box", name: slug.to_owned() }
            }
            other => other.into(),
        })
    }
}
