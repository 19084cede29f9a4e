//! Only our own names: a page of somewhere else whose name is made to point at this machine is refused (DNS
//! rebinding), and so is a request that says it comes from another site.
//!
//! An address written in digits is safe to answer to when it is the one that the connection came in by: no name was
//! looked up, so none can have been made to point here.

use crate::error::PageError;
use crate::state::Bench;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::collections::BTreeSet;
use std::net::{IpAddr, SocketAddr};

/// The address of ours that a connection came in by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Reached(pub(crate) SocketAddr);

/// The names under which the bench may be asked for, each with its port as a browser writes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Hosts(BTreeSet<String>);

impl Hosts {
    /// This machine's own names on a port, and the addresses in the local network by which it also listens.
    pub(crate) fn new(port: u16, others: &[IpAddr]) -> Self {
        let mut names: BTreeSet<String> =
            ["127.0.0.1", "localhost", "[::1]"].map(|n| with_port(n, port)).into();
        names.extend(others.iter().map(|other| in_digits(*other, port)));
        Self(names)
    }

    /// Whether a `Host` header names us.
    pub(crate) fn knows(&self, host: &str) -> bool {
        self.0.contains(&host.to_ascii_lowercase())
    }
}

/// An address as a browser writes it in `Host`.
fn in_digits(address: IpAddr, port: u16) -> String {
    match address.to_canonical() {
        IpAddr::V4(v4) => with_port(&v4.to_string(), port),
        IpAddr::V6(v6) => with_port(&format!("[{v6}]"), port),
    }
}

/// Browsers leave the port of plain HTTP out.
fn with_port(name: &str, port: u16) -> String {
    if port == 80 { name.to_owned() } else { format!("{name}:{port}") }
}

/// Refuses what asks for another host or comes from another site.
pub(crate) async fn check(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    let reached = request.extensions().get::<Reached>().map(|r| in_digits(r.0.ip(), r.0.port()));
    let ours = |host: &str| bench.hosts().knows(host) || reached.as_deref() == Some(host);
    let judged = named(request.uri(), request.headers(), ours)
        .and_then(|()| from_our_page(request.method(), request.headers()));
    match judged {
        Ok(()) => next.run(request).await,
        Err(error) => error.into_response(),
    }
}

/// The only header of a name; none where there is none.
fn one<'h>(headers: &'h HeaderMap, name: &header::HeaderName) -> Result<Option<&'h str>, PageError> {
    let mut all = headers.get_all(name).iter();
    let first = all.next();
    if all.next().is_some() {
        return Err(PageError::WrongHost(format!("two {name} headers")));
    }
    first
        .map(|v| v.to_str().map_err(|_| PageError::WrongHost(format!("a {name} header that is no text"))))
        .transpose()
}

/// Whether host, the address line and origin all name us.
fn named(uri: &Uri, headers: &HeaderMap, ours: impl Fn(&str) -> bool) -> Result<(), PageError> {
    let host = one(headers, &header::HOST)?.ok_or_else(|| PageError::WrongHost("no host".to_owned()))?;
    if !ours(host) {
        return Err(PageError::WrongHost(host.to_owned()));
    }
    // A whole address in the request line, as for a proxy: it goes before the header and must say the same.
    if let Some(authority) = uri.authority()
        && !authority.as_str().eq_ignore_ascii_case(host)
    {
        return Err(PageError::WrongHost(authority.to_string()));
    }
    if let Some(origin) = one(headers, &header::ORIGIN)? {
        let same = origin.strip_prefix("http://").is_some_and(|o| o.eq_ignore_ascii_case(host));
        if !same {
            return Err(PageError::OtherSite(origin.to_owned()));
        }
    }
    Ok(())
}

