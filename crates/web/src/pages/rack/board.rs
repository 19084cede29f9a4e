//! One board: its form, its faults, what it would yield, and what became of it.

use super::super::frame::{Frame, page, page_as};
use super::form::{Form, changed};
use super::yields::{self, Yields};
use super::{drawn, photo, read, showing, state_words};
use crate::clock;
use crate::edit;
use crate::error::PageError;
use crate::planner;
use crate::policy::who::Who;
use crate::state::Bench;
use askama::Template;
use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use keepwright_model::design::Problem;
use keepwright_model::units::{Length, LengthUnit};
use keepwright_model::wood;
use keepwright_store::{
    By, Document, Error, Kind, Saved, Shelf, Standing, StockState, Time, Version, VersionId,
};

/// Lines of history that are shown.
const MOST_LINES: usize = 30;
/// The key of a board's name.
const NAME: &str = "board.1.name";

#[derive(Template)]
#[template(path = "pages/board.html")]
pub(super) struct BoardPage {
    frame: Frame,
    /// `None` for one that is not made yet.
    kept: Option<Kept>,
    form: Form,
    woods: Vec<&'static str>,
    /// The unit of bare numbers in this board's text.
    unit: String,
    /// What just happened that the form does not say.
    note: Option<String>,
    photo_wrong: Option<String>,
}

/// What is there of a board that was made.
struct Kept {
    slug: String,
    name: String,
    base: i64,
    state: String,
    is_free: bool,
    is_used: bool,
    in_bin: bool,
    says: String,
    drawn: Option<drawn::Drawn>,
    faces: Vec<Face>,
    yields: Option<Yields>,
    parent: Option<(String, String)>,
    offcuts: Vec<(String, String)>,
    versions: Vec<Past>,
    events: Vec<Past>,
}

/// A face and its photograph.
struct Face {
    face: &'static str,
    address: Option<String>,
}

/// A line of history.
struct Past {
    at: String,
    by: String,
    says: String,
    /// The version's number in the store, where it can be brought back.
    back: Option<i64>,
}

/// Something that a page says besides.
pub(super) enum Aside {
    /// Nothing.
    Nothing,
    /// What happened.
    Note(String),
    /// What is wrong with a photograph.
    Photo(String),
}

/// The document of a board.
///
/// # Errors
/// When there is none, or the store cannot be read.
pub(super) fn find(bench: &Bench, slug: &str) -> Result<Document, PageError> {
    bench.store().document(Kind::Board, slug).map_err(|error| match error {
        Error::NoSlug { .. } => PageError::NoSuch { what: "board", name: slug.to_owned() },
        other => other.into(),
    })
}

/// What a redirect may say to the page it leads to.
#[derive(Debug, serde::Deserialize)]
pub(super) struct Said {
    said: Option<String>,
}

impl Said {
    fn aside(&self) -> Aside {
        let note = match self.said.as_deref() {
            Some("kept") => "Kept as a new version.",
            Some("same") => "Nothing was changed, so no version was made.",
            Some("beside") => {
                "Another window saved this board first. What you sent is kept beside, in the list of versions at the \
                 end of the page; this is the other one."
            }
            Some("made") => "The board stands in the rack.",
            _ => return Aside::Nothing,
        };
        Aside::Note(note.to_owned())
    }
}

pub(super) async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    Query(said): Query<Said>,
) -> Result<Response, PageError> {
    let shown = bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            page_of(bench, &who, &document, said.aside())
        })
        .await?;
    page(&shown)
}

/// The page of a board as it is.
///
/// # Errors
/// When the store cannot be read, or the shop's text has problems.
pub(super) fn page_of(
    bench: &Bench,
    who: &Who,
    document: &Document,
    aside: Aside,
) -> Result<BoardPage, PageError> {
    let head = bench.store().head(document.id)?;
    let mut form = Form::of_text(&head.text);
    if let Err(problems) = planner::rack_file(&head.text, &bench.shop()?) {
        form.mark(&problems);
    }
    filled(bench, who, Some((document, &head)), form, aside)
}

