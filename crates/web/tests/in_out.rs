//! In and out: statement, packet, whole shop, and the file for the client.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::http::StatusCode;
use common::{Answer, Asked, NOW};
use keepwright_store::{Document, Kind, Shelf, Store, Time, Version};
use std::collections::BTreeSet;
use std::io::{Cursor, Read, Write};
use std::time::Duration;
use zip::ZipArchive;

const SLUG: &str = "tea-caddy";

fn document(asked: &Asked, slug: &str) -> Document {
    asked.store.document(Kind::Box, slug).unwrap()
}

fn head(asked: &Asked, slug: &str) -> Version {
    asked.store.head(document(asked, slug).id).unwrap()
}

/// What a browser sends for a file: the fields, then the file under its name.
fn upload(fields: &[(&str, &str)], (name, bytes): (&str, &[u8])) -> Vec<u8> {
    let mut body = Vec::new();
    for (field, value) in fields {
        body.extend(
            format!("--b\r\ncontent-disposition: form-data; name=\"{field}\"\r\n\r\n{value}\r\n").bytes(),
        );
    }
    body.extend(
        format!("--b\r\ncontent-disposition: form-data; name=\"{name}\"; filename=\"f\"\r\n\r\n").bytes(),
    );
    body.extend(bytes);
    body.extend(b"\r\n--b--\r\n");
    body
}

/// Whether an answer is a file to keep, of a kind, that may do nothing where it is opened.
fn is_file(answer: &Answer, name: &str, kind: &str) {
    assert_eq!(answer.status, StatusCode::OK, "{name}");
    assert_eq!(answer.header("content-disposition"), format!("attachment; filename=\"{name}\""));
    assert_eq!(answer.header("content-type"), kind, "{name}");
    assert!(answer.header("content-security-policy").contains("default-src 'none'"), "{name}");
    assert!(answer.header("content-security-policy").contains("sandbox"), "{name}");
    assert!(!answer.body.is_empty(), "{name}");
}

#[tokio::test]
async fn a_statement_goes_out_word_for_word_and_comes_in_as_a_version() {
    let asked = Asked::demo().await;
    let before = head(&asked, SLUG);
    let out = asked.get(&format!("/boxes/{SLUG}/statement.toml")).await;
    is_file(&out, "tea-caddy.toml", "application/toml; charset=utf-8");
    assert_eq!(out.text(), before.text);

    let text = format!("# read in\r\n{}", out.text());
    let base = before.id.get().to_string();
    let path = format!("/boxes/{SLUG}/statement");
    let taken = asked.upload_bytes(&path, upload(&[("base", &base)], ("file", text.as_bytes()))).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    let now = head(&asked, SLUG);
    assert_eq!(now.text, format!("# read in\n{}", before.text));
    assert_eq!((now.number, now.says.as_str()), (before.number + 1, "a statement file read in"));
    // An older version is still to be had.
    let old = asked.get(&format!("/boxes/{SLUG}/statement.toml?v={base}")).await;
    assert_eq!(old.text(), before.text);

    // From a page that is behind: kept beside, and told.
    let late = asked.upload_bytes(&path, upload(&[("base", &base)], ("file", b"x = 1"))).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY, "it does not read");
    let mine = text.replace("# read in", "# also read in");
    let late = asked.upload_bytes(&path, upload(&[("base", &base)], ("file", mine.as_bytes()))).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text().contains("Another change came first"));
    assert_eq!(head(&asked, SLUG).id, now.id);
}

#[tokio::test]
async fn a_file_that_is_no_statement_changes_nothing_and_says_why() {
    let asked = Asked::demo().await;
    let before = head(&asked, SLUG);
    let base = before.id.get().to_string();
    let path = format!("/boxes/{SLUG}/statement");
    for (bytes, says) in [
        (&b""[..], "No file was chosen"),
        (&b"\xff\xfe\x00\x01"[..], "This is no statement file"),
        (&b"name = "[..], "to be mended before this is a version"),
    ] {
        let answer = asked.upload_bytes(&path, upload(&[("base", &base)], ("file", bytes))).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{says}");
        assert!(answer.text().contains(says), "{says}: {}", answer.text());
        assert!(answer.text().contains("aria-invalid=\"true\""), "{says}");
    }
    assert_eq!(head(&asked, SLUG).id, before.id);
    let other = asked.store.document(Kind::Box, "sewing-box").unwrap();
    let foreign = asked.store.head(other.id).unwrap().id.get();
    let gone = asked.get(&format!("/boxes/{SLUG}/statement.toml?v={foreign}")).await;
    assert_eq!(gone.status, StatusCode::NOT_FOUND, "another box's version");
}

