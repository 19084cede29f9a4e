//! Between rows and values: words kept as text, ids kept as numbers.

use rusqlite::Row;
use rusqlite::types::Type;

use crate::time::Time;

/// An enum whose members are kept, and shown in addresses and forms, as lower-case words.
macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$member:meta])* $case:ident = $word:literal),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $($(#[$member])* $case),+
        }

        impl $name {
            /// All of them, in order.
            pub const ALL: &[Self] = &[$(Self::$case),+];

            /// Its word.
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$case => $word),+
                }
            }

            /// The one with this word.
            pub fn from_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$case),)+
                    _ => None,
                }
            }
        }
    };
}
pub(crate) use words;

/// The member of an enum whose word stands in a column.
pub(crate) fn word<T>(row: &Row<'_>, column: &str, read: fn(&str) -> Option<T>) -> rusqlite::Result<T> {
    let text: String = row.get(column)?;
    read(&text).ok_or_else(|| {
        let says = format!("`{text}` in column `{column}` is no word of this version");
        rusqlite::Error::FromSqlConversionFailure(0, Type::Text, says.into())
    })
}

/// The id that stands in a column.
pub(crate) fn id<T>(row: &Row<'_>, column: &str, new: fn(i64) -> T) -> rusqlite::Result<T> {
    row.get(column).map(new)
}

/// The id that stands in a column, if any.
pub(crate) fn maybe_id<T>(row: &Row<'_>, column: &str, new: fn(i64) -> T) -> rusqlite::Result<Option<T>> {
    Ok(row.get::<_, Option<i64>>(column)?.map(new))
}

/// The time that stands in a column.
pub(crate) fn time(row: &Row<'_>, column: &str) -> rusqlite::Result<Time> {
    row.get(column).map(Time::seconds)
}
