//! Putting what one window changed on top of what another saved first.

use super::settle::put;
use super::values::{Node, Values};

/// The text `theirs` with every change from `base` to `mine` made to it; `None` if one of them is no TOML, or a change
/// finds no place there.
///
/// A list whose number of items was changed is taken over whole.
pub(crate) fn on_top(base: &str, mine: &str, theirs: &str) -> Option<String> {
    let (was, now) = (Values::of(base)?, Values::of(mine)?);
    let mut sets = Vec::new();
    differing(was.root(), now.root(), String::new(), &mut sets);
    let mut text = theirs.to_owned();
    for (key, value) in sets {
        text = put(&text, &key, value.as_deref()).ok()?;
    }
    Some(text)
}

/// The keys that differ, each with its new value; a section that came or went as a whole.
fn differing(was: &Node, now: &Node, path: String, out: &mut Vec<(String, Option<String>)>) {
    if was == now {
        return;
    }
    let under = |word: &str| if path.is_empty() { word.to_owned() } else { format!("{path}.{word}") };
    match (was, now) {
        (Node::Section(before), Node::Section(after)) => {
            for (name, node) in before {
                match after.iter().find(|(n, _)| n == name) {
                    Some((_, new)) => differing(node, new, under(name), out),
                    None => out.push((under(name), None)),
                }
            }
            for (name, node) in after.iter().filter(|(name, _)| before.iter().all(|(n, _)| n != name)) {
                out.push((under(name), Some(node.inline())));
            }
        }
        (Node::List(before), Node::List(after))
            if before.len() == after.len() && after.iter().all(|n| matches!(n, Node::Section(_))) =>
        {
            for (number, (a, b)) in (1..).zip(before.iter().zip(after)) {
                differing(a, b, under(&format!("{number}")), out);
            }
        }
        _ => out.push((path, Some(now.inline()))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_changes_stand_and_mine_wins_where_they_meet() {
        let base =
            "# my box\nname = 'a'\n[walls]\nwood = 'ash' # kept\nthickness = 12\n[lid]\nkind = 'slab'\n";
        let mine = base.replace("12", "10").replace("[lid]\nkind = 'slab'\n", "[pull]\nlength = 30\n");
        let theirs = base.replace("'ash'", "'cherry'").replace("12", "11");
        let both = on_top(base, &mine, &theirs).unwrap();
        assert_eq!(both, "# my box\nname = 'a'\n[walls]\nwood = 'cherry' # kept\nthickness = 10\n\npull = { length = 30 }\n".replace("\n\npull = { length = 30 }\n", "\n") .replace("name = 'a'\n", "name = 'a'\npull = { length = 30 }\n"));
    }

    #[test]
    fn a_list_that_grew_is_taken_whole() {
        let base = "a = [{ b = 1 }]\n";
        assert_eq!(
            on_top(base, "a = [{ b = 1 }, { b = 2 }]\n", "a = [{ b = 3 }]\nc = 1\n").as_deref(),
            Some("a = [{ b = 1 }, { b = 2 }]\nc = 1\n")
        );
        assert_eq!(
            on_top(base, "a = [{ b = 2 }]\n", "a = [{ b = 1, c = 4 }]\n").as_deref(),
            Some("a = [{ b = 2, c = 4 }]\n")
        );
        assert_eq!(on_top(base, "= =", base), None);
    }
}
