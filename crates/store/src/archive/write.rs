//! Writing the archive: all of it from one moment's copy of the database.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, Seek, Write};
use std::path::Path;

use rusqlite::Connection;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::names;
use crate::backup::copy_for_others;
use crate::documents::{Kind, Shelf};
use crate::error::Error;
use crate::files::Scratch;
use crate::jobs::heads;
use crate::open::Store;
use crate::time::Time;

/// The note to who opens the archive.
const NOTE: &str = "A whole shop, written by Keepwright. Take it in on the shop page of the bench.\n\
    boxes/, boards/ and shop.toml are copies for reading and for the command line; the database\n\
    shop.sqlite has these and every earlier version. A text changed here is refused on the way in:\n\
    take such a text in by itself.\n";

impl Store {
    /// Writes the whole shop as one archive, as it is at this moment; gives back what was written to.
    ///
    /// # Errors
    /// [`Error::Full`], [`Error::File`] when a picture or the archive cannot be read or written, or the database's.
    pub fn write_archive<W: Write + Seek>(&self, to: W, now: Time) -> Result<W, Error> {
        let scratch = Scratch::new(self.folder());
        let db = copy_for_others(self, scratch.file())?;
        let texts = texts(&db)?;
        let pictures = pictures(&db)?;
        drop(db);
        let mut archive = ZipWriter::new(to);
        let whole = Path::new("the archive");
        let failed = |error: zip::result::ZipError| Error::file(whole, &io::Error::from(error));
        let packed = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
        let stored = packed.compression_method(CompressionMethod::Stored);

        archive.start_file(names::NOTE, packed).map_err(failed)?;
        writeln!(archive, "{NOTE}Written {now} UTC.").map_err(|error| Error::file(whole, &error))?;
        archive.start_file(names::DATABASE, packed.large_file(true)).map_err(failed)?;
        pour(scratch.file(), &mut archive)?;
        for (name, text) in texts {
            archive.start_file(name, packed).map_err(failed)?;
            archive.write_all(text.as_bytes()).map_err(|error| Error::file(whole, &error))?;
        }
        for name in pictures {
            // Pictures are packed already.
            archive.start_file(format!("{}{name}", names::PICTURES), stored).map_err(failed)?;
            pour(&self.picture_file(&name), &mut archive)?;
        }
        archive.finish().map_err(failed)
    }
}

/// Pours a file of the shop folder into the archive.
fn pour(file: &Path, archive: &mut impl Write) -> Result<(), Error> {
    let poured = File::open(file).and_then(|mut from| io::copy(&mut from, archive));
    poured.map(|_| ()).map_err(|error| Error::file(file, &error))
}

/// The texts in force of all documents that are not in the bin, by their names in an archive.
pub(super) fn texts(db: &Connection) -> Result<BTreeMap<String, String>, Error> {
    let mut texts = BTreeMap::new();
    for &kind in Kind::ALL {
        for (document, head) in heads(db, kind, Shelf::Kept)? {
            texts.insert(names::of_document(kind, &document.slug), head.text);
        }
    }
    Ok(texts)
}

/// The names of all pictures.
pub(super) fn pictures(db: &Connection) -> Result<Vec<String>, Error> {
    let mut rows = db.prepare("SELECT name FROM picture ORDER BY name")?;
    Ok(rows.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?)
}
