//! Bytes out: what the bench needs, drawn and written as PDF, SVG, DXF, STL, CSV and iCalendar.
//!
//! Two ways in. A [`drawing::Drawing`] is geometry in millimeters that [`svg`], [`dxf`] and the pages
//! all read. A [`document::Document`] is a list of sheets made of [`flow::Block`]s; [`pdf`] writes it.
//! Nothing here reads a clock, a file or a font of the machine: dates come from the caller, faces are
//! embedded, and the same input gives the same bytes.

pub mod calendar;
pub mod chapters;
pub mod document;
pub mod drawing;
pub mod drawings;
pub mod dxf;
pub mod faces;
pub mod flow;
pub mod html;
pub mod ink;
pub mod json;
pub mod list;
mod number;
pub mod packet;
pub mod page;
pub mod pdf;
pub mod preview;
pub mod setup_words;
pub mod sheets;
pub mod shown;
pub mod stl;
pub mod svg;
mod typeset;
