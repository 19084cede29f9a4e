//! Who is asking: a browser of this machine, or a device that was paired; each holds a cookie of its own.

use crate::secret;
use crate::state::Bench;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderValue, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;

/// What somebody may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rights {
    /// Everything.
    Full,
    /// Look at all pages, and tick beside the saw.
    Look,
}

/// Who is asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Who {
    /// As history names them: `this machine`, or a device's name.
    pub(crate) name: String,
    /// What they may do.
    pub(crate) rights: Rights,
    /// The secret of their cookie, which the token against forgery is made from.
    pub(crate) cookie: String,
}

/// The cookie's name; cookies are not kept apart by port, so the port is in it.
pub(crate) fn cookie_name(port: u16) -> String {
    format!("keepwright-{port}")
}

/// The value of a cookie that a browser sent.
pub(crate) fn sent<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|v| v.to_str().ok())
        .flat_map(|v| v.split(';'))
        .find_map(|pair| pair.trim().strip_prefix(name)?.strip_prefix('='))
        .filter(|v| v.len() == 64 && v.bytes().all(|b| b.is_ascii_hexdigit()))
}

/// Finds out who is asking and puts it with the request; a browser of this machine without a cookie gets one.
pub(crate) async fn find(State(bench): State<Bench>, mut request: Request, next: Next) -> Response {
    let from = request.extensions().get::<ConnectInfo<SocketAddr>>().map(|c| c.0.ip());
    let name = cookie_name(bench.port());
    let known = sent(request.headers(), &name).map(str::to_owned);
    // The program's own tests call the pages without a connection: that is this machine too.
    let here = from.is_none_or(|ip| ip.to_canonical().is_loopback());
    let (who, fresh) = if here {
        let (cookie, fresh) = match known {
            Some(cookie) => (cookie, false),
            None => match secret::random_hex() {
                Ok(cookie) => (cookie, true),
                Err(error) => return crate::error::PageError::Random(error).into_response(),
            },
        };
        (Who { name: "this machine".to_owned(), rights: Rights::Full, cookie }, fresh)
    } else {
        match crate::pages::devices::known(&bench, known.as_deref()).await {
            Ok(Some(who)) => (who, false),
            Ok(None) => return crate::pages::devices::unknown(&bench, request).await,
            Err(error) => return error.into_response(),
        }
    };
    let cookie = who.cookie.clone();
    request.extensions_mut().insert(who);
    let mut response = next.run(request).await;
    if fresh {
        let value = format!("{name}={cookie}; Path=/; HttpOnly; SameSite=Strict; Max-Age=31536000");
        if let Ok(value) = HeaderValue::from_str(&value) {
            response.headers_mut().append(header::SET_COOKIE, value);
        }
    }
    response
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
        headers.insert(header::COOKIE, HeaderValue::from_static("keepwright-4712=short"));
        assert_eq!(sent(&headers, "keepwright-4712"), None);
    }
}
