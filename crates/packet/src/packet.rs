//! The whole packet as files: the printed pages, loose drawings, templates, solids, lists.

use std::collections::BTreeSet;

use keepwright_model::job::Plan;
use keepwright_model::shop::schedule::{Day, Schedule};
use keepwright_model::units::Length;

use crate::calendar::{self, Days};
use crate::document::Pages;
use crate::drawing::scale_bar::scale_bar;
use crate::drawing::{Affine, Drawing};
use crate::drawings::Shown;
use crate::page::Paper;
use crate::preview::{self, PagePicture};
use crate::sheets::draft::{Draft, wood_name};
use crate::sheets::drawn::Drawn;
use crate::sheets::part_list::{from, kinds};
use crate::sheets::{self, PacketSettings};
use crate::typeset::Typesetter;
use crate::{dxf, list, pdf, stl, svg};

/// One file of a packet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutFile {
    /// Where it goes, below the packet's folder; slashes between, plain letters, digits and dashes.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Why a packet could not be written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// The pages.
    #[error("the packet's pages could not be written: {0}")]
    Pages(String),
    /// The plan.
    #[error("the plan could not be written: {0}")]
    Plan(String),
    /// A part's solid.
    #[error("the solid of {part} could not be written: {why}")]
    Solid {
        /// The part.
        part: String,
        /// Why.
        why: stl::Error,
    },
    /// The part list.
    #[error("the part list could not be written: {0}")]
    List(#[from] list::Error),
    /// The timeline.
    #[error("the timeline could not be written: {0}")]
    Calendar(#[from] calendar::Error),
}

/// From a template's lowest line to the lower left corner of its check bar, millimeters.
const CHECK_BAR_ROOM: f64 = 25.0;
/// Clear space around a loose drawing, millimeters.
const MARGIN: f64 = 5.0;

/// How far the making of a packet is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps that are done.
    pub done: usize,
    /// Steps altogether.
    pub of: usize,
    /// What is being made now.
    pub now: String,
}

/// Steps that come after the sheets: printed pages, drawings, solids, lists.
const AFTER_SHEETS: usize = 4;

/// All files of the packet, in a fixed order; the same plan and settings give the same bytes.
///
/// `packet.pdf`; `drawings/*.svg`; `templates/*.dxf`, full scale in millimeters; `stl/*.stl`, each part of one box in the
/// box's frame, millimeters; `parts.csv`; `timeline.ics` where the plan has dates; `plan.json`.
///
/// # Errors
/// [`Error`]; none is expected of a plan that was planned.
pub fn files(plan: &Plan, settings: &PacketSettings) -> Result<Vec<OutFile>, Error> {
    Ok(made(plan, settings, &mut |_| {})?.0)
}

/// As [`files`], with every printed page as a picture; `tell` hears of each step before it is begun.
///
/// # Errors
/// As [`files`].
pub fn files_and_pages(
    plan: &Plan,
    settings: &PacketSettings,
    tell: &mut dyn FnMut(Progress),
) -> Result<(Vec<OutFile>, Vec<PagePicture>), Error> {
    let (files, laid) = made(plan, settings, tell)?;
    Ok((files, preview::pictures(&laid)))
}

fn made(
    plan: &Plan,
    settings: &PacketSettings,
    tell: &mut dyn FnMut(Progress),
) -> Result<(Vec<OutFile>, Pages), Error> {
    let drawn = Drawn::new(plan, settings.paper);
    let document = sheets::document_of(plan, settings, &drawn);
    let (mut done, of) = (0, document.sheets.len() + AFTER_SHEETS);
    let mut tell = |now: &str| {
        tell(Progress { done, of, now: now.to_owned() });
        done += 1;
    };
    let mut setter = Typesetter::new();
    let laid =
        document.lay_out_telling(&mut setter, &mut |sheet| tell(&format!("the sheet “{}”", sheet.title)));
    let mut out = Out::default();
    tell("the printed pages");
    let pages = pdf::write_laid(&document, &laid, setter).map_err(|e| Error::Pages(e.to_string()))?;
    out.push("", "packet", "pdf", pages);
    tell("loose drawings and templates");
    for (name, drawing) in drawn.all(plan) {
        out.push("drawings/", &name, "svg", svg::write(drawing, 1.0, MARGIN, &name).into_bytes());
    }
    for (name, drawing) in drawn.full_scale() {
        out.push("templates/", &name, "dxf", dxf::write(&with_check_bar(drawing)).into_bytes());
    }
    tell("solids");
    solids(plan, &mut out)?;
    tell("lists");
    out.push("", "parts", "csv", parts(plan, settings.paper, &drawn)?.into_bytes());
    if let Some(schedule) = &plan.schedule {
        out.push("", "timeline", "ics", timeline(plan, schedule, settings)?.into_bytes());
    }
    let json = crate::json::write(plan, &settings.date).map_err(|e| Error::Plan(e.to_string()))?;
    out.push("", "plan", "json", json.into_bytes());
    Ok((out.files, laid))
}

/// A full-scale drawing with the check bar under it: a printer or an importer that rescales is found out.
fn with_check_bar(drawing: &Drawing) -> Drawing {
    let mut sheet = drawing.clone();
    if let Some(bounds) = drawing.bounds(1.0) {
        sheet.place(scale_bar(), Affine::shift(bounds.left, bounds.bottom - CHECK_BAR_ROOM));
    }
    sheet
}

/// Files with names that never meet.
#[derive(Default)]
struct Out {
    files: Vec<OutFile>,
    names: BTreeSet<String>,
}

