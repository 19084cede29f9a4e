//! The names that an archive may hold, and what each stands for.

use crate::documents::Kind;
use crate::pictures::PictureKind;

/// The database's name.
pub(super) const DATABASE: &str = "shop.sqlite";
/// The note to who opens the archive.
pub(super) const NOTE: &str = "README.txt";
/// The folder of pictures.
pub(super) const PICTURES: &str = "pictures/";
/// The shop's text.
const SHOP: &str = "shop.toml";
/// The folder of boxes.
const BOXES: &str = "boxes/";
/// The folder of boards.
const BOARDS: &str = "boards/";
/// The longest name of all, in bytes.
const LONGEST: usize = 120;

/// What a file in an archive is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// The database.
    Database,
    /// The note, or a folder: nothing to take in.
    Nothing,
    /// A document's text.
    Text,
    /// A picture.
    Picture(PictureKind),
}

/// What a name stands for, or what is wrong with it.
pub(super) fn what(name: &str) -> Result<What, &'static str> {
    if name.len() > LONGEST {
        return Err("has a longer name than any file of a shop");
    }
    if name.starts_with('/') || name.contains(':') {
        return Err("is the path of another place");
    }
    if name.contains('\\') {
        return Err("has a backslash in its name");
    }
    if name.split('/').any(|step| step == ".." || step == ".") {
        return Err("leads out of the archive");
    }
    match name {
        DATABASE => return Ok(What::Database),
        NOTE | BOXES | BOARDS | PICTURES => return Ok(What::Nothing),
        SHOP => return Ok(What::Text),
        _ => {}
    }
    if let Some(picture) = name.strip_prefix(PICTURES) {
        return PictureKind::of_name(picture).map(What::Picture).ok_or("is no picture of a shop");
    }
    let slug = name
        .strip_prefix(BOXES)
        .or_else(|| name.strip_prefix(BOARDS))
        .and_then(|rest| rest.strip_suffix(".toml"))
        .ok_or("is no file of a shop")?;
    let letters = slug.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'-'));
    if letters && !slug.is_empty() { Ok(What::Text) } else { Err("is no file of a shop") }
}

/// The name of a document's text.
pub(super) fn of_document(kind: Kind, slug: &str) -> String {
    match kind {
        Kind::Box => format!("{BOXES}{slug}.toml"),
        Kind::Board => format!("{BOARDS}{slug}.toml"),
        Kind::Shop => SHOP.to_owned(),
    }
}
