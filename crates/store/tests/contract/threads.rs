//! Many at once: nothing is lost.

use crate::common::{me, store};
use keepwright_store::{Kind, Saved};
use std::collections::BTreeSet;

#[test]
fn fifty_threads_save_at_once_and_every_text_is_there() {
    const THREADS: usize = 50;
    const SAVES: usize = 6;
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "start", "new", me()).unwrap();
    let told: Vec<(usize, usize)> = std::thread::scope(|scope| {
        let windows: Vec<_> = (0..THREADS)
            .map(|window| {
                let store = store.store.clone();
                scope.spawn(move || {
                    let (mut kept, mut beside) = (0, 0);
                    let mut base = made.head;
                    for save in 0..SAVES {
                        let text = format!("{window}-{save}");
                        match store.save(made.id, base, &text, "edit", me()).unwrap() {
                            Saved::Kept(version) => {
                                kept += 1;
                                base = version.id;
                            }
                            Saved::Beside { head, .. } => {
                                beside += 1;
                                base = head.id;
                            }
                            Saved::Same(head) => panic!("no two are the same: {head:?}"),
                        }
                        store.head(made.id).unwrap();
                    }
                    (kept, beside)
                })
            })
            .collect();
        windows.into_iter().map(|window| window.join().unwrap()).collect()
    });
    let lines = store.versions(made.id, None, usize::MAX).unwrap();
    let texts: BTreeSet<String> = lines.iter().map(|line| store.version(line.id).unwrap().text).collect();
    assert_eq!(lines.len(), 1 + THREADS * SAVES);
    for window in 0..THREADS {
        for save in 0..SAVES {
            assert!(texts.contains(&format!("{window}-{save}")), "{window}-{save} is lost");
        }
    }
    let numbers: Vec<i64> = lines.iter().map(|line| line.number).collect();
    assert_eq!(numbers, (1..=301).rev().collect::<Vec<_>>());
    // Every save was told the truth: those kept are the head's past, one after another.
    let kept: usize = told.iter().map(|(kept, _)| kept).sum();
    let mut past = 0;
    let mut at = store.head(made.id).unwrap();
    while let Some(parent) = at.parent {
        past += 1;
        at = store.version(parent).unwrap();
    }
    assert_eq!(kept, past);
    assert_eq!(kept + told.iter().map(|(_, beside)| beside).sum::<usize>(), THREADS * SAVES);
}
