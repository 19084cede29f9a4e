//! Who is asking: a browser of this machine, or a device of the network; each holds a cookie of its own.

use crate::error::PageError;
use crate::pages::devices;
use crate::secret;
use crate::state::Bench;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::{IpAddr, SocketAddr};

/// What somebody may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rights {
    /// Everything.
    Full,
    /// Look at the pages, and tick beside the saw.
    Look,
    /// Nothing but to be paired.
    Stranger,
}

/// Who is asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Who {
    /// As history names them: `this machine`, or a device's name.
    pub(crate) name: String,
    /// What they may do.
    pub(crate) rights: Rights,
    /// The secret of their cookie, which the token against forgery is made from; empty where there is none.
    pub(crate) cookie: String,
    /// The address in the network that they come from; none for this machine.
    pub(crate) address: Option<IpAddr>,
}

/// The path under which devices are paired; a code follows.
pub(crate) const PAIR: &str = "/pair/";

/// A cookie of ours, as the browser is told to keep it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cookie {
    /// Says who asks; kept for a year.
    Own,
    /// Guards the form of the page on which a device is paired; a paired device keeps its own beside it.
    Pairing,
}

impl Cookie {
    /// Its name; cookies are not kept apart by port, so the port is in it.
    fn name(self, port: u16) -> String {
        match self {
            Self::Own => format!("keepwright-{port}"),
            Self::Pairing => format!("keepwright-{port}-pairing"),
        }
    }

    /// The header that gives it to a browser.
    pub(crate) fn give(self, port: u16, secret: &str) -> Result<HeaderValue, PageError> {
        let (path, age) = match self {
            Self::Own => ("/", "; Max-Age=31536000"),
            Self::Pairing => (PAIR, ""),
        };
        let text = format!("{}={secret}; Path={path}; HttpOnly; SameSite=Strict{age}", self.name(port));
        HeaderValue::from_str(&text).map_err(|error| PageError::Broken(error.to_string()))
    }

    /// What the browser sent of it, if it can be one of ours.
    pub(crate) fn sent(self, port: u16, headers: &HeaderMap) -> Option<String> {
        sent(headers, &self.name(port)).map(str::to_owned)
    }
}

/// The value of a cookie that a browser sent.
fn sent<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|v| v.to_str().ok())
        .flat_map(|v| v.split(';'))
        .find_map(|pair| pair.trim().strip_prefix(name)?.strip_prefix('='))
        .filter(|v| v.len() == 64 && v.bytes().all(|b| b.is_ascii_hexdigit()))
}

/// The address in the network that a request comes from; none for this machine, and for the program's own tests,
/// which ask without a connection.
fn elsewhere(request: &Request) -> Option<IpAddr> {
    let from = request.extensions().get::<ConnectInfo<SocketAddr>>()?.0.ip().to_canonical();
    (!from.is_loopback()).then_some(from)
}

/// Finds out who is asking and puts it with the request; a browser without a cookie gets one.
pub(crate) async fn find(State(bench): State<Bench>, mut request: Request, next: Next) -> Response {
    let (address, pairs) = (elsewhere(&request), request.uri().path().starts_with(PAIR));
    match found(&bench, request.headers(), address, pairs).await {
        Ok((who, fresh)) => {
            request.extensions_mut().insert(who);
            let mut response = next.run(request).await;
            if let Some(cookie) = fresh {
                response.headers_mut().append(header::SET_COOKIE, cookie);
            }
            response
        }
        Err(error) => error.into_response(),
    }
}

/// Who asks, and the cookie to give them if they have none yet; `pairs` is whether they are on their way in.
async fn found(
    bench: &Bench,
    headers: &HeaderMap,
    address: Option<IpAddr>,
    pairs: bool,
) -> Result<(Who, Option<HeaderValue>), PageError> {
    let port = bench.port();
    let own = Cookie::Own.sent(port, headers);
    let (name, rights) = if address.is_none() {
        ("this machine".to_owned(), Rights::Full)
    } else {
        match &own {
            Some(secret) => devices::known(bench, secret).await?,
            None => None,
        }
        .unwrap_or_else(|| ("a device that is not paired".to_owned(), Rights::Stranger))
    };
    // The page for pairing may be come to from another site's page, and then a strict cookie is not sent: its form is
    // guarded by a cookie of its own, and the one that the device may have is left as it is.
    let (known, kind) = if pairs {
        (Cookie::Pairing.sent(port, headers), Some(Cookie::Pairing))
    } else {
        (own, (rights == Rights::Full).then_some(Cookie::Own))
    };
    let (cookie, fresh) = match (known, kind) {
        (Some(cookie), _) => (cookie, None),
        (None, Some(kind)) => {
            let secret = secret::random_hex().map_err(PageError::Random)?;
            let header = kind.give(port, &secret)?;
            (secret, Some(header))
        }
        (None, None) => (String::new(), None),
    };
    Ok((Who { name, rights, cookie, address }, fresh))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cookie_is_found_among_others() {
        let secret = "0123456789abcdef".repeat(4);
        let mut headers = HeaderMap::new();
        let all = format!("a=1; keepwright-4712={secret}; b=2");
        headers.insert(header::COOKIE, HeaderValue::from_str(&all).unwrap());
        assert_eq!(sent(&headers, "keepwright-4712"), Some(secret.as_str()));
        assert_eq!(sent(&headers, "keepwright-4713"), None);
        assert_eq!(sent(&headers, "keepwright-471"), None);
        headers.insert(header::COOKIE, HeaderValue::from_static("keepwright-4712=short"));
        assert_eq!(sent(&headers, "keepwright-4712"), None);
    }
}
