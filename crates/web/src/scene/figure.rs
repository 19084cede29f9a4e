//! How woods look cut open, from a table made by eye.

use super::number::Short;
use keepwright_model::wood::{self, Group};
use serde::Serialize;
use std::sync::OnceLock;

/// How the rings of a wood are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Growth {
    /// A dark band of large pores begins each ring.
    Ring,
    /// A fine dark line ends it.
    Diffuse,
    /// It darkens slowly to a sharp end.
    Soft,
    /// No rings are seen.
    Even,
}

/// The figure of one wood. Shares are of 1.
///
/// # Source
/// From memory of the eye, all of it; for drawings only.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// How its rings are drawn.
    pub growth: Growth,
    /// A usual width of a ring, millimeters.
    pub ring: Short,
    /// How much darker the darkest of a ring is than the wood's own color.
    pub contrast: Short,
    /// How strongly pores show.
    pub pores: Short,
    /// How strongly rays show as flecks on a quartersawn face.
    pub fleck: Short,
    /// Length of a fleck across the rings, millimeters.
    pub fleck_long: Short,
    /// How strongly bands of light and dark run with the rings.
    pub stripe: Short,
}

static FIGURES: OnceLock<Vec<(&'static str, Figure)>> = OnceLock::new();

fn all() -> &'static [(&'static str, Figure)] {
    FIGURES.get_or_init(|| {
        include_str!("../../data/figure.csv")
            .lines()
            .filter(|line| !line.starts_with('#') && !line.starts_with("id,"))
            .filter_map(read)
            .collect()
    })
}

/// One row of the table; `None` if it is not one, which a test excludes.
fn read(line: &'static str) -> Option<(&'static str, Figure)> {
    let mut cells = line.split(',');
    let id = cells.next()?;
    let growth = match cells.next()? {
        "ring" => Growth::Ring,
        "diffuse" => Growth::Diffuse,
        "soft" => Growth::Soft,
        "even" => Growth::Even,
        _ => return None,
    };
    let mut number = || cells.next()?.parse::<f64>().ok();
    let [ring, contrast, pores, fleck, fleck_long, stripe] =
        [number()?, number()?, number()?, number()?, number()?, number()?];
    let share = |percent: f64| Short::of(percent / 100.0);
    let figure = Figure {
        growth,
        ring: Short::of(ring),
        contrast: share(contrast),
        pores: share(pores),
        fleck: share(fleck),
        fleck_long: Short::of(fleck_long),
        stripe: share(stripe),
    };
    cells.next().is_none().then_some((id, figure))
}

/// The figure of a species or sheet: its own row, or that of its group; an unknown id looks like a usual hardwood.
pub fn figure(id: &str) -> Figure {
    let found = |name: &str| all().iter().find(|(of, _)| *of == name).map(|(_, figure)| *figure);
    let group = || match wood::species(id).map(|s| s.group) {
        Some(Group::Softwood) => "(softwood)",
        Some(Group::Imported) => "(imported)",
        None if wood::sheet(id).is_some() => "(sheet)",
        Some(Group::Hardwood) | None => "(hardwood)",
    };
    found(id).or_else(|| found(group())).unwrap_or(PLAIN)
}

/// Wood without any figure.
const PLAIN: Figure = Figure {
    growth: Growth::Even,
    ring: Short::ONE,
    contrast: Short::ZERO,
    pores: Short::ZERO,
    fleck: Short::ZERO,
    fleck_long: Short::ONE,
    stripe: Short::ZERO,
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_read_in_order_and_within_bounds() {
        let rows = include_str!("../../data/figure.csv").lines().filter(|l| !l.starts_with('#')).count() - 1;
        assert_eq!(all().len(), rows, "a row was not understood");
        for pair in all().windows(2) {
            assert!(pair[0].0 < pair[1].0, "{} stands before {}", pair[0].0, pair[1].0);
        }
        for (id, f) in all() {
            let known = id.starts_with('(') || wood::species(id).is_some() || wood::sheet(id).is_some();
            assert!(known, "{id} is no wood of the tables");
            for share in [f.contrast, f.pores, f.fleck, f.stripe] {
                assert!((0.0..=1.0).contains(&share.value()), "{id}");
            }
            assert!(f.ring.value() > 0.2 && f.fleck_long.value() > 0.2, "{id}");
        }
        for name in ["(hardwood)", "(imported)", "(sheet)", "(softwood)"] {
            assert!(all().iter().any(|(id, _)| *id == name), "{name}");
        }
    }

    #[test]
    fn a_wood_without_a_row_looks_like_its_group() {
        assert_eq!(figure("hemlock_western").growth, Growth::Soft);
        assert_eq!(figure("oak_white").growth, Growth::Ring);
        assert_eq!(figure("no such wood"), figure("(hardwood)"));
    }
}
