//! Parts and settings to glue-ups with their amounts, pressures and cautions.

use super::super::say::{self, caution, number, reason};
use super::super::settings::GlueSettings;
use super::adhesive::film_volume;
use super::plan::{GlueUp, Stage, StageKind};
use super::ring::Ring;
use super::stages::{self, Group, Unit};
use super::steps::{self, Place};
use crate::caution::{Caution, Change, Checked, Weight};
use crate::design::{Finish, FinishKind};
use crate::parts::{BoxParts, Joint, Seam};
use crate::reason::{Basis, Reason, Value};
use crate::units::{Angle, Area, Minutes};

/// What a glue plan is made from.
#[derive(Clone, Copy)]
pub struct Gluing<'a> {
    /// The box.
    pub parts: &'a BoxParts,
    /// Its finish: what is finished before gluing.
    pub finish: &'a Finish,
    /// The shop's way to glue.
    pub settings: &'a GlueSettings,
    /// Specific gravity at 12 percent moisture content of a wood id, where known.
    pub gravity: &'a dyn Fn(&str) -> Option<f64>,
}

impl core::fmt::Debug for Gluing<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Gluing").field("settings", &self.settings).finish_non_exhaustive()
    }
}

/// The glue-ups of a box, one for each assembly that has glued joints, with what to know about them.
///
/// Each stage holds what is spread and closed within one open time; a ring that does not fit is split into
/// corners that face each other, the others standing dry in the band.
pub fn glue_ups(gluing: &Gluing<'_>) -> Checked<Vec<GlueUp>> {
    let mut cautions = Vec::new();
    let mut value = Vec::new();
    for (assembly, whole) in gluing.parts.assemblies.iter().enumerate() {
        let mut stages = Vec::new();
        for group in stages::groups(gluing.parts, assembly) {
            of_group(gluing, &whole.name, &group, (&mut stages, &mut cautions));
        }
        if !stages.is_empty() {
            value.push(GlueUp { name: whole.name.clone(), assembly, stages });
        }
    }
    if !value.is_empty() {
        cautions.extend(in_general(gluing));
    }
    Checked { value, cautions }
}

fn of_group(
    gluing: &Gluing<'_>,
    name: &str,
    group: &Group,
    (into, cautions): (&mut Vec<Stage>, &mut Vec<Caution>),
) {
    let settings = gluing.settings;
    let title = title(gluing.parts, name, group);
    let minutes = |u: &Unit| spreading(gluing, u).value();
    let capacity = (settings.glue.open - settings.closing).value().max(0.0);
    let whole: f64 = group.units.iter().map(&minutes).sum();
    let longest = group.units.iter().map(&minutes).fold(0.0, f64::max);
    let split = stages::split(group.kind, group.units.clone(), &minutes, capacity);
    let of = split.len();
    if of > 1 {
        cautions.push(does_not_fit(gluing, &title, whole, (of, group.kind)));
    }
    if longest > capacity {
        cautions.push(one_joint_too_long(gluing, &title, longest));
    }
    let ring = Ring::of(gluing, group);
    for (i, units) in split.into_iter().enumerate() {
        let title = if of > 1 { format!("{title}, {} of {of}", i + 1) } else { title.clone() };
        let place = Place { number: i, of, mitered: ring.as_ref().is_some_and(|r| r.mitered) };
        into.push(stage(gluing, (title, group), &units, (ring.as_ref(), place)));
    }
    if let Some(c) = into.last().and_then(|s| below_wanted(gluing, s)) {
        cautions.push(c);
    }
}

/// Such as "box: walls", "lid: glue on the lip", "box: keys".
fn title(parts: &BoxParts, name: &str, group: &Group) -> String {
    match group.kind {
        StageKind::Panel => format!("{name}: {} from strips or leaves", stages::panel_name(parts, group)),
        StageKind::Ring => format!("{name}: {}", stages::ring_words(group.role)),
        StageKind::Added => {
            format!("{name}: glue on the {}", stages::loose_names(parts, &group.units).join(", "))
        }
        StageKind::Keys => format!("{name}: keys"),
    }
}

pub(super) fn joints_of<'a>(parts: &'a BoxParts, unit: &'a Unit) -> impl Iterator<Item = &'a Joint> {
    unit.joints.iter().filter_map(|&j| parts.joints.get(j))
}

/// Area that glue is spread over in a minute with a brush or roller, where a face is large.
///
/// # Source
/// Common practice.
const SPREAD_IN_A_MINUTE: Area = Area::mm2(500e2);

