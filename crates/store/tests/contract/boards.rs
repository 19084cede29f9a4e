//! Boards: reserved by one run at a time, released, used, offcuts.

use crate::common::{Fresh, me, store};
use keepwright_store::{BoardMark, Document, Error, Kind, NewBoard, RunId, RunState, Shelf, StockState};

struct Rack {
    store: Fresh,
    b1: Document,
    b2: Document,
    tea: Document,
    pen: Document,
}

fn rack() -> Rack {
    let store = store();
    let make = |kind, name| store.create(kind, name, "text", "new", me()).unwrap();
    let (b1, b2) = (make(Kind::Board, "B1"), make(Kind::Board, "B2"));
    let (tea, pen) = (make(Kind::Box, "Tea box"), make(Kind::Box, "Pen tray"));
    Rack { store, b1, b2, tea, pen }
}

impl Rack {
    fn done(&self, title: &str) -> RunId {
        let run = self.store.add_run(title, "{}", me().at).unwrap();
        self.store.finish_run(run.id, "{\"plan\":1}", me().at).unwrap().id
    }

    fn state(&self, board: &Document) -> StockState {
        self.store.stock(board.id).unwrap().state
    }
}

#[test]
fn a_board_that_is_reserved_is_named_with_who_has_it() {
    let rack = rack();
    let (one, two) = (rack.done("Monday"), rack.done("Tuesday"));
    rack.store.reserve(one, &[rack.b2.id, rack.b2.id], &[rack.tea.id, rack.pen.id], me()).unwrap();
    let error = rack.store.reserve(two, &[rack.b1.id, rack.b2.id], &[rack.pen.id], me()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "board `B2` is not free: it is reserved for `Pen tray`, `Tea box` by the cutting run `Monday`. Choose \
         another board, or release that first"
    );
    // All or nothing: the first board was not kept for the run that failed.
    assert_eq!(rack.state(&rack.b1), StockState::Free);
    assert_eq!(rack.store.run(two).unwrap().state, RunState::Done);
    assert!(rack.store.run_boxes(two).unwrap().is_empty());
    assert!(matches!(rack.store.bin(rack.b2.id, me()), Err(Error::BoardTaken { .. })));
    let mark = rack.store.mark_board(rack.b2.id, BoardMark::Free, me());
    assert!(matches!(mark, Err(Error::BoardTaken { .. })));
    rack.store.release(one, me()).unwrap();
    rack.store.reserve(two, &[rack.b1.id, rack.b2.id], &[rack.pen.id], me()).unwrap();
    assert_eq!(rack.store.run_boards(two).unwrap(), [rack.b1.id, rack.b2.id]);
    assert_eq!(rack.store.run_boxes(two).unwrap(), [rack.pen.id]);
}

#[test]
fn a_cut_run_uses_its_boards_and_gives_offcuts() {
    let rack = rack();
    let run = rack.done("Monday");
    rack.store.reserve(run, &[rack.b1.id], &[rack.tea.id], me()).unwrap();
    let offcut = |from: &Document, name: &str| NewBoard {
        name: name.to_owned(),
        text: "short".to_owned(),
        from: from.id,
    };
    let strange = [offcut(&rack.b1, "B1 a"), offcut(&rack.b2, "B2 a")];
    let error = rack.store.consume(run, &strange, me()).unwrap_err();
    assert!(matches!(error, Error::StrangeOffcut { .. }), "{error}");
    assert_eq!(rack.store.boards(Shelf::Kept).unwrap().len(), 2, "nothing was added");
    let made = rack.store.consume(run, &[offcut(&rack.b1, "B1 a")], me()).unwrap();
    assert_eq!(rack.state(&rack.b1), StockState::Used);
    let stock = rack.store.stock(made[0].id).unwrap();
    assert_eq!((stock.state, stock.offcut_of), (StockState::Free, Some(rack.b1.id)));
    assert_eq!(rack.store.offcuts(rack.b1.id).unwrap(), [made[0].id]);
    assert_eq!(rack.store.head(made[0].id).unwrap().says, "offcut of Monday");
    let lines: Vec<_> = rack.store.history(rack.b1.id, 9).unwrap().into_iter().map(|e| e.became).collect();
    assert_eq!(lines, ["used by Monday", "reserved by Monday", "B1"]);
    let again = rack.store.consume(run, &[], me()).unwrap_err();
    assert_eq!(
        again.to_string(),
        "the cutting run `Monday` is cut; this can be done only while it is accepted"
    );
    let error = rack.store.reserve(rack.done("Tuesday"), &[rack.b1.id], &[], me()).unwrap_err();
    assert!(error.to_string().contains("it is used for `Tea box` by the cutting run `Monday`"), "{error}");
}

#[test]
fn a_board_in_the_bin_or_no_board_cannot_be_reserved() {
    let rack = rack();
    let run = rack.done("Monday");
    rack.store.bin(rack.b1.id, me()).unwrap();
    let error = rack.store.reserve(run, &[rack.b1.id], &[], me()).unwrap_err();
    assert!(error.to_string().contains("`B1` is not free: it is in the bin"), "{error}");
    let error = rack.store.reserve(run, &[rack.tea.id], &[], me()).unwrap_err();
    assert_eq!(error.to_string(), "`Tea box` is a box; this can be done to a board only");
    rack.store.mark_board(rack.b2.id, BoardMark::Used, me()).unwrap();
    let error = rack.store.reserve(run, &[rack.b2.id], &[], me()).unwrap_err();
    assert!(error.to_string().contains("`B2` is not free: it is used."), "{error}");
    rack.store.mark_board(rack.b2.id, BoardMark::Free, me()).unwrap();
    rack.store.reserve(run, &[rack.b2.id], &[], me()).unwrap();
}

#[test]
fn of_two_runs_that_want_one_board_at_once_one_gets_it() {
    let rack = rack();
    let runs = [rack.done("Monday"), rack.done("Tuesday")];
    let got: Vec<bool> = std::thread::scope(|scope| {
        let tries: Vec<_> = runs
            .iter()
            .map(|&run| {
                let (store, board) = (rack.store.store.clone(), rack.b1.id);
                scope.spawn(move || store.reserve(run, &[board], &[], me()).is_ok())
            })
            .collect();
        tries.into_iter().map(|each| each.join().unwrap()).collect()
    });
    assert_eq!(got.iter().filter(|&&got| got).count(), 1, "{got:?}");
}
