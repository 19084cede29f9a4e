//! Devices of the local network.

use crate::error::PageError;
use crate::policy::who::Who;
use crate::state::Bench;
use axum::extract::Request;
use axum::response::{IntoResponse, Response};

/// The paired device that holds a cookie.
///
/// # Errors
/// When the store cannot be read.
#[expect(clippy::unused_async, reason = "looks in the store once devices can be paired")]
pub(crate) async fn known(_: &Bench, _: Option<&str>) -> Result<Option<Who>, PageError> {
    Ok(None)
}

/// The answer to a device that is not paired.
#[expect(clippy::unused_async, reason = "takes a pairing code once devices can be paired")]
pub(crate) async fn unknown(_: &Bench, _: Request) -> Response {
    PageError::MayOnlyLook.into_response()
}
