//! Files to take away: with the name that they get, never shown as a page of ours.

use axum::body::{Body, Bytes};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use hyper::body::{Body as HttpBody, Frame, SizeHint};
use std::fs::File;
use std::io::{self, Read};
use std::pin::Pin;
use std::task::{Context, Poll};
use tokio::sync::mpsc::{Receiver, channel};

/// What a file may do where a browser opens it instead of keeping it: nothing but show what it brings.
const CONTENT: &str = crate::figure::CONTENT;
/// Bytes of a large file that are read at once.
const PIECE: usize = 64 << 10;
/// Pieces that are read ahead of the reader.
const AHEAD: usize = 4;

/// An answer that a browser keeps as a file. Of the name only letters, digits, dots and dashes are kept.
pub(crate) fn attachment(name: &str, body: impl Into<Body>) -> Response {
    let safe: String = name
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() || matches!(c, '.' | '-') { c } else { '-' })
        .collect();
    let named = HeaderValue::from_str(&format!("attachment; filename=\"{safe}\""))
        .unwrap_or(HeaderValue::from_static("attachment"));
    let mut response = body.into().into_response();
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_DISPOSITION, named);
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind(name)));
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(CONTENT));
    response
}

/// As [`attachment`], of a file that may be larger than memory, from where it stands to its end.
pub(crate) fn file_attachment(name: &str, file: File, length: u64) -> Response {
    attachment(name, Body::new(Poured::of(file, length)))
}

/// The media type by the name's ending.
fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("pdf") => "application/pdf",
        Some("svg") => "image/svg+xml",
        Some("dxf") => "image/vnd.dxf",
        Some("stl") => "model/stl",
        Some("csv") => "text/csv; charset=utf-8",
        Some("ics") => "text/calendar; charset=utf-8",
        Some("json") => "application/json",
        Some("toml") => "application/toml; charset=utf-8",
        Some("html") => "text/html; charset=utf-8",
        Some("zip") => "application/zip",
        _ => "application/octet-stream",
    }
}

/// A file as a body, read piece by piece on a thread that may block.
struct Poured {
    pieces: Receiver<io::Result<Bytes>>,
    left: u64,
}

impl Poured {
    fn of(mut file: File, length: u64) -> Self {
        let (send, pieces) = channel(AHEAD);
        tokio::task::spawn_blocking(move || {
            loop {
                let mut piece = vec![0; PIECE];
                let read = file.read(&mut piece).map(|count| {
                    piece.truncate(count);
                    Bytes::from(piece)
                });
                let ends = read.as_ref().map_or(true, Bytes::is_empty);
                // A reader that went away is no error of ours.
                if (read.is_err() || !ends) && send.blocking_send(read).is_err() || ends {
                    break;
                }
            }
        });
        Self { pieces, left: length }
    }
}

impl HttpBody for Poured {
    type Data = Bytes;
    type Error = io::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, io::Error>>> {
        self.pieces.poll_recv(cx).map(|piece| {
            let piece = piece?;
            if let Ok(bytes) = &piece {
                self.left = self.left.saturating_sub(bytes.len() as u64);
            }
            Some(piece.map(Frame::data))
        })
    }

    fn size_hint(&self) -> SizeHint {
        SizeHint::with_exact(self.left)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use http_body_util::BodyExt;
    use std::io::{Seek, Write};

    #[tokio::test]
    async fn a_large_file_comes_whole() {
        let mut file = tempfile::tempfile().unwrap();
        let bytes: Vec<u8> = (0..300_001_u32).map(|n| u8::try_from(n % 251).unwrap()).collect();
        file.write_all(&bytes).unwrap();
        file.rewind().unwrap();
        let answer = file_attachment("a.zip", file, bytes.len() as u64);
        assert_eq!(answer.body().size_hint().exact(), Some(bytes.len() as u64));
        assert_eq!(answer.into_body().collect().await.unwrap().to_bytes(), bytes);
    }

    #[test]
    fn a_name_cannot_leave_its_quotes() {
        let answer = attachment("a\"; x=\"../b\r\n.svg", "x");
        assert_eq!(answer.headers()["content-disposition"], "attachment; filename=\"a---x--..-b--.svg\"");
        assert_eq!(answer.headers()["content-type"], "image/svg+xml");
    }
}
