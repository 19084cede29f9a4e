//! Where the program writes: data to standard output, talk to standard error.

use crate::failure::Failure;
use std::io::{self, ErrorKind, Write};

/// The two ways out.
pub(crate) struct Desk {
    out: Box<dyn Write>,
    talk: Box<dyn Write>,
}

impl Desk {
    /// Standard output and standard error.
    pub(crate) fn standard() -> Self {
        Self { out: Box::new(io::stdout()), talk: Box::new(io::stderr()) }
    }

    /// Writes data as it stands.
    ///
    /// # Errors
    /// [`Failure::OutputClosed`] when the reader has gone, [`Failure::Output`] for anything else.
    pub(crate) fn data(&mut self, text: &str) -> Result<(), Failure> {
        self.bytes(text.as_bytes())
    }

    /// Writes bytes of data.
    ///
    /// # Errors
    /// As [`Desk::data`].
    pub(crate) fn bytes(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        self.out.write_all(bytes).and_then(|()| self.out.flush()).map_err(|error| match error.kind() {
            ErrorKind::BrokenPipe => Failure::OutputClosed,
            _ => Failure::Output { says: format!("cannot write to standard output: {error}") },
        })
    }

    /// Says something to the maker.
    ///
    /// # Errors
    /// [`Failure::Output`] when nobody can be talked to.
    pub(crate) fn talk(&mut self, text: &str) -> Result<(), Failure> {
        self.talk
            .write_all(text.as_bytes())
            .and_then(|()| self.talk.flush())
            .map_err(|error| Failure::Output { says: format!("cannot write to standard error: {error}") })
    }
}
