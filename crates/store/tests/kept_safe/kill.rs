//! Killed at any moment: what was acknowledged is there, and at most the one in flight more.

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::Stdio;
use std::thread;
use std::time::Duration;

use keepwright_store::{By, Kind, Saved, Shelf, StockState, Store, Time};

use crate::child;
use crate::common::{me, noon, open_at};
use crate::look;

const ROUNDS: u32 = 200;
const WINDOWS: usize = 3;
const ROUND: &str = "KEEPWRIGHT_TEST_ROUND";

#[test]
fn killed_two_hundred_times_it_loses_nothing_it_acknowledged() {
    if let Some(folder) = child::folder() {
        work(&folder);
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    {
        let store = open_at(folder.path(), noon());
        for window in 0..WINDOWS {
            store.create(Kind::Box, &format!("W{window}"), &text_of(window, 0), "new", me()).unwrap();
            store.create(Kind::Board, &format!("B{window}"), "board", "new", me()).unwrap();
        }
    }
    let mut chance = Chance(0x2545_f491_4f6c_dd1d);
    let mut acknowledged = [0_u64; WINDOWS];
    let mut seen = [0_i64; WINDOWS];
    let mut in_flight = 0;
    for round in 0..ROUNDS {
        for (window, number) in one_round(folder.path(), round, &mut chance) {
            assert_eq!(number, acknowledged[window] + 1, "acknowledged in order");
            acknowledged[window] = number;
        }
        in_flight += after(folder.path(), round, &mut acknowledged, &mut seen);
    }
    let total: u64 = acknowledged.iter().sum();
    println!("{total} saves in {ROUNDS} rounds; {in_flight} were in flight and got through");
    assert!(total > u64::from(ROUNDS), "the load was too small to show anything: {total}");
    everything(folder.path(), acknowledged);
}

/// Starts the other process, kills it at some moment, and gives what it acknowledged: window and number.
fn one_round(folder: &Path, round: u32, chance: &mut Chance) -> Vec<(usize, u64)> {
    let program = std::env::current_exe().unwrap();
    let test = "kill::killed_two_hundred_times_it_loses_nothing_it_acknowledged";
    let mut other = child::again(&program, test, folder)
        .env(ROUND, round.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let out = other.stdout.take().unwrap();
    // Every fourth is killed soon after its start, wherever it is then; the others under load.
    let early = round % 4 == 3;
    let (first, started) = std::sync::mpsc::channel();
    let reader = thread::spawn(move || {
        let mut saved = Vec::new();
        for line in BufReader::new(out).lines().map_while(Result::ok) {
            let Some((window, number)) = line.strip_prefix("saved ").and_then(|rest| rest.split_once(' '))
            else {
                continue;
            };
            // The last line may have been cut short by the kill.
            let Some(number) = number.strip_suffix('.') else { continue };
            saved.push((window.parse().unwrap(), number.parse().unwrap()));
            let _ = first.send(());
        }
        saved
    });
    if !early {
        started.recv_timeout(Duration::from_mins(2)).expect("the other process saves");
    }
    thread::sleep(Duration::from_micros(chance.below(if early { 20_000 } else { 60_000 })));
    other.kill().unwrap(); // SIGKILL
    let status = other.wait().unwrap();
    assert_eq!(status.code(), None, "it was killed; it did not end: {status}");
    reader.join().unwrap()
}

/// Opens the store after a kill and looks: how many saves got through unacknowledged.
fn after(folder: &Path, round: u32, acknowledged: &mut [u64; WINDOWS], seen: &mut [i64; WINDOWS]) -> u64 {
    let store = open_at(folder, day(round));
    assert_eq!(store.backup_trouble(), None);
    let mut in_flight = 0;
    for window in 0..WINDOWS {
        let document = store.document(Kind::Box, &format!("w{window}")).unwrap();
        let head = number_in(&store.head(document.id).unwrap().text);
        let more = head.checked_sub(acknowledged[window]).expect("an acknowledged save is lost");
        assert!(more <= 1, "round {round}: {more} saves that nobody asked for");
        acknowledged[window] = head;
        in_flight += more;
        // Every one since the last round is there with its text.
        let lines = store.versions(document.id, None, usize::MAX).unwrap();
        for line in lines.iter().take_while(|line| line.number > seen[window]) {
            let text = store.version(line.id).unwrap().text;
            assert_eq!(i64::try_from(number_in(&text)).unwrap(), line.number - 1);
            assert_eq!(text, text_of(window, number_in(&text)));
        }
        seen[window] = lines[0].number;
    }
    // Reserving is all or nothing.
    let states: Vec<_> =
        store.boards(Shelf::Kept).unwrap().into_iter().map(|board| board.stock.state).collect();
    assert!(states.windows(2).all(|pair| pair[0] == pair[1]), "round {round}: {states:?}");
    assert_eq!(look::integrity(&folder.join("shop.sqlite")), "ok", "round {round}");
    in_flight
}

/// At the end: all versions, and all backups.
fn everything(folder: &Path, acknowledged: [u64; WINDOWS]) {
    let store = open_at(folder, noon());
    for (window, count) in acknowledged.into_iter().enumerate() {
        let document = store.document(Kind::Box, &format!("w{window}")).unwrap();
        let lines = store.versions(document.id, None, usize::MAX).unwrap();
        assert_eq!(lines.len() as u64, count + 1);
    }
    let mut checked = 0;
    for entry in fs::read_dir(folder.join("backups")).unwrap() {
        let file = entry.unwrap().path();
        assert!(file.extension().is_some_and(|ending| ending == "sqlite"), "{}", file.display());
        assert_eq!(look::integrity(&file), "ok", "{}", file.display());
        checked += 1;
    }
    assert!(checked >= 7, "{checked} backups");
}

/// In the other process: saves as fast as it can from several windows, reserves and releases, and makes backups.
fn work(folder: &Path) {
    let round: u32 = std::env::var(ROUND).unwrap().parse().unwrap();
    println!(); // the test runner has begun a line
    let store = open_at(folder, day(round));
    let boards: Vec<_> = store.boards(Shelf::Kept).unwrap().into_iter().collect();
    let held = boards.iter().find(|board| board.stock.state == StockState::Reserved);
    if let Some(run) = held.and_then(|board| board.stock.run) {
        store.release(run, me()).unwrap();
    }
    let boards: Vec<_> = boards.into_iter().map(|board| board.document.id).collect();
    thread::scope(|scope| {
        for window in 0..WINDOWS {
            let store = &store;
            scope.spawn(move || save_for_ever(store, window));
        }
        scope.spawn(|| {
            loop {
                let run = store.add_run("Run", "{}", noon()).unwrap();
                store.finish_run(run.id, "{}", noon()).unwrap();
                store.reserve(run.id, &boards, &[], me()).unwrap();
                store.release(run.id, me()).unwrap();
                if round.is_multiple_of(5) {
                    store.backup(day(round)).unwrap();
                }
            }
        });
    });
}

fn save_for_ever(store: &Store, window: usize) {
    let document = store.document(Kind::Box, &format!("w{window}")).unwrap();
    let mut head = store.head(document.id).unwrap();
    loop {
        let number = number_in(&head.text) + 1;
        let saved = store.save(document.id, head.id, &text_of(window, number), "edit", By::new("w", noon()));
        let Ok(Saved::Kept(kept)) = saved else { panic!("{saved:?}") };
        head = kept;
        let mut out = std::io::stdout().lock();
        out.write_all(format!("saved {window} {number}.\n").as_bytes()).unwrap();
        out.flush().unwrap();
    }
}

/// The text of a save: its number, and so much more that pages fill unevenly.
fn text_of(window: usize, number: u64) -> String {
    let long = usize::try_from(number * 37 % 1500).unwrap();
    format!("{number} {}", "abc".repeat(long / 3 + window))
}

fn number_in(text: &str) -> u64 {
    text.split(' ').next().unwrap().parse().unwrap()
}

/// Every tenth round is another day, so that the first start of a day is killed too.
fn day(round: u32) -> Time {
    noon().plus(i64::from(round / 10) * 86_400)
}

/// Numbers that look as if by chance, the same each time.
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }
}

