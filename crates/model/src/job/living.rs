//! Will it live: what the home's year does to every part, panel, miter and glued joint of this box.

use crate::caution::{Caution, Change, Weight};
use crate::design::{Build, Finish, LidKind, Statement};
use crate::parts::{BoxParts, Float, JointKind, Origin, Part, Role, Swing};
use crate::reason::{Basis, Given, Reason, Value};
use crate::seasons::{
    Bend, Floating, FloatingPanel, GluedAcross, Layer, Load, MiterOpening, Season, Year, across, along,
    glued_across, layered, miter_opening, one_face_wetter, panel_as_cut,
};
use crate::units::{Angle, Length, MoistureContent, Strain, Stress};
use crate::wood::{self, Coefficient, Figure, coefficient_at_most};

/// A gap in a miter that a hand and an eye find at once (common practice; see `fit` for the shop's own limit).
const GAP_SEEN: Length = Length::mm(0.2);
/// A gap that a customer sends the box back for (common practice).
const GAP_BAD: Length = Length::mm(0.5);
/// A bow over a lid's width that shows as a lid that rocks or gapes (common practice: under 1 mm passes).
const BOW_SEEN: Length = Length::mm(1.0);

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

fn floating(
    float: &Float,
    today: MoistureContent,
    [driest, wettest]: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let Some(coefficient) = coefficient_of(&float.wood, float.rings) else { return };
    let between = float.width + float.gap * 2.0;
    let result = panel_as_cut(
        Floating {
            opening: between - float.groove_depth * 2.0,
            groove: float.groove_depth,
            coefficient,
            today,
            driest,
            wettest,
            clearance: Length::mm(0.1),
            hold: Length::mm(1.0),
        },
        float.width,
    );
    if result.in_groove() {
        reasons.push(result.reason_hold(&format!("{}.hold", float.name)));
    }
    let key = match float.name.as_str() {
        "bottom" => "bottom.depth",
        "lid panel" => "lid.panel.depth",
        "top" => "lid.top.depth",
        _ => "lid.side_play",
    };
    if result.binds() {
        let room = -result.gap_wettest;
        let more = float.gap + room + Length::mm(0.2);
        let change = if float.name == "sliding lid" {
            Change::set(
                format!("Give it {:.1} mm of side play", more.to_mm() * 2.0),
                "lid.side_play",
                format!("\"{:.1} mm\"", more.to_mm() * 2.0),
            )
        } else {
            Change::words(format!("Cut it {:.1} mm narrower", room.to_mm() * 2.0 + 0.4))
        };
        cautions.push(Caution {
            code: "panel-binds",
            weight: Weight::LikelyToFail,
            place: float.name.clone(),
            says: format!(
                "The {} is {:.1} mm wide today and swells by {:.1} mm by the wettest month, {:.1} mm more than there is room for.",
                float.name,
                float.width.to_mm(),
                (result.width_wettest - result.width).to_mm(),
                room.to_mm() * 2.0
            ),
            numbers: vec![
                Given::new("gap on each side today", Value::Length(float.gap)),
                Given::new("width in the wettest month", Value::Length(result.width_wettest)),
            ],
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, Eq. 13-2"),
            change: Some(change),
        });
    }
    if result.in_groove() && result.held_pushed < Length::mm(0.5) {
        let need = float.groove_depth + Length::mm(1.0) - result.held_pushed;
        cautions.push(Caution {
            code: "panel-drops-out",
            weight: if result.drops_out() { Weight::LikelyToFail } else { Weight::WorthKnowing },
            place: float.name.clone(),
            says: format!(
                "In the driest month the {} shrinks to {:.1} mm; pushed to one side it holds {:.1} mm in the other groove.",
                float.name,
                result.width_driest.to_mm(),
                result.held_pushed.to_mm()
            ),
            numbers: vec![Given::new("held, pushed to one side", Value::Length(result.held_pushed))],
            basis: Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, Eq. 13-2"),
            change: Some(Change::set(
                format!("Cut the groove {:.1} mm deep, and pin the panel at the middle of its ends", need.to_mm()),
                key,
                format!("\"{:.1} mm\"", need.to_mm()),
            )),
        });
    }
    living.floats.push((float.name.clone(), result));
}

/// Openings by the driest and the wettest month of a miter whose members are `width` across the grain.
fn openings(
    part: &Part,
    rings: Angle,
    width: Length,
    miter: Angle,
    today: MoistureContent,
    ends: [MoistureContent; 2],
) -> Option<(MiterOpening, MiterOpening)> {
    let c = coefficient_of(&part.wood, rings)?;
    let at = |to| {
        let shrinks = -across(Length::mm(1.0), c, today, to).strain().value();
        let l = -along(Length::mm(1.0), today, to).middle.to_mm();
        miter_opening(width, miter, Strain::fraction(shrinks), Strain::fraction(l))
    };
    Some((at(ends[0]), at(ends[1])))
}

