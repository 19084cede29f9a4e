//! Who gets in: each rule is attacked, in process. What needs a socket is in `wire.rs`.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use common::{Answer, Asked, HOST, send};
use keepwright_store::{Place, Rights, Store, Time};
use keepwright_web::{Bench, demo, router};
use std::net::SocketAddr;
use std::time::{SystemTime, UNIX_EPOCH};
use tempfile::TempDir;

/// The bench's own address in the network, and its host there.
const OURS: [u8; 4] = [192, 168, 7, 20];
const LAN_HOST: &str = "192.168.7.20:4571";

fn now() -> Time {
    Time::seconds(i64::try_from(SystemTime::now().duration_since(UNIX_EPOCH).unwrap().as_secs()).unwrap())
}

/// A bench that is reached in a network too.
struct Lan {
    app: axum::Router,
    bench: Bench,
    store: Store,
    folder: TempDir,
}

/// A device of the network: its address and what its browser keeps.
struct Tablet {
    address: [u8; 4],
    cookies: Vec<(String, String)>,
}

impl Tablet {
    fn new(last: u8) -> Self {
        Self { address: [192, 168, 7, last], cookies: Vec::new() }
    }

    /// What the browser sends as its cookies.
    fn sends(&self) -> String {
        self.cookies.iter().map(|(n, v)| format!("{n}={v}")).collect::<Vec<_>>().join("; ")
    }

    fn keep(&mut self, headers: &HeaderMap) {
        for cookie in headers.get_all(header::SET_COOKIE) {
            let pair = cookie.to_str().unwrap().split(';').next().unwrap();
            let (name, value) = pair.split_once('=').unwrap();
            self.cookies.retain(|(n, _)| n != name);
            self.cookies.push((name.to_owned(), value.to_owned()));
        }
    }
}

impl Lan {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Time::seconds(common::NOW)).unwrap();
        demo::fill(&store, Time::seconds(common::NOW)).unwrap();
        Self::over(store, folder)
    }

    fn over(store: Store, folder: TempDir) -> Self {
        let bench = Bench::for_tests_in_network(store.clone(), vec![OURS.into()]).unwrap();
        Self { app: router(bench.clone()), bench, store, folder }
    }

    /// The code of a new link.
    fn code(&self, rights: Rights) -> String {
        let invitation = self.bench.invite(rights).unwrap();
        let link = &invitation.links[0];
        link.strip_prefix(&format!("http://{LAN_HOST}/pair/")).unwrap_or_else(|| panic!("{link}")).to_owned()
    }

    async fn ask(&self, tablet: &mut Tablet, method: Method, path: &str, form: Option<&str>) -> Answer {
        let mut request = Request::builder()
            .method(method)
            .uri(path)
            .header(header::HOST, LAN_HOST)
            .header(header::COOKIE, tablet.sends())
            .extension(ConnectInfo(SocketAddr::from((tablet.address, 5000))));
        if form.is_some() {
            request = request
                .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
                .header(header::ORIGIN, format!("http://{LAN_HOST}"));
        }
        let body = Body::from(form.unwrap_or_default().to_owned());
        let answer = send(&self.app, request.body(body).unwrap()).await;
        tablet.keep(&answer.headers);
        answer
    }

    async fn get(&self, tablet: &mut Tablet, path: &str) -> Answer {
        self.ask(tablet, Method::GET, path, None).await
    }

    /// Opens a link and presses its button, as a maker does.
    async fn pair(&self, tablet: &mut Tablet, code: &str, name: &str) -> Answer {
        let page = self.get(tablet, &format!("/pair/{code}")).await;
        assert_eq!(page.status, StatusCode::OK, "{}", page.text());
        let form = format!("forgery={}&name={name}", hidden(&page.text()));
        self.ask(tablet, Method::POST, &format!("/pair/{code}"), Some(&form)).await
    }

    async fn paired(&self, last: u8, rights: Rights) -> Tablet {
        let mut tablet = Tablet::new(last);
        let answer = self.pair(&mut tablet, &self.code(rights), "Tablet").await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
        tablet
    }

    /// The token on a page as this tablet gets it.
    async fn token(&self, tablet: &mut Tablet) -> String {
        let page = self.get(tablet, "/boxes").await;
        page.text().split("name=\"forgery\" content=\"").nth(1).unwrap()[..64].to_owned()
    }
}

