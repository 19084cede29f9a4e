//! Ticks, settings and pictures.

use crate::common::{me, noon, store};
use keepwright_store::{Error, Kind, Mark, NewTick, PictureKind, Ticked};

/// The smallest things that begin as pictures do; the store does not decode.
const PNG: &[u8] = b"\x89PNG\r\n\x1a\nrest";
const JPEG: &[u8] = b"\xff\xd8\xff\xe0rest";

#[test]
fn a_tick_sent_twice_counts_once_and_late_ones_do_not_undo_later_ones() {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "x", "new", me()).unwrap();
    let press = |token, mark, at| NewTick {
        token,
        plan: "p1",
        setup: "s1",
        part: "front",
        mark,
        by: "tablet",
        at: noon().plus(at),
    };
    let first = [press("a", Mark::On, 0), press("b", Mark::Off, 5)];
    assert_eq!(store.tick(made.id, &first).unwrap(), [Ticked::New, Ticked::New]);
    assert_eq!(store.tick(made.id, &first).unwrap(), [Ticked::Known, Ticked::Known]);
    let mark = || store.ticks(made.id, "p1").unwrap()[0].mark;
    assert_eq!(mark(), Mark::Off);
    // One that was pressed between the two and waited for the network.
    store.tick(made.id, &[press("c", Mark::On, 3)]).unwrap();
    assert_eq!(mark(), Mark::Off);
    store.tick(made.id, &[press("d", Mark::On, 5)]).unwrap();
    assert_eq!(mark(), Mark::On);
    assert_eq!(store.ticks(made.id, "p1").unwrap().len(), 1);
    assert!(store.ticks(made.id, "p2").unwrap().is_empty(), "a changed plan begins empty");
    let long = "x".repeat(201);
    let bad = [press("e", Mark::Off, 9), NewTick { part: &long, ..press("f", Mark::Off, 9) }];
    assert!(matches!(store.tick(made.id, &bad), Err(Error::TooLong { .. })));
    assert_eq!(mark(), Mark::On, "all or none");
}

#[test]
fn ticks_of_every_plan_of_a_box_are_told_the_latest_first() {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "x", "new", me()).unwrap();
    let other = store.create(Kind::Box, "Pen box", "x", "new", me()).unwrap();
    let press = |token, plan, part, mark, at| NewTick {
        token,
        plan,
        setup: "s1",
        part,
        mark,
        by: "tablet",
        at: noon().plus(at),
    };
    let presses = [
        press("a", "p1", "front", Mark::On, 0),
        press("b", "p2", "front", Mark::On, 5),
        press("c", "p2", "front", Mark::Off, 7),
        press("d", "p1", "back", Mark::On, 9),
    ];
    store.tick(made.id, &presses).unwrap();
    store.tick(other.id, &[press("e", "p1", "front", Mark::On, 20)]).unwrap();
    let all: Vec<_> =
        store.all_ticks(made.id).unwrap().into_iter().map(|t| (t.plan, t.tick.part, t.tick.mark)).collect();
    let want = [("p1", "back", Mark::On), ("p2", "front", Mark::Off), ("p1", "front", Mark::On)];
    assert_eq!(all, want.map(|(plan, part, mark)| (plan.to_owned(), part.to_owned(), mark)));
    let board = store.create(Kind::Board, "B1", "x", "new", me()).unwrap();
    assert!(matches!(store.all_ticks(board.id), Err(Error::WrongKind { .. })));
}

#[test]
fn settings_are_set_and_forgotten() {
    let store = store();
    assert_eq!(store.setting("units").unwrap(), None);
    store.set("units", "in").unwrap();
    store.set("units", "mm").unwrap();
    store.set("fold", "").unwrap();
    assert_eq!(store.setting("units").unwrap().as_deref(), Some("mm"));
    assert_eq!(store.settings().unwrap().len(), 2);
    store.unset("units").unwrap();
    assert_eq!(store.setting("units").unwrap(), None);
    assert!(matches!(store.set("a", &"x".repeat(65_537)), Err(Error::TooLong { .. })));
}

#[test]
fn a_picture_is_known_by_its_bytes() {
    let store = store();
    let board = store.create(Kind::Board, "B1", "x", "new", me()).unwrap();
    let name = store.put_picture(PNG, PictureKind::Png, noon()).unwrap();
    assert_eq!(store.put_picture(PNG, PictureKind::Png, noon()).unwrap(), name);
    assert_eq!(store.picture(&name).unwrap(), (PNG.to_vec(), PictureKind::Png));
    let other = store.put_picture(JPEG, PictureKind::Jpeg, noon()).unwrap();
    store.show_picture(board.id, "front", &name, None, noon()).unwrap();
    store.show_picture(board.id, "front", &other, Some(0.25), noon()).unwrap();
    store.show_picture(board.id, "back", &name, Some(0.5), noon()).unwrap();
    let shown: Vec<_> = store
        .board_pictures(board.id)
        .unwrap()
        .into_iter()
        .map(|shown| (shown.face, shown.picture, shown.mm_per_pixel))
        .collect();
    let want = [("back".into(), name.clone(), Some(0.5)), ("front".into(), other, Some(0.25))];
    assert_eq!(shown, want);
    store.hide_picture(board.id, "back").unwrap();
    assert_eq!(store.board_pictures(board.id).unwrap().len(), 1);
    assert!(store.picture(&name).is_ok(), "the picture itself stays");
}

#[test]
fn what_is_no_picture_is_refused() {
    let store = store();
    let board = store.create(Kind::Board, "B1", "x", "new", me()).unwrap();
    for (bytes, kind) in [
        (b"<svg onload=alert(1)>".as_slice(), PictureKind::Png),
        (b"", PictureKind::Jpeg),
        (PNG, PictureKind::Jpeg),
        (JPEG, PictureKind::Png),
    ] {
        let error = store.put_picture(bytes, kind, noon()).unwrap_err();
        assert!(matches!(error, Error::Picture { .. }), "{error}");
    }
    let sum = "0".repeat(64);
    for name in [
        "../shop.sqlite".to_owned(),
        "/etc/passwd".to_owned(),
        format!("../pictures/{sum}.png"),
        format!("{sum}.svg"),
        format!("{sum}.png/../../shop.sqlite"),
        format!("{sum}.png"),
        format!("{}.png", "A".repeat(64)),
        String::new(),
    ] {
        assert!(matches!(store.picture(&name), Err(Error::NoPicture { .. })), "{name}");
        let shown = store.show_picture(board.id, "front", &name, None, noon());
        assert!(matches!(shown, Err(Error::NoPicture { .. })), "{name}");
    }
    let name = store.put_picture(PNG, PictureKind::Png, noon()).unwrap();
    for scale in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(store.show_picture(board.id, "front", &name, Some(scale), noon()).is_err(), "{scale}");
    }
}
