//! Backups: made by themselves, rotated, taken back whole.

use keepwright_store::backup::Reason;
use keepwright_store::{Error, Kind, Store, Time};

use crate::common::{me, noon, open, open_at, store};
use crate::{look, sample};

const DAY: i64 = 86_400;

fn names(store: &Store, reason: Reason) -> Vec<String> {
    let backups = store.backups().unwrap().into_iter();
    backups.filter(|backup| backup.reason == reason).map(|backup| backup.name).collect()
}

#[test]
fn a_start_keeps_one_a_day_and_old_ones_go() {
    let folder = tempfile::tempdir().unwrap();
    let mut now = Time::seconds(0);
    for day in 0..60 {
        // 1 October 2026 and on; each day the program is started twice.
        for hour in [8, 14] {
            now = Time::seconds(1_790_812_800 + day * DAY + hour * 3600);
            let store = open_at(folder.path(), now);
            assert_eq!(store.backup_trouble(), None);
        }
    }
    assert_eq!(now.to_string(), "2026-11-29 14:00:00");
    let store = open_at(folder.path(), now);
    // The last seven days, then the last that is left of each week before: their Sundays, and of the week that
    // the seven days begin in nothing is left over, as they begin on its Monday.
    let want = [
        "daily-2026-11-29.sqlite",
        "daily-2026-11-28.sqlite",
        "daily-2026-11-27.sqlite",
        "daily-2026-11-26.sqlite",
        "daily-2026-11-25.sqlite",
        "daily-2026-11-24.sqlite",
        "daily-2026-11-23.sqlite",
        "daily-2026-11-22.sqlite",
        "daily-2026-11-15.sqlite",
        "daily-2026-11-08.sqlite",
        "daily-2026-11-01.sqlite",
    ];
    assert_eq!(names(&store, Reason::Daily), want);
}

#[test]
fn those_asked_for_rotate_by_themselves() {
    let store = store();
    for hour in 0..9 {
        store.backup(noon().plus(hour * 3600)).unwrap();
    }
    // More in one second are more, and the last made is the newest, also when the first of them are gone.
    for _ in 0..6 {
        store.backup(noon().plus(8 * 3600)).unwrap();
    }
    let want = [
        "asked-2026-11-25-200000-7.sqlite",
        "asked-2026-11-25-200000-6.sqlite",
        "asked-2026-11-25-200000-5.sqlite",
        "asked-2026-11-25-200000-4.sqlite",
        "asked-2026-11-25-200000-3.sqlite",
    ];
    assert_eq!(names(&store, Reason::Asked), want);
    // The clock was set back: what is made now is kept nevertheless.
    let made = store.backup(noon().plus(-90 * DAY)).unwrap();
    assert!(names(&store, Reason::Asked).contains(&made.name));
    assert_eq!(names(&store, Reason::Daily), ["daily-2026-11-25.sqlite"], "the day's own stays");
}

#[test]
fn a_file_of_another_name_in_the_folder_is_left_alone() {
    let store = store();
    let folder = store.folder.path().join("backups");
    for name in
        ["mine.sqlite", "daily-notadate.sqlite", "asked-.sqlite", "letter.txt", "daily-2026-11-2é.sqlite"]
    {
        std::fs::write(folder.join(name), "x").unwrap();
    }
    for hour in 0..9 {
        store.backup(noon().plus(hour * 3600)).unwrap();
    }
    assert_eq!(store.backups().unwrap().len(), 6);
    assert!(folder.join("mine.sqlite").exists() && folder.join("letter.txt").exists());
}

#[test]
fn restoring_gives_back_the_exact_state_and_keeps_the_present_one() {
    let store = store();
    let file = store.folder.path().join("shop.sqlite");
    sample::fill(&store);
    let first = look::rows(&file);
    let backup = store.backup(noon()).unwrap();
    // Work goes on.
    let tea = store.document(Kind::Box, "tea-box").unwrap();
    store.save(tea.id, tea.head, "something else", "edit", me()).unwrap();
    store.bin(tea.id, me()).unwrap();
    store.create(Kind::Box, "Pen tray", "x", "new", me()).unwrap();
    store.set("units", "mm").unwrap();
    let second = look::rows(&file);
    assert_ne!(first, second);

    let before = store.restore(&backup.name, noon().plus(60)).unwrap();
    assert_eq!(before.name, "before-restore-2026-11-25-120100.sqlite");
    assert_eq!(look::rows(&file), first);
    sample::check(&store);
    // All connections see it, and it is there after the next start.
    for _ in 0..10 {
        assert_eq!(store.head(tea.id).unwrap().text, "length = \"9 1/2\"\n");
    }
    let folder = store.folder;
    drop(store.store);
    let store = open(folder.path());
    assert_eq!(look::rows(&file), first);
    // And back again.
    store.restore(&before.name, noon().plus(120)).unwrap();
    assert_eq!(look::rows(&file), second);
}

#[test]
fn a_dismissed_device_does_not_come_back_with_a_backup() {
    let store = store();
    sample::fill(&store);
    let backup = store.backup(noon()).unwrap();
    let device = store.devices().unwrap().remove(0);
    store.dismiss(device.id, noon()).unwrap();
    store.withdraw_pairings().unwrap();
    let file = store.folder.path().join("shop.sqlite");
    let now = look::rows(&file);
    store.restore(&backup.name, noon()).unwrap();
    assert_eq!(store.device_by_token("token", noon()).unwrap(), None);
    for table in look::ACCESS {
        assert_eq!(look::rows(&file)[table], now[table], "{table}");
    }
}

#[test]
fn only_a_name_of_the_list_is_restored() {
    let store = store();
    let outside = store.folder.path().join("asked-2026-11-25-130000.sqlite");
    std::fs::copy(store.folder.path().join("backups/daily-2026-11-25.sqlite"), &outside).unwrap();
    for name in ["../asked-2026-11-25-130000.sqlite", "/etc/passwd", "", "shop.sqlite", ".."] {
        assert_eq!(store.restore(name, noon()).unwrap_err(), Error::NoBackup { name: name.to_owned() });
    }
}

#[test]
fn half_a_backup_that_a_kill_left_is_swept_at_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    drop(open(folder.path()));
    let left =
        ["backups/daily-2026-11-26.sqlite.part", "backups/x.sqlite.part-journal", "pictures/a.png.part"];
    for name in left {
        std::fs::write(folder.path().join(name), "half").unwrap();
    }
    let store = open(folder.path());
    for name in left {
        assert!(!folder.path().join(name).exists(), "{name}");
    }
    assert_eq!(store.backups().unwrap().len(), 1);
}

#[test]
fn work_goes_on_while_a_backup_is_made() {
    let store = store();
    let made = store.create(Kind::Box, "Tea box", "0", "new", me()).unwrap();
    std::thread::scope(|scope| {
        let other = store.store.clone();
        let saving = scope.spawn(move || {
            let mut head = made.head;
            for number in 1..100 {
                let saved = other.save(made.id, head, &number.to_string(), "edit", me()).unwrap();
                let keepwright_store::Saved::Kept(version) = saved else { panic!("{saved:?}") };
                head = version.id;
            }
        });
        for _ in 0..10 {
            let backup = store.backup(noon()).unwrap();
            assert_eq!(look::integrity(&store.folder.path().join("backups").join(backup.name)), "ok");
        }
        saving.join().unwrap();
    });
    assert_eq!(store.head(made.id).unwrap().text, "99");
}