#[test]
fn killed_while_restoring_it_has_the_one_state_or_the_other() {
    if let Some(folder) = child::folder() {
        let store = open_at(&folder, noon());
        let mut backups: Vec<String> = store.backups().unwrap().into_iter().map(|b| b.name).collect();
        backups.retain(|name| name.starts_with("asked-"));
        // The other state first, so that there is something to lose.
        if store.document(Kind::Box, "second-0").is_ok() {
            backups.reverse();
        }
        println!("\nrestoring");
        for name in backups.iter().cycle() {
            store.restore(name, noon()).unwrap();
            println!("restored");
        }
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shop.sqlite");
    let mut states = BTreeMap::new();
    {
        let store = open_at(folder.path(), noon());
        for state in ["first", "second"] {
            for number in 0..40 {
                store
                    .create(Kind::Box, &format!("{state} {number}"), &"x".repeat(2000), "new", me())
                    .unwrap();
            }
            let backup = store.backup(noon()).unwrap();
            states.insert(look::rows(&file), backup.name);
        }
    }
    let mut chance = Chance(0x9e37_79b9_7f4a_7c15);
    let mut seen = BTreeMap::new();
    for round in 0..30 {
        let program = std::env::current_exe().unwrap();
        let test = "kill::killed_while_restoring_it_has_the_one_state_or_the_other";
        let mut other = child::again(&program, test, folder.path()).stdout(Stdio::piped()).spawn().unwrap();
        let mut lines = BufReader::new(other.stdout.take().unwrap()).lines().map_while(Result::ok);
        assert!(lines.any(|line| line == "restoring"), "round {round}: it restores");
        thread::sleep(Duration::from_micros(chance.below(150_000)));
        other.kill().unwrap();
        assert_eq!(other.wait().unwrap().code(), None, "it was killed");
        drop(open_at(folder.path(), noon()));
        assert_eq!(look::integrity(&file), "ok", "round {round}");
        let rows = look::rows(&file);
        let state = states.get(&rows).unwrap_or_else(|| panic!("round {round}: neither state"));
        *seen.entry(state).or_insert(0) += 1;
    }
    assert_eq!(seen.len(), 2, "both states were met: {seen:?}");
}