fn miters(
    s: &Statement,
    parts: &BoxParts,
    today: MoistureContent,
    ends: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let miter = Angle::radians(core::f64::consts::PI / f64::from(s.shape.sides.max(3)));
    let members: Vec<&Part> = parts.parts.iter().filter(|p| p.role == Role::FrameMember).collect();
    // Members may be of several woods: the one that opens most speaks for the frame.
    living.frame_miter = members
        .iter()
        .filter_map(|p| openings(p, p.rings, p.size[1], miter, today, ends))
        .max_by(|a, b| worst(a).gap.to_mm().total_cmp(&worst(b).gap.to_mm()));
    if let Some(pair) = &living.frame_miter {
        let bad = worst(pair);
        reasons.push(bad.reason("lid.miter"));
        if bad.gap > GAP_SEEN {
            cautions.push(Caution {
                code: "frame-miter-opens",
                weight: if bad.gap > GAP_BAD { Weight::LikelyToFail } else { Weight::WorthKnowing },
                place: "lid frame, miters".into(),
                says: format!(
                    "The lid frame's miters open {:.2} mm at the {} by the {} month.",
                    bad.gap.to_mm(),
                    end_word(bad),
                    if bad.shrinks.value() > 0.0 { "driest" } else { "wettest" }
                ),
                numbers: vec![
                    Given::new("member width", Value::Length(bad.width)),
                    Given::new("opening", Value::Length(bad.gap)),
                ],
                basis: Basis::Derived(
                    "√2 × width × difference of strain across and along, for a square corner",
                ),
                change: Some(narrower(s, bad)),
            });
        }
    }
    if let Some(wall) = parts.parts.iter().find(|p| p.role == Role::Wall) {
        // Through a wall's thickness the rings stand at the complement of their angle to its face.
        let through = Angle::SQUARE - wall.rings;
        living.wall_miter = openings(wall, through, wall.size[2], miter, today, ends);
        if let Some(pair) = &living.wall_miter {
            reasons.push(worst(pair).reason("corner.miter"));
        }
    }
}

fn worst(pair: &(MiterOpening, MiterOpening)) -> &MiterOpening {
    if pair.0.gap >= pair.1.gap { &pair.0 } else { &pair.1 }
}

fn end_word(m: &MiterOpening) -> &'static str {
    if m.shrinks.value() > 0.0 { "heel (inside)" } else { "toe (outside)" }
}

/// A narrower member closes the miter in proportion.
fn narrower(s: &Statement, bad: &MiterOpening) -> Change {
    let width = (bad.width * (GAP_SEEN / bad.gap)).to_mm().floor();
    let quarter = matches!(&s.lid.kind, LidKind::Frame(f) if f.woods.iter().all(|w| w.rings.angle().to_degrees() > 60.0));
    if width >= 15.0 || quarter {
        let width = width.max(12.0);
        Change::set(
            format!("Make the members {width:.0} mm wide"),
            "lid.member",
            format!("\"{width:.0} mm\""),
        )
    } else {
        Change::set("Take quartersawn stock for the frame", "lid.rings", "\"quartersawn\"")
    }
}

fn glued(
    parts: &BoxParts,
    today: MoistureContent,
    ends: [MoistureContent; 2],
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    let mut done: Vec<usize> = Vec::new();
    for joint in parts.joints.iter().filter(|j| j.kind == JointKind::Glued && j.cross_grain > Length::ZERO) {
        let Some(part) = parts.parts.get(joint.a.0) else { continue };
        let lead = part.layer_of.map_or(joint.a.0, |p| p.0);
        let Some(species) = wood::species(&part.wood).filter(|_| !done.contains(&lead)) else { continue };
        done.push(lead);
        let results: Vec<GluedAcross> = ends
            .iter()
            .filter_map(|&to| glued_across(species, part.rings, today, to).ok())
            .filter(|g| g.free.value().abs() > 1e-6)
            .collect();
        let Some(bad) = results.into_iter().max_by(|a, b| a.share().total_cmp(&b.share())) else { continue };
        let (place, key) = match part.role {
            Role::FramePanel => ("lid panel", "lid.panel.hold"),
            Role::Top => ("top", "lid.top.hold"),
            Role::Strip if part.name.starts_with("lid") => ("lid panel", "lid.panel.hold"),
            Role::Strip if part.name.starts_with("top") => ("top", "lid.top.hold"),
            _ => ("bottom", "bottom.hold"),
        };
        reasons.push(bad.reason(&format!("{}.stress", place.replace(' ', "_"))));
        let what = if bad.load == Load::Tension { "pulled" } else { "pressed" };
        let share = bad.share() * 100.0;
        if bad.share() > 0.4 {
            cautions.push(Caution {
                code: "glued-across-grain",
                weight: if bad.likely_to_fail() { Weight::LikelyToFail } else { Weight::WorthKnowing },
                place: place.into(),
                says: format!(
                    "The solid {place} is glued across its grain over {:.0} mm; kept from moving it is {what} at {:.1} MPa, {share:.0} % of what {} bears across the grain on average.",
                    joint.cross_grain.to_mm(),
                    bad.stress.value(),
                    name_of(&part.wood)
                ),
                numbers: vec![
                    Given::new("stress if nothing yields", Value::Stress(bad.stress)),
                    Given::new("mean strength", Value::Stress(bad.strength)),
                    Given::new("nineteen pieces in twenty bear", Value::Stress(bad.strength_low)),
                ],
                basis: Basis::Published("Wood Handbook FPL-GTR-190, Tables 5-1, 5-3, 13-5; elastic, an upper bound: wood creeps"),
                change: Some(Change::set(format!("Float the {place} in a groove"), key, "\"groove\"")),
            });
        }
        living.glued.push((place.to_string(), bad));
    }
}

