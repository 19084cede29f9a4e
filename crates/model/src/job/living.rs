//! Will it live: what the home's year does to every part, panel, miter and glued joint of this box.

mod floats;
mod held;
mod miters;

use crate::caution::{Caution, Change, Weight};
use crate::design::Statement;
use crate::parts::{BoxParts, Origin, Role, Swing};
use crate::reason::{Basis, Given, Reason, Value};
use crate::seasons::{FloatingPanel, GluedAcross, MiterOpening, Season, Year, across, along};
use crate::units::{Angle, Length, MoistureContent};
use crate::wood::{self, Coefficient, Figure, coefficient_at_most};
use floats::floating;
use held::{bows, glued};
use miters::miters;

/// How one part changes across its width and along its length, from today to the ends of the year.
#[derive(Clone, Debug, PartialEq)]
pub struct PartMovement {
    /// The part.
    pub name: String,
    /// Size across the grain today.
    pub across: Length,
    /// Change of that size by the driest month (negative when it shrinks).
    pub driest: Length,
    /// Change by the wettest month.
    pub wettest: Length,
    /// Size along the grain today.
    pub along: Length,
    /// Change of that by the driest month, the middle of the published range.
    pub along_driest: Length,
    /// Change of that by the wettest month.
    pub along_wettest: Length,
}

/// A panel or lid that may bow.
#[derive(Clone, Debug, PartialEq)]
pub struct Bow {
    /// Which part.
    pub name: String,
    /// Why it may bow: "one face finished otherwise", "veneers on a core".
    pub cause: &'static str,
    /// Over what width.
    pub span: Length,
    /// How far.
    pub bow: Length,
}

/// What the year does to a box.
#[derive(Clone, Debug, PartialEq)]
pub struct Living {
    /// The year of the home.
    pub year: Year,
    /// Moisture content of the wood today.
    pub today: MoistureContent,
    /// Every wooden part across and along.
    pub movements: Vec<PartMovement>,
    /// Floating panels by name.
    pub floats: Vec<(String, FloatingPanel)>,
    /// Miters of the lid's frame, by the driest and by the wettest month.
    pub frame_miter: Option<(MiterOpening, MiterOpening)>,
    /// Miters of the walls, likewise (their thickness moves; their height moves alike all round).
    pub wall_miter: Option<(MiterOpening, MiterOpening)>,
    /// Parts glued across their grain: part, result by the end of the year that strains it more.
    pub glued: Vec<(String, GluedAcross)>,
    /// What may bow.
    pub bows: Vec<Bow>,
    /// One plain sentence: does it live?
    pub verdict: String,
}

/// The dimensional change coefficient of a wood or sheet at an angle of rings; `None` if it is not known.
pub(super) fn coefficient_of(id: &str, rings: Angle) -> Option<Figure<Coefficient>> {
    if let Some(species) = wood::species(id) {
        return coefficient_at_most(species, rings).ok();
    }
    wood::sheet(id).map(|s| s.in_plane)
}

/// A home's swing as the parts see it.
#[derive(Clone, Copy, Debug)]
pub struct HomeSwing {
    /// Wood's moisture today.
    pub today: MoistureContent,
    /// In the driest month.
    pub driest: MoistureContent,
    /// In the wettest month.
    pub wettest: MoistureContent,
}

impl HomeSwing {
    /// From today's moisture through a home's year.
    pub fn of(year: &Year, today: MoistureContent) -> Self {
        Self { today, driest: year.driest().moisture, wettest: year.wettest().moisture }
    }

    fn strain(&self, id: &str, rings: Angle, to: MoistureContent) -> f64 {
        coefficient_of(id, rings).map_or(0.0, |c| across(Length::mm(1.0), c, self.today, to).strain().value())
    }
}

impl Swing for HomeSwing {
    fn swell(&self, id: &str, rings: Angle) -> f64 {
        self.strain(id, rings, self.wettest).max(0.0)
    }

    fn shrink(&self, id: &str, rings: Angle) -> f64 {
        (-self.strain(id, rings, self.driest)).max(0.0)
    }
}

/// Judges a box through the year.
pub(super) fn live(
    s: &Statement,
    parts: &BoxParts,
    year: &Year,
    today: MoistureContent,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) -> Living {
    let ends = [year.driest().moisture, year.wettest().moisture];
    reasons.push(year.reason("season.driest", Season::Driest));
    reasons.push(year.reason("season.wettest", Season::Wettest));
    let mut living = Living {
        year: year.clone(),
        today,
        movements: movements(parts, today, ends),
        floats: Vec::new(),
        frame_miter: None,
        wall_miter: None,
        glued: Vec::new(),
        bows: Vec::new(),
        verdict: String::new(),
    };
    let before = cautions.len();
    unknown_woods(parts, cautions);
    shop_against_home(today, ends, cautions);
    for float in &parts.floats {
        floating(float, today, ends, &mut living, reasons, cautions);
    }
    miters(s, parts, today, ends, &mut living, reasons, cautions);
    glued(parts, today, ends, &mut living, reasons, cautions);
    bows(s, parts, &mut living, reasons, cautions);
    living.verdict = verdict(year, &cautions[before..]);
    living
}

