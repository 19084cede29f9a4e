//! Cutting runs go one way: running, done, accepted, cut; or dropped.

use crate::common::{me, store};
use keepwright_store::{Error, RunId, RunState};

#[test]
fn a_run_goes_its_way_and_no_other() {
    let store = store();
    let now = me().at;
    let run = store.add_run(" Two boxes ", "{\"boxes\":2}", now).unwrap();
    assert_eq!((run.title.as_str(), run.state), ("Two boxes", RunState::Running));
    store.note_outcome(run.id, "so far", now.plus(1)).unwrap();
    assert!(matches!(store.reserve(run.id, &[], &[], me()), Err(Error::RunState { .. })));
    let done = store.finish_run(run.id, "best", now.plus(2)).unwrap();
    assert_eq!((done.outcome.as_deref(), done.changed_at), (Some("best"), now.plus(2)));
    assert!(matches!(store.note_outcome(run.id, "late", now), Err(Error::RunState { .. })));
    store.reserve(run.id, &[], &[], me()).unwrap();
    let error = store.drop_run(run.id, now).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the cutting run `Two boxes` is accepted; this can be done only while it is running or done"
    );
    store.release(run.id, me()).unwrap();
    assert_eq!(store.run(run.id).unwrap().state, RunState::Dropped);
    let other = store.add_run("B", "", now).unwrap();
    store.drop_run(other.id, now).unwrap();
    assert_eq!(store.runs(1).unwrap()[0].id, other.id);
    assert_eq!(store.run(RunId::new(99)), Err(Error::NoRun { id: RunId::new(99) }));
}
