//! The rack: its form, its photographs, its file, and what each refuses.

mod common;

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use common::{Answer, Asked, HOST, send};
use image::{DynamicImage, ImageFormat, RgbImage};
use keepwright_store::{Kind, Shelf, StockState};
use std::io::Cursor;

/// A part of an upload: name, file name, bytes.
type Part<'a> = (&'a str, Option<&'a str>, &'a [u8]);

async fn upload(asked: &Asked, path: &str, parts: &[Part<'_>]) -> Answer {
    let mut body = Vec::new();
    for (name, file, bytes) in parts {
        let file = file.map_or_else(String::new, |f| format!("; filename=\"{f}\""));
        body.extend(
            format!("--edge\r\ncontent-disposition: form-data; name=\"{name}\"{file}\r\n\r\n").bytes(),
        );
        body.extend(*bytes);
        body.extend(b"\r\n");
    }
    body.extend(b"--edge--\r\n");
    let request = Request::post(format!("{path}?forgery={}", asked.forgery))
        .header(header::HOST, HOST)
        .header(header::COOKIE, &asked.cookie)
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge");
    send(&asked.app, request.body(Body::from(body)).unwrap()).await
}

fn picture(format: ImageFormat) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    let picture = RgbImage::from_fn(60, 20, |x, y| image::Rgb([x as u8 * 3, y as u8 * 9, 40]));
    DynamicImage::ImageRgb8(picture).write_to(&mut out, format).unwrap();
    out.into_inner()
}

/// The fields of a new board.
const NEW: [(&str, &str); 7] = [
    ("name", "K7"),
    ("wood", "cherry"),
    ("length", "6' 2 1/2"),
    ("width", "140 mm"),
    ("quarters", "4/4"),
    ("surface", "rough"),
    ("price_per_board_foot", "9.50"),
];

#[tokio::test]
async fn every_board_of_the_demo_rack_is_drawn() {
    let asked = Asked::demo().await;
    let page = asked.get("/rack").await;
    assert_eq!(page.status, StatusCode::OK);
    let text = page.text();
    for name in ["C1", "W1", "S1", "Ply 6"] {
        assert!(text.contains(&format!("Board {name}, to scale")), "{name}");
    }
    // A1 of 9' 2" is the longest and fills the width; P1 of 760 mm is to the same scale.
    assert!(text.contains("width=\"100%\""), "{text}");
    let share = 100.0 * 760.0 / (110.0 * 25.4);
    assert!(text.contains(&format!("width=\"{share}%\"")), "{share}");
    assert!(text.contains("12 boards stand here") && text.contains("15/16"), "{text}");
}

