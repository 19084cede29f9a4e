//! The archive: out and in again without loss; and every way we know to slip something in, refused.

use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};
use std::path::PathBuf;

use keepwright_store::archive::{ArchiveError, Limits};
use keepwright_store::{Kind, Store};
use rusqlite::Connection;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

use crate::common::{Fresh, me, noon, store};
use crate::{look, sample};

/// A shop with one of everything, as an archive.
fn sample_archive() -> Vec<u8> {
    let store = store();
    sample::fill(&store);
    written(&store)
}

fn written(store: &Store) -> Vec<u8> {
    store.write_archive(Cursor::new(Vec::new()), noon()).unwrap().into_inner()
}

/// What an archive holds, in order.
fn unpacked(archive: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = ZipArchive::new(Cursor::new(archive)).unwrap();
    (0..archive.len())
        .map(|index| {
            let mut file = archive.by_index(index).unwrap();
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).unwrap();
            (file.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

fn packed(files: &[(String, Vec<u8>)]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        archive.start_file(name.as_str(), SimpleFileOptions::default()).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

/// A shop that must stay as it is, in a folder inside another.
struct Victim {
    shop: Fresh,
    rows: BTreeMap<String, Vec<String>>,
    files: BTreeMap<PathBuf, Vec<u8>>,
}

impl Victim {
    fn new() -> Self {
        let shop = store();
        shop.create(Kind::Box, "Mine", "mine", "new", me()).unwrap();
        let rows = look::rows(&shop.folder.path().join("shop.sqlite"));
        let files = look::files(shop.folder.path());
        Self { shop, rows, files }
    }

    /// Takes an archive in, which must be refused; what is said.
    fn refuses(&self, archive: &[u8], limits: Limits) -> String {
        let taken = self.shop.read_archive(Cursor::new(archive), limits, noon());
        let error = taken.expect_err("it must be refused");
        assert_eq!(look::rows(&self.shop.folder.path().join("shop.sqlite")), self.rows, "{error}");
        assert_eq!(look::files(self.shop.folder.path()), self.files, "{error}");
        error.to_string()
    }

    fn refuses_files(&self, files: &[(String, Vec<u8>)]) -> String {
        self.refuses(&packed(files), Limits::usual())
    }
}

#[test]
fn a_shop_goes_out_and_comes_in_again_whole() {
    let from = store();
    sample::fill(&from);
    let archive = written(&from);
    let names: Vec<String> = unpacked(&archive).into_iter().map(|(name, _)| name).collect();
    let want = [
        "README.txt",
        "shop.sqlite",
        "boards/b1-offcut.toml",
        "boards/b1.toml",
        "boards/b2.toml",
        "boards/b3.toml",
        "boxes/tea-box.toml",
        "shop.toml",
    ];
    assert_eq!(names[..8], want);
    assert!(names.len() == 9 && names[8].starts_with("pictures/"), "{names:?}");

    let to = store();
    to.create(Kind::Box, "Was here", "before", "new", me()).unwrap();
    let before = to.read_archive(Cursor::new(&archive), Limits::usual(), noon()).unwrap();
    let file = |store: &Fresh| store.folder.path().join("shop.sqlite");
    assert_eq!(look::rows_without_access(&file(&to)), look::rows_without_access(&file(&from)));
    sample::check(&to);
    sample::check_picture(&to);
    // What was there is not lost.
    to.restore(&before.name, noon()).unwrap();
    assert_eq!(to.document(Kind::Box, "was-here").unwrap().name, "Was here");
    // And into itself: who gets in stays too.
    from.read_archive(Cursor::new(&archive), Limits::usual(), noon()).unwrap();
    sample::check(&from);
    sample::check_access(&from);
}

#[test]
fn an_archive_lets_nobody_in_and_tells_nobody_who_does() {
    let archive = sample_archive();
    let (_, database) = unpacked(&archive).remove(1);
    for secret in ["Tablet", "192.168.1.20"] {
        let found = database.windows(secret.len()).any(|bytes| bytes == secret.as_bytes());
        assert!(!found, "{secret} travels");
    }
    // One made by hand, with a device of the attacker's in it.
    let folder = tempfile::tempdir().unwrap();
    let evil = folder.path().join("evil.sqlite");
    std::fs::write(&evil, database).unwrap();
    look::database(&evil)
        .execute_batch(
            "INSERT INTO device (name, token_hash, place, rights, paired_at, last_seen)
             VALUES ('Evil', x'00', 'here', 'full', 0, 0)",
        )
        .unwrap();
    let mut files = unpacked(&archive);
    files[1].1 = std::fs::read(&evil).unwrap();
    let shop = store();
    shop.read_archive(Cursor::new(packed(&files)), Limits::usual(), noon()).unwrap();
    assert!(shop.devices().unwrap().is_empty());
}

#[test]
fn names_that_lead_elsewhere_are_refused() {
    let victim = Victim::new();
    let cases = [
        ("../outside.toml", "leads out of the archive"),
        ("boxes/../../out.toml", "leads out of the archive"),
        ("boxes/..", "leads out of the archive"),
        ("/etc/outside", "is the path of another place"),
        ("C:/outside.toml", "is the path of another place"),
        ("..\\outside.toml", "has a backslash in its name"),
        ("boxes\\a.toml", "has a backslash in its name"),
        ("boxes/A.toml", "is no file of a shop"),
        ("boxes/.toml", "is no file of a shop"),
        ("boxes/a/b.toml", "is no file of a shop"),
        ("boxes/a.toml\0.png", "is no file of a shop"),
        ("evil.sh", "is no file of a shop"),
        ("backups/daily-2026-11-25.sqlite", "is no file of a shop"),
        ("shop.sqlite-wal", "is no file of a shop"),
        ("SHOP.SQLITE", "is no file of a shop"),
        ("pictures/a.svg", "is no picture of a shop"),
        ("pictures/x.html", "is no picture of a shop"),
    ];
    let good = unpacked(&sample_archive());
    for (name, want) in cases {
        // The writer may mend such names, so a name of the same length is written and then replaced.
        let place = "z".repeat(name.len());
        let mut files = good.clone();
        files.push((place.clone(), b"x".to_vec()));
        let archive = replaced(packed(&files), place.as_bytes(), name.as_bytes());
        let said = victim.refuses(&archive, Limits::usual());
        assert!(said.contains(want), "{name}: {said}");
    }
}

/// Bytes with one string replaced by another of the same length, at its two places: beside the file and in the
/// list of files.
fn replaced(mut bytes: Vec<u8>, from: &[u8], to: &[u8]) -> Vec<u8> {
    let places: Vec<usize> =
        (0..=bytes.len() - from.len()).filter(|&at| &bytes[at..at + from.len()] == from).collect();
    assert_eq!(places.len(), 2, "the name stands at two places");
    for at in places {
        bytes[at..at + to.len()].copy_from_slice(to);
    }
    bytes
}

#[test]
fn links_and_things_that_are_no_files_are_refused() {
    let victim = Victim::new();
    let mut archive = ZipWriter::new_append(Cursor::new(sample_archive())).unwrap();
    archive.add_symlink("boxes/link.toml", "/etc/passwd", SimpleFileOptions::default()).unwrap();
    let said = victim.refuses(&archive.finish().unwrap().into_inner(), Limits::usual());
    assert!(said.starts_with("`boxes/link.toml` in the archive is a link or a device, not a file"), "{said}");
    // A picture by name that is something else.
    for bytes in [b"<script>alert(1)</script>".as_slice(), b"\x89PNG\r\n\x1a\nother bytes", b""] {
        let mut files = unpacked(&sample_archive());
        files[8].1 = bytes.to_vec();
        let said = victim.refuses_files(&files);
        assert!(said.contains("is another picture than its name says"), "{said}");
    }
}

#[test]
fn bombs_are_refused_before_they_fill_the_disk() {
    let victim = Victim::new();
    // 64 MiB of zeros in the database's place: packs 1,000 to 1.
    let mut files = unpacked(&sample_archive());
    files[1].1 = vec![0; 64 << 20];
    let bomb = packed(&files);
    assert!(bomb.len() < 300_000, "{}", bomb.len());
    let said = victim.refuses(&bomb, Limits::usual());
    assert!(said.starts_with("`shop.sqlite` in the archive unpacks to more than 400 times"), "{said}");
    // The same with a list of files that tells a small size: what comes out is counted, not what is told.
    let told = replaced(bomb, &(64_u32 << 20).to_le_bytes(), &1000_u32.to_le_bytes());
    victim.refuses(&told, Limits::usual());
    // A text that is larger than any text.
    let mut files = unpacked(&sample_archive());
    files[6].1 = (0..3_u32 << 18).flat_map(|n| n.wrapping_mul(2_654_435_761).to_le_bytes()).collect();
    let said = victim.refuses_files(&files);
    assert!(said.contains("`boxes/tea-box.toml` in the archive is larger than any such file"), "{said}");
    // In all more than allowed; too many files.
    let small = Limits { bytes: 50_000, ..Limits::usual() };
    let said = victim.refuses(&sample_archive(), small);
    assert_eq!(said, "the archive unpacks to more than 50000 bytes. The shop is unchanged");
    let few = Limits { entries: 8, ..Limits::usual() };
    let said = victim.refuses(&sample_archive(), few);
    assert_eq!(said, "the archive holds 9 files; the most is 8. The shop is unchanged");
}

/// The sample's archive with its database changed by hand.
fn with_database(change: impl FnOnce(&Connection)) -> Vec<(String, Vec<u8>)> {
    let mut files = unpacked(&sample_archive());
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("changed.sqlite");
    std::fs::write(&file, &files[1].1).unwrap();
    let db = look::database(&file);
    change(&db);
    drop(db);
    files[1].1 = std::fs::read(&file).unwrap();
    files
}

#[test]
fn a_database_that_is_not_sound_is_refused() {
    let victim = Victim::new();
    let run = |sql: &'static str| {
        with_database(move |db| db.execute_batch(sql).unwrap_or_else(|error| panic!("{sql}: {error}")))
    };
    let cases = [
        ("PRAGMA user_version = 99", "written by a newer Keepwright (its store is of version 99"),
        ("PRAGMA application_id = 1", "it is not the database of a Keepwright shop"),
        ("CREATE TABLE more (x)", "it declares other tables than its version has"),
        (
            "CREATE TRIGGER evil AFTER INSERT ON version BEGIN DELETE FROM version; END",
            "it declares other tables than its version has",
        ),
        ("CREATE VIEW v AS SELECT 1", "it declares other tables than its version has"),
        ("DROP TABLE setting", "it declares other tables than its version has"),
        (
            "PRAGMA foreign_keys = OFF; UPDATE stock SET offcut_of = 999 WHERE offcut_of IS NOT NULL",
            "a row of `stock` refers to one that is not there",
        ),
        (
            "PRAGMA ignore_check_constraints = ON; UPDATE job SET state = 'sold'",
            "CHECK constraint failed in job",
        ),
    ];
    for (sql, want) in cases {
        let said = victim.refuses_files(&run(sql));
        assert!(said.starts_with("`shop.sqlite` cannot be taken: ") && said.contains(want), "{sql}: {said}");
    }
    let mut files = unpacked(&sample_archive());
    let length = files[1].1.len();
    files[1].1[4096..length / 2].fill(0xa5);
    let said = victim.refuses_files(&files);
    assert!(said.contains("it is damaged"), "{said}");
    for bytes in [b"not a database at all".to_vec(), Vec::new()] {
        let mut files = unpacked(&sample_archive());
        files[1].1 = bytes;
        let said = victim.refuses_files(&files);
        assert!(said.starts_with("`shop.sqlite` cannot be taken: "), "{said}");
    }
    let mut files = unpacked(&sample_archive());
    files.remove(1);
    let said = victim.refuses_files(&files);
    assert!(said.starts_with("there is no `shop.sqlite` in the archive"), "{said}");
}

#[test]
fn texts_that_the_database_does_not_have_are_refused() {
    let victim = Victim::new();
    let all = unpacked(&sample_archive());
    let mut changed = all.clone();
    changed[6].1 = b"length = \"99\"".to_vec();
    assert!(victim.refuses_files(&changed).contains("boxes/tea-box.toml"));
    let mut more = all.clone();
    more.push(("boxes/strange.toml".to_owned(), b"x".to_vec()));
    assert!(victim.refuses_files(&more).contains("the database does not know it"));
    for missing in [2, 6, 7, 8] {
        let mut less = all.clone();
        less.remove(missing);
        assert!(victim.refuses_files(&less).contains("it is missing"), "{missing}");
    }
}

#[test]
fn what_is_no_archive_is_refused() {
    let victim = Victim::new();
    let good = sample_archive();
    for bytes in [b"".as_slice(), b"PK", b"a letter", &good[..good.len() / 2], &good[good.len() / 2..]] {
        let said = victim.refuses(bytes, Limits::usual());
        assert!(said.contains("The shop is unchanged"), "{said}");
    }
    let error = victim.shop.read_archive(Cursor::new(b"a letter"), Limits::usual(), noon()).unwrap_err();
    assert!(matches!(error, ArchiveError::NotAnArchive { .. }), "{error}");
    // Any one byte changed: taken whole or refused, never a panic, never half.
    for at in (0..good.len()).step_by(good.len() / 40) {
        let mut bad = good.clone();
        bad[at] ^= 0x55;
        let shop = store();
        if shop.read_archive(Cursor::new(&bad), Limits::usual(), noon()).is_ok() {
            sample::check(&shop);
        }
    }
}
