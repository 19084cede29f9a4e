//! Which joints close together: panels, rings, what is added, keys; and what does not fit one open time.

use super::plan::StageKind;
use crate::parts::{BoxParts, Joint, JointKind, Operation, Part, PartId, Role, Seam};
use std::collections::BTreeMap;

/// Joints that must close within one open time.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Unit {
    /// Indices into the box's joints.
    pub(super) joints: Vec<usize>,
}

/// Joints of one kind of stage on one ring or panel, in units.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Group {
    pub(super) kind: StageKind,
    /// The part that names it: a wall, a frame member, the first strip.
    pub(super) role: Role,
    pub(super) units: Vec<Unit>,
    /// Panels put in dry while the ring closes.
    pub(super) dry: Vec<PartId>,
}

/// Surfaces to spread at one joint: both faces; the many faces of fingers take the time of six.
///
/// # Source
/// Common practice for the fingers.
pub(super) const fn surfaces(seam: Seam) -> u32 {
    match seam {
        Seam::Fingers => 6,
        _ => 2,
    }
}

const fn in_ring(role: Role) -> bool {
    matches!(role, Role::Wall | Role::FrameMember | Role::Lining | Role::TrayWall | Role::Plinth | Role::Lip)
}

/// The assembly that a joint is glued in: the first that holds both parts, else the first that holds either.
pub(super) fn home(parts: &BoxParts, joint: &Joint) -> usize {
    let holds = |id: PartId| move |a: &crate::parts::Assembly| a.parts.contains(&id);
    let both = parts.assemblies.iter().position(|a| holds(joint.a)(a) && holds(joint.b)(a));
    both.or_else(|| parts.assemblies.iter().position(|a| holds(joint.a)(a) || holds(joint.b)(a)))
        .unwrap_or(usize::MAX)
}

fn part(parts: &BoxParts, id: PartId) -> Option<&Part> {
    parts.parts.get(id.0)
}

fn role(parts: &BoxParts, id: PartId) -> Option<Role> {
    part(parts, id).map(|p| p.role)
}

/// Whether the frame's members carry a rabbet, so that the panel can follow when the ring is dry.
fn rabbeted(parts: &BoxParts, id: PartId) -> bool {
    part(parts, id).is_some_and(|p| p.cuts.iter().any(|c| matches!(c.operation, Operation::Rabbet { .. })))
}

/// The kind of stage that a glued joint belongs to, and the role that names its ring or panel.
fn classify(parts: &BoxParts, joint: &Joint) -> (StageKind, Role) {
    let (a, b) = (role(parts, joint.a), role(parts, joint.b));
    let ring = [a, b].into_iter().flatten().find(|r| in_ring(*r));
    let veneer = [a, b].contains(&Some(Role::Veneer));
    let first = a.unwrap_or(Role::Wall);
    match joint.seam {
        Seam::Edge => (StageKind::Panel, first),
        // A veneered panel's edges in the walls' rabbet belong to the ring, not to the panel.
        Seam::Flat if veneer && ring.is_none() => (StageKind::Panel, first),
        Seam::Miter | Seam::Tongue | Seam::Fingers | Seam::Groove => (StageKind::Ring, ring.unwrap_or(first)),
        Seam::Flat => {
            let member =
                [(a, joint.a), (b, joint.b)].into_iter().find(|(r, _)| *r == Some(Role::FrameMember));
            let panel = [a, b].contains(&Some(Role::FramePanel));
            match member {
                Some((_, id)) if panel && !rabbeted(parts, id) => (StageKind::Ring, Role::FrameMember),
                _ => (StageKind::Added, ring.unwrap_or(first)),
            }
        }
        Seam::Key => (StageKind::Keys, ring.unwrap_or(first)),
        Seam::HalfLap => (StageKind::Added, first),
    }
}

/// The groups of one assembly, in the order they are glued.
pub(super) fn groups(parts: &BoxParts, assembly: usize) -> Vec<Group> {
    let mut sorted: BTreeMap<(StageKind, Role, usize), Vec<usize>> = BTreeMap::new();
    for (i, joint) in parts.joints.iter().enumerate() {
        if joint.kind != JointKind::Glued || home(parts, joint) != assembly {
            continue;
        }
        let (kind, role) = classify(parts, joint);
        // Panels are glued one by one; everything else of a kind and ring belongs together.
        let which = match kind {
            StageKind::Panel => panel_of(parts, joint),
            _ => 0,
        };
        sorted.entry((kind, role, which)).or_default().push(i);
    }
    sorted
        .into_iter()
        .map(|((kind, role, _), joints)| Group {
            kind,
            role,
            units: units(parts, kind, &joints),
            dry: if kind == StageKind::Ring { dry(parts, role) } else { Vec::new() },
        })
        .collect()
}

/// The panel that a strip or veneer belongs to, by its first part.
fn panel_of(parts: &BoxParts, joint: &Joint) -> usize {
    owner(parts, joint.a).min(owner(parts, joint.b)).0
}

/// Floating panels held by members of a ring.
fn dry(parts: &BoxParts, ring: Role) -> Vec<PartId> {
    let mut out = Vec::new();
    for joint in parts.joints.iter().filter(|j| j.kind == JointKind::Floating) {
        for (held, by) in [(joint.a, joint.b), (joint.b, joint.a)] {
            let floats = role(parts, held).is_some_and(|r| !in_ring(r)) && role(parts, by) == Some(ring);
            if floats && !out.contains(&held) {
                out.push(held);
            }
        }
    }
    out
}

