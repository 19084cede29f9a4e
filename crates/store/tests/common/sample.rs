//! A store with one of everything, and what must be found in it later, whichever version of the store wrote it.

use keepwright_store::{
    BoardMark, By, JobState, Kind, Mark, NewBoard, NewTick, Paired, PictureKind, Place, Rights, Saved, Shelf,
    Source, Standing, StockState, Store, Time,
};

/// Begins as a picture does; the store does not decode.
const PICTURE: &[u8] = b"\x89PNG\r\n\x1a\na board of cherry";
/// The name of that picture: the SHA-256 of its bytes, as `sha256sum` gives it.
const PICTURE_NAME: &str = "682841b8729080b77008127a3b52c1dfd696b9809a947e69c7f984f85994fbeb.png";

fn at(seconds: i64) -> By<'static> {
    By::new("bench", Time::seconds(1_795_608_000 + seconds))
}

/// Puts one of everything into an empty store.
pub(crate) fn fill(store: &Store) {
    let fails = "the sample is a good one";
    let shop = "keepwright = 1\n[saw]\nkerf = \"1/8\"\n";
    store.create(Kind::Shop, "Shop", shop, "first", at(0)).expect(fails);
    let tea =
        store.create(Kind::Box, "Tea box", "length = \"9 1/4\"\n", "from contents", at(1)).expect(fails);
    let Ok(Saved::Kept(second)) = store.save(tea.id, tea.head, "length = \"9 1/2\"\n", "length", at(2))
    else {
        panic!("{fails}");
    };
    store.save(tea.id, tea.head, "length = \"9\"\n", "length, elsewhere", at(3)).expect(fails);
    store.save(tea.id, second.id, "length = \"10\"\n", "length", at(4)).expect(fails);
    let head = store.head(tea.id).expect(fails);
    store.undo(tea.id, head.id, at(5).at).expect(fails);
    store.set_job_state(tea.id, JobState::Cutting, at(6)).expect(fails);
    store.set_due(tea.id, Some("2026-12-24"), at(7)).expect(fails);
    store.set_customer(tea.id, "for the neighbors", at(8)).expect(fails);
    let copy = store.copy(tea.id, "Tea box, wide", "width = \"8\"\n", at(9)).expect(fails);
    store.bin(copy.id, at(10)).expect(fails);
    let board = |name| store.create(Kind::Board, name, "[[board]]\nwood = \"cherry\"\n", "bought", at(11));
    let boards = ["B1", "B2", "B3"].map(|name| board(name).expect(fails));
    store.mark_board(boards[2].id, BoardMark::Used, at(12)).expect(fails);
    for (title, index) in [("Monday", 0), ("Tuesday", 1)] {
        let run = store.add_run(title, "{\"boxes\":[1]}", at(13).at).expect(fails);
        store.finish_run(run.id, "{\"yield\":0.8}", at(14).at).expect(fails);
        store.reserve(run.id, &[boards[index].id], &[tea.id], at(15)).expect(fails);
        if index == 0 {
            let text = "[[board]]\nlength = \"12\"\n".to_owned();
            let offcut = NewBoard { name: "B1 offcut".to_owned(), text, from: boards[0].id };
            store.consume(run.id, &[offcut], at(16)).expect(fails);
        }
    }
    let press = |token, mark| NewTick {
        token,
        plan: "plan",
        setup: "miters",
        part: "front",
        mark,
        by: "tablet",
        at: at(17).at,
    };
    store.tick(tea.id, &[press("t1", Mark::On), press("t2", Mark::Off), press("t3", Mark::On)]).expect(fails);
    store.set("units", "in").expect(fails);
    let name = store.put_picture(PICTURE, PictureKind::Png, at(18).at).expect(fails);
    store.show_picture(boards[1].id, "front", &name, Some(0.25), at(18).at).expect(fails);
    for code in ["used", "open"] {
        store.offer_pairing(code, Place::Lan, Rights::Look, at(99).at, at(19).at).expect(fails);
    }
    let tablet = Source::Lan("192.168.1.20");
    let paired = store.pair("used", "Tablet", "token", tablet, at(20).at);
    assert!(matches!(paired, Ok(Paired::In(_))), "{paired:?}");
    store.pair("wrong", "Tablet", "token", tablet, at(21).at).expect(fails);
}

/// Finds all of it again, but for who gets in.
pub(crate) fn check(store: &Store) {
    let tea = store.document(Kind::Box, "tea-box").expect("the box");
    let lines = store.versions(tea.id, None, 9).expect("its versions");
    let seen: Vec<_> = lines.iter().map(|line| (line.number, line.says.as_str(), line.standing)).collect();
    let want = [
        (4, "length", Standing::Beside),
        (3, "length, elsewhere", Standing::Beside),
        (2, "length", Standing::Head),
        (1, "from contents", Standing::Past),
    ];
    assert_eq!(seen, want);
    let head = store.head(tea.id).expect("its head");
    assert_eq!((head.text.as_str(), head.redo), ("length = \"9 1/2\"\n", Some(lines[0].id)));
    let job = store.job(tea.id).expect("its job");
    assert_eq!((job.state, job.due.as_deref()), (JobState::Cutting, Some("2026-12-24")));
    assert_eq!(job.customer, "for the neighbors");
    assert_eq!(store.history(tea.id, 99).expect("its history").len(), 4);
    let binned = store.documents(Kind::Box, Shelf::Bin).expect("the bin");
    assert_eq!((binned.len(), binned[0].copied_from), (1, Some(tea.id)));
    assert!(store.shop().expect("a shop").is_some_and(|shop| shop.name == "Shop"));
    let states: Vec<_> = ["b1", "b2", "b3", "b1-offcut"]
        .map(|slug| store.document(Kind::Board, slug).expect("a board").id)
        .map(|id| store.stock(id).expect("its state"))
        .into();
    let want = [StockState::Used, StockState::Reserved, StockState::Used, StockState::Free];
    assert_eq!(states.iter().map(|stock| stock.state).collect::<Vec<_>>(), want);
    assert_eq!(states[3].offcut_of, Some(store.document(Kind::Board, "b1").expect("a board").id));
    let runs = store.runs(9).expect("runs");
    assert_eq!((runs[0].title.as_str(), runs[0].state.word()), ("Tuesday", "accepted"));
    assert_eq!((runs[1].title.as_str(), runs[1].state.word()), ("Monday", "cut"));
    assert_eq!(store.run_boxes(runs[0].id).expect("its boxes"), [tea.id]);
    let ticks = store.ticks(tea.id, "plan").expect("ticks");
    assert_eq!((ticks.len(), ticks[0].mark), (1, Mark::On));
    assert_eq!(store.setting("units").expect("a setting").as_deref(), Some("in"));
    let b2 = store.document(Kind::Board, "b2").expect("a board");
    assert_eq!(store.board_pictures(b2.id).expect("its pictures")[0].picture, PICTURE_NAME);
}

/// Finds the picture's bytes again; a store without its pictures folder, as the kept old ones are, has none.
pub(crate) fn check_picture(store: &Store) {
    assert_eq!(store.picture(PICTURE_NAME).expect("the picture").0, PICTURE);
}

/// Finds who gets in: the same as before, whatever was restored or taken in.
pub(crate) fn check_access(store: &Store) {
    let device = store.device_by_token("token", at(30).at).expect("the devices").expect("the tablet");
    assert_eq!((device.name.as_str(), device.rights), ("Tablet", Rights::Look));
    let again = store.pair("used", "Another", "other", Source::Here, at(30).at);
    assert!(matches!(again, Ok(Paired::Wrong(_))), "{again:?}");
}
