//! The screens, one file or folder to each: what is shown, the form that it takes, the handlers.

pub(crate) mod boxes;
pub(crate) mod devices;
pub(crate) mod frame;
pub(crate) mod saw;
