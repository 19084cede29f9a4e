//! Sheet goods: boards of veneer or fiber that hardly move in their plane.

use super::Rows;
use super::provenance::{Figure, Provenance};
use super::{Coefficient, names, species};
use crate::units::{Density, Stress};
use std::sync::OnceLock;

/// A kind of sheet; what is not known is `None`.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The key: lower case, underscores.
    pub id: &'static str,
    /// The trade's name.
    pub name: &'static str,
    /// Other names, lower case.
    pub aliases: Vec<&'static str>,
    /// Mass per volume as bought.
    pub density: Figure<Density>,
    /// Movement in length and width.
    pub in_plane: Figure<Coefficient>,
    /// Movement through the thickness.
    pub thickness: Option<Figure<Coefficient>>,
    /// Bending modulus along the face grain.
    pub modulus_along: Option<Stress>,
    /// Bending modulus across the face grain.
    pub modulus_across: Option<Stress>,
    /// What the moduli rest on.
    pub mechanical: Option<Provenance>,
    /// Color for our drawings only (sRGB): our own choice.
    pub drawing_color: [u8; 3],
}

/// All kinds of sheet, sorted by id.
pub fn sheets() -> &'static [Sheet] {
    static SHEETS: OnceLock<Vec<Sheet>> = OnceLock::new();
    SHEETS.get_or_init(|| {
        Rows::of(include_str!("../../data/sheets.csv")).map(|row| {
            let gpa = |column: &str| row.number(column).map(|g| Stress::mpa(g * 1000.0));
            let moves = |column: &str| {
                row.number(column).map(|c| Figure::of(Coefficient::per_percent(c), row.text("prov_movement")))
            };
            let nothing = Figure::of(Coefficient::ZERO, "");
            Sheet {
                id: row.text("id"),
                name: row.text("name"),
                aliases: row.text("aliases").split('|').filter(|a| !a.is_empty()).collect(),
                density: Figure::of(
                    Density::kg_m3(row.number("density_kg_m3").unwrap_or_default()),
                    row.text("prov_density"),
                ),
                in_plane: moves("plane_per_pct").unwrap_or(nothing),
                thickness: moves("thick_per_pct"),
                modulus_along: gpa("moe_along_gpa"),
                modulus_across: gpa("moe_across_gpa"),
                mechanical: Some(row.text("prov_moe")).filter(|p| !p.is_empty()).map(Provenance::of_cell),
                drawing_color: species::color(row.text("drawing_color")),
            }
        })
    })
}

/// A kind of sheet by id, name or other name, whatever the case.
pub fn sheet(name: &str) -> Option<&'static Sheet> {
    let want = names::plain(name);
    sheets().iter().find(|s| {
        names::plain(s.id) == want
            || names::plain(s.name) == want
            || s.aliases.iter().any(|a| names::plain(a) == want)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_hardly_move_in_their_plane() {
        assert!(sheets().is_sorted_by(|a, b| a.id < b.id));
        for s in sheets() {
            assert!((400.0..1100.0).contains(&s.density.value.value()), "{}", s.id);
            let c = s.in_plane.value.to_per_percent();
            assert!((0.00005..0.0007).contains(&c), "{}: below the least of solid wood", s.id);
        }
    }

    #[test]
    fn names() {
        assert_eq!(sheet("Baltic Birch").unwrap().id, "baltic_birch");
        assert_eq!(sheet("plywood").unwrap().id, "veneered_panel");
        assert_eq!(sheet("MDF").unwrap().id, "mdf");
        assert!(sheet("cherry").is_none());
    }
}
