//! Documents: addresses, names, the bin, copies, jobs and their history.

use crate::common::{me, store};
use keepwright_store::{By, Error, JobState, Kind, MOST_NAME, MOST_TEXT, Shelf, Time};

#[test]
fn an_address_is_made_from_the_name_and_is_one_of_its_own() {
    let store = store();
    let cases = [
        ("Letter box", "letter-box"),
        ("Letter box", "letter-box-2"),
        ("  LETTER   box!  ", "letter-box-3"),
        ("../../etc/passwd", "etc-passwd"),
        ("<script>", "script"),
        ("Écrin", "crin"),
        ("箱", "box"),
        ("new", "new-box"),
        ("NUL", "nul-box"),
        ("7 1/2 × 5", "7-1-2-5"),
    ];
    for (name, want) in cases {
        let made = store.create(Kind::Box, name, "x", "new", me()).unwrap();
        assert_eq!(made.slug, want, "{name}");
        assert_eq!(made.name, name.trim());
        assert_eq!(store.document(Kind::Box, want).unwrap(), made);
    }
    let long = store.create(Kind::Box, &"ab ".repeat(60), "x", "new", me()).unwrap();
    assert!(long.slug.len() <= 60, "{}", long.slug);
    // A board may have a box's address: they are at different places.
    assert_eq!(store.create(Kind::Board, "Letter box", "x", "new", me()).unwrap().slug, "letter-box");
}

#[test]
fn a_rename_keeps_the_address_and_the_bin_keeps_everything() {
    let store = store();
    let made = store.create(Kind::Box, "Pen tray", "text", "new", me()).unwrap();
    let renamed = store.rename(made.id, "Brush tray", me()).unwrap();
    assert_eq!((renamed.slug.as_str(), renamed.name.as_str()), ("pen-tray", "Brush tray"));
    store.bin(made.id, me()).unwrap();
    assert!(store.documents(Kind::Box, Shelf::Kept).unwrap().is_empty());
    assert_eq!(store.documents(Kind::Box, Shelf::Bin).unwrap()[0].id, made.id);
    assert_eq!(store.document(Kind::Box, "pen-tray").unwrap().shelf, Shelf::Bin);
    assert_eq!(store.create(Kind::Box, "Pen tray", "x", "new", me()).unwrap().slug, "pen-tray-2");
    store.unbin(made.id, me()).unwrap();
    assert_eq!(store.head(made.id).unwrap().text, "text");
    let lines: Vec<_> = store.history(made.id, 10).unwrap().into_iter().map(|e| (e.what, e.became)).collect();
    let want = [("shelf", "kept"), ("shelf", "bin"), ("name", "Brush tray"), ("made", "Pen tray")];
    assert_eq!(lines, want.map(|(a, b)| (a.to_owned(), b.to_owned())));
}

#[test]
fn a_copy_is_a_document_of_its_own() {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "name = 'Tea box'", "new", me()).unwrap();
    let copy = store.copy(made.id, "Tea box, wide", "name = 'Tea box, wide'", me()).unwrap();
    assert_eq!(copy.copied_from, Some(made.id));
    assert_eq!(store.head(copy.id).unwrap().says, "copy of Tea box");
    store.save(copy.id, copy.head, "changed", "length", me()).unwrap();
    assert_eq!(store.head(made.id).unwrap().text, "name = 'Tea box'");
}

