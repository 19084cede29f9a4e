//! The whole rack in and out, as the command line's rack file.

use super::super::frame::{Frame, page, page_as};
use super::{acts, photo};
use crate::clock;
use crate::demo::boards_of;
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::Extension;
use axum::extract::{Multipart, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use keepwright_model::design::show_problems;
use keepwright_model::units::{LengthUnit, parse_length_in};
use keepwright_store::{By, Kind, Saved, Shelf, StockState, Time};
use std::collections::BTreeSet;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

/// The keys of a board, and of a fault, that hold lengths.
const LENGTHS: [&str; 7] = ["length", "width", "thickness", "end_check_left", "end_check_right", "x", "y"];

/// The rack as one file: every board that is not used up, in the order of their names.
pub(super) async fn out(State(bench): State<Bench>) -> Result<Response, PageError> {
    let text = bench
        .work(|bench| {
            let unit = bench.shop()?.unit;
            let mut boards = bench.store().boards(Shelf::Kept)?;
            boards.retain(|b| b.stock.state != StockState::Used);
            boards.sort_by(|a, b| a.document.name.cmp(&b.document.name));
            Ok(together(boards.iter().map(|b| (b.document.name.as_str(), b.head.text.as_str())), unit))
        })
        .await?;
    let headers = [
        (header::CONTENT_TYPE, "application/toml; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"rack.toml\""),
    ];
    Ok((headers, text).into_response())
}

/// One rack file of many; a bare number of a file with another unit gets its unit, a name that is there already a
/// number.
fn together<'a>(boards: impl Iterator<Item = (&'a str, &'a str)>, unit: LengthUnit) -> String {
    let word = |unit| if unit == LengthUnit::Inch { "in" } else { "mm" };
    let mut names = BTreeSet::new();
    let mut list = ArrayOfTables::new();
    for (name, text) in boards {
        let Ok(document) = text.parse::<DocumentMut>() else { continue };
        let own = document.get("units").and_then(Item::as_str).unwrap_or(word(unit));
        let tables = document.get("board").and_then(Item::as_array_of_tables);
        for table in tables.into_iter().flatten() {
            let mut table = table.clone();
            table.set_position(None);
            if own != word(unit) {
                with_unit(&mut table, own);
            }
            let mut own_name = name.to_owned();
            let mut number = 1;
            while !names.insert(own_name.clone()) {
                number += 1;
                own_name = format!("{name} ({number})");
            }
            table.insert("name", Item::Value(Value::from(own_name)));
            list.push(table);
        }
    }
    let mut out = DocumentMut::new();
    out.insert("keepwright", Item::Value(Value::from(1)));
    out.insert("units", Item::Value(Value::from(word(unit))));
    if !list.is_empty() {
        out.insert("board", Item::ArrayOfTables(list));
    }
    out.to_string()
}

/// Whether a length has no unit of its own: then it is another one in the other unit.
fn is_bare(text: &str) -> bool {
    match (parse_length_in(text, LengthUnit::Millimeter), parse_length_in(text, LengthUnit::Inch)) {
        (Ok(mm), Ok(inch)) => !mm.same(inch),
        // Longer than any board in one of the units only.
        (mm, inch) => mm.is_ok() != inch.is_ok(),
    }
}

/// Writes the unit behind every length that has none.
fn with_unit(table: &mut dyn TableLike, unit: &str) {
    for key in LENGTHS {
        let Some(value) = table.get_mut(key).and_then(Item::as_value_mut) else { continue };
        let text = match &*value {
            Value::String(text) => text.value().clone(),
            other => other.clone().decorated("", "").to_string(),
        };
        if is_bare(&text) {
            let decor = value.decor().clone();
            *value = Value::from(format!("{text} {unit}"));
            *value.decor_mut() = decor;
        }
    }
    match table.get_mut("defect") {
        Some(Item::ArrayOfTables(faults)) => faults.iter_mut().for_each(|f: &mut Table| with_unit(f, unit)),
        Some(Item::Value(Value::Array(faults))) => {
            faults.iter_mut().filter_map(Value::as_inline_table_mut).for_each(|f| with_unit(f, unit))
        }
        _ => {}
    }
}

#[derive(Template)]
#[template(path = "pages/rack_in.html")]
struct InPage {
    frame: Frame,
    text: String,
    wrong: Option<String>,
    /// What became of each board of the last file.
    done: Vec<String>,
}

pub(super) async fn ask(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let frame = Frame::of(bench, &who, "rack")?;
            Ok(InPage { frame, text: String::new(), wrong: None, done: Vec::new() })
        })
        .await?;
    page(&shown)
}

