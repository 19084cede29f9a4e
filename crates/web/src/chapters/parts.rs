//! Parts by their names: where words name parts of the box, the page can show which.

use crate::scene::part_id;
use keepwright_model::job::Plan;
use keepwright_packet::html::Names;
use std::collections::BTreeMap;

/// The names of a box's parts.
#[derive(Clone, Debug)]
pub(crate) struct PartNames {
    /// Ids by name, and ids of several by the name that they share.
    ids: BTreeMap<String, String>,
    /// Ids by role, blanks between.
    roles: BTreeMap<&'static str, String>,
}

impl PartNames {
    /// Those of a plan.
    pub(crate) fn of(plan: &Plan) -> Self {
        let mut names = Self { ids: BTreeMap::new(), roles: BTreeMap::new() };
        for part in &plan.parts.parts {
            let id = part_id(part);
            names.ids.insert(part.name.to_lowercase(), id.clone());
            let of_role = names.roles.entry(part.role.words()).or_default();
            if !of_role.is_empty() {
                of_role.push(' ');
            }
            of_role.push_str(&id);
        }
        // "lid frame" names the members together, "walls" every wall.
        for (role, ids) in &names.roles {
            for word in [(*role).to_owned(), format!("{role}s")] {
                names.ids.entry(word).or_insert_with(|| ids.clone());
            }
        }
        names
    }
}

impl Names for PartNames {
    fn ids(&self, words: &str) -> Option<String> {
        let words = words.trim();
        if words.is_empty() || words.len() > 120 {
            return None;
        }
        let plain = words.to_lowercase();
        if let Some(ids) = self.ids.get(&plain) {
            return Some(ids.clone());
        }
        // Many alike stand as "key (key 1 … key 20)"; blanks of a batch as "front, box 3" or "front 3/8".
        let (role, rest) = plain.split_once(" (")?;
        if rest.contains('…') { self.roles.get(role).cloned() } else { self.ids.get(role).cloned() }
    }
}
