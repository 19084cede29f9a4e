//! Cutting runs: chosen, run, stopped, given up, accepted, released, cut.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::http::StatusCode;
use common::{Asked, NOW};
use keepwright_store::{By, JobState, Kind, RunId, RunState, Shelf, StockState, Store, Time};
use std::time::Duration;

/// Begins a run; its number.
async fn begun(asked: &Asked, boxes: &[&str], seconds: &str) -> i64 {
    let mut fields: Vec<(&str, &str)> = boxes.iter().map(|b| ("box", *b)).collect();
    let free: Vec<String> = asked
        .store
        .boards(Shelf::Kept)
        .unwrap()
        .into_iter()
        .filter(|b| b.stock.state == StockState::Free)
        .map(|b| b.document.slug)
        .collect();
    fields.extend(free.iter().map(|b| ("board", b.as_str())));
    fields.push(("seconds", seconds));
    let answer = asked.post("/cutting/start", &fields).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
    answer.header("location").rsplit('/').next().unwrap().parse().unwrap()
}

/// Waits until a run is no longer running.
async fn ended(asked: &Asked, run: i64) -> RunState {
    for _ in 0..400 {
        let state = asked.store.run(RunId::new(run)).unwrap().state;
        if state != RunState::Running {
            return state;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("run {run} does not end");
}

fn board_state(asked: &Asked, slug: &str) -> StockState {
    let board = asked.store.document(Kind::Board, slug).unwrap();
    asked.store.stock(board.id).unwrap().state
}

fn box_state(asked: &Asked, slug: &str) -> JobState {
    let document = asked.store.document(Kind::Box, slug).unwrap();
    asked.store.job(document.id).unwrap().state
}

#[tokio::test]
async fn boards_are_ticked_by_the_woods_of_the_boxes() {
    let asked = Asked::demo().await;
    let page = asked.get("/cutting").await.text();
    assert!(page.contains("6 boxes are still to be cut, and 11 boards are free"), "{page}");
    let page = asked.post("/cutting/choose", &[("box", "seed-bowl")]).await.text();
    for (board, want) in [("n1", true), ("c1", true), ("a1", false), ("w1", false)] {
        let field = page.split(&format!("name=\"board\" value=\"{board}\"")).nth(1).unwrap();
        assert_eq!(field.split('>').next().unwrap().contains("checked"), want, "{board}");
    }
}

#[tokio::test]
async fn a_run_without_boxes_or_boards_does_not_begin() {
    let asked = Asked::demo().await;
    for (fields, want) in [
        (vec![("board", "c1")], "No box is chosen"),
        (vec![("box", "pencil-case")], "No free board is chosen"),
        (vec![("box", "nothing"), ("board", "c1")], "No box is chosen"),
    ] {
        let answer = asked.post("/cutting/start", &fields).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text().contains(want), "{fields:?}");
    }
    assert_eq!(asked.store.runs(10).unwrap(), []);
    for run in ["7", "seven", "99999999999999999999"] {
        assert_eq!(asked.get(&format!("/cutting/{run}")).await.status, StatusCode::NOT_FOUND, "{run}");
    }
}

/// From choosing to offcuts in the rack.
#[tokio::test]
async fn a_plan_is_accepted_and_cut() {
    let asked = Asked::demo().await;
    let run = begun(&asked, &["pencil-case", "seed-bowl"], "5").await;
    assert_eq!(ended(&asked, run).await, RunState::Done);
    let page = asked.get(&format!("/cutting/{run}")).await.text();
    assert!(page.contains("Everything comes out of"), "{page}");
    assert!(page.contains("Board N1 with its blanks and cuts") && page.contains("No plan costs less than"));
    assert!(page.contains("Nothing is reserved before you accept it"));
    assert_eq!(board_state(&asked, "n1"), StockState::Free);
    let accepted = asked.post(&format!("/cutting/{run}/accept"), &[]).await;
    assert_eq!(accepted.status, StatusCode::SEE_OTHER, "{}", accepted.text());
    assert_eq!(board_state(&asked, "n1"), StockState::Reserved);
    assert_eq!(box_state(&asked, "seed-bowl"), JobState::Planned);
    let rack = asked.get("/rack").await.text();
    assert!(rack.contains("reserved for ") && rack.contains("Seed bowl"), "{rack}");
    let again = asked.post(&format!("/cutting/{run}/accept"), &[]).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY, "accepted twice");
    let page = asked.get("/boxes/seed-bowl").await.text();
    assert!(page.contains("The accepted layout") && page.contains(&format!("/cutting/{run}")), "{page}");
    assert!(!asked.get("/boxes/tea-caddy").await.text().contains("The accepted layout"));
    // A reserved board is not for others, and not for the bin.
    assert!(!asked.get("/cutting").await.text().contains("value=\"n1\""));
    assert_eq!(asked.post("/rack/n1/bin", &[]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let cut = asked.post(&format!("/cutting/{run}/cut"), &[]).await;
    assert_eq!(cut.status, StatusCode::SEE_OTHER, "{}", cut.text());
    assert_eq!(board_state(&asked, "n1"), StockState::Used);
    assert_eq!(box_state(&asked, "seed-bowl"), JobState::Cutting);
    let boards = asked.store.boards(Shelf::Kept).unwrap();
    let offcuts: Vec<_> = boards.iter().filter(|b| b.stock.offcut_of.is_some()).collect();
    assert!(!offcuts.is_empty());
    for offcut in offcuts {
        let page = asked.get(&format!("/rack/{}", offcut.document.slug)).await.text();
        assert!(page.contains("It is an offcut of") && page.contains("Clear over the whole width"), "{page}");
        assert!(!page.contains("aria-invalid"), "{}", offcut.head.text);
    }
    let used = asked.get("/rack/n1").await.text();
    assert!(used.contains("used for") && used.contains("It left"), "{used}");
}

/// Two of a kind, one of which is used: the other stays free.
#[tokio::test]
async fn of_boards_alike_only_those_cut_are_reserved() {
    let asked = Asked::demo().await;
    let run = begun(&asked, &["stamp-chest"], "5").await;
    ended(&asked, run).await;
    let outcome = asked.store.run(RunId::new(run)).unwrap().outcome.unwrap();
    let used = outcome.matches("\"name\":\"S1\",\"svg\"").count();
    assert_eq!(used, 1, "one of two S1 is cut");
    let accepted = asked.post(&format!("/cutting/{run}/accept"), &[]).await;
    assert_eq!(accepted.status, StatusCode::SEE_OTHER, "{}", accepted.text());
    assert_eq!(board_state(&asked, "s1"), StockState::Reserved);
    assert_eq!(board_state(&asked, "s1-rest"), StockState::Free);
    for slug in ["s1", "s1-rest"] {
        let board = asked.store.document(Kind::Board, slug).unwrap();
        let text = asked.store.head(board.id).unwrap().text;
        assert!(text.contains("count = 1"), "{text}");
    }
    asked.post(&format!("/cutting/{run}/release"), &[]).await;
    assert_eq!(board_state(&asked, "s1"), StockState::Free);
    assert_eq!(asked.store.run(RunId::new(run)).unwrap().state, RunState::Dropped);
}

/// Two plans made at once want the same board: the second to be accepted is told who has it.
#[tokio::test]
async fn two_runs_at_once_cannot_both_have_a_board() {
    let asked = Asked::demo().await;
    let first = begun(&asked, &["pencil-case"], "5").await;
    let second = begun(&asked, &["seed-bowl", "pencil-case"], "5").await;
    assert_eq!(ended(&asked, first).await, RunState::Done);
    assert_eq!(ended(&asked, second).await, RunState::Done);
    assert_eq!(asked.post(&format!("/cutting/{first}/accept"), &[]).await.status, StatusCode::SEE_OTHER);
    let answer = asked.post(&format!("/cutting/{second}/accept"), &[]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says = answer.text();
    assert!(says.contains("cannot be taken") && says.contains("reserved for"), "{says}");
    assert_eq!(asked.store.run(RunId::new(second)).unwrap().state, RunState::Done);
    let of_second = asked.store.run_boards(RunId::new(second)).unwrap();
    assert_eq!(of_second, [], "all or none");
}

/// A board or box that changed after the run: the plan is not for what stands there now.
#[tokio::test]
async fn a_plan_of_what_was_changed_since_is_not_accepted() {
    let asked = Asked::demo().await;
    let run = begun(&asked, &["seed-bowl"], "5").await;
    ended(&asked, run).await;
    let board = asked.store.document(Kind::Board, "n1").unwrap();
    let text = asked.store.head(board.id).unwrap().text.replace("1480 mm", "480 mm");
    asked.store.save(board.id, board.head, &text, "shorter", By::new("test", Time::seconds(NOW))).unwrap();
    let answer = asked.post(&format!("/cutting/{run}/accept"), &[]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text().contains("N1 was changed since this plan was made"), "{}", answer.text());
    assert_eq!(board_state(&asked, "n1"), StockState::Free);
}

/// A search that is far from proved: all boxes together, a minute to look.
const LONG: [&str; 6] = ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

#[tokio::test]
async fn a_run_shows_how_far_it_is_and_is_canceled_in_the_middle() {
    let asked = Asked::demo().await;
    let run = begun(&asked, &LONG, "60").await;
    let mut told = String::new();
    for _ in 0..200 {
        told = asked.get(&format!("/cutting/{run}/progress")).await.text();
        if told.contains("\"facts\":{") {
            break;
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    assert!(told.contains("\"state\":\"running\"") && told.contains("\"seconds\":60"), "{told}");
    assert!(told.contains("\"cost\":\"") && told.contains("\"bound\":\""), "{told}");
    let page = asked.get(&format!("/cutting/{run}")).await.text();
    assert!(page.contains("<noscript><meta http-equiv=\"refresh\"") && page.contains("<progress"), "{page}");
    assert!(asked.get(&format!("/cutting/{run}/best")).await.text().contains("<svg"));
    assert_eq!(
        asked.post(&format!("/cutting/{run}/accept"), &[]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(asked.post(&format!("/cutting/{run}/cancel"), &[]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(ended(&asked, run).await, RunState::Dropped);
    // The thread ends too, and does not bring the run back.
    tokio::time::sleep(Duration::from_millis(600)).await;
    assert_eq!(asked.store.run(RunId::new(run)).unwrap().state, RunState::Dropped);
    assert!(asked.get(&format!("/cutting/{run}/progress")).await.text().contains("\"state\":\"dropped\""));
    assert!(asked.get(&format!("/cutting/{run}")).await.text().contains("given up"));
}

#[tokio::test]
async fn a_run_that_is_stopped_keeps_its_best() {
    let asked = Asked::demo().await;
    let run = begun(&asked, &LONG, "60").await;
    tokio::time::sleep(Duration::from_millis(700)).await;
    assert_eq!(asked.post(&format!("/cutting/{run}/stop"), &[]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(ended(&asked, run).await, RunState::Done);
    let page = asked.get(&format!("/cutting/{run}")).await.text();
    assert!(page.contains("/accept\"") && page.contains("<svg"), "{page}");
}

#[tokio::test]
async fn at_most_four_run_at_once() {
    let asked = Asked::demo().await;
    let mut runs = Vec::new();
    for _ in 0..4 {
        runs.push(begun(&asked, &LONG, "60").await);
    }
    let answer = asked.post("/cutting/start", &[("box", "seed-bowl"), ("board", "n1")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text().contains("4 runs are under way"), "{}", answer.text());
    for run in runs {
        asked.post(&format!("/cutting/{run}/cancel"), &[]).await;
        assert_eq!(ended(&asked, run).await, RunState::Dropped);
    }
}

/// What was running when the program ended is given up at the next start.
#[tokio::test]
async fn a_run_that_the_program_left_behind_is_dropped() {
    let folder = tempfile::tempdir().unwrap();
    let now = Time::seconds(NOW);
    let store = Store::open(folder.path(), now).unwrap();
    keepwright_web::demo::fill(&store, now).unwrap();
    let run = store.add_run("left behind", "{}", now).unwrap();
    drop(store);
    let store = Store::open(folder.path(), now).unwrap();
    assert_eq!(store.run(run.id).unwrap().state, RunState::Dropped);
    let app = keepwright_web::router(keepwright_web::Bench::for_tests(store).unwrap());
    let request = axum::http::Request::get(format!("/cutting/{}", run.id)).header("host", common::HOST);
    let page = common::send(&app, request.body(axum::body::Body::empty()).unwrap()).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text().contains("ended with the program"), "{}", page.text());
}
