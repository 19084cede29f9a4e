//! Parts of a box that are alike, counted together.

use keepwright_model::job::Plan;
use keepwright_model::parts::{Part, PartId};

/// Parts that come from the same blank and finish at the same size, of the same wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Alike {
    /// The parts, in the box's order; never empty.
    pub parts: Vec<PartId>,
    /// What to call them together: "front, back", or "key" where there are many.
    pub name: String,
}

impl Alike {
    /// The first of them.
    pub fn first<'p>(&self, plan: &'p Plan) -> Option<&'p Part> {
        self.parts.first().and_then(|id| plan.parts.parts.get(id.0))
    }
}

/// All parts of one box in groups of like parts, in the order in which each group begins.
pub fn alike(plan: &Plan) -> Vec<Alike> {
    let parts = &plan.parts.parts;
    let mut groups: Vec<Alike> = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let group = groups.iter_mut().find(|g| {
            let Some(lead) = g.parts.first() else { return false };
            parts.get(lead.0).is_some_and(|first| same(first, part)) && same_wood_left(plan, *lead, PartId(i))
        });
        match group {
            Some(group) => group.parts.push(PartId(i)),
            None => groups.push(Alike { parts: vec![PartId(i)], name: String::new() }),
        }
    }
    for group in &mut groups {
        let names: Vec<&str> =
            group.parts.iter().filter_map(|id| parts.get(id.0)).map(|p| p.name.as_str()).collect();
        let role = group.parts.first().and_then(|id| parts.get(id.0)).map_or("", |p| p.role.words());
        group.name = together(&names, role);
    }
    groups
}

/// Whether two parts hold the same volume once cut: keys and hinge beds make walls of one size differ.
fn same_wood_left(plan: &Plan, a: PartId, b: PartId) -> bool {
    let volume = |id: PartId| plan.measures.get(id.0).map_or(0.0, |m| m.volume.to_mm3());
    (volume(a) - volume(b)).abs() < 1e-3
}

fn same(a: &Part, b: &Part) -> bool {
    let rings = (a.rings - b.rings).abs().to_degrees() < 0.5;
    let sides = a.size.iter().zip(&b.size).all(|(x, y)| x.same(*y));
    let blank = a.blank.length().same(b.blank.length())
        && a.blank.width().same(b.blank.width())
        && a.blank.thickness().same(b.blank.thickness());
    a.role == b.role && a.wood == b.wood && a.origin == b.origin && rings && sides && blank
}

/// Several names as one: what they begin with alike is said once, and more than four are called by that alone, or by
/// `role` where they begin with nothing alike.
pub fn together(names: &[&str], role: &str) -> String {
    let [first, rest @ ..] = names else { return String::new() };
    if rest.is_empty() {
        return (*first).to_owned();
    }
    let words: Vec<Vec<&str>> = names.iter().map(|n| n.split(' ').collect()).collect();
    let shortest = words.iter().map(Vec::len).min().unwrap_or(0);
    let shared = (0..shortest)
        .take_while(|&i| words.iter().all(|w| w.get(i) == words.first().and_then(|f| f.get(i))))
        .count()
        // Each name keeps at least one word of its own.
        .min(shortest.saturating_sub(1));
    let head = words.first().map(|w| w.iter().take(shared).copied().collect::<Vec<_>>().join(" "));
    let head = head.unwrap_or_default();
    if names.len() > 4 {
        return if head.is_empty() { role.to_owned() } else { head };
    }
    let own: Vec<String> =
        words.iter().map(|w| w.iter().skip(shared).copied().collect::<Vec<_>>().join(" ")).collect();
    format!("{head} {}", own.join(", ")).trim_start().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_said_together() {
        for (names, want) in [
            (&["front"][..], "front"),
            (&["front", "back"], "front, back"),
            (&["lid frame front", "lid frame back"], "lid frame front, back"),
            (
                &["key front right 1", "key front right 2", "key back left 1", "key back left 2", "key x"],
                "key",
            ),
            (&["a", "b", "c", "d", "e"], "wall"),
            (&["lid", "lid 2"], "lid, lid 2"),
        ] {
            assert_eq!(together(names, "wall"), want, "{names:?}");
        }
    }
}