/// The token in a page's form.
fn hidden(page: &str) -> String {
    page.split("name=\"forgery\" value=\"").nth(1).unwrap_or_else(|| panic!("no token in {page}"))[..64]
        .to_owned()
}

/// Every route in the sources: path with something in its gaps, and the methods it is written with.
fn routes() -> Vec<(String, Vec<Method>)> {
    fn sources(folder: &std::path::Path, into: &mut Vec<String>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                sources(&path, into);
            } else if path.extension().is_some_and(|e| e == "rs") {
                into.push(std::fs::read_to_string(path).unwrap());
            }
        }
    }
    let mut texts = Vec::new();
    sources(&std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut texts);
    let mut found = Vec::new();
    for text in texts {
        for piece in text.split(".route(").skip(1) {
            let Some(piece) = piece.trim_start().strip_prefix('"') else { continue };
            let (path, rest) = piece.split_once('"').unwrap();
            let ends = rest.find(".route(").unwrap_or(rest.len()).min(rest.find('}').unwrap_or(rest.len()));
            let made_of = &rest[..ends];
            let method = |word: &str| made_of.contains(&format!("{word}("));
            let methods = [
                ("get", Method::GET),
                ("post", Method::POST),
                ("put", Method::PUT),
                ("delete", Method::DELETE),
            ];
            let methods = methods.into_iter().filter(|(w, _)| method(w)).map(|(_, m)| m).collect();
            let filled: Vec<String> = path
                .split('/')
                .map(|part| match part {
                    "{slug}" => "stamp-chest".to_owned(),
                    part if part.starts_with('{') => "1".to_owned(),
                    part => part.to_owned(),
                })
                .collect();
            found.push((filled.join("/"), methods));
        }
    }
    assert!(found.len() > 15, "{found:?}");
    found
}

fn written() -> Vec<(String, Method)> {
    let all = routes().into_iter();
    let written: Vec<_> = all
        .flat_map(|(path, methods)| methods.into_iter().map(move |m| (path.clone(), m)))
        .filter(|(_, m)| *m != Method::GET)
        .collect();
    assert!(written.len() > 8, "{written:?}");
    written
}

fn read() -> Vec<String> {
    let all = routes().into_iter();
    all.filter(|(_, methods)| methods.contains(&Method::GET)).map(|(path, _)| path).collect()
}

#[tokio::test]
async fn only_our_own_names_are_answered_to() {
    let asked = Asked::demo().await;
    for host in [
        Some("evil.example:4571"),
        Some("127.0.0.1"),
        Some("127.0.0.1:4572"),
        Some("127.0.0.1:4571.evil.example"),
        Some("127.0.0.1.:4571"),
        Some("0.0.0.0:4571"),
        Some("192.168.7.20:4571"),
        Some(""),
        None,
    ] {
        for path in ["/boxes", "/assets/css/base.css", "/nowhere", "/pair/x"] {
            let mut request = Request::get(path).header(header::COOKIE, &asked.cookie);
            if let Some(host) = host {
                request = request.header(header::HOST, host);
            }
            let answer = send(&asked.app, request.body(Body::empty()).unwrap()).await;
            assert_eq!(answer.status, StatusCode::MISDIRECTED_REQUEST, "{host:?} {path}");
            assert!(!answer.text().contains("Heron Yard"), "{host:?} {path}");
            assert!(answer.header("set-cookie").is_empty(), "no cookie for a name that is not ours");
        }
    }
}