/// Time to spread what must close together: by the surface, or by the area where that is longer.
fn spreading(gluing: &Gluing<'_>, unit: &Unit) -> Minutes {
    joints_of(gluing.parts, unit)
        .map(|j| {
            let by_surface = gluing.settings.per_surface * f64::from(stages::surfaces(j.seam));
            by_surface.max(Minutes::minutes(2.0 * j.area.to_mm2() / SPREAD_IN_A_MINUTE.to_mm2()))
        })
        .sum()
}

fn surfaces_of(parts: &BoxParts, unit: &Unit) -> u32 {
    joints_of(parts, unit).map(|j| stages::surfaces(j.seam)).sum()
}

fn stage(
    gluing: &Gluing<'_>,
    (title, group): (String, &Group),
    units: &[Unit],
    (ring, place): (Option<&Ring>, Place),
) -> Stage {
    let settings = gluing.settings;
    let glue = &settings.glue;
    let all = || units.iter().flat_map(|u| joints_of(gluing.parts, u));
    let area: Area = all().map(|j| j.area * 2.0).sum();
    let miters: Area = all().filter(|j| j.seam == Seam::Miter).map(|j| j.area * 2.0).sum();
    let sized = if glue.sizes_miters { miters } else { Area::ZERO };
    let volume = film_volume(area + sized, glue.film) * (1.0 + settings.waste.value());
    let surfaces: u32 = units.iter().map(|u| surfaces_of(gluing.parts, u)).sum();
    // Keys and added parts close one by one: each has the open time to itself.
    let each = units.iter().map(|u| spreading(gluing, u));
    let together = match group.kind {
        StageKind::Added | StageKind::Keys => each.fold(Minutes::ZERO, Minutes::max),
        StageKind::Panel | StageKind::Ring => each.sum(),
    };
    let needs = together + settings.closing;
    let clamping = ring.filter(|r| r.mitered).map(|r| r.clamping(gluing));
    let diagonals = ring.and_then(|r| r.diagonals(settings));
    let mut stage = Stage {
        title,
        kind: group.kind,
        joints: units.iter().flat_map(|u| u.joints.clone()).collect(),
        surfaces,
        needs,
        open: glue.open,
        area,
        sized,
        volume,
        clamping,
        diagonals,
        dry: group.dry.clone(),
        clamp: glue.clamp,
        cure: glue.cure,
        steps: Vec::new(),
        reasons: Vec::new(),
    };
    stage.steps = steps::steps(gluing.parts, &stage, gluing.finish, settings, place);
    stage.reasons = reasons(gluing, &stage, ring);
    stage
}

fn reasons(gluing: &Gluing<'_>, stage: &Stage, ring: Option<&Ring>) -> Vec<Reason> {
    let s = gluing.settings;
    let key = |what: &str| format!("glue.{}.{what}", stage.title.replace([':', ','], "").replace(' ', "-"));
    let mut out = vec![
        reason(
            key("volume"),
            "glue to have ready",
            "(glued area, both faces + area sized first) × wet film × (1 + waste)",
            [
                ("glued area, both faces", Value::Area(stage.area)),
                ("sized first", Value::Area(stage.sized)),
                ("wet film", Value::Length(s.glue.film)),
                ("waste", Value::Percent(s.waste.value())),
            ],
            (Value::Milliliters(stage.volume.to_ml()), s.glue.film_basis.clone()),
        ),
        reason(
            key("time"),
            "spreading and closing",
            "surfaces that close together × time for one (a minute for 500 cm² where that is longer) + closing",
            [
                ("surfaces", Value::Count(u64::from(stage.surfaces))),
                ("time for one", Value::Minutes(s.per_surface)),
                ("closing", Value::Minutes(s.closing)),
                ("open time", Value::Minutes(s.glue.open)),
            ],
            (Value::Minutes(stage.needs), Basis::CommonPractice),
        ),
    ];
    if let Some(c) = stage.clamping {
        out.push(reason(
            key("pressure"),
            "pressure on the miters",
            "force square to the miter / miter area; bare band: its tension, on shoes: tension / cos(180° / sides)",
            [
                ("tension", Value::Force(c.tension)),
                ("along the bisector", Value::Force(c.corner.resultant)),
                ("square to the miter", Value::Force(c.corner.across)),
                ("wanted", Value::Stress(c.wanted)),
                ("tension for that", Value::Force(c.tension_wanted)),
                ("tension left at the far corners", Value::Percent(c.left_at_far_corner)),
            ],
            (Value::Stress(c.pressure), Basis::Derived("statics of a band round a ring, and virtual work")),
        ));
    }
    if let (Some(d), Some(ring)) = (stage.diagonals, ring) {
        let (formula, basis) = if ring.rectangle.is_some() {
            ("√(outside length² + outside depth²)", "Pythagoras; the limit is common practice")
        } else {
            (
                "side / sin(180° / sides), or to the middle of the opposite side",
                "regular polygon; the limit is common practice",
            )
        };
        out.push(reason(
            key("diagonal"),
            "diagonals",
            formula,
            [
                ("longest side", Value::Length(ring.side)),
                ("most that they may differ", Value::Length(d.limit)),
                ("out of square at that", Value::Angle(Angle::degrees(d.degrees_at_limit.unwrap_or(0.0)))),
            ],
            (Value::Length(d.target), Basis::Derived(basis)),
        ));
    }
    out
}