/// Makes a packet and waits for it; its address.
async fn made(asked: &Asked, slug: &str, paper: &str) -> String {
    let started = asked.post(&format!("/boxes/{slug}/packet/start"), &[("paper", paper)]).await;
    assert_eq!(started.status, StatusCode::SEE_OTHER, "{}", started.text());
    let address = started.header("location").to_owned();
    for _ in 0..1200 {
        let told = asked.get(&format!("{address}/progress")).await;
        let told: serde_json::Value = serde_json::from_slice(&told.body).unwrap();
        if told["running"] == false {
            return address;
        }
        assert!(told["of"].is_null() || told["done"].as_u64() < told["of"].as_u64(), "{told}");
        assert!(!told["says"].as_str().unwrap().is_empty());
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("the packet is never made");
}

/// What stands between two marks, each time.
fn between<'a>(text: &'a str, from: &str, to: &str) -> Vec<&'a str> {
    text.split(from).skip(1).filter_map(|rest| rest.split(to).next()).collect()
}

#[tokio::test]
async fn a_packet_is_made_looked_at_and_taken_away() {
    let asked = Asked::demo().await;
    let address = made(&asked, SLUG, "letter").await;
    let page = asked.get(&address).await;
    assert_eq!(page.status, StatusCode::OK);
    let page = page.text();
    assert!(
        page.contains("Page 1 of ") && page.contains("viewBox=\"0 0 215.9 279.4\""),
        "the first page, on Letter"
    );
    let count: usize = between(&page, "Page 1 of ", "<")[0].parse().unwrap();
    let last = asked.get(&format!("{address}?page={count}")).await.text();
    assert!(
        last.contains(&format!("Page {count} of {count}"))
            && last.contains(&format!("page {count} of {count}</title>"))
    );
    assert!(!last.contains("rel=\"next\"") && last.contains("rel=\"prev\""));
    let beyond = asked.get(&format!("{address}?page=99999")).await.text();
    assert!(beyond.contains(&format!("Page {count} of {count}")));

    // Every file is linked, comes as what it is, and is the one in the archive.
    let zip = asked.get(&format!("{address}/all.zip")).await;
    is_file(&zip, "tea-caddy-packet.zip", "application/zip");
    let mut zip = ZipArchive::new(Cursor::new(zip.body)).unwrap();
    let names: BTreeSet<String> = zip.file_names().map(|name| name.unwrap().into_owned()).collect();
    let links: BTreeSet<String> =
        between(&page, &format!("href=\"{address}/files/"), "\"").into_iter().map(str::to_owned).collect();
    let mut want: BTreeSet<String> = links.iter().map(|path| format!("tea-caddy/{path}")).collect();
    assert!(want.len() > 30, "{want:?}");
    want.insert("tea-caddy/statement.toml".to_owned());
    assert_eq!(names, want);
    for path in &links {
        let file = asked.get(&format!("{address}/files/{path}")).await;
        let (kind, begins): (&str, &[u8]) = match path.rsplit('.').next().unwrap() {
            "pdf" => ("application/pdf", b"%PDF-"),
            "svg" => ("image/svg+xml", b"<svg"),
            "dxf" => ("image/vnd.dxf", b""),
            "stl" => ("model/stl", b""),
            "csv" => ("text/csv; charset=utf-8", b"number,"),
            "ics" => ("text/calendar; charset=utf-8", b"BEGIN:VCALENDAR"),
            "json" => ("application/json", b"{"),
            other => panic!("a file of kind {other}"),
        };
        is_file(&file, &format!("{SLUG}-{}", path.rsplit('/').next().unwrap()), kind);
        assert!(file.body.starts_with(begins), "{path}");
        let mut packed = Vec::new();
        zip.by_name(&format!("tea-caddy/{path}")).unwrap().read_to_end(&mut packed).unwrap();
        assert_eq!(packed, file.body, "{path}");
    }
    let mut statement = String::new();
    zip.by_name("tea-caddy/statement.toml").unwrap().read_to_string(&mut statement).unwrap();
    assert_eq!(statement, head(&asked, SLUG).text);

    // Nothing else is to be had under its address, nor under that of another box.
    for path in [
        format!("{address}/files/../../../../etc/passwd"),
        format!("{address}/files/nothing.svg"),
        address.replace(SLUG, "sewing-box"),
        format!("/boxes/{SLUG}/packet/1"),
        format!("/boxes/{SLUG}/packet/x"),
    ] {
        assert_eq!(asked.get(&path).await.status, StatusCode::NOT_FOUND, "{path}");
    }
    let gone = asked.get(&format!("/boxes/{SLUG}/packet/1/all.zip")).await;
    assert_eq!(gone.status, StatusCode::GONE);
    assert!(gone.text().contains("no longer kept"));
}

