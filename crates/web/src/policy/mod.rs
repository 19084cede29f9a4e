//! Who gets in, and what an answer may do in the browser. One rule to a file; [`routes`](crate::routes) layers them
//! round every page, [`server`](crate::server) round every connection.

pub(crate) mod forgery;
pub(crate) mod headers;
pub(crate) mod hosts;
pub(crate) mod limits;
pub(crate) mod patience;
pub(crate) mod places;
pub(crate) mod rights;
pub(crate) mod who;
