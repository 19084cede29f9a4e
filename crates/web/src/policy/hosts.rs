//! Only our own names: a page of somewhere else whose name is made to point at this machine is refused (DNS
//! rebinding), and so is a request that says it comes from another site.

use crate::error::PageError;
use crate::state::Bench;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::collections::BTreeSet;
use std::net::IpAddr;

/// The names under which the bench may be asked for, each with its port as a browser writes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Hosts(BTreeSet<String>);

impl Hosts {
    /// This machine's own names on a port, and the addresses in the local network by which it also listens.
    pub(crate) fn new(port: u16, others: &[IpAddr]) -> Self {
        let mut names: BTreeSet<String> =
            ["127.0.0.1", "localhost", "[::1]"].map(|n| with_port(n, port)).into();
        for other in others {
            names.insert(match other {
                IpAddr::V4(v4) => with_port(&v4.to_string(), port),
                IpAddr::V6(v6) => with_port(&format!("[{v6}]"), port),
            });
        }
        Self(names)
    }

    /// Whether a `Host` header names us.
    pub(crate) fn knows(&self, host: &str) -> bool {
        self.0.contains(&host.to_ascii_lowercase())
    }
}

/// Browsers leave the port of plain HTTP out.
fn with_port(name: &str, port: u16) -> String {
    if port == 80 { name.to_owned() } else { format!("{name}:{port}") }
}

/// Refuses what asks for another host or comes from another site.
pub(crate) async fn check(State(bench): State<Bench>, request: Request, next: Next) -> Response {
    match judged(bench.hosts(), request.headers()) {
        Ok(()) => next.run(request).await,
        Err(error) => error.into_response(),
    }
}

fn judged(hosts: &Hosts, headers: &HeaderMap) -> Result<(), PageError> {
    let one = |name: header::HeaderName| -> Result<Option<&str>, PageError> {
        let mut all = headers.get_all(&name).iter();
        let first = all.next();
        if all.next().is_some() {
            return Err(PageError::WrongHost(format!("two {name} headers")));
        }
        first
            .map(|v| v.to_str().map_err(|_| PageError::WrongHost(format!("a {name} header that is no text"))))
            .transpose()
    };
    let host = one(header::HOST)?.ok_or_else(|| PageError::WrongHost("no host".to_owned()))?;
    if !hosts.knows(host) {
        return Err(PageError::WrongHost(host.to_owned()));
    }
    if let Some(origin) = one(header::ORIGIN)? {
        let ours = origin.strip_prefix("http://").is_some_and(|o| o.eq_ignore_ascii_case(host));
        if !ours {
            return Err(PageError::OtherSite(origin.to_owned()));
        }
    }
    Ok(())
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
            assert_eq!(judged(&hosts, &headers).is_ok(), want, "{host:?} {origin:?}");
        }
        let mut twice = HeaderMap::new();
        twice.append(header::HOST, HeaderValue::from_static("127.0.0.1:4712"));
        twice.append(header::HOST, HeaderValue::from_static("evil.example"));
        assert!(judged(&hosts, &twice).is_err());
        assert!(Hosts::new(80, &[]).knows("localhost"));
    }
}