/// Whether a browser that says where a request comes from says: from our own page, from the maker's own hand, or by
/// following a link. What says nothing must still bring cookie and token.
fn from_our_page(method: &Method, headers: &HeaderMap) -> Result<(), PageError> {
    let said = |name: &str| headers.get(name).and_then(|v| v.to_str().ok()).unwrap_or("");
    let site = said("sec-fetch-site");
    let follows_a_link = *method == Method::GET
        && said("sec-fetch-mode") == "navigate"
        && said("sec-fetch-dest") == "document";
    match site {
        "" | "same-origin" | "none" => Ok(()),
        _ if follows_a_link => Ok(()),
        other => Err(PageError::OtherSite(other.to_owned())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    #[test]
    fn only_our_names_and_our_own_pages_get_in() {
        let hosts = Hosts::new(4712, &["192.168.7.20".parse().unwrap(), "fe80::1".parse().unwrap()]);
        for (host, origin, want) in [
            (Some("127.0.0.1:4712"), None, true),
            (Some("LOCALHOST:4712"), None, true),
            (Some("[::1]:4712"), None, true),
            (Some("192.168.7.20:4712"), Some("http://192.168.7.20:4712"), true),
            (Some("[fe80::1]:4712"), None, true),
            (Some("127.0.0.1:4712"), Some("http://127.0.0.1:4712"), true),
            (None, None, false),
            (Some("127.0.0.1"), None, false),
            (Some("127.0.0.1:80"), None, false),
            (Some("evil.example:4712"), None, false),
            (Some("127.0.0.1.evil.example:4712"), None, false),
            (Some("127.0.0.1:4712"), Some("http://evil.example"), false),
            (Some("127.0.0.1:4712"), Some("null"), false),
            (Some("127.0.0.1:4712"), Some("https://127.0.0.1:4712"), false),
            (Some("127.0.0.1:4712"), Some("http://localhost:4712"), false),
        ] {
            let mut headers = HeaderMap::new();
            if let Some(host) = host {
                headers.insert(header::HOST, HeaderValue::from_static(host));
            }
            if let Some(origin) = origin {
                headers.insert(header::ORIGIN, HeaderValue::from_static(origin));
            }
            let got = named(&Uri::from_static("/"), &headers, |h| hosts.knows(h));
            assert_eq!(got.is_ok(), want, "{host:?} {origin:?}");
        }
        let mut twice = HeaderMap::new();
        twice.append(header::HOST, HeaderValue::from_static("127.0.0.1:4712"));
        twice.append(header::HOST, HeaderValue::from_static("evil.example"));
        assert!(named(&Uri::from_static("/"), &twice, |h| hosts.knows(h)).is_err());
        assert!(Hosts::new(80, &[]).knows("localhost"));
    }

    /// A whole address in the request line goes before the header, so it must not name somebody else.
    #[test]
    fn the_request_line_names_nobody_else() {
        let mut headers = HeaderMap::new();
        headers.insert(header::HOST, HeaderValue::from_static("127.0.0.1:4712"));
        for (line, want) in [
            ("/boxes", true),
            ("http://127.0.0.1:4712/boxes", true),
            ("http://evil.example/boxes", false),
            ("http://evil.example:4712/", false),
            ("evil.example:4712", false),
            ("http://user@127.0.0.1:4712/", false),
        ] {
            let got = named(&line.parse().unwrap(), &headers, |h| h == "127.0.0.1:4712");
            assert_eq!(got.is_ok(), want, "{line}");
        }
    }

    #[test]
    fn other_sites_may_link_to_us_and_nothing_else() {
        for (method, site, mode, dest, want) in [
            (Method::GET, "same-origin", "cors", "empty", true),
            (Method::GET, "none", "navigate", "document", true),
            (Method::GET, "cross-site", "navigate", "document", true),
            (Method::GET, "cross-site", "no-cors", "image", false),
            (Method::GET, "cross-site", "navigate", "iframe", false),
            (Method::GET, "same-site", "no-cors", "script", false),
            (Method::GET, "same-site", "cors", "empty", false),
            (Method::POST, "cross-site", "navigate", "document", false),
            (Method::POST, "same-site", "navigate", "document", false),
            (Method::POST, "same-origin", "navigate", "document", true),
            (Method::GET, "nonsense", "cors", "empty", false),
            (Method::POST, "", "", "", true),
        ] {
            let mut headers = HeaderMap::new();
            for (name, value) in
                [("sec-fetch-site", site), ("sec-fetch-mode", mode), ("sec-fetch-dest", dest)]
            {
                if !value.is_empty() {
                    headers.insert(name, HeaderValue::from_static(value));
                }
            }
            assert_eq!(from_our_page(&method, &headers).is_ok(), want, "{method} {site} {mode} {dest}");
        }
    }
}