/// The page with a form in it, of a board that is there or of a new one.
fn filled(
    bench: &Bench,
    who: &Who,
    of: Option<(&Document, &Version)>,
    mut form: Form,
    aside: Aside,
) -> Result<BoardPage, PageError> {
    let shop = bench.shop()?;
    let mut unit = unit_word(shop.unit).to_owned();
    let kept = match of {
        Some((document, head)) => {
            unit = edit::get(&head.text, "units").unwrap_or(unit);
            if let Some((stated, _)) = read(&head.text, &shop) {
                place_rows(&mut form, &Form::of_text(&head.text), &stated.defects);
            }
            Some(kept(bench, document, head)?)
        }
        None => None,
    };
    let mut woods: Vec<&str> = wood::all().iter().map(|s| s.common_name).collect();
    woods.extend(wood::sheets().iter().map(|s| s.name));
    let (note, photo_wrong) = match aside {
        Aside::Nothing => (None, None),
        Aside::Note(note) => (Some(note), None),
        Aside::Photo(says) => (None, Some(says)),
    };
    Ok(BoardPage {
        frame: Frame::of(bench, who, "rack")?,
        kept,
        form: form.with_spare_rows(),
        woods,
        unit,
        note,
        photo_wrong,
    })
}

/// Tells each row that still says what the text says where its fault lies, so that the script can draw it.
fn place_rows(form: &mut Form, of_text: &Form, faults: &[keepwright_model::design::RackDefect]) {
    for (row, (old, fault)) in form.rows.iter_mut().zip(of_text.rows.iter().zip(faults)) {
        if row.sizes == old.sizes {
            row.mm = Some([fault.x, fault.y, fault.length, fault.width].map(Length::to_mm));
        }
    }
}

const fn unit_word(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimeter => "mm",
        LengthUnit::Inch => "in",
    }
}

fn kept(bench: &Bench, document: &Document, head: &Version) -> Result<Kept, PageError> {
    let store = bench.store();
    let shop = bench.shop()?;
    let stock = store.stock(document.id)?;
    let named = |id| -> Result<(String, String), PageError> {
        let d = store.document_by_id(id)?;
        Ok((d.slug, d.name))
    };
    let pictures = store.board_pictures(document.id)?;
    let faces: Vec<Face> = ["front", "back"]
        .into_iter()
        .map(|face| Face {
            face,
            address: pictures.iter().find(|p| p.face == face).map(|p| photo::address(&p.picture)),
        })
        .collect();
    let front = faces.first().and_then(|f| f.address.clone());
    let read = read(&head.text, &shop);
    let state = state_words(bench, &stock)?;
    let says = match &read {
        Some((stated, board)) => yields::sentence(stated, board, &state, &showing(&shop)),
        None => "This board cannot be used until what is wrong with it below is mended.".to_owned(),
    };
    Ok(Kept {
        slug: document.slug.clone(),
        name: document.name.clone(),
        base: head.id.get(),
        state,
        is_free: stock.state == StockState::Free,
        is_used: stock.state == StockState::Used,
        in_bin: document.shelf == Shelf::Bin,
        says,
        drawn: read
            .as_ref()
            .map(|(stated, board)| drawn::drawn(stated, board.thickness, board.length, front)),
        yields: match &read {
            Some((stated, board)) => Some(yields::yields(bench, &shop, stated, board)?),
            None => None,
        },
        faces,
        parent: stock.offcut_of.map(named).transpose()?,
        offcuts: store.offcuts(document.id)?.into_iter().map(named).collect::<Result<_, _>>()?,
        versions: store
            .versions(document.id, None, MOST_LINES)?
            .into_iter()
            .map(|v| Past {
                at: clock::said(v.at),
                by: v.by,
                says: format!("{}, {} ({})", v.number, v.says, v.standing.word()),
                back: (v.standing != Standing::Head).then_some(v.id.get()),
            })
            .collect(),
        events: store
            .history(document.id, MOST_LINES)?
            .into_iter()
            .map(|e| Past {
                at: clock::said(e.at),
                says: event_words(&e.what, &e.was, &e.became),
                by: e.by,
                back: None,
            })
            .collect(),
    })
}

