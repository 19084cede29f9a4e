//! Attacks that need a socket, against the real listener on this machine.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use keepwright_store::{Store, Time};
use keepwright_web::{Config, Reach, demo, serve};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::mpsc;
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// Longer than any answer takes on a busy machine, shorter than for ever.
const PATIENCE: Duration = Duration::from_secs(45);

/// A bench that really listens; it stops when this is dropped.
struct Served {
    address: SocketAddr,
    _runtime: tokio::runtime::Runtime,
    _folder: TempDir,
}

impl Served {
    fn start() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path(), Time::seconds(common::NOW)).unwrap();
        demo::fill(&store, Time::seconds(common::NOW)).unwrap();
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
        let (said, hears) = mpsc::channel();
        let config = Config { port: 0, reach: Reach::ThisMachine };
        runtime.spawn(async move {
            serve(store, config, |_, address| said.send(address.to_owned()).unwrap()).await.unwrap();
        });
        let address = hears.recv_timeout(PATIENCE).unwrap();
        let address = address.trim_start_matches("http://").trim_end_matches('/').parse().unwrap();
        Self { address, _runtime: runtime, _folder: folder }
    }

    fn host(&self) -> String {
        self.address.to_string()
    }

    fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(self.address).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        stream.set_write_timeout(Some(PATIENCE)).unwrap();
        stream
    }

    /// Sends bytes, with `HOST` replaced by our name, and reads until the other end closes.
    fn tell(&self, bytes: &str) -> String {
        let mut stream = self.connect();
        stream.write_all(bytes.replace("HOST", &self.host()).as_bytes()).unwrap();
        rest(&mut stream)
    }

    fn answers(&self) -> bool {
        self.tell("GET /boxes HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n")
            .starts_with("HTTP/1.1 200")
    }
}

/// What comes until the other end closes or breaks off.
fn rest(stream: &mut TcpStream) -> String {
    let mut all = Vec::new();
    let mut piece = [0; 4096];
    while let Ok(n @ 1..) = stream.read(&mut piece) {
        all.extend(&piece[..n]);
    }
    String::from_utf8_lossy(&all).into_owned()
}

/// The status lines in an exchange.
fn statuses(answer: &str) -> Vec<&str> {
    answer
        .split("HTTP/1.")
        .skip(1)
        .filter_map(|s| s.get(2..5))
        .filter(|s| s.bytes().all(|b| b.is_ascii_digit()))
        .collect()
}

#[test]
fn it_listens_on_this_machine_only() {
    let served = Served::start();
    assert!(served.address.ip().is_loopback(), "{}", served.address);
    // All of 127.0.0.0/8 is this machine; only one of its addresses is listened on.
    let port = served.address.port();
    let elsewhere =
        TcpStream::connect_timeout(&SocketAddr::from(([127, 0, 0, 2], port)), Duration::from_secs(2));
    assert!(elsewhere.is_err(), "it answers on other addresses too");
    assert!(served.answers());
}

#[test]
fn tricks_with_the_host_do_not_work() {
    let served = Served::start();
    for (request, want) in [
        ("GET /boxes HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", "200"),
        ("GET /boxes HTTP/1.0\r\nHost: HOST\r\n\r\n", "200"),
        ("GET /boxes HTTP/1.0\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost:\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost: HOST\r\nHost: evil.example\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost: evil.example\r\nHost: HOST\r\nConnection: close\r\n\r\n", "421"),
        ("GET http://evil.example/boxes HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", "421"),
        ("GET http://HOST/boxes HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost: HOST@evil.example\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost: HOST evil.example\r\nConnection: close\r\n\r\n", "421"),
        (
            "GET /boxes HTTP/1.1\r\nHost: evil.example\r\nX-Forwarded-Host: HOST\r\nConnection: close\r\n\r\n",
            "421",
        ),
        ("CONNECT evil.example:80 HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", "421"),
        ("GET /boxes HTTP/1.1\r\nHost : HOST\r\nConnection: close\r\n\r\n", "400"),
        ("GET /boxes HTTP/1.1\r\n Host: HOST\r\nConnection: close\r\n\r\n", "400"),
        ("nonsense\r\n\r\n", "400"),
    ] {
        let answer = served.tell(request);
        assert_eq!(statuses(&answer).first(), Some(&want), "{request:?} got {answer:.200}");
        assert!(want == "200" || !answer.contains("Heron Yard"), "{request:?}");
    }
}

