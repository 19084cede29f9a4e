//! The list of boxes, and the ways to a new one.

mod common;

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use common::{Asked, HOST, send};
use keepwright_store::Kind;

#[tokio::test]
async fn the_list_shows_each_box_with_state_price_and_drawing() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes").await.text();
    for part in ["/boxes/stamp-chest/picture.svg?v=", "6 boxes stand here", "USD", ">idea"] {
        assert!(page.contains(part), "{part}: {page}");
    }
    let picture = asked.get("/boxes/stamp-chest/picture.svg").await;
    assert_eq!((picture.status, picture.header("content-type")), (StatusCode::OK, "image/svg+xml"));
    assert!(picture.text().contains("<polygon"));
    let due = asked.store.document(Kind::Box, "tea-caddy").unwrap();
    let by = keepwright_store::By::new("test", keepwright_store::Time::seconds(common::NOW));
    asked.store.set_due(due.id, Some("2026-04-01"), by).unwrap();
    // What belongs together is held by blanks that do not break.
    let sorted = asked.get("/boxes?by=due").await.text().replace('\u{a0}', " ");
    let at = |name: &str| sorted.find(&format!("href=\"/boxes/{name}\"")).unwrap();
    assert!(at("tea-caddy") < at("stamp-chest") && sorted.contains("due Wed 1 Apr 2026"), "{sorted}");
    assert!(!asked.get("/boxes?state=planned").await.text().contains("no box here yet"));
}

#[tokio::test]
async fn a_box_is_made_from_a_size() {
    let asked = Asked::demo().await;
    let fields = [
        ("name", "Letters <b>"),
        ("of", "inside"),
        ("length", "9 1/2 in"),
        ("depth", "120"),
        ("height", "2 3/4\""),
        ("wood", "cherry"),
        ("thickness", "3/8 in"),
        ("joint", "keyed miter"),
        ("joint_wood", "ash"),
        ("lid", "frame"),
    ];
    let made = asked.post("/boxes/new/size", &fields).await;
    assert_eq!(
        (made.status, made.header("location")),
        (StatusCode::SEE_OTHER, "/boxes/letters-b"),
        "{}",
        made.text()
    );
    let document = asked.store.document(Kind::Box, "letters-b").unwrap();
    let head = asked.store.head(document.id).unwrap();
    assert!(head.text.contains("length = \"9 1/2 in\"") && head.says == "from a size", "{}", head.text);
    let page = asked.get("/boxes/letters-b").await.text();
    assert!(page.contains("Letters &#60;b&#62;") && !page.contains("Letters <b>"));
}

#[tokio::test]
async fn what_is_wrong_stands_at_its_field_and_what_was_typed_stays() {
    let asked = Asked::demo().await;
    let fields = [
        ("name", "Letters"),
        ("length", "nine"),
        ("depth", "-3"),
        ("height", "70"),
        ("wood", "chery"),
        ("lid", "none"),
    ];
    let again = asked.post("/boxes/new/size", &fields).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = again.text();
    for part in [
        "value=\"nine\" autocomplete=\"off\" aria-invalid=\"true\" aria-describedby=\"length-wrong\"",
        "value=\"-3\" autocomplete=\"off\" aria-invalid=\"true\"",
        "id=\"wood-wrong\"",
        "value=\"70\"",
        "value=\"Letters\"",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
    assert!(asked.store.document(Kind::Box, "letters").is_err());
}

#[tokio::test]
async fn a_box_is_made_for_things_and_from_an_example() {
    let asked = Asked::demo().await;
    let fields = [
        ("name", "Cards"),
        ("name2", "decks"),
        ("length2", "92"),
        ("depth2", "64"),
        ("height2", "19"),
        ("count2", "3"),
        ("wood", "cherry"),
        ("lid", "slab"),
    ];
    let made = asked.post("/boxes/new/contents", &fields).await;
    assert_eq!(
        (made.status, made.header("location")),
        (StatusCode::SEE_OTHER, "/boxes/cards"),
        "{}",
        made.text()
    );
    // The second row is the first thing: its problem must come back to the second row.
    let wrong: Vec<_> = fields.iter().map(|(k, v)| (*k, if *k == "height2" { "flat" } else { *v })).collect();
    let again = asked.post("/boxes/new/contents", &wrong).await;
    assert!(again.text().contains("id=\"height2-wrong\""), "{}", again.text());

    let copy = asked.post("/boxes/new/example", &[("example", "seed-bowl")]).await;
    assert_eq!(copy.header("location"), "/boxes/seed-bowl-2");
    assert_eq!(asked.post("/boxes/new/example", &[("example", "../x")]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(asked.get("/boxes/new/example/ring-boxes.svg").await.status, StatusCode::OK);
}

/// A multipart body with one text field and one file.
fn multipart(asked: &Asked, text: &str, file: &[u8]) -> Request<Body> {
    let mut body = b"--line\r\ncontent-disposition: form-data; name=\"text\"\r\n\r\n".to_vec();
    body.extend(text.as_bytes());
    body.extend(b"\r\n--line\r\ncontent-disposition: form-data; name=\"file\"; filename=\"a.toml\"\r\n\r\n");
    body.extend(file);
    body.extend(b"\r\n--line--\r\n");
    Request::post(format!("/boxes/new/file?forgery={}", asked.forgery))
        .header(header::HOST, HOST)
        .header(header::COOKIE, &asked.cookie)
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=line")
        .body(Body::from(body))
        .unwrap()
}

#[tokio::test]
async fn a_box_is_made_from_a_file_or_its_text() {
    let asked = Asked::demo().await;
    let (_, text) = keepwright_web::demo::BOXES[0];
    let made = send(&asked.app, multipart(&asked, "", text.as_bytes())).await;
    assert_eq!((made.status, made.header("location")), (StatusCode::SEE_OTHER, "/boxes/pencil-case-2"));
    let pasted = "keepwright = 1\nname = \"A\"\n[walls]\nwood = \"chery\"\n";
    let again = send(&asked.app, multipart(&asked, pasted, b"")).await;
    let page = again.text();
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("Line 4, column 8") && page.contains("wood = &#34;chery&#34;"), "{page}");
    let broken = send(&asked.app, multipart(&asked, "", b"name = \"\xff\"")).await;
    assert_eq!(broken.status, StatusCode::UNPROCESSABLE_ENTITY);
}
