//! Parts, runs and hardware.

use super::alike::alike;
use super::numbers::{degrees, mass, mm, mm3};
use keepwright_model::job::Plan;
use keepwright_model::parts::{AllowanceKind, Figure, Origin};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct PartGroup<'a> {
    name: String,
    names: Vec<&'a str>,
    role: &'static str,
    wood: &'a str,
    rings_deg: f64,
    from: &'static str,
    count: usize,
    count_in_batch: u64,
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    blank: BlankLine,
    volume_mm3: f64,
    mass_g: Option<f64>,
}

#[derive(Serialize)]
struct BlankLine {
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    allowances: Vec<AllowanceLine>,
}

#[derive(Serialize)]
struct AllowanceLine {
    why: &'static str,
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
}

/// All parts of one box, like ones together.
pub(super) fn parts(plan: &Plan) -> Vec<PartGroup<'_>> {
    alike(plan)
        .into_iter()
        .filter_map(|group| {
            let part = group.first(plan)?;
            let first = *group.parts.first()?;
            let measure = plan.measures.get(first.0)?;
            let names =
                group.parts.iter().filter_map(|id| plan.parts.parts.get(id.0)).map(|p| p.name.as_str());
            let [length, width, thickness] = part.size;
            Some(PartGroup {
                names: names.collect(),
                role: part.role.words(),
                wood: &part.wood,
                rings_deg: degrees(part.rings),
                from: match part.origin {
                    Origin::Board => "board",
                    Origin::Sheet => "sheet",
                    Origin::VeneerLeaf => "veneer",
                    Origin::KeyStrip => "key stock",
                },
                count: group.parts.len(),
                count_in_batch: group.parts.len() as u64 * u64::from(plan.statement.count),
                length_mm: mm(length),
                width_mm: mm(width),
                thickness_mm: mm(thickness),
                blank: BlankLine {
                    length_mm: mm(part.blank.length()),
                    width_mm: mm(part.blank.width()),
                    thickness_mm: mm(part.blank.thickness()),
                    allowances: part
                        .blank
                        .allowances
                        .iter()
                        .map(|a| AllowanceLine {
                            why: allowance(a.kind),
                            length_mm: mm(a.length),
                            width_mm: mm(a.width),
                            thickness_mm: mm(a.thickness),
                        })
                        .collect(),
                },
                volume_mm3: mm3(measure.volume),
                mass_g: measure.mass.map(mass),
                name: group.name,
            })
        })
        .collect()
}

const fn allowance(kind: AllowanceKind) -> &'static str {
    match kind {
        AllowanceKind::Kerf => "kerf",
        AllowanceKind::Trim => "trim",
        AllowanceKind::Sanding => "sanding",
        AllowanceKind::Milling => "milling",
        AllowanceKind::Resawing => "resawing",
    }
}

#[derive(Serialize)]
pub(super) struct RunLine<'a> {
    name: &'a str,
    order: Vec<&'a str>,
    corners: Vec<CornerLine>,
    closing_corner: Option<String>,
    strip_length_mm: f64,
    strip_width_mm: f64,
    end_trim_mm: f64,
    slices: u32,
    mirrors: Option<usize>,
}

#[derive(Serialize)]
struct CornerLine {
    corner: String,
    loss_mm: f64,
    figure: &'static str,
}

/// The runs in which walls follow one another.
pub(super) fn runs(plan: &Plan) -> Vec<RunLine<'_>> {
    let sides = plan.statement.shape.sides;
    plan.parts
        .runs
        .iter()
        .map(|run| RunLine {
            name: &run.name,
            order: run
                .parts
                .iter()
                .filter_map(|id| plan.parts.parts.get(id.0))
                .map(|p| p.name.as_str())
                .collect(),
            corners: run
                .corners
                .iter()
                .map(|c| CornerLine {
                    corner: c.corner.words(sides),
                    loss_mm: mm(c.loss),
                    figure: match c.figure {
                        Figure::RunsOn => "runs on",
                        Figure::Mirrors => "mirrors",
                        Figure::Closes => "closes",
                        Figure::Unmatched => "unmatched",
                    },
                })
                .collect(),
            closing_corner: run
                .corners
                .iter()
                .find(|c| c.figure == Figure::Closes)
                .map(|c| c.corner.words(sides)),
            strip_length_mm: mm(run.strip_length),
            strip_width_mm: mm(run.strip_width),
            end_trim_mm: mm(run.end_trim),
            slices: run.slices,
            mirrors: run.mirrors,
        })
        .collect()
}

#[derive(Serialize)]
pub(super) struct HardwareLine<'a> {
    name: &'a str,
    count: u32,
}

/// What must be bought ready-made, for one box.
pub(super) fn hardware(plan: &Plan) -> Vec<HardwareLine<'_>> {
    plan.parts.hardware.iter().map(|h| HardwareLine { name: &h.name, count: h.count }).collect()
}