/// Each of several requests on one connection is judged by itself.
#[test]
fn a_good_request_does_not_vouch_for_the_next() {
    let served = Served::start();
    let answer = served.tell(
        "GET /words HTTP/1.1\r\nHost: HOST\r\n\r\n\
         GET /boxes HTTP/1.1\r\nHost: evil.example\r\n\r\n\
         POST /shop/backups HTTP/1.1\r\nHost: HOST\r\nContent-Length: 0\r\n\r\n\
         GET /words HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n",
    );
    assert_eq!(statuses(&answer), ["200", "421", "403", "200"], "{answer:.300}");
}

/// A body with two lengths, or one that hides another request, is not read in two ways.
#[test]
fn no_request_hides_in_a_body() {
    let served = Served::start();
    let hidden = "GET /boxes HTTP/1.1\r\nHost: HOST\r\n\r\n";
    for head in [
        "Content-Length: 4\r\nContent-Length: 40\r\n",
        "Transfer-Encoding: chunked, identity\r\n",
        "Transfer-Encoding: xchunked\r\n",
        "Content-Length: -1\r\n",
        "Content-Length: 4, 40\r\n",
    ] {
        let answer =
            served.tell(&format!("POST /shop/change HTTP/1.1\r\nHost: HOST\r\n{head}\r\n0\r\n\r\n{hidden}"));
        let got = statuses(&answer);
        assert!(!got.contains(&"200"), "{head}: {got:?}");
        assert_eq!(got.first(), Some(&"400"), "{head}: {answer:.200}");
    }
    // Chunked goes before a length, and then the connection carries nothing that was taken for a body.
    let both = served.tell(&format!(
        "POST /shop/change HTTP/1.1\r\nHost: HOST\r\nContent-Type: application/x-www-form-urlencoded\r\n\
         Content-Length: 200\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n{}",
        hidden.replace("\r\n\r\n", "\r\nConnection: close\r\n\r\n")
    ));
    let got = statuses(&both);
    assert!(matches!(got.as_slice(), ["403", "200"] | ["403" | "400"]), "{got:?}");
}

#[test]
fn a_body_in_pieces_is_cut_off_at_its_size() {
    let served = Served::start();
    let mut stream = served.connect();
    let head = format!(
        "POST /shop/change HTTP/1.1\r\nHost: {}\r\nContent-Type: application/x-www-form-urlencoded\r\n\
         Transfer-Encoding: chunked\r\n\r\n",
        served.host()
    );
    stream.write_all(head.as_bytes()).unwrap();
    let piece = format!("10000\r\n{}\r\n", "a".repeat(0x10000));
    let mut sent = 0_usize;
    // Without an end: it is the server that stops.
    while sent < 64 << 20 && stream.write_all(piece.as_bytes()).is_ok() {
        sent += 0x10000;
    }
    let answer = rest(&mut stream);
    assert!(sent < 32 << 20, "{sent} bytes were taken");
    assert!(answer.is_empty() || answer.starts_with("HTTP/1.1 413"), "{answer:.200}");
    assert!(served.answers());
}

#[test]
fn a_head_without_end_is_cut_off() {
    let served = Served::start();
    let mut stream = served.connect();
    stream.write_all(format!("GET /boxes HTTP/1.1\r\nHost: {}\r\n", served.host()).as_bytes()).unwrap();
    let line = format!("X-Long: {}\r\n", "a".repeat(8000));
    let mut sent = 0_usize;
    // What the two ends' own buffers hold is sent before the refusal is heard of.
    while sent < 64 << 20 && stream.write_all(line.as_bytes()).is_ok() {
        sent += line.len();
    }
    assert!(sent < 32 << 20, "{sent} bytes of a head were taken");
    let answer = rest(&mut stream);
    assert!(answer.is_empty() || answer.starts_with("HTTP/1.1 431"), "{answer:.200}");
    let many = (0..5000).fold(String::new(), |all, n| all + &format!("X-{n}: a\r\n"));
    let answer = served.tell(&format!("GET /boxes HTTP/1.1\r\nHost: HOST\r\n{many}\r\n"));
    assert!(answer.is_empty() || answer.starts_with("HTTP/1.1 431"), "{answer:.200}");
}

