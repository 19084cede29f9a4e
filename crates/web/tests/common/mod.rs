//! A bench on a folder of its own, asked in process.

use axum::body::Body;
use axum::http::{Request, Response, StatusCode, header};
use http_body_util::BodyExt;
use keepwright_store::{Store, Time};
use keepwright_web::{Bench, demo, router};
use tempfile::TempDir;
use tower::ServiceExt;

/// Noon of the first of March 2026, in seconds since 1970.
pub(crate) const NOW: i64 = 1_772_366_400;
/// Our own name.
pub(crate) const HOST: &str = "127.0.0.1:4571";

/// A bench with the demo workshop, and a browser's cookie and token.
pub(crate) struct Asked {
    pub(crate) app: axum::Router,
    pub(crate) store: Store,
    pub(crate) cookie: String,
    pub(crate) forgery: String,
    /// Removed at the end.
    _folder: TempDir,
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: StatusCode,
    pub(crate) headers: axum::http::HeaderMap,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).and_then(|v| v.to_str().ok()).unwrap_or("")
    }
}

/// Sends a request as it is.
pub(crate) async fn send(app: &axum::Router, request: Request<Body>) -> Answer {
    let response: Response<Body> = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let body = body.collect().await.unwrap().to_bytes().to_vec();
    Answer { status: parts.status, headers: parts.headers, body }
}

impl Asked {
    /// On the demo workshop.
    pub(crate) async fn demo() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Time::seconds(NOW)).unwrap();
        demo::fill(&store, Time::seconds(NOW)).unwrap();
        let app = router(Bench::for_tests(store.clone()).unwrap());
        let first =
            send(&app, Request::get("/boxes").header(header::HOST, HOST).body(Body::empty()).unwrap()).await;
        let cookie = first.header("set-cookie").split(';').next().unwrap().to_owned();
        let page = first.text();
        let forgery = page.split("name=\"forgery\" content=\"").nth(1).unwrap()[..64].to_owned();
        Self { app, store, cookie, forgery, _folder: folder }
    }

    /// A page.
    pub(crate) async fn get(&self, path: &str) -> Answer {
        let request = Request::get(path).header(header::HOST, HOST).header(header::COOKIE, &self.cookie);
        send(&self.app, request.body(Body::empty()).unwrap()).await
    }

    /// A form, its fields in the form's encoding, with the token.
    pub(crate) async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_for(path, fields, "text/html").await
    }

    /// As [`Asked::post`], saying which kind of answer is wanted.
    pub(crate) async fn post_for(&self, path: &str, fields: &[(&str, &str)], wanted: &'static str) -> Answer {
        let mut body = format!("forgery={}", self.forgery);
        for (name, value) in fields {
            body.push('&');
            body.extend(form_urlencoded::byte_serialize(name.as_bytes()));
            body.push('=');
            body.extend(form_urlencoded::byte_serialize(value.as_bytes()));
        }
        let request = Request::post(path)
            .header(header::HOST, HOST)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .header(header::COOKIE, &self.cookie)
            .header(header::ACCEPT, wanted)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        send(&self.app, request.body(Body::from(body)).unwrap()).await
    }

    /// An upload of parts with the boundary `b`, with the token in the address.
    pub(crate) async fn upload(&self, path: &str, body: &str) -> Answer {
        self.upload_bytes(path, body.as_bytes().to_vec()).await
    }

    /// As [`Asked::upload`], of any bytes.
    pub(crate) async fn upload_bytes(&self, path: &str, body: Vec<u8>) -> Answer {
        let request = Request::post(format!("{path}?forgery={}", self.forgery))
            .header(header::HOST, HOST)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .header(header::COOKIE, &self.cookie)
            .header(header::CONTENT_LENGTH, body.len())
            .header(header::CONTENT_TYPE, "multipart/form-data; boundary=b");
        send(&self.app, request.body(Body::from(body)).unwrap()).await
    }
}