#[tokio::test]
async fn a_board_is_made_changed_copied_binned_and_back() {
    let asked = Asked::demo().await;
    let made = asked.post("/rack/new", &NEW).await;
    assert_eq!(
        (made.status, made.header("location")),
        (StatusCode::SEE_OTHER, "/rack/k7?said=made"),
        "{}",
        made.text()
    );
    let board = asked.store.document(Kind::Board, "k7").unwrap();
    let text = asked.store.head(board.id).unwrap().text;
    assert!(
        text.contains("6' 2 1/2") && text.contains("140 mm") && text.contains("units = \"mm\""),
        "{text}"
    );
    let base = board.head.get().to_string();
    let mut fields = NEW.to_vec();
    fields.extend([
        ("base", base.as_str()),
        ("fault.1.x", "31 in"),
        ("fault.1.y", "50"),
        ("fault.1.length", "1 1/2 in"),
        ("fault.1.width", "20 mm"),
        ("fault.1.kind", "knot"),
        ("fault.1.face", "front"),
        ("fault.2.x", ""),
        ("fault.2.kind", "other"),
    ]);
    let saved = asked.post("/rack/k7", &fields).await;
    assert_eq!(saved.header("location"), "/rack/k7?said=kept", "{}", saved.text());
    let page = asked.get("/rack/k7?said=kept").await.text();
    assert!(page.contains("knot, front") && page.contains("Kept as a new version"), "{page}");
    assert!(page.contains("Board feet by the grading rule") && page.contains("longest clear length"));
    // Sent once more from the old version by another window: kept beside, nothing lost.
    fields[3] = ("width", "150 mm");
    assert_eq!(asked.post("/rack/k7", &fields).await.header("location"), "/rack/k7?said=beside");
    assert_eq!(asked.store.versions(board.id, None, 10).unwrap().len(), 3);
    let first = [("version", base.as_str())];
    assert_eq!(asked.post("/rack/k7/restore", &first).await.header("location"), "/rack/k7?said=kept");
    assert!(!asked.store.head(board.id).unwrap().text.contains("knot"));
    assert_eq!(asked.post("/rack/k7/restore", &[("version", "1")]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(asked.post("/rack/k7/copy", &[("name", "K8")]).await.header("location"), "/rack/k8?said=made");
    assert_eq!(asked.post("/rack/k8/bin", &[]).await.status, StatusCode::SEE_OTHER);
    assert!(asked.get("/rack/bin").await.text().contains("/rack/k8"));
    assert!(!asked.get("/rack").await.text().contains("/rack/k8"));
    assert_eq!(asked.post("/rack/k8/unbin", &[]).await.status, StatusCode::SEE_OTHER);
    assert!(asked.get("/rack").await.text().contains("/rack/k8"));
    assert_eq!(asked.post("/rack/k8/mark", &[("mark", "used")]).await.status, StatusCode::SEE_OTHER);
    let board = asked.store.document(Kind::Board, "k8").unwrap();
    assert_eq!(asked.store.stock(board.id).unwrap().state, StockState::Used);
    assert_eq!(
        asked.post("/rack/k8/mark", &[("mark", "eaten")]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(asked.get("/rack/nothing").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_is_wrong_is_said_at_its_field_and_nothing_typed_is_lost() {
    let asked = Asked::demo().await;
    let mut fields = NEW.to_vec();
    fields[0] = ("name", "<script>alert(1)</script>");
    fields[2] = ("length", "six feet");
    fields.extend([
        ("fault.1.x", "9000 in"),
        ("fault.1.y", "1"),
        ("fault.1.length", "1"),
        ("fault.1.width", "-3"),
    ]);
    let answer = asked.post("/rack/new", &fields).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = answer.text();
    for typed in ["value=\"six feet\"", "value=\"9000 in\"", "value=\"-3\"", "value=\"140 mm\""] {
        assert!(page.contains(typed), "{typed}");
    }
    assert!(!page.contains("<script>alert"), "escaped");
    for place in ["aria-describedby=\"w-length\"", "id=\"w-length\"", "id=\"w-1-width\""] {
        assert!(page.contains(place), "{place}");
    }
    fields[0] = ("name", " ");
    fields[2] = ("length", "6'");
    assert!(asked.post("/rack/new", &fields).await.text().contains("the board has no name"));
    assert_eq!(asked.store.boards(Shelf::Kept).unwrap().len(), 11, "nothing was made");
}

#[tokio::test]
async fn a_photograph_is_taken_and_served_as_nothing_but_a_picture() {
    let asked = Asked::demo().await;
    for (format, file) in
        [(ImageFormat::Png, "a.png"), (ImageFormat::Jpeg, "a.svg"), (ImageFormat::WebP, "a.webp")]
    {
        let bytes = picture(format);
        let parts: [Part<'_>; 2] = [("face", None, b"front"), ("photo", Some(file), &bytes)];
        let taken = upload(&asked, "/rack/c1/photo", &parts).await;
        assert_eq!(taken.status, StatusCode::SEE_OTHER, "{file}: {}", taken.text());
    }
    let page = asked.get("/rack").await.text();
    let address = page.split("href=\"/pictures/").nth(1).unwrap().split('"').next().unwrap();
    let served = asked.get(&format!("/pictures/{address}")).await;
    assert_eq!(served.header("content-type"), "image/jpeg");
    assert_eq!(served.header("x-content-type-options"), "nosniff");
    assert_eq!(served.header("content-security-policy"), "default-src 'none'; sandbox");
    assert_eq!(image::guess_format(&served.body).unwrap(), ImageFormat::Jpeg);
    assert_eq!(asked.post("/rack/c1/photo/hide", &[("face", "front")]).await.status, StatusCode::SEE_OTHER);
    assert!(!asked.get("/rack/c1").await.text().contains("/pictures/"));
    for name in ["..%2Fshop.sqlite", "%2e%2e%2fshop.sqlite", "x.svg", "shop.sqlite"] {
        assert_eq!(asked.get(&format!("/pictures/{name}")).await.status, StatusCode::NOT_FOUND, "{name}");
    }
}

#[tokio::test]
async fn what_is_no_photograph_is_refused_with_the_page_around_it() {
    let asked = Asked::demo().await;
    let svg: &[u8] = b"<svg xmlns=\"http://www.w3.org/2000/svg\"><script>alert(1)</script></svg>";
    let html: &[u8] = b"<!doctype html><script>alert(1)</script>";
    let mut bomb = picture(ImageFormat::Png);
    bomb[16..24].copy_from_slice(&[0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60]);
    let sum = crc(&bomb[12..29]);
    bomb[29..33].copy_from_slice(&sum.to_be_bytes());
    let good = picture(ImageFormat::Png);
    let cases: [(&str, &[u8], &[u8], &str); 6] = [
        ("SVG", b"front", svg, "no JPEG, PNG or WebP"),
        ("HTML called jpg", b"front", html, "no JPEG, PNG or WebP"),
        ("60000 × 60000 pixels", b"front", &bomb, "too large"),
        ("half a picture", b"front", &good[..good.len() / 2], "cannot be decoded"),
        ("nothing", b"front", b"", "No photograph was chosen"),
        ("a face that a board has not", b"<img>", &good, "which face"),
    ];
    for (name, face, bytes, want) in cases {
        let parts: [Part<'_>; 2] = [("face", None, face), ("photo", Some("board.jpg"), bytes)];
        let answer = upload(&asked, "/rack/c1/photo", &parts).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let page = answer.text();
        assert!(page.contains(want) && page.contains("Board C1"), "{name}");
        assert!(!page.contains("<script>alert") && !page.contains("<img>"), "{name}");
    }
    let large = vec![0xff; (24 << 20) + 1];
    let parts: [Part<'_>; 1] = [("photo", Some("large.jpg"), &large)];
    let answer = upload(&asked, "/rack/c1/photo", &parts).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE, "{}", answer.text());
    let board = asked.store.document(Kind::Board, "c1").unwrap();
    assert_eq!(asked.store.board_pictures(board.id).unwrap(), []);
    // Without the token nothing is even read.
    let request =
        Request::post("/rack/c1/photo").header(header::HOST, HOST).header(header::COOKIE, &asked.cookie);
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge");
    assert_eq!(
        send(&asked.app, request.body(Body::from("--edge--")).unwrap()).await.status,
        StatusCode::FORBIDDEN
    );
}

/// The checksum of a PNG chunk (ISO/IEC 15948, annex D), bit by bit.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg()))
    })
}

#[tokio::test]
async fn the_rack_file_goes_out_and_comes_in() {
    let asked = Asked::demo().await;
    let out = asked.get("/rack/export").await;
    assert_eq!(out.header("content-disposition"), "attachment; filename=\"rack.toml\"");
    let text = out.text();
    assert_eq!(text.matches("[[board]]").count(), 11, "{text}");
    // The same file again changes nothing; a changed and a new board are told apart.
    let parts: [Part<'_>; 1] = [("file", Some("rack.toml"), text.as_bytes())];
    let same = upload(&asked, "/rack/import", &parts).await.text();
    assert_eq!(
        same.matches(": the same as before").count() + same.matches(": a new version").count(),
        11,
        "{same}"
    );
    let pasted = text.replace("1480 mm", "1400 mm")
        + "\n[[board]]\nname = \"Z9\"\nwood = \"ash\"\nlength = 40\nwidth = 5\nquarters = \"4/4\"\n";
    let answer = upload(&asked, "/rack/import", &[("text", None, pasted.as_bytes())]).await.text();
    assert!(answer.contains("N1: a new version") && answer.contains("Z9: new"), "{answer}");
    assert!(answer.contains("C1: the same as before"), "{answer}");
    assert_eq!(asked.store.boards(Shelf::Kept).unwrap().len(), 12);
    for (name, bytes, want) in [
        ("wrong", &b"keepwright = 1\n[[board]]\nwood = \"stone\"\nlength = 3\n"[..], "stone"),
        ("no text", &b"\xff\xfe\x00"[..], "UTF-8"),
        ("empty", &b""[..], "No file was chosen"),
    ] {
        let answer = upload(&asked, "/rack/import", &[("file", Some("rack.toml"), bytes)]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        assert!(answer.text().contains(want), "{name}: {}", answer.text());
    }
    assert_eq!(asked.store.boards(Shelf::Kept).unwrap().len(), 12);
}

#[tokio::test]
async fn typed_lengths_are_read_for_the_drawing() {
    let asked = Asked::demo().await;
    let answer = asked.get("/lengths?unit=in&t=31&t=1%201%2F2&t=20%20mm&t=wide").await;
    let read: Vec<Option<f64>> = serde_json::from_slice(&answer.body).unwrap();
    let want = [Some(787.4), Some(38.1), Some(20.0), None];
    assert_eq!(read.len(), want.len());
    for (got, want) in read.iter().zip(want) {
        assert_eq!(got.is_some(), want.is_some());
        assert!((got.unwrap_or(0.0) - want.unwrap_or(0.0)).abs() < 1e-9, "{got:?} {want:?}");
    }
}