#[tokio::test]
async fn the_page_of_packets_offers_the_paper_used_last() {
    let asked = Asked::demo().await;
    let path = format!("/boxes/{SLUG}/packet");
    let wrong = asked.post(&format!("{path}/start"), &[("paper", "napkin")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text().contains("Choose a paper"));
    let address = made(&asked, SLUG, "a4").await;
    let page = asked.get(&path).await.text();
    assert!(page.contains("value=\"a4\" checked") && !page.contains("value=\"letter\" checked"));
    assert!(page.contains(&format!("href=\"{address}\"")), "what is kept is linked");
    assert!(asked.get(&address).await.text().contains("viewBox=\"0 0 210 297\""));
}

#[tokio::test]
async fn a_box_that_cannot_be_planned_has_no_packet_and_says_why() {
    let asked = Asked::demo().await;
    let by = keepwright_store::By::new("test", Time::seconds(NOW));
    let made_from = asked.store.create(Kind::Box, "Nothing yet", "keepwright = 1\n", "test", by).unwrap();
    let address = made(&asked, &made_from.slug, "a4").await;
    let page = asked.get(&address).await;
    assert!(page.text().contains("could not be made: the box cannot be planned"), "{}", page.text());
    let file = asked.get(&format!("{address}/files/packet.pdf")).await;
    assert_eq!(file.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn the_file_for_the_client_needs_nothing_and_does_nothing() {
    let asked = Asked::demo().await;
    for slug in asked.store.documents(Kind::Box, Shelf::Kept).unwrap().into_iter().map(|d| d.slug) {
        let file = asked.get(&format!("/boxes/{slug}/share.html")).await;
        is_file(&file, &format!("{slug}.html"), "text/html; charset=utf-8");
        let text = file.text();
        let lower = text.to_lowercase();
        for never in [
            "<script",
            "javascript:",
            "http://",
            "https://",
            "src=",
            "href=",
            "<link",
            "@import",
            "<iframe",
            "<form",
        ] {
            assert!(!lower.contains(never), "{slug}: {never}");
        }
        for url in between(&text, "url(", ")") {
            assert!(url.starts_with("data:font/woff2;base64,") || url.starts_with('#'), "{slug}: {url}");
        }
        let handlers = between(&lower, " on", "=").into_iter().filter(|n| n.chars().all(char::is_alphabetic));
        assert_eq!(handlers.count(), 0, "{slug}: an event handler");
        assert_eq!(text.matches("<figure>").count(), 3, "{slug}: closed, three sides, apart");
        assert_eq!(text.matches("@font-face").count(), 4, "{slug}");
        assert!(text.contains("\u{a0}mm") && text.contains("\u{a0}in"), "{slug}: both units");
        assert!(text.contains("Finished with") || text.contains("wood is bare"), "{slug}: care");
        assert!(!text.contains("Price"), "{slug}: no price unless asked for");
        let priced = asked.get(&format!("/boxes/{slug}/share.html?price=yes")).await.text();
        assert!(priced.contains("<dt>Price</dt><dd>"), "{slug}");
    }
}

#[tokio::test]
async fn what_a_maker_writes_stays_text_in_the_client_s_file() {
    let asked = Asked::demo().await;
    let base = head(&asked, SLUG).id.get().to_string();
    let fields = [("base", base.as_str()), ("set", "name = \"<script>alert(1)</script> & co\"")];
    assert_eq!(asked.post(&format!("/boxes/{SLUG}/change"), &fields).await.status, StatusCode::SEE_OTHER);
    let slug = asked.store.documents(Kind::Box, Shelf::Kept).unwrap().into_iter();
    let slug = slug.map(|d| d.slug).find(|s| s.contains("alert") || s == SLUG).unwrap();
    let text = asked.get(&format!("/boxes/{slug}/share.html")).await.text();
    assert!(!text.contains("<script"), "{text}");
    assert!(text.contains("alert(1)"));
}

#[tokio::test]
async fn a_shop_goes_out_and_comes_in_whole() {
    let asked = Asked::demo().await;
    let out = asked.get("/shop/archive.zip").await;
    assert_eq!(out.status, StatusCode::OK);
    assert_eq!(out.header("content-type"), "application/zip");
    assert!(out.header("content-disposition").starts_with("attachment; filename=\"shop-"));
    assert_eq!(out.header("content-length"), out.body.len().to_string());
    let mut zip = ZipArchive::new(Cursor::new(out.body.clone())).unwrap();
    let mut text = String::new();
    zip.by_name(&format!("boxes/{SLUG}.toml")).unwrap().read_to_string(&mut text).unwrap();
    assert_eq!(text, head(&asked, SLUG).text);

    // Something changes; then the archive comes back in its place.
    let base = head(&asked, SLUG).id.get().to_string();
    let fields = [("base", base.as_str()), ("set", "lid.kind = \"frame\"")];
    asked.post(&format!("/boxes/{SLUG}/change"), &fields).await;
    let backups = asked.store.backups().unwrap().len();
    let taken = asked.upload_bytes("/shop/archive", upload(&[], ("archive", &out.body))).await;
    assert_eq!(taken.status, StatusCode::SEE_OTHER, "{}", taken.text());
    assert_eq!(head(&asked, SLUG).text, text);
    assert_eq!(asked.store.backups().unwrap().len(), backups + 1);
    let page = asked.get(taken.header("location")).await.text();
    assert!(page.contains("The archive is read in: Heron Yard Joinery with 6 boxes"), "{page}");
    assert!(page.contains("is kept as the backup of"));
    // The page that was open before still has its token.
    let more = asked.post("/shop/backups", &[]).await;
    assert_eq!(more.status, StatusCode::SEE_OTHER, "{}", more.text());
    // Another folder takes it, too.
    let folder = tempfile::tempdir().unwrap();
    let other = Store::open(folder.path(), Time::seconds(NOW)).unwrap();
    other
        .read_archive(Cursor::new(&out.body), keepwright_store::archive::Limits::usual(), Time::seconds(NOW))
        .unwrap();
    assert_eq!(other.documents(Kind::Box, Shelf::Kept).unwrap().len(), 6);
}

#[tokio::test]
async fn an_archive_that_is_none_changes_nothing_and_says_why() {
    let asked = Asked::demo().await;
    let before = head(&asked, SLUG);
    let mut evil = zip::ZipWriter::new(Cursor::new(Vec::new()));
    evil.start_file("../../outside.toml", zip::write::SimpleFileOptions::default()).unwrap();
    evil.write_all(b"x").unwrap();
    let evil = evil.finish().unwrap().into_inner();
    for (bytes, says) in [
        (&b""[..], "No archive was chosen"),
        (&b"not a zip"[..], "no shop archive"),
        (&evil[..], "leads out of the archive"),
    ] {
        let answer = asked.upload_bytes("/shop/archive", upload(&[], ("archive", bytes))).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{says}");
        assert!(answer.text().contains(says), "{says}: {}", answer.text());
        assert!(answer.text().contains("aria-invalid=\"true\""), "{says}");
    }
    assert_eq!(head(&asked, SLUG).id, before.id);
    let said = asked.get("/shop/archive?before=%3Cscript%3E").await.text();
    assert!(!said.contains("is read in") && !said.contains("<script>"), "an address cannot say that it was");
}

/// More than a form may be, so that the larger limit of this one page is the one that counts.
#[tokio::test]
async fn an_archive_may_be_larger_than_a_form() {
    let asked = Asked::demo().await;
    let large = vec![7_u8; 6 << 20];
    let answer = asked.upload_bytes("/shop/archive", upload(&[], ("archive", &large))).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text().contains("no shop archive"), "{}", answer.text());
    let statement =
        asked.upload_bytes(&format!("/boxes/{SLUG}/statement"), upload(&[], ("file", &large))).await;
    assert_eq!(statement.status, StatusCode::PAYLOAD_TOO_LARGE);
}
