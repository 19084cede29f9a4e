//! Photographs of a board's faces: taken only after they were decoded, and kept as a plain picture made anew.

use super::super::frame::page_as;
use super::board;
use crate::clock;
use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::extract::multipart::MultipartError;
use axum::extract::{DefaultBodyLimit, Multipart, Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::post;
use axum::{Extension, Form, Router};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use keepwright_store::{DocumentId, PictureKind, Time};
use std::io::Cursor;
use std::sync::{Mutex, PoisonError};

/// The most bytes of an upload.
pub(super) const MOST_UPLOAD: usize = 24 << 20;
/// The longest side of a picture that is decoded, in pixels.
const LONGEST: u32 = 12_000;
/// The most pixels of a picture that is decoded.
const MOST_PIXELS: u64 = 64_000_000;
/// The most memory that decoding may take, in bytes.
const MOST_MEMORY: u64 = 512 << 20;
/// The longest side of a picture that is kept: more than the finest screen shows of a board.
const KEPT: u32 = 4096;
/// How well it is kept, of 100.
const QUALITY: u8 = 85;
/// The faces that a photograph may show.
const FACES: [&str; 2] = ["front", "back"];

/// One picture is decoded at a time, so that several large ones do not take the machine's memory together.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// The address that takes a photograph, with a limit of its own.
pub(super) fn upload() -> Router<Bench> {
    Router::new().route("/rack/{slug}/photo", post(take)).layer(DefaultBodyLimit::max(MOST_UPLOAD))
}

/// The address of the photograph of a board's front, if there is one.
///
/// # Errors
/// When the store cannot be read.
pub(super) fn front(bench: &Bench, id: DocumentId) -> Result<Option<String>, PageError> {
    let pictures = bench.store().board_pictures(id)?;
    Ok(pictures.into_iter().find(|p| p.face == "front").map(|p| address(&p.picture)))
}

/// Where a picture is served.
pub(super) fn address(name: &str) -> String {
    format!("/pictures/{name}")
}

async fn take(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    sent: Multipart,
) -> Result<Response, PageError> {
    let (face, bytes) = received(sent).await?;
    bench
        .work(move |bench| {
            let document = board::find(bench, &slug)?;
            let refused = |says: String| {
                let shown = board::page_of(bench, &who, &document, board::Aside::Photo(says))?;
                page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
            };
            if !FACES.contains(&face.as_str()) {
                return refused("Say which face the photograph shows: front or back.".to_owned());
            }
            let jpeg = match made_anew(&bytes) {
                Ok(jpeg) => jpeg,
                Err(says) => return refused(says),
            };
            let now = Time::seconds(clock::now());
            let name = bench.store().put_picture(&jpeg, PictureKind::Jpeg, now)?;
            bench.store().show_picture(document.id, &face, &name, None, now)?;
            Ok(Redirect::to(&format!("/rack/{slug}#photo")).into_response())
        })
        .await
}

/// The face and the file of an upload.
async fn received(mut sent: Multipart) -> Result<(String, Vec<u8>), PageError> {
    let (mut face, mut bytes) = (String::new(), Vec::new());
    while let Some(field) = sent.next_field().await.map_err(|e| broken(&e))? {
        match field.name() {
            Some("face") => face = field.text().await.map_err(|e| broken(&e))?,
            Some("photo") => bytes = field.bytes().await.map_err(|e| broken(&e))?.to_vec(),
            _ => {}
        }
    }
    Ok((face, bytes))
}

/// An upload that broke off or is larger than it may be.
pub(super) fn broken(error: &MultipartError) -> PageError {
    if error.status() == StatusCode::PAYLOAD_TOO_LARGE {
        PageError::TooLarge { most: MOST_UPLOAD }
    } else {
        PageError::BrokenBody(error.body_text())
    }
}

/// Decodes a photograph and encodes it anew, upright, not too large, with nothing in it but the picture.
///
/// # Errors
/// Why it is not taken, with the remedy, in a sentence.
fn made_anew(bytes: &[u8]) -> Result<Vec<u8>, String> {
    const REMEDY: &str = "Choose a photograph saved as JPEG, PNG or WebP.";
    if bytes.is_empty() {
        return Err(format!("No photograph was chosen. {REMEDY}"));
    }
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|e| format!("The file cannot be read: {e}. {REMEDY}"))?;
    if !matches!(reader.format(), Some(ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP)) {
        return Err(format!("The file is no JPEG, PNG or WebP, whatever it is called. {REMEDY}"));
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST);
    limits.max_image_height = Some(LONGEST);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let _alone = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let unreadable = |e: image::ImageError| match e {
        image::ImageError::Limits(_) => too_large(None),
        other => format!("The picture cannot be decoded: {other}. {REMEDY}"),
    };
    let mut decoder = reader.into_decoder().map_err(unreadable)?;
    let (width, height) = decoder.dimensions();
    if width > LONGEST || height > LONGEST || u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(too_large(Some((width, height))));
    }
    // A camera writes how it was held beside the picture; that is lost with the rest, so it is applied first.
    let held = decoder.orientation().map_err(unreadable)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(unreadable)?;
    if width.max(height) > KEPT {
        picture = picture.thumbnail(KEPT, KEPT);
    }
    picture.apply_orientation(held);
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode_image(&picture.into_rgb8())
        .map_err(|e| format!("The picture cannot be kept: {e}. {REMEDY}"))?;
    Ok(out)
}

