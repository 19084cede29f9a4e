//! What who may ask for: a device that may only look changes nothing but ticks, and reads nothing by which it could
//! come to more; a device that is not paired sees the page on which it is.

use crate::error::PageError;
use crate::policy::who::{PAIR, Rights, Who};
use axum::extract::Request;
use axum::http::Method;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Where a device that may only look may still write.
const TICKS: &str = "/ticks";
/// What pages are made of; the same for everybody and no secret.
const ASSETS: &str = "/assets/";
/// What only somebody with all rights may read: the whole shop at once, and who gets in.
const FULL_ONLY: [&str; 3] = ["/shop/archive", "/shop/backups", "/shop/devices"];

/// Lets pass what the asker may ask for.
pub(crate) async fn check(request: Request, next: Next) -> Response {
    let rights = request.extensions().get::<Who>().map_or(Rights::Stranger, |who| who.rights);
    match judged(rights, request.method(), request.uri().path()) {
        Ok(()) => next.run(request).await,
        Err(error) => error.into_response(),
    }
}

fn judged(rights: Rights, method: &Method, path: &str) -> Result<(), PageError> {
    let reads = matches!(*method, Method::GET | Method::HEAD);
    // Whoever has a code may use it.
    let pairs = path.starts_with(PAIR);
    match rights {
        Rights::Look if !reads && path != TICKS && !pairs => Err(PageError::MayOnlyLook),
        Rights::Look if FULL_ONLY.iter().any(|begins| path.starts_with(begins)) => {
            Err(PageError::MayOnlyLook)
        }
        Rights::Full | Rights::Look => Ok(()),
        Rights::Stranger if pairs || reads && path.starts_with(ASSETS) => Ok(()),
        Rights::Stranger => Err(PageError::NotPaired),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_may_what() {
        for (rights, method, path, want) in [
            (Rights::Full, Method::POST, "/shop/change", true),
            (Rights::Full, Method::GET, "/shop/archive.zip", true),
            (Rights::Look, Method::GET, "/shop", true),
            (Rights::Look, Method::GET, "/boxes/tea-caddy/saw", true),
            (Rights::Look, Method::POST, "/ticks", true),
            (Rights::Look, Method::POST, "/ticks/", false),
            (Rights::Look, Method::POST, "/ticks/../shop/change", false),
            (Rights::Look, Method::POST, "/shop/change", false),
            (Rights::Look, Method::PUT, "/boxes/tea-caddy", false),
            (Rights::Look, Method::DELETE, "/ticksy", false),
            (Rights::Look, Method::GET, "/shop/archive", false),
            (Rights::Look, Method::HEAD, "/shop/archive.zip", false),
            (Rights::Look, Method::GET, "/shop/devices", false),
            (Rights::Look, Method::GET, "/shop/backups", false),
            (Rights::Look, Method::POST, "/pair/abc", true),
            (Rights::Stranger, Method::GET, "/pair/abc", true),
            (Rights::Stranger, Method::POST, "/pair/abc", true),
            (Rights::Stranger, Method::GET, "/assets/css/base.css", true),
            (Rights::Stranger, Method::POST, "/assets/css/base.css", false),
            (Rights::Stranger, Method::GET, "/", false),
            (Rights::Stranger, Method::GET, "/boxes", false),
            (Rights::Stranger, Method::GET, "/service-worker.js", false),
            (Rights::Stranger, Method::POST, "/ticks", false),
        ] {
            assert_eq!(judged(rights, &method, path).is_ok(), want, "{rights:?} {method} {path}");
        }
    }
}