#[tokio::test]
async fn pages_of_other_sites_get_nothing_done() {
    let asked = Asked::demo().await;
    // The attacker is given everything but the place from which the request comes.
    for (name, value) in [
        ("origin", "http://evil.example"),
        ("origin", "null"),
        ("origin", "https://127.0.0.1:4571"),
        ("origin", "http://127.0.0.1:8000"),
        ("origin", "http://localhost:4571"),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ] {
        let post = Request::post("/shop/backups")
            .header(header::HOST, HOST)
            .header(header::COOKIE, &asked.cookie)
            .header("x-forgery", &asked.forgery)
            .header(name, value);
        let answer = send(&asked.app, post.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{name}: {value}");
        let image = Request::get("/shop").header(header::HOST, HOST).header(name, value);
        let answer = send(&asked.app, image.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "GET with {name}: {value}");
    }
    let link = Request::get("/shop")
        .header(header::HOST, HOST)
        .header("sec-fetch-site", "cross-site")
        .header("sec-fetch-mode", "navigate")
        .header("sec-fetch-dest", "document");
    assert_eq!(
        send(&asked.app, link.body(Body::empty()).unwrap()).await.status,
        StatusCode::OK,
        "a link may be followed"
    );
}

#[tokio::test]
async fn no_other_site_may_read() {
    let asked = Asked::demo().await;
    let own = format!("http://{HOST}");
    for (method, origin) in
        [(Method::OPTIONS, "http://evil.example"), (Method::OPTIONS, &own), (Method::GET, &own)]
    {
        let request = Request::builder()
            .method(method)
            .uri("/shop")
            .header(header::HOST, HOST)
            .header(header::ORIGIN, origin)
            .header(header::ACCESS_CONTROL_REQUEST_METHOD, "POST");
        let answer = send(&asked.app, request.body(Body::empty()).unwrap()).await;
        let said: Vec<_> =
            answer.headers.keys().filter(|k| k.as_str().starts_with("access-control")).collect();
        assert!(said.is_empty(), "{said:?}");
        assert_eq!(answer.header("cross-origin-resource-policy"), "same-origin");
    }
}

#[tokio::test]
async fn cookies_are_for_this_site_and_for_no_script() {
    let asked = Asked::demo().await;
    let first = Request::get("/boxes").header(header::HOST, HOST).body(Body::empty()).unwrap();
    let cookie = send(&asked.app, first).await.header("set-cookie").to_owned();
    assert!(cookie.starts_with("keepwright-4571="), "{cookie}");
    for part in ["; HttpOnly", "; SameSite=Strict", "; Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert!(!cookie.contains("Domain"), "{cookie}");
    let value = cookie.split(';').next().unwrap().split('=').nth(1).unwrap();
    assert_eq!(value.len(), 64, "256 bits");
    assert!(asked.get("/boxes").await.header("set-cookie").is_empty(), "who has one keeps it");
}

#[tokio::test]
async fn every_write_needs_the_token_of_its_own_browser() {
    let asked = Asked::demo().await;
    let other = Asked::demo().await;
    let kept = asked.store.shop().unwrap().unwrap().head;
    for (path, method) in written() {
        for (cookie, token) in [
            (asked.cookie.as_str(), ""),
            (&asked.cookie, "0"),
            (&asked.cookie, &asked.forgery[..63]),
            (&asked.cookie, &other.forgery),
            (&other.cookie, &asked.forgery),
            ("", &asked.forgery),
        ] {
            let request = |place: u8| {
                let uri = if place == 1 { format!("{path}?forgery={token}") } else { path.clone() };
                let mut request = Request::builder()
                    .method(method.clone())
                    .uri(uri)
                    .header(header::HOST, HOST)
                    .header(header::COOKIE, cookie);
                if place == 0 {
                    request = request.header("x-forgery", token);
                }
                if place == 2 {
                    request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
                    return request
                        .body(Body::from(format!("a=b&forgery={token}&forgery={}", asked.forgery)))
                        .unwrap();
                }
                request.body(Body::empty()).unwrap()
            };
            for place in 0..3 {
                let answer = send(&asked.app, request(place)).await;
                assert_eq!(answer.status, StatusCode::FORBIDDEN, "{method} {path} place {place}");
            }
        }
        // A form in another encoding, as a page elsewhere could send it, does not carry a token in its body.
        let plain = Request::builder()
            .method(method.clone())
            .uri(&path)
            .header(header::HOST, HOST)
            .header(header::COOKIE, &asked.cookie)
            .header(header::CONTENT_TYPE, "text/plain");
        let body = Body::from(format!("forgery={}", asked.forgery));
        assert_eq!(send(&asked.app, plain.body(body).unwrap()).await.status, StatusCode::FORBIDDEN, "{path}");
    }
    assert_eq!(asked.store.shop().unwrap().unwrap().head, kept, "nothing was changed");
}

/// Reading never writes: no route changes anything on GET, HEAD or OPTIONS.
#[tokio::test]
async fn reading_changes_nothing() {
    let asked = Asked::demo().await;
    let state = |store: &Store| {
        let mut all = store.shop().unwrap().map(|d| vec![d]).unwrap_or_default();
        for kind in [keepwright_store::Kind::Box, keepwright_store::Kind::Board] {
            all.extend(store.documents(kind, keepwright_store::Shelf::Kept).unwrap());
        }
        (all, store.settings().unwrap(), store.backups().unwrap(), store.devices().unwrap())
    };
    let before = state(&asked.store);
    for (path, _) in routes() {
        for method in [Method::GET, Method::HEAD, Method::OPTIONS] {
            let request = Request::builder()
                .method(method)
                .uri(&path)
                .header(header::HOST, HOST)
                .header(header::COOKIE, &asked.cookie);
            send(&asked.app, request.body(Body::empty()).unwrap()).await;
        }
    }
    assert_eq!(state(&asked.store), before);
}

#[tokio::test]
async fn every_page_forbids_what_it_does_not_need_and_has_no_script_or_style_in_it() {
    let asked = Asked::demo().await;
    let mut pages = read();
    pages.extend(["/nowhere".to_owned(), "/boxes/none".to_owned(), "/shop/versions/x".to_owned()]);
    let mut html = 0;
    for path in pages {
        let page = asked.get(&path).await;
        let policy = page.header("content-security-policy");
        assert!(policy.starts_with("default-src 'none'"), "{path}: {policy}");
        let file = page.header("content-disposition").starts_with("attachment")
            || page.header("content-type") == "image/svg+xml";
        if file && policy.contains("sandbox") {
            // A drawing opened by itself, or a page that is kept as a file, brings its letters and their style, and may do
            // nothing else.
            assert_eq!(
                policy, "default-src 'none'; font-src data:; style-src 'unsafe-inline'; sandbox",
                "{path}"
            );
            assert_eq!(page.header("x-content-type-options"), "nosniff", "{path}");
            continue;
        }
        assert!(
            !policy.contains("unsafe") && !policy.contains("http") && !policy.contains('*'),
            "{path}: {policy}"
        );
        assert!(policy.contains("frame-ancestors 'self'") && policy.contains("base-uri 'none'"), "{path}");
        assert_eq!(page.header("x-content-type-options"), "nosniff", "{path}");
        assert!(!page.header("referrer-policy").is_empty(), "{path}");
        if !page.header("content-type").starts_with("text/html")
            || !page.header("content-disposition").is_empty()
        {
            continue;
        }
        html += 1;
        let text = page.text();
        for tag in text.split('<').skip(1).map(|t| t.split('>').next().unwrap_or("")) {
            let tag = tag.to_ascii_lowercase();
            if tag.starts_with("script") {
                assert!(
                    tag.contains(" src=\"/") || tag.contains("type=\"application/json\""),
                    "{path}: <{tag}>"
                );
            }
            assert!(!tag.starts_with("style") && !tag.contains(" style="), "{path}: <{tag}>");
            let names =
                tag.split_whitespace().skip(1).filter_map(|a| a.split_once('=')).map(|(name, _)| name);
            assert!(!names.into_iter().any(|n| n.starts_with("on")), "{path}: <{tag}>");
            assert!(!tag.contains("javascript:") && !tag.contains("=\"//"), "{path}: <{tag}>");
            for url in tag.split("=\"http").skip(1) {
                assert!(url.starts_with("://www.w3.org/"), "{path}: <{tag}> leads elsewhere");
            }
        }
    }
    assert!(html > 8, "{html} pages");
}

#[tokio::test]
async fn no_body_is_taken_beyond_its_size() {
    let asked = Asked::demo().await;
    let form = "application/x-www-form-urlencoded";
    for (path, kind, announced, sent, want) in [
        // Announced too large: refused before a byte of it is looked at.
        ("/shop/change", form, Some("4194305"), 0, StatusCode::PAYLOAD_TOO_LARGE),
        (
            "/shop/backups?forgery=TOKEN",
            "image/png",
            Some("99999999999999"),
            0,
            StatusCode::PAYLOAD_TOO_LARGE,
        ),
        // Not announced: cut off where it is read, whether for the token or for the page.
        ("/shop/change", form, None, (4 << 20) + 1, StatusCode::PAYLOAD_TOO_LARGE),
        ("/shop/file?forgery=TOKEN", form, None, (4 << 20) + 1, StatusCode::PAYLOAD_TOO_LARGE),
        // As large as may be, and no form at all in it.
        ("/shop/change", form, Some("4194304"), 4 << 20, StatusCode::FORBIDDEN),
    ] {
        let mut request = Request::post(path.replace("TOKEN", &asked.forgery))
            .header(header::HOST, HOST)
            .header(header::COOKIE, &asked.cookie)
            .header(header::CONTENT_TYPE, kind);
        if let Some(length) = announced {
            request = request.header(header::CONTENT_LENGTH, length);
        }
        let answer = send(&asked.app, request.body(Body::from(vec![b'a'; sent])).unwrap()).await;
        assert_eq!(answer.status, want, "{path} {announced:?} {sent}");
    }
    let part = format!(
        "--b\r\nContent-Disposition: form-data; name=\"file\"\r\n\r\n{}\r\n--b--\r\n",
        "a".repeat((4 << 20) + 10)
    );
    assert_eq!(asked.upload("/shop/file/upload", &part).await.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn a_device_that_is_not_paired_sees_nothing_of_the_shop() {
    let lan = Lan::new();
    let desk = Asked::demo().await;
    let desk_cookie = desk.cookie.split_once('=').map(|(n, v)| (n.to_owned(), v.to_owned())).unwrap();
    let made_up = ("keepwright-4571".to_owned(), "ab".repeat(32));
    for cookies in [Vec::new(), vec![made_up], vec![desk_cookie]] {
        let mut stranger = Tablet { cookies, ..Tablet::new(66) };
        for (path, methods) in routes() {
            if path.starts_with("/pair/") || path.starts_with("/assets/") {
                continue;
            }
            for method in methods.into_iter().chain([Method::HEAD, Method::OPTIONS]) {
                let form = (method != Method::GET).then_some("a=b");
                let answer = lan.ask(&mut stranger, method.clone(), &path, form).await;
                assert_eq!(answer.status, StatusCode::FORBIDDEN, "{method} {path}");
                assert!(!answer.text().contains("Heron Yard") && !answer.text().contains("Stamp"), "{path}");
            }
        }
        assert_eq!(lan.get(&mut stranger, "/nowhere").await.status, StatusCode::FORBIDDEN);
    }
    let mut stranger = Tablet::new(66);
    let page = lan.get(&mut stranger, "/pair/anything").await;
    assert!(!page.text().contains("Heron Yard"), "{}", page.text());
    assert_eq!(lan.get(&mut stranger, "/assets/css/base.css").await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_link_pairs_one_device_once() {
    let lan = Lan::new();
    let code = lan.code(Rights::Full);
    assert!(code.len() >= 26, "128 bits are 26 letters of 5: {code}");
    // A program that previews the link, and a maker who looks twice, do not use it up.
    let mut preview = Tablet::new(40);
    for method in [Method::GET, Method::HEAD, Method::GET] {
        assert_eq!(
            lan.ask(&mut preview, method, &format!("/pair/{code}"), None).await.status,
            StatusCode::OK
        );
    }
    let mut tablet = Tablet::new(31);
    let paired = lan.pair(&mut tablet, &code, "Saw+tablet").await;
    assert_eq!((paired.status, paired.header("location")), (StatusCode::SEE_OTHER, "/boxes"));
    let cookie = paired.header("set-cookie");
    assert!(cookie.contains("; HttpOnly") && cookie.contains("; SameSite=Strict"), "{cookie}");
    assert!(lan.get(&mut tablet, "/boxes").await.text().contains("stamp-chest"));
    assert_eq!(lan.store.devices().unwrap()[0].name, "Saw tablet");
    // The same link again, from another device and from the same.
    let mut second = Tablet::new(32);
    assert_eq!(lan.pair(&mut second, &code, "x").await.status, StatusCode::FORBIDDEN);
    assert_eq!(lan.get(&mut second, "/boxes").await.status, StatusCode::FORBIDDEN);
    assert_eq!(lan.pair(&mut tablet, &code, "x").await.status, StatusCode::FORBIDDEN);
    assert_eq!(lan.store.devices().unwrap().len(), 1);
    // Pages with codes and their forms are kept nowhere.
    assert_eq!(lan.get(&mut second, &format!("/pair/{code}")).await.header("cache-control"), "no-store");
}

#[tokio::test]
async fn two_who_come_at_once_with_one_link_are_not_both_let_in() {
    let lan = Lan::new();
    for round in 0..5 {
        let code = lan.code(Rights::Look);
        let (mut a, mut b) = (Tablet::new(50 + round), Tablet::new(100 + round));
        let (one, two) = tokio::join!(lan.pair(&mut a, &code, "a"), lan.pair(&mut b, &code, "b"));
        let let_in = [one.status, two.status].iter().filter(|s| **s == StatusCode::SEE_OTHER).count();
        assert_eq!(let_in, 1, "{} {}", one.status, two.status);
    }
}

#[tokio::test]
async fn old_and_withdrawn_links_are_dead() {
    let lan = Lan::new();
    let long_ago = now().plus(-3600);
    lan.store
        .offer_pairing(
            "abcdefghjkmnpqrstuvwxyz023456789",
            Place::Lan,
            Rights::Full,
            long_ago.plus(600),
            long_ago,
        )
        .unwrap();
    let mut tablet = Tablet::new(31);
    let late = lan.pair(&mut tablet, "abcdefghjkmnpqrstuvwxyz023456789", "x").await;
    assert_eq!(late.status, StatusCode::FORBIDDEN);
    // A new link ends the one before; so does the button.
    let (first, second) = (lan.code(Rights::Full), lan.code(Rights::Full));
    let mut tablet = Tablet::new(32);
    assert_eq!(lan.pair(&mut tablet, &first, "x").await.status, StatusCode::FORBIDDEN);
    lan.store.withdraw_pairings().unwrap();
    assert_eq!(lan.pair(&mut tablet, &second, "x").await.status, StatusCode::FORBIDDEN);
    let offered = lan.bench.invite(Rights::Full).unwrap();
    let minutes = (offered.until.to_seconds() - now().to_seconds() + 59) / 60;
    assert_eq!(minutes, 10);
    // What was made for a browser of this machine lets nobody in from the network.
    lan.store
        .offer_pairing("madeforthismachineonly0000000000", Place::Here, Rights::Full, now().plus(600), now())
        .unwrap();
    let mut tablet = Tablet::new(33);
    assert_eq!(
        lan.pair(&mut tablet, "madeforthismachineonly0000000000", "x").await.status,
        StatusCode::FORBIDDEN
    );
}

#[tokio::test]
async fn wrong_codes_are_slowed_and_locked_out_for_good_and_all() {
    let lan = Lan::new();
    let code = lan.code(Rights::Full);
    let mut guesser = Tablet::new(66);
    let started = std::time::Instant::now();
    let mut locked = None;
    for n in 0_u32..8 {
        let answer = lan.pair(&mut guesser, &format!("guess{n}"), "x").await;
        if answer.status == StatusCode::TOO_MANY_REQUESTS {
            locked = Some((n, answer));
            break;
        }
        assert_eq!(answer.status, StatusCode::FORBIDDEN);
    }
    let (tries, answer) = locked.expect("a lock");
    assert!((2..6).contains(&tries), "{tries}");
    assert!(started.elapsed().as_millis() >= 1000 * u128::from(tries), "each wrong code costs a second");
    assert!(answer.header("retry-after").parse::<u32>().unwrap() > 0);
    assert!(answer.text().contains("wait "), "{}", answer.text());
    // While locked, even the right code is not looked at; another device is not locked out by it.
    assert_eq!(lan.pair(&mut guesser, &code, "x").await.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(lan.store.devices().unwrap().is_empty());
    // A restart of the program does not end it.
    let Lan { app, bench, store, folder } = lan;
    drop((app, bench, store));
    let store = Store::open(folder.path(), now()).unwrap();
    let lan = Lan::over(store, folder);
    assert_eq!(lan.pair(&mut guesser, &code, "x").await.status, StatusCode::TOO_MANY_REQUESTS);
    let mut other = Tablet::new(31);
    assert_eq!(lan.pair(&mut other, &code, "x").await.status, StatusCode::SEE_OTHER);
}

/// A guesser with many addresses is stopped too.
#[tokio::test]
async fn wrong_codes_of_many_addresses_are_locked_out_together() {
    let lan = Lan::new();
    let guesses = (1..=60).map(|n| {
        let lan = &lan;
        async move {
            let mut guesser = Tablet::new(n);
            lan.pair(&mut guesser, "guess", "x").await.status
        }
    });
    let mut statuses = Vec::new();
    let mut guesses: Vec<_> = guesses.collect();
    // In rows of ten at once: each waits a second.
    while !guesses.is_empty() {
        let row: Vec<_> = guesses.drain(..10.min(guesses.len())).collect();
        statuses.extend(all(row).await);
    }
    assert!(statuses.contains(&StatusCode::TOO_MANY_REQUESTS), "{statuses:?}");
    let mut fresh = Tablet::new(200);
    assert_eq!(lan.pair(&mut fresh, "guess", "x").await.status, StatusCode::TOO_MANY_REQUESTS);
}

/// Waits for all, side by side.
async fn all<F: std::future::Future>(futures: Vec<F>) -> Vec<F::Output> {
    let mut futures: Vec<_> = futures.into_iter().map(|f| (Box::pin(f), None)).collect();
    std::future::poll_fn(|cx| {
        let mut waits = false;
        for (future, done) in &mut futures {
            if done.is_none() {
                match future.as_mut().poll(cx) {
                    std::task::Poll::Ready(value) => *done = Some(value),
                    std::task::Poll::Pending => waits = true,
                }
            }
        }
        if waits { std::task::Poll::Pending } else { std::task::Poll::Ready(()) }
    })
    .await;
    futures.into_iter().filter_map(|(_, done)| done).collect()
}

#[tokio::test]
async fn pairing_cannot_be_forged_from_elsewhere() {
    let lan = Lan::new();
    let code = lan.code(Rights::Full);
    let path = format!("/pair/{code}");
    // Without the page's token, with the token of another, and from a page of another site.
    let mut victim = Tablet::new(31);
    assert_eq!(lan.ask(&mut victim, Method::POST, &path, Some("name=x")).await.status, StatusCode::FORBIDDEN);
    let mut attacker = Tablet::new(66);
    let token = hidden(&lan.get(&mut attacker, &path).await.text());
    let form = format!("name=x&forgery={token}");
    assert_eq!(lan.ask(&mut victim, Method::POST, &path, Some(&form)).await.status, StatusCode::FORBIDDEN);
    let request = Request::post(&path)
        .header(header::HOST, LAN_HOST)
        .header(header::ORIGIN, "http://evil.example")
        .header(header::COOKIE, attacker.sends())
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .extension(ConnectInfo(SocketAddr::from((attacker.address, 5000))));
    assert_eq!(send(&lan.app, request.body(Body::from(form)).unwrap()).await.status, StatusCode::FORBIDDEN);
    assert!(lan.store.devices().unwrap().is_empty());
    // Names are shown as text.
    let mut tablet = Tablet::new(32);
    lan.pair(&mut tablet, &code, "%3Cscript%3Ealert(1)%3C/script%3E").await;
    let list = lan.get(&mut tablet, "/shop/devices").await.text();
    assert!(list.contains("&#60;script&#62;") && !list.contains("<script>alert"), "{list}");
}

#[tokio::test]
async fn a_device_that_may_look_changes_nothing_and_comes_to_no_more() {
    let lan = Lan::new();
    let mut tablet = lan.paired(31, Rights::Look).await;
    let token = lan.token(&mut tablet).await;
    let kept = lan.store.shop().unwrap().unwrap().head;
    for path in ["/boxes", "/shop", "/words", "/shop/versions", "/shop/file"] {
        let page = lan.get(&mut tablet, path).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        assert!(page.text().contains("look and tick"), "{path}");
    }
    for (path, method) in written() {
        if path == "/ticks" || path.starts_with("/pair/") {
            continue;
        }
        let form = format!("forgery={token}&base=1&text=keepwright+%3D+1&rights=full&name=x");
        let answer = lan.ask(&mut tablet, method.clone(), &path, Some(&form)).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{method} {path}");
        assert!(answer.text().contains("may look and tick"), "{path}");
    }
    for path in ["/shop/archive", "/shop/archive.zip", "/shop/devices", "/shop/backups"] {
        for method in [Method::GET, Method::HEAD] {
            assert_eq!(
                lan.ask(&mut tablet, method, path, None).await.status,
                StatusCode::FORBIDDEN,
                "{path}"
            );
        }
    }
    // Ways round the list of paths.
    for path in [
        "/shop/devices/",
        "//shop/devices",
        "/shop/./devices",
        "/shop/%64evices",
        "/SHOP/devices",
        "/shop/devices?x",
    ] {
        let answer = lan.get(&mut tablet, path).await;
        assert!(!answer.status.is_success(), "{path}: {}", answer.status);
    }
    assert_eq!(lan.store.shop().unwrap().unwrap().head, kept);
    assert_eq!(lan.store.devices().unwrap().len(), 1);
}

#[tokio::test]
async fn a_dismissed_device_is_out_at_once() {
    let lan = Lan::new();
    let mut tablet = lan.paired(31, Rights::Look).await;
    let mut full = lan.paired(32, Rights::Full).await;
    let token = lan.token(&mut full).await;
    let devices = lan.store.devices().unwrap();
    let id = devices.iter().find(|d| d.rights == Rights::Look).unwrap().id;
    let page = lan.get(&mut full, "/shop/devices").await.text();
    assert!(
        page.contains("look and tick") && page.contains("everything") && page.contains("2 devices"),
        "{page}"
    );
    assert_eq!(lan.get(&mut tablet, "/boxes").await.status, StatusCode::OK);
    let form = format!("forgery={token}");
    let done = lan.ask(&mut full, Method::POST, &format!("/shop/devices/{id}/dismiss"), Some(&form)).await;
    assert_eq!(done.status, StatusCode::SEE_OTHER);
    assert_eq!(lan.get(&mut tablet, "/boxes").await.status, StatusCode::FORBIDDEN);
    assert_eq!(lan.get(&mut full, "/boxes").await.status, StatusCode::OK, "the other stays");
    assert!(lan.get(&mut full, "/shop/devices").await.text().contains("Dismissed"));
    let again = lan.ask(&mut full, Method::POST, &format!("/shop/devices/{id}/dismiss"), Some(&form)).await;
    assert_eq!(again.status, StatusCode::NOT_FOUND);
}

/// A device that is paired anew, with other rights, is one device and not two.
#[tokio::test]
async fn a_device_paired_anew_leaves_what_it_was() {
    let lan = Lan::new();
    let mut tablet = lan.paired(31, Rights::Full).await;
    let old = tablet.cookies.clone();
    assert_eq!(lan.pair(&mut tablet, &lan.code(Rights::Look), "again").await.status, StatusCode::SEE_OTHER);
    assert_eq!(
        lan.get(&mut tablet, "/shop/devices").await.status,
        StatusCode::FORBIDDEN,
        "it may only look now"
    );
    let mut before = Tablet { cookies: old, ..Tablet::new(31) };
    assert_eq!(lan.get(&mut before, "/boxes").await.status, StatusCode::FORBIDDEN, "its old cookie is dead");
    let alive = lan.store.devices().unwrap().iter().filter(|d| d.dismissed_at.is_none()).count();
    assert_eq!(alive, 1);
}

#[tokio::test]
async fn a_link_is_made_at_the_desk_and_shown_once() {
    let lan = Lan::new();
    let mut desk = Tablet { address: [127, 0, 0, 1], cookies: Vec::new() };
    let token = lan.token(&mut desk).await;
    let made = lan
        .ask(&mut desk, Method::POST, "/shop/devices/link", Some(&format!("forgery={token}&rights=look")))
        .await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.text());
    assert_eq!(made.header("cache-control"), "no-store");
    let text = made.text();
    let code = text.split("/pair/").nth(1).unwrap().split('<').next().unwrap().to_owned();
    assert!(text.contains("<svg class=\"qr\"") && text.contains("<path d=\"M"), "{text}");
    assert!(!lan.get(&mut desk, "/shop/devices").await.text().contains(&code), "it is shown once");
    // The store does not know it either.
    for file in std::fs::read_dir(lan.folder.path()).unwrap().flatten().filter(|f| f.path().is_file()) {
        let bytes = std::fs::read(file.path()).unwrap();
        let found = bytes.windows(code.len()).any(|w| w == code.as_bytes());
        assert!(!found, "the code stands in {:?}", file.path());
    }
    let bad = lan
        .ask(&mut desk, Method::POST, "/shop/devices/link", Some(&format!("forgery={token}&rights=all")))
        .await;
    assert_eq!(bad.status, StatusCode::UNPROCESSABLE_ENTITY);
    let mut tablet = Tablet::new(31);
    assert_eq!(lan.pair(&mut tablet, &code, "x").await.status, StatusCode::SEE_OTHER);
    // The desk itself needs none, and cannot be made to use one up.
    let path = format!("/pair/{}", lan.code(Rights::Full));
    assert!(lan.get(&mut desk, &path).await.text().contains("needs no link"));
    let form = format!("forgery={token}&name=x");
    assert_eq!(lan.ask(&mut desk, Method::POST, &path, Some(&form)).await.status, StatusCode::FORBIDDEN);
    let mut second = Tablet::new(32);
    assert_eq!(
        lan.pair(&mut second, path.trim_start_matches("/pair/"), "x").await.status,
        StatusCode::SEE_OTHER
    );
    // A bench that answers this machine only makes none.
    let asked = Asked::demo().await;
    let none = asked.post("/shop/devices/link", &[("rights", "full")]).await;
    assert_eq!(none.status, StatusCode::CONFLICT);
    assert!(none.text().contains("keepwright bench --lan"), "{}", none.text());
}