fn event_words(what: &str, was: &str, became: &str) -> String {
    match (what, was, became) {
        ("made", _, name) => format!("made as {name}"),
        ("copied", was, _) => format!("copied from {was}"),
        ("stock", was, now) => format!("{was} → {now}"),
        ("shelf", _, "bin") => "put into the bin".to_owned(),
        ("shelf", _, _) => "taken out of the bin".to_owned(),
        (what, was, now) => format!("{what}: {was} → {now}"),
    }
}

pub(super) async fn blank(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
) -> Result<Response, PageError> {
    let shown = bench.work(move |bench| filled(bench, &who, None, Form::new_board(), Aside::Nothing)).await?;
    page(&shown)
}

/// What a form was sent with.
type Sent = axum::Form<Vec<(String, String)>>;

pub(super) async fn make(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    axum::Form(sent): Sent,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let shop = bench.shop()?;
            let mut form = Form::of_sent(&sent);
            let made = form.new_text(unit_word(shop.unit));
            match good(&mut form, made, &shop) {
                Some((text, name)) => {
                    let by = By::new(&who.name, Time::seconds(clock::now()));
                    let board = bench.store().create(Kind::Board, &name, &text, "new board", by)?;
                    Ok(Redirect::to(&format!("/rack/{}?said=made", board.slug)).into_response())
                }
                None => {
                    let shown = filled(bench, &who, None, form, Aside::Nothing)?;
                    page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown)
                }
            }
        })
        .await
}

pub(super) async fn save(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
    axum::Form(sent): Sent,
) -> Result<Response, PageError> {
    bench
        .work(move |bench| {
            let document = find(bench, &slug)?;
            let head = bench.store().head(document.id)?;
            let base = sent.iter().find(|(n, _)| n == "base").and_then(|(_, v)| v.parse().ok());
            let base = match base {
                Some(number) => bench.store().version(VersionId::new(number))?,
                None => head.clone(),
            };
            let mut form = Form::of_sent(&sent);
            let made = form.put_into(&base.text);
            let Some((text, name)) = good(&mut form, made, &bench.shop()?) else {
                let shown = filled(bench, &who, Some((&document, &head)), form, Aside::Nothing)?;
                return page_as(StatusCode::UNPROCESSABLE_ENTITY, &shown);
            };
            let by = By::new(&who.name, Time::seconds(clock::now()));
            let says = changed(&base.text, &text);
            let said = match bench.store().save(document.id, base.id, &text, &says, by)? {
                Saved::Kept(_) => {
                    bench.store().rename(document.id, &name, by)?;
                    "kept"
                }
                Saved::Beside { .. } => "beside",
                Saved::Same(_) => "same",
            };
            Ok(Redirect::to(&format!("/rack/{slug}?said={said}")).into_response())
        })
        .await
}

/// The text and the name, if the board can be read; else every problem is at its field.
fn good(
    form: &mut Form,
    made: Result<String, edit::EditError>,
    shop: &keepwright_model::job::Shop,
) -> Option<(String, String)> {
    let text = match made {
        Ok(text) => text,
        Err(error) => {
            form.wrong.push(format!("{error}."));
            return None;
        }
    };
    let mut problems = planner::rack_file(&text, shop).err().unwrap_or_default();
    let name = form.value("name").to_owned();
    // A rack file names a board itself where nothing is said; in the rack, each is known by its name.
    if !name.chars().any(char::is_alphanumeric) && problems.iter().all(|p| p.key != NAME) {
        problems.push(Problem {
            span: 0..0,
            key: NAME.to_owned(),
            says: "the board has no name".to_owned(),
            remedy: "write what is chalked on it, such as C3".to_owned(),
        });
    }
    if !problems.is_empty() {
        form.mark(&problems);
        return None;
    }
    Some((text, name))
}