fn too_large(size: Option<(u32, u32)>) -> String {
    let size = size.map_or_else(String::new, |(w, h)| format!(" It has {w} × {h} pixels."));
    format!(
        "The picture is too large.{size} At most {LONGEST} pixels a side and {} million pixels in all are taken: make \
         it smaller first.",
        MOST_PIXELS / 1_000_000
    )
}

/// A photograph that is to show no more.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Hidden {
    face: String,
}

pub(super) async fn hide(
    State(bench): State<Bench>,
    Path(slug): Path<String>,
    Form(hidden): Form<Hidden>,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = board::find(bench, &slug)?;
            bench.store().hide_picture(document.id, &hidden.face)?;
            Ok(Redirect::to(&format!("/rack/{slug}#photo")).into_response())
        })
        .await
}

/// A picture, as nothing but a picture: the browser neither guesses another kind nor runs anything in it.
pub(super) async fn picture(
    State(bench): State<Bench>,
    Path(name): Path<String>,
) -> Result<Response, PageError> {
    let (bytes, kind) = bench
        .work(move |bench| {
            bench.store().picture(&name).map_err(|error| match error {
                keepwright_store::Error::NoPicture { name } => PageError::NoSuch { what: "picture", name },
                other => other.into(),
            })
        })
        .await?;
    let headers = [
        (header::CONTENT_TYPE, kind.media_type()),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::CONTENT_SECURITY_POLICY, "default-src 'none'; sandbox"),
        // Its name is the checksum of its bytes: it never changes.
        (header::CACHE_CONTROL, "private, max-age=31536000, immutable"),
    ];
    Ok((headers, bytes).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{ImageBuffer, Rgb};

    fn png(width: u32, height: u32) -> Vec<u8> {
        let picture: ImageBuffer<Rgb<u8>, Vec<u8>> =
            ImageBuffer::from_fn(width, height, |x, y| Rgb([(x % 251) as u8, (y % 241) as u8, 90]));
        let mut out = Cursor::new(Vec::new());
        DynamicImage::ImageRgb8(picture).write_to(&mut out, ImageFormat::Png).unwrap();
        out.into_inner()
    }

    #[test]
    fn a_photograph_is_made_anew_and_smaller() {
        let kept = made_anew(&png(5000, 40)).unwrap();
        let again = image::load_from_memory(&kept).unwrap();
        assert_eq!(image::guess_format(&kept).unwrap(), ImageFormat::Jpeg);
        assert_eq!(again.width(), KEPT);
        assert!(again.height() <= 40, "{}", again.height());
    }

    /// A comment behind the head of a JPEG is metadata as well as any.
    #[test]
    fn what_stands_beside_the_picture_is_lost() {
        let plain = made_anew(&png(64, 48)).unwrap();
        let mut marked = plain[..2].to_vec();
        let note = b"<script>alert(1)</script> 48.1 N 11.6 E";
        marked.extend([0xff, 0xfe]);
        marked.extend(u16::try_from(note.len() + 2).unwrap().to_be_bytes());
        marked.extend(note);
        marked.extend(&plain[2..]);
        assert!(image::load_from_memory(&marked).is_ok());
        let kept = made_anew(&marked).unwrap();
        assert!(!kept.windows(7).any(|w| w == b"<script"));
    }

    /// A picture that a camera held on its side says is 64 wide and 48 high comes out upright, 48 wide.
    #[test]
    fn a_picture_held_sideways_is_turned() {
        let plain = made_anew(&png(64, 48)).unwrap();
        // Exif 2.3: little-endian TIFF head, one entry, tag 0x0112 (orientation), short, 6: turned a quarter.
        let exif = b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0";
        let mut turned = plain[..2].to_vec();
        turned.extend([0xff, 0xe1]);
        turned.extend(u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
        turned.extend(exif);
        turned.extend(&plain[2..]);
        let again = image::load_from_memory(&made_anew(&turned).unwrap()).unwrap();
        assert_eq!((again.width(), again.height()), (48, 64));
    }

    #[test]
    fn what_is_no_photograph_or_a_bomb_is_refused() {
        let gif = b"GIF89a\x01\0\x01\0\0\0\0;".to_vec();
        // A PNG whose head says 12001 × 1, and one of 60000 × 60000: refused by their heads.
        let head = |width: u32, height: u32| {
            let mut out = png(1, 1);
            out[16..20].copy_from_slice(&width.to_be_bytes());
            out[20..24].copy_from_slice(&height.to_be_bytes());
            let sum = crc(&out[12..29]);
            out[29..33].copy_from_slice(&sum.to_be_bytes());
            out
        };
        let mut cut = png(200, 200);
        cut.truncate(cut.len() / 2);
        for (name, bytes, want) in [
            ("nothing", Vec::new(), "No photograph"),
            ("SVG", b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>".to_vec(), "no JPEG"),
            ("HTML", b"<!doctype html><script>alert(1)</script>".to_vec(), "no JPEG"),
            ("GIF", gif, "no JPEG"),
            ("too wide", head(12_001, 1), "too large"),
            ("a bomb", head(60_000, 60_000), "too large"),
            ("many pixels", head(12_000, 12_000), "too large"),
            ("cut off", cut, "cannot be decoded"),
            ("JPEG in name only", b"\xff\xd8\xff\xe0<html>".to_vec(), "cannot be decoded"),
        ] {
            let says = made_anew(&bytes).unwrap_err();
            assert!(says.contains(want), "{name}: {says}");
        }
    }

    /// The checksum of a PNG chunk (ISO/IEC 15948, annex D), bit by bit.
    fn crc(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |sum, byte| {
            (0..8)
                .fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg()))
        })
    }
}
