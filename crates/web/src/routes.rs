//! The one list of addresses, and the rules that lie round all of them.

use crate::error::PageError;
use crate::policy::{forgery, headers, hosts, limits, rights, who};
use crate::state::Bench;
use crate::{assets, pages};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::response::Redirect;
use axum::routing::get;
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{DefaultPredicate, NotForContentType, Predicate};

/// Which answers are packed on the way: not those that are packed already.
fn worth_packing() -> impl Predicate {
    DefaultPredicate::new()
        .and(NotForContentType::const_new("application/zip"))
        .and(NotForContentType::const_new("application/pdf"))
        .and(NotForContentType::const_new("font/woff2"))
}

/// Every page of a bench.
pub fn router(bench: Bench) -> Router {
    // From outside in: how much and how long, our name, who asks, whether they may, whether they mean it; then the page.
    let rules = ServiceBuilder::new()
        .layer(from_fn(headers::add))
        .layer(CatchPanicLayer::new())
        .layer(from_fn(limits::hold))
        .layer(CompressionLayer::new().compress_when(worth_packing()))
        .layer(from_fn_with_state(bench.clone(), hosts::check))
        .layer(from_fn_with_state(bench.clone(), who::find))
        .layer(from_fn(rights::check))
        .layer(from_fn_with_state(bench.clone(), forgery::check));
    Router::new()
        .route("/", get(|| async { Redirect::to("/boxes") }))
        .route("/assets/{*path}", get(assets::asset))
        .route("/service-worker.js", get(assets::service_worker))
        .merge(pages::box_page::routes())
        .merge(pages::boxes::routes())
        .merge(pages::change::routes())
        .merge(pages::compare::routes())
        .merge(pages::keeping::routes())
        .merge(pages::later::routes())
        .merge(pages::new_box::routes())
        .merge(pages::statement_text::routes())
        .merge(pages::versions::routes())
        .merge(pages::cutting::routes())
        .merge(pages::packet::routes())
        .merge(pages::rack::routes())
        .merge(pages::share::routes())
        .merge(pages::devices::routes())
        .merge(pages::pair::routes())
        .merge(pages::shop::routes())
        .merge(pages::words::routes())
        .merge(pages::saw::routes())
        .fallback(|| async { PageError::NotFound })
        .layer(DefaultBodyLimit::max(limits::LARGEST_FORM))
        .layer(rules)
        .with_state(bench)
}
