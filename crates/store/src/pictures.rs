//! Pictures of boards: files named by the checksum of their bytes, and which board shows which.
//!
//! A picture is never changed or removed: the same bytes have the same name, so a page may keep it for good, and
//! every backup of the database finds its pictures beside it.

use std::fs;
use std::io::ErrorKind;
use std::path::PathBuf;

use rusqlite::{Row, params};
use sha2::{Digest, Sha256};

use crate::documents::{Kind, must_be, must_be_short};
use crate::error::Error;
use crate::files;
use crate::ids::DocumentId;
use crate::open::{PICTURES, Store};
use crate::rows::time;
use crate::time::Time;

/// The largest picture, in bytes.
pub const MOST_PICTURE: usize = 32 << 20;
/// The longest name of a face, in bytes.
const MOST_FACE: usize = 40;

/// The kinds of picture that are kept; never one that can carry script.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureKind {
    /// A photograph.
    Jpeg,
    /// Drawn, or without loss.
    Png,
}

impl PictureKind {
    /// What its name ends with.
    fn ending(self) -> &'static str {
        match self {
            Self::Jpeg => "jpg",
            Self::Png => "png",
        }
    }

    /// As a page's header names it.
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
        }
    }

    /// The kind that a picture's name says; none when no picture has such a name.
    pub fn of_name(name: &str) -> Option<Self> {
        let (sum, ending) = name.split_once('.')?;
        let is_sum = sum.len() == 64 && sum.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        [Self::Jpeg, Self::Png].into_iter().find(|kind| is_sum && kind.ending() == ending)
    }

    /// Whether the bytes begin as this kind does.
    fn begins(self, bytes: &[u8]) -> bool {
        match self {
            Self::Jpeg => bytes.starts_with(&[0xff, 0xd8, 0xff]),
            Self::Png => bytes.starts_with(b"\x89PNG\r\n\x1a\n"),
        }
    }
}

/// A picture of one face of a board.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardPicture {
    /// Which face, in the caller's word.
    pub face: String,
    /// The picture's name.
    pub picture: String,
    /// How much of the board a pixel shows, in millimeters, where that is known.
    pub mm_per_pixel: Option<f64>,
    /// When it was put there.
    pub at: Time,
}

impl Store {
    /// Keeps a picture that the caller has decoded and encoded anew; its name. The same bytes are kept once.
    ///
    /// # Errors
    /// [`Error::Picture`] for bytes of another kind or too many; [`Error::File`], [`Error::Full`], or the
    /// database's.
    pub fn put_picture(&self, bytes: &[u8], kind: PictureKind, now: Time) -> Result<String, Error> {
        if bytes.len() > MOST_PICTURE {
            return Err(Error::TooLong { what: "the picture", given: bytes.len(), most: MOST_PICTURE });
        }
        let name = name_of(bytes, kind)?;
        let file = self.folder().join(PICTURES).join(&name);
        if !file.exists() {
            files::write_whole(&file, bytes).map_err(|error| Error::file(&file, &error))?;
        }
        self.write(|db| {
            db.prepare_cached(
                "INSERT INTO picture (name, size, kept_at) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING",
            )?
            .execute(params![
                name,
                i64::try_from(bytes.len()).unwrap_or(i64::MAX),
                now.to_seconds()
            ])?;
            Ok(())
        })?;
        Ok(name)
    }

    /// A picture's bytes and kind.
    ///
    /// # Errors
    /// [`Error::NoPicture`] also for a name that no picture can have, such as one with a path in it;
    /// [`Error::File`].
    pub fn picture(&self, name: &str) -> Result<(Vec<u8>, PictureKind), Error> {
        let missing = || Error::NoPicture { name: name.chars().take(80).collect() };
        let kind = PictureKind::of_name(name).ok_or_else(missing)?;
        let file = self.picture_file(name);
        match fs::read(&file) {
            Ok(bytes) => Ok((bytes, kind)),
            Err(error) if error.kind() == ErrorKind::NotFound => Err(missing()),
            Err(error) => Err(Error::file(&file, &error)),
        }
    }

    /// Shows a picture on a face of a board, instead of the one before.
    ///
    /// # Errors
    /// [`Error::NoPicture`], [`Error::Picture`] for a scale that is none, [`Error::NoDocument`],
    /// [`Error::WrongKind`], or the database's.
    pub fn show_picture(
        &self,
        board: DocumentId,
        face: &str,
        picture: &str,
        mm_per_pixel: Option<f64>,
        now: Time,
    ) -> Result<(), Error> {
        must_be_short("the name of the face", face, MOST_FACE)?;
        if mm_per_pixel.is_some_and(|scale| !scale.is_finite() || scale <= 0.0) {
            return Err(Error::Picture { says: "its scale must be more than nothing".to_owned() });
        }
        self.write(|db| {
            must_be(db, board, Kind::Board)?;
            if !db.prepare_cached("SELECT 1 FROM picture WHERE name = ?1")?.exists([picture])? {
                return Err(Error::NoPicture { name: picture.chars().take(80).collect() });
            }
            db.execute(
                "INSERT INTO board_picture (document, face, picture, mm_per_pixel, at)
                 VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (document, face) DO UPDATE
                 SET picture = excluded.picture, mm_per_pixel = excluded.mm_per_pixel, at = excluded.at",
                params![board.get(), face, picture, mm_per_pixel, now.to_seconds()],
            )?;
            Ok(())
        })
    }

    /// Shows no picture on a face of a board any more; the picture itself stays.
    ///
    /// # Errors
    /// The database's.
    pub fn hide_picture(&self, board: DocumentId, face: &str) -> Result<(), Error> {
        self.write(|db| {
            let sql = "DELETE FROM board_picture WHERE document = ?1 AND face = ?2";
            db.execute(sql, params![board.get(), face])?;
            Ok(())
        })
    }

    /// The pictures of a board, by face.
    ///
    /// # Errors
    /// [`Error::NoDocument`], [`Error::WrongKind`], or the database's.
    pub fn board_pictures(&self, board: DocumentId) -> Result<Vec<BoardPicture>, Error> {
        self.read(|db| {
            must_be(db, board, Kind::Board)?;
            let mut rows =
                db.prepare_cached("SELECT * FROM board_picture WHERE document = ?1 ORDER BY face")?;
            Ok(rows.query_map([board.get()], board_picture)?.collect::<Result<_, _>>()?)
        })
    }

    /// Where a picture of a good name lies.
    pub(crate) fn picture_file(&self, name: &str) -> PathBuf {
        self.folder().join(PICTURES).join(name)
    }
}

/// The name that bytes have, if they are a picture of the kind.
pub(crate) fn name_of(bytes: &[u8], kind: PictureKind) -> Result<String, Error> {
    if !kind.begins(bytes) {
        return Err(Error::Picture { says: format!("its bytes are not those of {}", kind.media_type()) });
    }
    let mut name = crate::devices::hex(&Sha256::digest(bytes));
    name.push('.');
    name.push_str(kind.ending());
    Ok(name)
}

/// A board's picture from its row.
fn board_picture(row: &Row<'_>) -> rusqlite::Result<BoardPicture> {
    Ok(BoardPicture {
        face: row.get("face")?,
        picture: row.get("picture")?,
        mm_per_pixel: row.get("mm_per_pixel")?,
        at: time(row, "at")?,
    })
}
