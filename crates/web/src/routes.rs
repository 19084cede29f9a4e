//! The one list of addresses, and the rules that lie round all of them.

use crate::error::PageError;
use crate::policy::{forgery, headers, hosts, who};
use crate::state::Bench;
use crate::{assets, pages};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::response::Redirect;
use axum::routing::get;
use std::time::Duration;
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::timeout::TimeoutLayer;

/// The longest that an answer may take; long work runs as a job that the page asks about.
const ANSWER_TIMEOUT: Duration = Duration::from_secs(60);

/// Every page of a bench.
pub fn router(bench: Bench) -> Router {
    // From outside in: our name, who asks, whether they may write; then the page.
    let rules = ServiceBuilder::new()
        .layer(from_fn(headers::add))
        .layer(CatchPanicLayer::new())
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, ANSWER_TIMEOUT))
        .layer(CompressionLayer::new())
        .layer(from_fn_with_state(bench.clone(), hosts::check))
        .layer(from_fn_with_state(bench.clone(), who::find))
        .layer(from_fn_with_state(bench.clone(), forgery::check));
    Router::new()
        .route("/", get(|| async { Redirect::to("/boxes") }))
        .route("/assets/{*path}", get(assets::asset))
        .route("/service-worker.js", get(assets::service_worker))
        .merge(pages::boxes::routes())
        .merge(pages::saw::routes())
        .fallback(|| async { PageError::NotFound })
        .layer(DefaultBodyLimit::max(forgery::LARGEST_FORM))
        .layer(rules)
        .with_state(bench)
}
