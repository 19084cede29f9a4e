//! Who gets in, and what an answer may do in the browser. One rule to a file; [`routes`](crate::routes) layers them
//! round every page.

pub(crate) mod forgery;
pub(crate) mod headers;
pub(crate) mod hosts;
pub(crate) mod who;