/// Takes a rack file: boards whose names are there already get a new version, the others are made.
pub(super) async fn take(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    mut sent: Multipart,
) -> Result<Response, PageError> {
    let (mut file, mut pasted) = (Vec::new(), String::new());
    while let Some(field) = sent.next_field().await.map_err(photo::broken)? {
        match field.name() {
            Some("file") => file = field.bytes().await.map_err(photo::broken)?.to_vec(),
            Some("text") => pasted = field.text().await.map_err(photo::broken)?,
            _ => {}
        }
    }
    bench
        .work(move |bench| {
            let frame = Frame::of(bench, &who, "rack")?;
            let text = if file.is_empty() { Ok(pasted) } else { String::from_utf8(file) };
            let (text, wrong) = match text {
                Ok(text) if text.trim().is_empty() => {
                    let wrong = "No file was chosen and no text was pasted: choose a rack file.".to_owned();
                    (text, Some(wrong))
                }
                Ok(text) => {
                    let wrong = planner::rack_file(&text, &bench.shop()?)
                        .err()
                        .map(|problems| show_problems(&problems, "rack.toml", &text));
                    (text, wrong)
                }
                Err(bytes) => {
                    let wrong =
                        "The file is no text in UTF-8: choose a rack file as the command line takes it.";
                    (String::from_utf8_lossy(bytes.as_bytes()).into_owned(), Some(wrong.to_owned()))
                }
            };
            if wrong.is_some() {
                let shown = InPage { frame, text, wrong, done: Vec::new() };
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown);
            }
            let done = put_in(bench, &who, &text)?;
            if done.is_empty() {
                return Ok(Redirect::to("/rack").into_response());
            }
            page(&InPage { frame, text: String::new(), wrong: None, done })
        })
        .await
}

/// Puts the boards of a text that reads into the rack; says what became of each.
fn put_in(bench: &Bench, who: &Who, text: &str) -> Result<Vec<String>, PageError> {
    let by = By::new(&who.name, Time::seconds(clock::now()));
    let shop = bench.shop()?;
    let there = bench.store().boards(Shelf::Kept)?;
    let names = planner::rack_file(text, &shop).map(|file| file.boards).unwrap_or_default();
    let word = if shop.unit == LengthUnit::Inch { "\"in\"" } else { "\"mm\"" };
    let mut done = Vec::new();
    for (one, stated) in boards_of(text).into_iter().zip(names) {
        let name = stated.name;
        let mut text = acts::renamed(&one.text, &name)?;
        if crate::edit::get(&text, "units").is_none() {
            text = crate::edit::set(&text, "units", Some(word))
                .map_err(|e| PageError::refused(e.to_string(), "write `units` at the head of the file"))?;
        }
        match there.iter().find(|b| b.document.name == name) {
            None => {
                bench.store().create(Kind::Board, &name, &text, "from a rack file", by)?;
                done.push(format!("{name}: new"));
            }
            Some(board) if board.stock.state != StockState::Free => {
                done.push(format!("{name}: left as it is, because it is {}", board.stock.state.word()));
            }
            Some(board) => {
                let saved =
                    bench.store().save(board.document.id, board.head.id, &text, "from a rack file", by)?;
                done.push(match saved {
                    Saved::Same(_) => format!("{name}: the same as before"),
                    Saved::Kept(_) | Saved::Beside { .. } => format!("{name}: a new version"),
                });
            }
        }
    }
    Ok(done)
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_model::design::{Defaults, read_rack};
    use keepwright_model::units::{Currency, Length};
    use keepwright_model::wood;

    /// 900 of a file in millimeters stays 900 mm in one of inches, `6 3/4` stays inches.
    #[test]
    fn boards_of_both_units_go_into_one_file() {
        let mm = "keepwright = 1\nunits = \"mm\"\n[[board]]\nname = \"A\"\nwood = \"ash\"\nlength = 900\nwidth = \"140\"\n\
                  thickness = \"20 mm\"\n[[board.defect]]\nx = 50\ny = \"1 in\"\nlength = 10\nwidth = 10\n";
        let inch = "keepwright = 1\nunits = \"in\"\n[[board]]\nname = \"A\"\nwood = \"cherry\"\nlength = 30\nwidth = \"6 3/4\"\n\
                    quarters = \"4/4\"\n";
        let text = together([("A", mm), ("A", inch)].into_iter(), LengthUnit::Inch);
        let read = read_rack(&text, &Defaults::default(), Currency::USD, &wood::named).unwrap().boards;
        assert_eq!(read.iter().map(|b| b.name.as_str()).collect::<Vec<_>>(), ["A", "A (2)"], "{text}");
        assert!(read[0].length.same(Length::mm(900.0)) && read[0].width.same(Length::mm(140.0)));
        assert!(
            read[0].defects[0].x.same(Length::mm(50.0)) && read[0].defects[0].y.same(Length::inches(1.0))
        );
        assert!(read[1].length.same(Length::inches(30.0)) && read[1].width.same(Length::inches(6.75)));
    }
}