#[test]
fn a_job_is_kept_with_its_history() {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "x", "new", me()).unwrap();
    assert_eq!(store.job(made.id).unwrap().state, JobState::Idea);
    let later = By::new("tablet", Time::seconds(1_795_608_100));
    store.set_job_state(made.id, JobState::Glued, later).unwrap();
    store.set_job_state(made.id, JobState::Glued, later).unwrap();
    store.set_due(made.id, Some(" 2026-12-24"), later).unwrap();
    store.set_customer(made.id, "for a wedding", later).unwrap();
    store.set_due(made.id, None, later).unwrap();
    let job = store.job(made.id).unwrap();
    assert_eq!((job.state, job.due, job.customer.as_str()), (JobState::Glued, None, "for a wedding"));
    let lines: Vec<String> = store
        .history(made.id, 4)
        .unwrap()
        .into_iter()
        .map(|e| format!("{} {}>{} {}", e.what, e.was, e.became, e.by))
        .collect();
    let want = [
        "due 2026-12-24> tablet",
        "customer >for a wedding tablet",
        "due >2026-12-24 tablet",
        "state idea>glued tablet",
    ];
    assert_eq!(lines, want);
    for bad in ["2026-02-30", "24.12.2026", "soon", "", "2026-12", "-000001-01-01"] {
        let error = store.set_due(made.id, Some(bad), later).unwrap_err();
        assert!(matches!(error, Error::NoDate { .. }), "{bad}: {error}");
    }
    let board = store.create(Kind::Board, "B1", "x", "new", me()).unwrap();
    let error = store.set_job_state(board.id, JobState::Done, later).unwrap_err();
    assert_eq!(error.to_string(), "`B1` is a board; this can be done to a box only");
}

#[test]
fn a_folder_holds_one_shop() {
    let store = store();
    assert!(store.shop().unwrap().is_none());
    let shop = store.create(Kind::Shop, "Shop", "[saw]", "first", me()).unwrap();
    assert_eq!(store.create(Kind::Shop, "Another", "", "", me()), Err(Error::ShopIsThere));
    assert_eq!(store.copy(shop.id, "Another", "", me()), Err(Error::ShopIsThere));
    assert_eq!(store.shop().unwrap(), Some(shop));
}

#[test]
fn names_and_texts_have_limits() {
    let store = store();
    for bad in ["", "   ", "---", "\u{0}"] {
        assert_eq!(store.create(Kind::Box, bad, "x", "", me()), Err(Error::NoName), "{bad:?}");
    }
    let long = "a".repeat(MOST_NAME + 1);
    assert!(matches!(store.create(Kind::Box, &long, "x", "", me()), Err(Error::TooLong { .. })));
    let text = "a".repeat(MOST_TEXT + 1);
    assert!(matches!(store.create(Kind::Box, "A", &text, "", me()), Err(Error::TooLong { .. })));
    let made = store.create(Kind::Box, "A", &text[1..], "", me()).unwrap();
    let error = store.save(made.id, made.head, &text, "", me()).unwrap_err();
    assert_eq!(error.to_string(), "the text is 1048577 bytes long; the most is 1048576. Make it shorter");
    // Text is kept as it is, whatever is in it.
    let odd = "a\u{0}b\r\n\u{202e}'; DROP TABLE document; --\u{1f333}";
    let made = store.create(Kind::Box, odd, odd, odd, By::new(odd, Time::seconds(-5))).unwrap();
    assert_eq!(store.head(made.id).unwrap().text, odd);
    assert_eq!(store.document_by_id(made.id).unwrap().name, odd);
    assert_eq!(made.made_at, Time::seconds(0));
}

#[test]
fn lists_carry_jobs_and_texts() {
    let store = store();
    let old = store.create(Kind::Box, "Old", "old", "new", me()).unwrap();
    let new = store.create(Kind::Box, "New one", "new", "new", me()).unwrap();
    store.save(old.id, old.head, "older", "x", By::new("a", Time::seconds(1_795_609_000))).unwrap();
    store.set_job_state(new.id, JobState::Done, me()).unwrap();
    let boxes = store.boxes(Shelf::Kept).unwrap();
    let seen: Vec<_> = boxes.iter().map(|b| (b.document.id, b.head.text.as_str(), b.job.state)).collect();
    assert_eq!(seen, [(old.id, "older", JobState::Idea), (new.id, "new", JobState::Done)]);
}