/// Whether inside and outside carry finishes that let moisture through differently.
fn faces_differ(f: &Finish) -> bool {
    f.outside != f.inside
}

fn bows(
    s: &Statement,
    parts: &BoxParts,
    living: &mut Living,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) {
    for part in parts.parts.iter().filter(|p| matches!(p.role, Role::LidPanel | Role::FramePanel | Role::Top))
    {
        let span = part.size[1];
        let veneered = panel_build(s, part.role).is_some_and(|b| matches!(b, Build::Veneered { .. }));
        if veneered {
            if let Some(bend) = veneered_bend(parts, part) {
                reasons.push(bend.reason(&format!("{}.bow", part.name.replace(' ', "_")), span));
                living.bows.push(Bow {
                    name: part.name.clone(),
                    cause: "veneers on a core, alike on both faces",
                    span,
                    bow: bend.bow(span),
                });
            }
        } else if part.origin == Origin::Board && faces_differ(&s.finish) {
            let Some(c) = coefficient_of(&part.wood, part.rings) else { continue };
            // For every point of moisture between the faces: how long it lasts is the diffusion of a later room.
            let one_point =
                across(Length::mm(1.0), c, living.today, living.today + MoistureContent::percent(1.0));
            let bend = one_face_wetter(part.size[2], one_point.strain());
            let bow = bend.bow(span);
            reasons.push(bend.reason(&format!("{}.bow", part.name.replace(' ', "_")), span));
            living.bows.push(Bow {
                name: part.name.clone(),
                cause: "inside and outside finished differently, for each point of moisture between the faces",
                span,
                bow,
            });
            if bow > BOW_SEEN {
                cautions.push(Caution {
                    code: "faces-finished-unequally",
                    weight: Weight::LikelyToFail,
                    place: part.name.clone(),
                    says: format!(
                        "The {} has different finishes inside and out; each point of moisture between its faces bows it {:.1} mm over {:.0} mm.",
                        part.name,
                        bow.to_mm(),
                        span.to_mm()
                    ),
                    numbers: vec![Given::new("bow for one point", Value::Length(bow))],
                    basis: Basis::Derived("linear strain through one board: curvature = strain ÷ thickness"),
                    change: Some(Change::words("Give both faces of the lid the same finish and the same number of coats")),
                });
            }
        }
    }
}

fn panel_build(s: &Statement, role: Role) -> Option<&Build> {
    match (&s.lid.kind, role) {
        (LidKind::Frame(f), Role::FramePanel) => Some(&f.panel.build),
        (LidKind::Slab { build, .. } | LidKind::Sliding { build, .. }, Role::LidPanel) => Some(build),
        (LidKind::Sawn { top, .. }, Role::Top) => Some(&top.build),
        _ => None,
    }
}

/// Bend of a core with its veneers across their grain, to the drier end of the year; none when both faces match.
fn veneered_bend(parts: &BoxParts, core: &Part) -> Option<Bend> {
    let lead = parts.parts.iter().position(|p| core::ptr::eq(p, core))?;
    let leaves: Vec<&Part> = parts
        .parts
        .iter()
        .filter(|p| p.role == Role::Veneer && p.layer_of.map(|l| l.0) == Some(lead))
        .collect();
    let modulus = |id: &str| -> Option<Stress> {
        wood::sheet(id).and_then(|s| s.modulus_across).or_else(|| {
            let species = wood::species(id)?;
            wood::elastic(species).ok().map(|e| e.value.modulus_across(Angle::ZERO))
        })
    };
    // One point of drying: the bend is in proportion.
    let layer = |p: &Part| -> Option<Layer> {
        let c = coefficient_of(&p.wood, p.rings)?;
        let dry = MoistureContent::percent(8.0);
        let strain = across(Length::mm(1.0), c, dry, MoistureContent::percent(7.0)).strain();
        Some(Layer { thickness: p.size[2], modulus: modulus(&p.wood)?, free: strain })
    };
    let (below, above) = (leaves.first()?, leaves.get(1)?);
    Some(layered(&[layer(below)?, layer(core)?, layer(above)?]))
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
