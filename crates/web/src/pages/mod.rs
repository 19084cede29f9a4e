//! The screens, one file or folder to each: what is shown, the form that it takes, the handlers.

mod box_asked;
pub(crate) mod box_page;
pub(crate) mod boxes;
pub(crate) mod change;
pub(crate) mod compare;
pub(crate) mod cutting;
pub(crate) mod devices;
pub(crate) mod frame;
pub(crate) mod keeping;
pub(crate) mod later;
pub(crate) mod new_box;
pub(crate) mod one_box;
pub(crate) mod packet;
pub(crate) mod rack;
pub(crate) mod share;
pub(crate) mod statement_text;
pub(crate) mod versions;
pub(crate) mod pair;
pub(crate) mod shop;
pub(crate) mod words;
pub(crate) mod saw;
