//! Versions: saves one after another, at once, undone and done again.

use crate::common::{Fresh, me, store};
use keepwright_store::{Document, Error, Kind, Saved, Standing, Stepped, Version, VersionId};

fn one_box() -> (Fresh, Document) {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "1", "new", me()).unwrap();
    (store, made)
}

fn kept(saved: Saved) -> Version {
    match saved {
        Saved::Kept(version) => version,
        other => panic!("not kept: {other:?}"),
    }
}

fn to(stepped: Stepped) -> Version {
    match stepped {
        Stepped::To(version) => version,
        other => panic!("no step: {other:?}"),
    }
}

#[test]
fn the_later_of_two_saves_is_kept_beside_and_told() {
    let (store, made) = one_box();
    let first = kept(store.save(made.id, made.head, "2", "length", me()).unwrap());
    let beside = store.save(made.id, made.head, "3", "width", me()).unwrap();
    let Saved::Beside { version, head } = beside.clone() else { panic!("{beside:?}") };
    assert_eq!((version.text.as_str(), version.parent), ("3", Some(made.head)));
    assert_eq!(head, first);
    assert_eq!(store.head(made.id).unwrap(), first);
    // Sent again after a lost answer: the same answer, no third version.
    assert_eq!(store.save(made.id, made.head, "3", "width", me()).unwrap(), beside);
    assert_eq!(store.versions(made.id, None, 10).unwrap().len(), 3);
    // And it can be put in force.
    let back = kept(store.restore_version(made.id, version.id, me()).unwrap());
    assert_eq!((back.text.as_str(), back.says.as_str()), ("3", "back to version 3: width"));
}

#[test]
fn a_save_that_changes_nothing_makes_no_version() {
    let (store, made) = one_box();
    let first = store.head(made.id).unwrap();
    assert_eq!(store.save(made.id, made.head, "1", "", me()).unwrap(), Saved::Same(first));
    let second = kept(store.save(made.id, made.head, "2", "", me()).unwrap());
    // Sent again after a lost answer.
    assert_eq!(store.save(made.id, made.head, "2", "", me()).unwrap(), Saved::Same(second.clone()));
    // From an old window in which nothing was typed.
    assert_eq!(store.save(made.id, made.head, "1", "", me()).unwrap(), Saved::Same(second));
    assert_eq!(store.versions(made.id, None, 10).unwrap().len(), 2);
}

#[test]
fn undo_and_redo_walk_and_a_new_edit_branches() {
    let (store, made) = one_box();
    let v2 = kept(store.save(made.id, made.head, "2", "two", me()).unwrap());
    let v3 = kept(store.save(made.id, v2.id, "3", "three", me()).unwrap());
    let at = me().at;
    assert_eq!(to(store.undo(made.id, v3.id, at).unwrap()).text, "2");
    assert_eq!(to(store.undo(made.id, v2.id, at).unwrap()).text, "1");
    let Stepped::End(first) = store.undo(made.id, made.head, at).unwrap() else { panic!("before the first") };
    assert_eq!(to(store.redo(made.id, first.id, at).unwrap()).id, v2.id);
    // A window that still shows the first is told, and nothing moves.
    assert_eq!(store.redo(made.id, first.id, at).unwrap(), Stepped::Moved(store.head(made.id).unwrap()));
    assert_eq!(store.undo(made.id, first.id, at).unwrap(), Stepped::Moved(store.head(made.id).unwrap()));
    let v4 = kept(store.save(made.id, v2.id, "4", "four", me()).unwrap());
    assert!(matches!(store.redo(made.id, v4.id, at).unwrap(), Stepped::End(_)));
    // What was undone is still in the list, on its branch; redo leads to the last undone.
    let lines = store.versions(made.id, None, 10).unwrap();
    let seen: Vec<_> = lines.iter().map(|l| (l.number, l.says.as_str(), l.standing)).collect();
    let want = [
        (4, "four", Standing::Head),
        (3, "three", Standing::Beside),
        (2, "two", Standing::Past),
        (1, "new", Standing::Past),
    ];
    assert_eq!(seen, want);
    to(store.undo(made.id, v4.id, at).unwrap());
    assert_eq!(to(store.redo(made.id, v2.id, at).unwrap()).id, v4.id);
    assert_eq!(store.version(v3.id).unwrap().text, "3");
}

#[test]
fn the_list_of_versions_turns_its_pages() {
    let (store, made) = one_box();
    let mut base = made.head;
    for number in 2..=25 {
        base = kept(store.save(made.id, base, &number.to_string(), "", me()).unwrap()).id;
    }
    let mut seen = Vec::new();
    let mut before = None;
    loop {
        let page = store.versions(made.id, before, 10).unwrap();
        let Some(last) = page.last() else { break };
        before = Some(last.number);
        seen.extend(page.iter().map(|line| line.number));
        assert!(page.iter().all(|line| line.standing != Standing::Beside));
    }
    assert_eq!(seen, (1..=25).rev().collect::<Vec<_>>());
}

#[test]
fn a_version_of_another_document_is_no_base() {
    let (store, made) = one_box();
    let other = store.create(Kind::Box, "Other", "other", "new", me()).unwrap();
    let error = store.save(made.id, other.head, "x", "", me()).unwrap_err();
    assert_eq!(error, Error::NoVersion { id: other.head });
    assert_eq!(store.restore_version(made.id, other.head, me()), Err(Error::NoVersion { id: other.head }));
    let nowhere = VersionId::new(i64::MAX);
    assert_eq!(store.version(nowhere), Err(Error::NoVersion { id: nowhere }));
    assert_eq!(store.versions(made.id, None, 10).unwrap().len(), 1);
}