fn does_not_fit(gluing: &Gluing<'_>, title: &str, minutes: f64, (of, kind): (usize, StageKind)) -> Caution {
    let how = match kind {
        StageKind::Panel => "every other seam first, then the rest",
        _ => "facing corners first, the others dry in the band",
    };
    let s = gluing.settings;
    let needs = s.closing + Minutes::minutes(minutes);
    caution(
        ("open-time-split", Weight::WorthKnowing),
        title,
        format!(
            "Spreading everything and closing takes about {:.1} minutes and {} stays open for {:.0}: glued in {of} stages, {how}.",
            needs.value(),
            s.glue.name,
            s.glue.open.value()
        ),
        [("needs", Value::Minutes(needs)), ("open time", Value::Minutes(s.glue.open))],
        (
            s.glue.basis.clone(),
            Some(Change::words(format!(
                "Take a glue that stays open for {:.0} minutes, or a second pair of hands",
                needs.value().ceil()
            ))),
        ),
    )
}

fn one_joint_too_long(gluing: &Gluing<'_>, title: &str, minutes: f64) -> Caution {
    let s = gluing.settings;
    let needs = s.closing + Minutes::minutes(minutes);
    caution(
        ("open-time-too-short", Weight::LikelyToFail),
        title,
        format!(
            "Even the smallest lot that must close together needs {:.1} minutes; {} stays open for {:.0}. It skins over before it \
             is closed.",
            needs.value(),
            s.glue.name,
            s.glue.open.value()
        ),
        [("needs", Value::Minutes(needs)), ("open time", Value::Minutes(s.glue.open))],
        (s.glue.basis.clone(), Some(Change::words("Take a glue with a longer open time"))),
    )
}

fn below_wanted(gluing: &Gluing<'_>, stage: &Stage) -> Option<Caution> {
    let c = stage.clamping.filter(|c| c.pressure.value() < c.wanted.value())?;
    Some(caution(
        ("band-below-wanted", Weight::WorthKnowing),
        stage.title.clone(),
        format!(
            "A band at {:.0} N brings {:.2} MPa onto the miters; {:.1} MPa is usually asked for this wood. Thin, well-fitted joints \
             hold at less; a gap is not closed by force.",
            c.tension.value(),
            c.pressure.value(),
            c.wanted.value()
        ),
        [
            ("pressure", Value::Stress(c.pressure)),
            ("usually asked", Value::Stress(c.wanted)),
            ("tension for that", Value::Force(c.tension_wanted)),
        ],
        (
            Basis::FromMemory(
                "Wood Handbook ch. 10, 0.7 to 1.7 MPa; a straight line by specific gravity is ours",
            ),
            Some(Change::words(match gluing.settings.bearing {
                super::super::settings::Bearing::Bare => {
                    "Put shoes on the corners: the same band presses harder, 1.4 times on four sides"
                }
                super::super::settings::Bearing::Shoes => {
                    "Add clamps with cauls across the long walls, or trust the fit"
                }
            })),
        ),
    ))
}

fn in_general(gluing: &Gluing<'_>) -> Vec<Caution> {
    let mut out = Vec::new();
    if gluing.settings.glue.is_epoxy() {
        out.push(caution(
            ("epoxy-skin", Weight::WorthKnowing),
            "glue-up",
            format!(
                "Uncured resin and hardener, and dust from half-cured epoxy, can sensitize the skin for life. Nitrile gloves, \
                 changed often, and never solvent on skin. {}",
                say::FIRST
            ),
            [],
            (Basis::Published("NIOSH 76-152; CPWR epoxy guide, 2008"), None),
        ));
    }
    let f = gluing.finish;
    if f.inside.kind != FinishKind::None && !f.inside_first {
        out.push(caution(
            ("finish-inside-first", Weight::WorthKnowing),
            "inside",
            "The inside is to be finished after the box is closed: corners are hard to reach and squeeze-out will be \
             hard to clean.",
            [("coats inside", number(f64::from(f.inside.coats), 0, ""))],
            (
                Basis::CommonPractice,
                Some(Change::set("Finish the inside before glue-up", "finish.inside_first", "true")),
            ),
        ));
    }
    out
}

#[cfg(test)]
mod tests;