/// Whoever sends its head drop by drop is let go in seconds, although something always comes.
#[test]
fn slow_heads_are_let_go() {
    let served = Served::start();
    let mut stream = served.connect();
    stream.write_all(format!("GET /boxes HTTP/1.1\r\nHost: {}\r\n", served.host()).as_bytes()).unwrap();
    let started = Instant::now();
    while started.elapsed() < PATIENCE && stream.write_all(b"X-Slow: a\r\n").is_ok() {
        std::thread::sleep(Duration::from_millis(500));
    }
    assert!(started.elapsed() < Duration::from_secs(25), "{:?}", started.elapsed());
    assert!(!rest(&mut stream).starts_with("HTTP/1.1 200"));
    // One that says nothing at all, and one that asked once and then falls silent.
    let mut silent = served.connect();
    let mut asked_once = served.connect();
    asked_once
        .write_all(format!("GET /words HTTP/1.1\r\nHost: {}\r\n\r\n", served.host()).as_bytes())
        .unwrap();
    let started = Instant::now();
    assert_eq!(rest(&mut silent), "");
    assert!(rest(&mut asked_once).starts_with("HTTP/1.1 200"));
    assert!(started.elapsed() < Duration::from_secs(30), "{:?}", started.elapsed());
}

/// A body that was announced and does not come does not hold the page.
#[test]
fn slow_bodies_are_let_go() {
    let served = Served::start();
    let mut stream = served.connect();
    let head = format!(
        "POST /shop/change HTTP/1.1\r\nHost: {}\r\nContent-Type: application/x-www-form-urlencoded\r\n\
         Content-Length: 1000\r\nConnection: close\r\n\r\nforgery=",
        served.host()
    );
    stream.write_all(head.as_bytes()).unwrap();
    let started = Instant::now();
    let answer = rest(&mut stream);
    assert!(started.elapsed() < Duration::from_secs(35), "{:?}", started.elapsed());
    assert!(
        answer.is_empty() || matches!(statuses(&answer).first(), Some(&("400" | "408"))),
        "{answer:.200}"
    );
}

/// More connections than there are places: the ones beyond are closed at once, and when the others are let go
/// everything answers again.
#[test]
fn idle_connections_do_not_keep_others_out_for_long() {
    let served = Served::start();
    let idle: Vec<TcpStream> = (0..256).map(|_| served.connect()).collect();
    // Places are given in the order of coming; wait until the last of these has its own.
    std::thread::sleep(Duration::from_millis(500));
    let mut beyond = served.connect();
    let started = Instant::now();
    let _ = beyond.write_all(format!("GET /words HTTP/1.1\r\nHost: {}\r\n\r\n", served.host()).as_bytes());
    assert_eq!(rest(&mut beyond), "", "there was a place beyond the last");
    assert!(started.elapsed() < Duration::from_secs(5), "{:?}", started.elapsed());
    let started = Instant::now();
    while !served.answers_or_closes() {
        assert!(started.elapsed() < PATIENCE, "idle connections are kept");
        std::thread::sleep(Duration::from_millis(500));
    }
    drop(idle);
}

impl Served {
    /// As [`Served::answers`], where the connection may be refused while there is no place.
    fn answers_or_closes(&self) -> bool {
        let Ok(mut stream) = TcpStream::connect(self.address) else { return false };
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        let request = format!("GET /words HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n", self.host());
        stream.write_all(request.as_bytes()).is_ok() && rest(&mut stream).starts_with("HTTP/1.1 200")
    }
}
