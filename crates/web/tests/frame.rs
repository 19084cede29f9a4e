//! What is true of every page: headers, host, token.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::body::Body;
use axum::http::{Request, StatusCode};
use common::{Asked, HOST, send};

#[tokio::test]
async fn the_boxes_of_the_demo_workshop_are_listed() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text().contains("/boxes/stamp-chest"), "{}", page.text());
    assert!(page.header("content-security-policy").starts_with("default-src 'none'"));
    assert_eq!(page.header("x-content-type-options"), "nosniff");
    assert_eq!(asked.store.shop().unwrap().unwrap().name, "Heron Yard Joinery");
}

#[tokio::test]
async fn a_write_without_the_token_is_refused() {
    let asked = Asked::demo().await;
    let without = Request::post("/boxes").header("host", HOST).header("cookie", &asked.cookie);
    assert_eq!(send(&asked.app, without.body(Body::empty()).unwrap()).await.status, StatusCode::FORBIDDEN);
    // With it the request gets as far as the page, which takes no such thing.
    assert_eq!(asked.post("/boxes", &[]).await.status, StatusCode::METHOD_NOT_ALLOWED);
    assert_eq!(asked.get("/nowhere").await.status, StatusCode::NOT_FOUND);
}
