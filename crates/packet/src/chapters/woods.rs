//! The woods of a box: what each is used for, how it moves, how heavy and how hard it is.

use keepwright_model::job::Plan;
use keepwright_model::units::MoistureContent;
use keepwright_model::wood::{self, Sheet, Species};

use crate::flow::{Block, Column, Table, Words};
use crate::sheets::draft::{Draft, numbers, under, wood_name};
use crate::shown::{angle, capital, moisture};

/// What the tables do not know.
const UNKNOWN: &str = "not known";

/// A table of the solid woods and one of the sheet goods.
pub(super) fn blocks(draft: &Draft<'_>) -> Vec<Block> {
    let plan = draft.plan;
    let today = plan.living.today;
    let (mut solid, mut sheets, mut notes) = (Vec::new(), Vec::new(), Vec::new());
    for (id, _) in &plan.woods {
        if let Some(species) = wood::species(id) {
            solid.push(species_row(plan, species, today));
            if !species.notes.is_empty() {
                notes.push(Block::Note(
                    Words::bold(format!("{}: ", capital(&wood_name(id)))).and(species.notes),
                ));
            }
        } else if let Some(sheet) = wood::sheet(id) {
            sheets.push(sheet_row(plan, sheet));
        } else {
            notes.push(Block::Note(Words::plain(format!("The tables know nothing of {}.", wood_name(id)))));
        }
    }
    let mut out = Vec::new();
    if !solid.is_empty() {
        out.extend(under("Solid wood", vec![Block::Table(Table::new(solid_columns(), solid))]));
        out.push(Block::note(&format!(
            "Rings: the angle between the wide face and the growth rings, 0° flat-sawn, 90° quartersawn. Density at today's \
             {}. Shrinkage from green to oven-dry. Hardness: the force that sinks an 11.3\u{a0}mm ball half its diameter. \
             Wood Handbook (FPL-GTR-190), ch. 4, 5 and 13.",
            moisture(today)
        )));
    }
    if !sheets.is_empty() {
        let columns = vec![
            Column::words("sheet"),
            Column::words("used for"),
            numbers("density, kg/m³"),
            numbers("moves in its plane"),
        ];
        out.extend(under("Sheet goods", vec![Block::Table(Table::new(columns, sheets))]));
    }
    out.extend(notes);
    out
}

fn solid_columns() -> Vec<Column> {
    vec![
        Column::words("wood"),
        Column::words("used for"),
        Column::narrow("rings"),
        numbers("density, kg/m³"),
        numbers("shrinks radially"),
        numbers("tangentially"),
        numbers("hardness, N"),
    ]
}

/// The roles of the parts of a wood, and the ring angles among them.
fn used(plan: &Plan, id: &str) -> (String, String) {
    let (mut roles, mut rings): (Vec<&str>, Vec<String>) = (Vec::new(), Vec::new());
    for part in plan.parts.parts.iter().filter(|p| p.wood == id) {
        let (role, ring) = (part.role.words(), angle(part.rings));
        if !roles.contains(&role) {
            roles.push(role);
        }
        if !rings.contains(&ring) {
            rings.push(ring);
        }
    }
    (roles.join(", "), rings.join(", "))
}

fn species_row(plan: &Plan, species: &Species, today: MoistureContent) -> Vec<Words> {
    let (roles, rings) = used(plan, species.id);
    let share = |v: Option<f64>| v.map_or_else(|| UNKNOWN.to_owned(), |v| format!("{:.1}\u{a0}%", v * 100.0));
    let density = species.density(today).map_or_else(|| UNKNOWN.to_owned(), |d| format!("{:.0}", d.value()));
    let hard = species.side_hardness.map_or_else(|| UNKNOWN.to_owned(), |f| format!("{:.0}", f.value()));
    vec![
        Words::bold(capital(&wood_name(species.id))).and(format!("\n{}", species.botanical)),
        Words::plain(roles),
        Words::plain(rings),
        Words::plain(density),
        Words::plain(share(species.shrinkage.radial)),
        Words::plain(share(species.shrinkage.tangential)),
        Words::plain(hard),
    ]
}

fn sheet_row(plan: &Plan, sheet: &Sheet) -> Vec<Words> {
    let (roles, _) = used(plan, sheet.id);
    vec![
        Words::bold(capital(&wood_name(sheet.id))),
        Words::plain(roles),
        Words::plain(format!("{:.0}", sheet.density.value.value())),
        Words::plain(format!(
            "{:.3}\u{a0}% a point of moisture",
            sheet.in_plane.value.to_per_percent() * 100.0
        )),
    ]
}