/// What must close together: a corner with its tongue, an added part on all its seats, a key.
fn units(parts: &BoxParts, kind: StageKind, joints: &[usize]) -> Vec<Unit> {
    match kind {
        StageKind::Panel => joints.iter().map(|&j| Unit { joints: vec![j] }).collect(),
        StageKind::Added | StageKind::Keys => by_loose_part(parts, joints),
        StageKind::Ring => corners(parts, joints),
    }
}

/// A ring by its members.
pub(super) const fn ring_words(role: Role) -> &'static str {
    match role {
        Role::Wall | Role::TrayWall => "walls",
        Role::FrameMember => "frame",
        other => other.words(),
    }
}

/// What the loose parts of some units are called, each once: panels by their own name, others by their role.
pub(super) fn loose_names<'a>(parts: &'a BoxParts, units: &[Unit]) -> Vec<&'a str> {
    let joints = units.iter().filter_map(|u| u.joints.first()).filter_map(|&j| parts.joints.get(j));
    let mut names: Vec<&str> = joints
        .filter_map(|j| part(parts, loose(parts, j)))
        .map(|p| match p.role {
            Role::Strip | Role::Veneer => whole_name(&p.name),
            role => role.words(),
        })
        .collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The name of the panel that a group glues up: its first part's name without the strip's number.
pub(super) fn panel_name<'a>(parts: &'a BoxParts, group: &Group) -> &'a str {
    let first = group.units.first().and_then(|u| u.joints.first()).and_then(|&j| parts.joints.get(j));
    first.and_then(|j| part(parts, j.a)).map_or("panel", |p| whole_name(&p.name))
}

/// A panel's name from that of one of its strips or leaves.
pub(super) fn whole_name(name: &str) -> &str {
    [" strip", " veneer", " leaf"].iter().find_map(|w| name.split_once(w)).map_or(name, |(panel, _)| panel)
}

/// The part of a joint that is put onto what stands already; of a panel, the part that names it.
fn loose(parts: &BoxParts, joint: &Joint) -> PartId {
    let id = match role(parts, joint.a) {
        Some(Role::Wall | Role::FrameMember | Role::TrayWall) => joint.b,
        _ => joint.a,
    };
    owner(parts, id)
}

/// The panel that a strip or leaf belongs to, or the part itself.
fn owner(parts: &BoxParts, id: PartId) -> PartId {
    part(parts, id).and_then(|p| p.layer_of).unwrap_or(id)
}

fn by_loose_part(parts: &BoxParts, joints: &[usize]) -> Vec<Unit> {
    let mut sorted: BTreeMap<PartId, Unit> = BTreeMap::new();
    for &j in joints {
        let Some(joint) = parts.joints.get(j) else { continue };
        sorted.entry(loose(parts, joint)).or_default().joints.push(j);
    }
    sorted.into_values().collect()
}

fn corners(parts: &BoxParts, joints: &[usize]) -> Vec<Unit> {
    let of = |j: usize| parts.joints.get(j);
    let is_corner = |j: &&usize| of(**j).is_some_and(|x| matches!(x.seam, Seam::Miter | Seam::Fingers));
    let mut units: Vec<Unit> = joints.iter().filter(is_corner).map(|&j| Unit { joints: vec![j] }).collect();
    if units.is_empty() {
        return joints.iter().map(|&j| Unit { joints: vec![j] }).collect();
    }
    for &j in joints.iter().filter(|j| !is_corner(j)) {
        let Some(joint) = of(j) else { continue };
        // A tongue's walls: the member of this joint and that of its other one.
        let ends: Vec<PartId> = joints
            .iter()
            .filter_map(|&k| of(k))
            .filter(|k| k.seam == joint.seam && (k.a == joint.a || k.b == joint.a))
            .flat_map(|k| [k.a, k.b])
            .collect();
        let fits = |u: &Unit, all: bool| {
            u.joints.first().and_then(|&c| of(c)).is_some_and(|c| {
                if all {
                    ends.contains(&c.a) && ends.contains(&c.b)
                } else {
                    c.a == joint.b || c.b == joint.b
                }
            })
        };
        let tongue = joint.seam == Seam::Tongue;
        let at = units.iter().position(|u| fits(u, tongue)).unwrap_or(0);
        if let Some(unit) = units.get_mut(at) {
            unit.joints.push(j);
        }
    }
    units
}

/// Splits units into stages that each fit a capacity; a ring's stages take corners that face each other.
/// One unit that is too long by itself still gets its stage.
pub(super) fn split(
    kind: StageKind,
    units: Vec<Unit>,
    minutes: &dyn Fn(&Unit) -> f64,
    capacity: f64,
) -> Vec<Vec<Unit>> {
    if matches!(kind, StageKind::Added | StageKind::Keys) || units.is_empty() {
        return vec![units];
    }
    let n = units.len();
    for stages in 1..=n {
        let mut out: Vec<Vec<Unit>> = vec![Vec::new(); stages];
        for (i, unit) in units.iter().enumerate() {
            out[i % stages].push(unit.clone());
        }
        let fits = |s: &Vec<Unit>| s.iter().map(minutes).sum::<f64>() <= capacity + 1e-9;
        if stages == n || out.iter().all(fits) {
            return out;
        }
    }
    vec![units]
}