fn verdict(year: &Year, found: &[Caution]) -> String {
    let worst = found.iter().max_by_key(|c| c.weight);
    let (dry, wet) = (year.driest().moisture.to_percent(), year.wettest().moisture.to_percent());
    let home = format!("At {} wood swings between {dry:.1} and {wet:.1} % moisture", year.home);
    match worst {
        None => format!("{home}; every panel floats free and no joint is strained, so this box lives."),
        Some(c) if c.weight == Weight::WorthKnowing => {
            format!("{home}; this box lives, with {} to know about.", plural(found.len(), "thing"))
        }
        Some(c) => format!("{home}. {}", c.says),
    }
}

fn plural(n: usize, word: &str) -> String {
    if n == 1 { format!("one {word}") } else { format!("{n} {word}s") }
}

fn movements(
    parts: &BoxParts,
    today: MoistureContent,
    [dry, wet]: [MoistureContent; 2],
) -> Vec<PartMovement> {
    parts
        .parts
        .iter()
        .filter(|p| p.origin == Origin::Board && p.role != Role::Key)
        .filter_map(|p| {
            let c = coefficient_of(&p.wood, p.rings)?;
            let change = |to| across(p.size[1], c, today, to).change;
            Some(PartMovement {
                name: p.name.clone(),
                across: p.size[1],
                driest: change(dry),
                wettest: change(wet),
                along: p.size[0],
                along_driest: along(p.size[0], today, dry).middle,
                along_wettest: along(p.size[0], today, wet).middle,
            })
        })
        .collect()
}

fn unknown_woods(parts: &BoxParts, cautions: &mut Vec<Caution>) {
    let mut seen: Vec<&str> = Vec::new();
    for p in &parts.parts {
        if coefficient_of(&p.wood, p.rings).is_none() && !seen.contains(&p.wood.as_str()) {
            seen.push(&p.wood);
            cautions.push(Caution {
                code: "movement-unknown",
                weight: Weight::WorthKnowing,
                place: p.name.clone(),
                says: format!(
                    "No movement of {} is in the tables, so nothing is said about its seasons.",
                    name_of(&p.wood)
                ),
                numbers: Vec::new(),
                basis: Basis::Published("Wood Handbook FPL-GTR-190, Tables 4-3, 4-4, 13-5: not listed there"),
                change: None,
            });
        }
    }
}

/// The common name of a species or sheet as it is said: `Ash, white` of the tables is white ash.
pub(super) fn name_of(id: &str) -> String {
    wood::species(id)
        .map(|s| match s.common_name.split_once(", ") {
            Some((genus, kind)) if !kind.contains([',', '(']) => format!("{kind} {genus}"),
            _ => s.common_name.to_owned(),
        })
        .map(|name| name.to_lowercase())
        .or_else(|| wood::sheet(id).map(|s| s.name.to_lowercase()))
        .unwrap_or_else(|| id.to_string())
}

fn shop_against_home(today: MoistureContent, [dry, wet]: [MoistureContent; 2], cautions: &mut Vec<Caution>) {
    let outside = if today > wet { today - wet } else { dry - today };
    if outside.to_percent() > 0.5 {
        cautions.push(Caution {
            code: "wood-not-at-home",
            weight: if outside.to_percent() > 2.0 { Weight::LikelyToFail } else { Weight::WorthKnowing },
            place: "all wood".into(),
            says: format!(
                "The wood is at {:.1} % and its home keeps wood between {:.1} and {:.1} %: let it rest until it is within that.",
                today.to_percent(),
                dry.to_percent(),
                wet.to_percent()
            ),
            numbers: vec![Given::new("outside the range by", Value::Percent(outside.value()))],
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13: work wood at the moisture it will have in service"),
            change: Some(Change::words("Rest the stock, stickered, in air like the home's; one to three weeks is common")),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::name_of;

    #[test]
    fn woods_are_named_as_they_are_said() {
        for (id, want) in [
            ("ash_white", "white ash"),
            ("basswood", "american basswood"),
            ("baltic_birch", "baltic birch plywood"),
            ("mahogany_honduran", "mahogany, true (honduran)"),
            ("no such wood", "no such wood"),
        ] {
            assert_eq!(name_of(id), want);
        }
    }
}
