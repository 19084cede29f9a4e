//! Numbers by which rows are known, each kind a type of its own so that they cannot be mixed up.

use std::fmt;

macro_rules! ids {
    ($($(#[$about:meta])* $name:ident)*) => {$(
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(i64);

        impl $name {
            /// The one with this number, as it came back from a form or an address.
            pub fn new(number: i64) -> Self {
                Self(number)
            }

            /// Its number, to put in a form or an address.
            pub fn get(self) -> i64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
    )*};
}

ids! {
    /// A document: a box, a board or the shop.
    DocumentId
    /// One version of a document's text.
    VersionId
    /// A cutting run.
    RunId
    /// A paired device or this machine's own browser.
    DeviceId
}