impl Out {
    fn push(&mut self, folder: &str, name: &str, kind: &str, bytes: Vec<u8>) {
        let name = safe(name);
        let mut path = format!("{folder}{name}.{kind}");
        let mut number = 2;
        while !self.names.insert(path.clone()) {
            path = format!("{folder}{name}-{number}.{kind}");
            number += 1;
        }
        self.files.push(OutFile { path, bytes });
    }
}

/// A name for any file system: small letters, digits, single dashes.
fn safe(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    for sign in name.chars().flat_map(char::to_lowercase) {
        if sign.is_ascii_alphanumeric() {
            out.push(sign);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
        if out.len() >= 80 {
            break;
        }
    }
    let kept = out.trim_end_matches('-');
    if kept.is_empty() { "drawing".to_owned() } else { kept.to_owned() }
}

fn solids(plan: &Plan, out: &mut Out) -> Result<(), Error> {
    for (part, solid) in plan.parts.parts.iter().zip(&plan.solids) {
        let mesh = solid.mesh();
        let points: Vec<[f64; 3]> = mesh.points.iter().map(|p| [p.x, p.y, p.z]).collect();
        let triangles: Vec<[usize; 3]> =
            mesh.triangles.iter().map(|t| t.map(|i| usize::try_from(i).unwrap_or(usize::MAX))).collect();
        let bytes =
            stl::write(&points, &triangles).map_err(|why| Error::Solid { part: part.name.clone(), why })?;
        out.push("stl/", &part.name, "stl", bytes);
    }
    Ok(())
}

/// The part list: one row for each kind of part, sizes in both units.
fn parts(plan: &Plan, paper: Paper, drawn: &Drawn) -> Result<String, list::Error> {
    let draft = Draft::new(plan, paper, drawn);
    let mm = |l: Length| format!("{:.2}", l.to_mm() + 0.0);
    let inch = |l: Length| Shown { fineness: plan.shop.fineness, ..Shown::INCH }.length(l);
    let heading = [
        "number",
        "parts",
        "pieces in one box",
        "pieces",
        "role",
        "wood",
        "length mm",
        "width mm",
        "thickness mm",
        "length in",
        "width in",
        "thickness in",
        "blank length mm",
        "blank width mm",
        "blank thickness mm",
        "blank length in",
        "blank width in",
        "blank thickness in",
        "rings degrees",
        "from",
        "grams each",
    ];
    let rows: Vec<Vec<String>> = kinds(&draft)
        .iter()
        .enumerate()
        .map(|(i, kind)| {
            let p = kind.part;
            let names: Vec<&str> =
                kind.ids.iter().filter_map(|id| draft.part(*id)).map(|p| p.name.as_str()).collect();
            let blank = [p.blank.length(), p.blank.width(), p.blank.thickness()];
            let count = usize::try_from(draft.count()).unwrap_or(usize::MAX);
            let mut row = vec![
                (i + 1).to_string(),
                names.join("; "),
                names.len().to_string(),
                names.len().saturating_mul(count).to_string(),
                p.role.words().to_owned(),
                wood_name(&p.wood),
            ];
            row.extend(p.size.map(mm));
            row.extend(p.size.map(inch));
            row.extend(blank.map(mm));
            row.extend(blank.map(inch));
            row.push(format!("{:.0}", p.rings.to_degrees()));
            row.push(from(&draft, kind));
            row.push(kind.mass.map_or_else(String::new, |m| format!("{:.1}", m.value())));
            row
        })
        .collect();
    list::write(&heading, &rows)
}

fn timeline(plan: &Plan, schedule: &Schedule, settings: &PacketSettings) -> Result<String, calendar::Error> {
    // The packet's date if it is written as one, else the day on which the work begins: never a clock.
    let written = settings.date.trim().parse().unwrap_or_else(|_| date(schedule.first));
    let name = safe(&plan.statement.name);
    let events: Vec<Days> = schedule
        .events
        .iter()
        .map(|e| Days {
            key: format!("{name}/{}", e.key),
            first: date(e.first),
            days: u16::try_from((e.last.to_days() - e.first.to_days()).saturating_add(1)).unwrap_or(1),
            title: format!("{}: {}", plan.statement.name, e.title),
            note: e.note.clone(),
        })
        .collect();
    calendar::write(&plan.statement.name, written.at(0, 0, 0, 0), &events)
}

/// The same day as the calendar's library has it; its years end at 9999 as the shop's do.
fn date(day: Day) -> jiff::civil::Date {
    let (year, month, of_month) = day.to_civil();
    let small = |n: u32| i8::try_from(n).unwrap_or(1);
    jiff::civil::Date::new(i16::try_from(year).unwrap_or(i16::MAX), small(month), small(of_month))
        .unwrap_or(jiff::civil::Date::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_on_any_file_system() {
        for (given, want) in [
            ("key front right 2", "key-front-right-2"),
            ("../../etc/passwd", "etc-passwd"),
            ("Ring „boxes“ №3", "ring-boxes-3"),
            ("…", "drawing"),
            ("a:b*c?", "a-b-c"),
        ] {
            assert_eq!(safe(given), want, "{given}");
        }
        let mut out = Out::default();
        out.push("stl/", "a b", "stl", Vec::new());
        out.push("stl/", "a-b", "stl", Vec::new());
        let paths: Vec<&str> = out.files.iter().map(|f| f.path.as_str()).collect();
        assert_eq!(paths, ["stl/a-b.stl", "stl/a-b-2.stl"]);
    }
}
