//! What stands round every page: the rooms, the shop's name and unit, the token of its forms.

use crate::error::PageError;
use crate::policy::forgery;
use crate::policy::who::{Rights, Who};
use crate::state::Bench;
use askama::Template;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use keepwright_model::units::LengthUnit;

/// The frame of a page.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    /// The room that the page belongs to, as in its address.
    here: &'static str,
    /// The token that every form carries.
    pub(crate) forgery: String,
    /// The shop's name.
    pub(crate) shop: String,
    /// The shop's unit of lengths, as a word.
    pub(crate) unit: &'static str,
    /// Whether the asker may only look and tick.
    pub(crate) only_looks: bool,
}

impl Frame {
    /// The frame for whoever asks.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub(crate) fn of(bench: &Bench, who: &Who, here: &'static str) -> Result<Self, PageError> {
        // A shop whose statement has a problem still has its pages: the remedy is on one of them.
        let (shop, unit) = match bench.shop() {
            Ok(shop) => (shop.name, shop.unit),
            Err(PageError::Refused { .. }) => ("The shop".to_owned(), LengthUnit::Millimeter),
            Err(error) => return Err(error),
        };
        Ok(Self {
            here,
            forgery: forgery::token(bench, &who.cookie),
            shop,
            unit: match unit {
                LengthUnit::Millimeter => "mm",
                LengthUnit::Inch => "in",
            },
            only_looks: who.rights != Rights::Full,
        })
    }

    /// Whether the page belongs to a room.
    pub(crate) fn is_at(&self, room: &str) -> bool {
        self.here == room
    }
}

/// A page as an answer.
///
/// # Errors
/// A template that cannot be filled in; none is expected.
pub(crate) fn page(template: &impl Template) -> Result<Response, PageError> {
    Ok(Html(template.render()?).into_response())
}

/// A page with another status than fine: a form that was not taken, with what was typed still in it.
///
/// # Errors
/// As [`page`].
pub(crate) fn page_as(status: StatusCode, template: &impl Template) -> Result<Response, PageError> {
    Ok((status, Html(template.render()?)).into_response())
}
