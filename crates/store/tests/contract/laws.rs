//! Any sequence of saves, undos, redos and restores does what a simple list in memory does.

use crate::common::{me, store};
use keepwright_store::{Kind, Saved, Standing, Stepped, VersionId};
use proptest::prelude::*;

/// What a window does. Numbers choose among what is there.
#[derive(Clone, Debug)]
enum Act {
    /// Save a text made from the head.
    Save(u8),
    /// Save a text made from any version.
    SaveOld(usize, u8),
    Undo,
    Redo,
    Restore(usize),
    /// Undo from a window that shows any version.
    UndoOld(usize),
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        4 => (0..5_u8).prop_map(Act::Save),
        2 => (any::<usize>(), 0..5_u8).prop_map(|(base, text)| Act::SaveOld(base, text)),
        4 => Just(Act::Undo),
        3 => Just(Act::Redo),
        1 => any::<usize>().prop_map(Act::Restore),
        1 => any::<usize>().prop_map(Act::UndoOld),
    ];
    prop::collection::vec(act, 1..30)
}

/// The model: versions by index, each with text, parent and where redo leads.
#[derive(Default)]
struct Model {
    rows: Vec<(String, Option<usize>, Option<usize>)>,
    head: usize,
}

impl Model {
    fn add(&mut self, text: &str, parent: Option<usize>) -> usize {
        self.rows.push((text.to_owned(), parent, None));
        self.rows.len() - 1
    }

    /// The index of what should come back, and the head after it.
    fn save(&mut self, base: usize, text: &str) -> usize {
        if text == self.rows[self.head].0 || (base != self.head && text == self.rows[base].0) {
            return self.head;
        }
        if base == self.head {
            self.head = self.add(text, Some(base));
            return self.head;
        }
        let already =
            (0..self.rows.len()).find(|&at| self.rows[at].1 == Some(base) && self.rows[at].0 == text);
        already.unwrap_or_else(|| self.add(text, Some(base)))
    }

    fn undo(&mut self) {
        if let Some(parent) = self.rows[self.head].1 {
            self.rows[parent].2 = Some(self.head);
            self.head = parent;
        }
    }

    fn redo(&mut self) {
        if let Some(child) = self.rows[self.head].2 {
            self.head = child;
        }
    }

    fn restore(&mut self, version: usize) {
        let text = self.rows[version].0.clone();
        if text != self.rows[self.head].0 {
            self.head = self.add(&text, Some(self.head));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_store_does_as_the_model(acts in acts()) {
        let store = store();
        let made = store.create(Kind::Box, "Tea box", "start", "new", me()).unwrap();
        let mut model = Model::default();
        model.add("start", None);
        // Ids in the order of the model's indexes.
        let mut ids: Vec<VersionId> = vec![made.head];
        for act in &acts {
            let head = ids[model.head];
            match act {
                Act::Save(text) | Act::SaveOld(_, text) => {
                    let base = match act {
                        Act::SaveOld(base, _) => base % ids.len(),
                        _ => model.head,
                    };
                    let text = text.to_string();
                    let want = model.save(base, &text);
                    let got = match store.save(made.id, ids[base], &text, "edit", me()).unwrap() {
                        Saved::Kept(version) | Saved::Same(version) | Saved::Beside { version, .. } => version,
                    };
                    if want == ids.len() {
                        ids.push(got.id);
                    }
                    prop_assert_eq!(got.id, ids[want]);
                }
                Act::Undo => {
                    store.undo(made.id, head, me().at).unwrap();
                    model.undo();
                }
                Act::Redo => {
                    store.redo(made.id, head, me().at).unwrap();
                    model.redo();
                }
                Act::Restore(version) => {
                    let version = version % ids.len();
                    model.restore(version);
                    if let Saved::Kept(new) = store.restore_version(made.id, ids[version], me()).unwrap() {
                        ids.push(new.id);
                    }
                }
                Act::UndoOld(shown) => {
                    let shown = shown % ids.len();
                    let stepped = store.undo(made.id, ids[shown], me().at).unwrap();
                    if shown == model.head {
                        model.undo();
                    } else {
                        prop_assert!(matches!(stepped, Stepped::Moved(now) if now.id == head));
                    }
                }
            }
            prop_assert_eq!(store.head(made.id).unwrap().id, ids[model.head]);
        }
        // Nothing is lost: every version there ever was is there with its text, in order.
        let lines = store.versions(made.id, None, usize::MAX).unwrap();
        prop_assert_eq!(lines.len(), model.rows.len());
        for (line, index) in lines.iter().rev().zip(0..) {
            let version = store.version(line.id).unwrap();
            let (text, parent, redo) = &model.rows[index];
            prop_assert_eq!(&version.text, text);
            prop_assert_eq!(version.parent, parent.map(|at| ids[at]));
            prop_assert_eq!(version.redo, redo.map(|at| ids[at]));
            prop_assert_eq!(line.standing == Standing::Head, index == model.head);
        }
    }
}
