//! The real binary on good and bad input: what it says, where it says it, and its exit code.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in its own scene")]

use std::ffi::OsStr;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const BOX: &str = "keepwright = 1\nname = \"Tin\"\n[size]\noutside = { length = 200, depth = 120, height = 70 }\n\
                   [walls]\nwood = \"cherry\"\nthickness = 10\n";

/// A folder of its own for one test, taken away at the end.
struct Bench(PathBuf);

impl Bench {
    fn new(name: &str) -> Self {
        let place = std::env::temp_dir().join(format!("keepwright-cli-{}-{name}", std::process::id()));
        fs::create_dir_all(&place).unwrap();
        Self(place)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, text).unwrap();
        path
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn run<I: IntoIterator<Item = S>, S: AsRef<OsStr>>(args: I) -> Output {
    Command::new(env!("CARGO_BIN_EXE_keepwright")).args(args).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn data(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    path.to_string_lossy().into_owned()
}

fn job(command: &str, name: &str) -> Vec<String> {
    let mut args = vec![command.to_owned(), example(name)];
    args.extend(["--rack".into(), example("rack.toml"), "--shop".into(), example("shop.toml")]);
    args.extend(["--today".into(), "2026-11-25".into()]);
    args
}

struct Case {
    name: &'static str,
    text: String,
    says: &'static [&'static str],
}

fn bad_statements() -> Vec<Case> {
    let with = |more: &str| format!("{BOX}{more}");
    let swap = |from: &str, to: &str| BOX.replace(from, to);
    vec![
        Case {
            name: "wall thicker than half the box",
            text: swap("thickness = 10", "thickness = 65"),
            says: &["walls 65.0 mm thick leave no inside", "make them thinner than 59.0 mm", ":7:"],
        },
        Case {
            name: "key deeper than the corner",
            text: with("[corners]\njoint = \"keyed miter\"\ndepth = 15\n"),
            // √2 · 10 mm along the diagonal, less 1.5 mm of skin.
            says: &["a key 15.0 mm deep breaks through the corner", "14.1 mm", "at most 12.6 mm", ":10:9:"],
        },
        Case {
            name: "negative",
            text: swap("length = 200", "length = \"-200 mm\""),
            says: &["below zero", ":4:"],
        },
        Case { name: "not a number", text: swap("length = 200", "length = nan"), says: &["nan", ":4:22:"] },
        Case { name: "infinite", text: swap("length = 200", "length = -inf"), says: &["-inf", ":4:22:"] },
        Case { name: "1e300", text: swap("length = 200", "length = 1e300"), says: &["10 m", ":4:22:"] },
        Case {
            name: "1e300 mm in quotes",
            text: swap("length = 200", "length = \"1e300 mm\""),
            says: &["`1e300 mm` is longer than 10 m", ":4:22:"],
        },
        Case {
            name: "a fraction over nothing",
            text: swap("length = 200", "length = \"1/0\""),
            says: &["1/0", ":4:22:"],
        },
        Case {
            name: "no unit, beyond ASCII",
            text: swap("length = 200", "length = \"é200 qq\""),
            says: &["not a unit of length", ":4:22:"],
        },
        Case {
            name: "brackets without end",
            text: format!("a = {}", "[".repeat(200_000)),
            says: &["recursion depth", ":1:"],
        },
        Case { name: "empty file", text: String::new(), says: &["`keepwright` is missing", ":1:1:"] },
        Case {
            name: "unknown wood",
            text: swap("\"cherry\"", "\"chery\""),
            says: &["chery", "did you mean", "cherry", ":6:8:"],
        },
        Case {
            name: "two sizes",
            text: swap("[walls]", "inside = { length = 1, depth = 1, height = 1 }\n[walls]"),
            says: &["both state the size", ":5:"],
        },
        Case {
            name: "a tray higher than its box",
            text: with("[inside.tray]\nheight = 90\n"),
            says: &["the tray with its bearers needs", "of height and the walls have", ":9:10:"],
        },
        Case {
            name: "a lid that leaves no box",
            text: with("[lid]\nkind = \"sawn\"\nheight = 68\n"),
            says: &["the box below a sawn-off lid needs", ":10:10:"],
        },
        Case {
            name: "ten thousand boxes",
            text: swap("[size]", "count = 10000\n[size]"),
            says: &["5000", ":3:"],
        },
        Case {
            name: "unknown key",
            text: swap("thickness", "thicknes"),
            says: &["thicknes", "thickness", ":7:"],
        },
        Case { name: "no TOML", text: "keepwright = = 1".into(), says: &[":1:"] },
    ]
}

/// Every bad statement ends in exit code 2, says nothing on standard output, and points at its place.
#[test]
fn bad_statements_are_refused_at_their_place() {
    let bench = Bench::new("bad");
    for case in bad_statements() {
        let file = bench.file("box.toml", &case.text);
        let output = run([OsStr::new("check"), file.as_os_str()]);
        let talk = said(&output);
        assert_eq!(output.status.code(), Some(2), "{}: {talk}", case.name);
        assert!(output.stdout.is_empty(), "{}", case.name);
        assert!(talk.contains('^'), "{}: no caret in\n{talk}", case.name);
        for part in case.says {
            assert!(talk.contains(part), "{}: `{part}` is not in\n{talk}", case.name);
        }
    }
}

#[test]
fn bad_files_are_refused_before_they_are_read() {
    let bench = Bench::new("files");
    let large = bench.0.join("large.toml");
    fs::File::create(&large).unwrap().set_len(50 * 1024 * 1024).unwrap();
    let binary = bench.file("binary.toml", b"keepwright = 1\nname = \"\xff\xfe\"\n");
    let nowhere = bench.0.join("nowhere.toml");
    for (name, path, says) in [
        // The size itself is named: the file was measured, not read.
        ("50 MB", &large, "52428800 bytes"),
        ("not UTF-8", &binary, ":2:"),
        ("not there", &nowhere, "nowhere.toml"),
        ("a folder", &bench.0, "folder"),
    ] {
        let output = run([OsStr::new("check"), path.as_os_str()]);
        assert_eq!(output.status.code(), Some(2), "{name}: {}", said(&output));
        assert!(said(&output).contains(says), "{name}: {}", said(&output));
        assert!(output.stdout.is_empty(), "{name}: {}", data(&output));
    }
    for count in ["10000", "0", "-1"] {
        let many = run(["check", &example("stamp-chest.toml"), "--count", count]);
        assert_eq!(many.status.code(), Some(2), "{count}");
        assert!(said(&many).contains(&format!("{count} is not in 1..=5000")), "{}", said(&many));
    }
}

#[test]
fn a_rack_that_cannot_do_it_says_what_is_short() {
    let bench = Bench::new("rack");
    let file = bench.file("box.toml", BOX);
    let board =
        "[[board]]\nwood = \"cherry\"\nsurface = \"surfaced\"\nlength = 2000\nwidth = 150\nprice = 10\n";
    let thin = bench.file("thin.toml", format!("keepwright = 1\n{board}thickness = 8\n"));
    let empty = bench.file("empty.toml", "keepwright = 1\n");
    // 10 mm walls, 0.2 mm sanded off the faces, 0.5 mm for the last pass: 10.7 mm at least.
    for (name, rack, says) in [
        (
            "board thinner than its part",
            &thin,
            "thick enough for left, front, right, back: the thickest gives 8.0 mm",
        ),
        ("empty rack", &empty, "There is no black cherry on the rack for left, front, right, back."),
    ] {
        let fail = ["--fail-on", "cannot"].map(OsStr::new);
        let [command, flag] = ["plan", "--rack"].map(OsStr::new);
        let output = run([command, file.as_os_str(), flag, rack.as_os_str(), fail[0], fail[1]]);
        let text = data(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(output.status.code(), Some(1), "{name}: {text}{}", said(&output));
        assert!(output.stderr.is_empty(), "{name}: cautions are data: {}", said(&output));
        assert!(
            text.contains("cannot be made or not safely: rack") && text.contains("[rack-short]"),
            "{name}: {text}"
        );
        assert!(text.contains(says), "{name}: {text}");
        assert!(text.contains("board feet") && text.contains("NHLA"), "{name}: {text}");
    }
}

/// What the maker's shop file makes impossible is shown in the shop file, not in the box.
#[test]
fn a_bad_shop_is_refused_in_its_own_file() {
    let bench = Bench::new("shop");
    let file = bench.file("box.toml", BOX);
    for (name, text, says) in [
        ("unknown place", "[home]\nsite = \"Dulut\"\n", ["shop.toml:3:8:", "did you mean Duluth"]),
        (
            "humidifier above dehumidifier",
            "[home]\nsite = \"Duluth\"\ndriest_rh_pct = 60\ndampest_rh_pct = 40\n",
            ["shop.toml:", "dampest_rh_pct"],
        ),
        (
            "unknown operation",
            "[times]\n\"glue up\" = 25\n",
            ["shop.toml:3:13:", "write one of: lay out, mill"],
        ),
        ("unknown key", "[saw]\nkref = 3\n", ["shop.toml:3:1:", "kerf"]),
    ] {
        let shop = bench.file("shop.toml", format!("keepwright = 1\n{text}"));
        let args = [OsStr::new("check"), file.as_os_str(), OsStr::new("--shop"), shop.as_os_str()];
        let output = run(args);
        assert_eq!(output.status.code(), Some(2), "{name}: {}", said(&output));
        for part in says {
            assert!(said(&output).contains(part), "{name}: `{part}` is not in\n{}", said(&output));
        }
    }
    let args = [OsStr::new("check"), file.as_os_str(), OsStr::new("--home"), OsStr::new("Portland")];
    let output = run(args);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("Portland") && said(&output).contains("OR"), "{}", said(&output));
}

/// A statement may come through a pipe; one that never ends is not read to its end.
#[test]
fn standard_input_is_read_and_limited() {
    let feed = |bytes: &[u8]| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_keepwright"))
            .args(["check", "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The program may hang up before the end: that is what is tested.
        let _ = child.stdin.take().unwrap().write_all(bytes);
        child.wait_with_output().unwrap()
    };
    let good = feed(BOX.as_bytes());
    assert_eq!(good.status.code(), Some(0), "{}", said(&good));
    assert!(data(&good).starts_with("Tin: "), "{}", data(&good));
    let endless = feed(&vec![b'#'; 3 << 20]);
    assert_eq!(endless.status.code(), Some(2));
    assert!(said(&endless).contains("standard input has more than 1 MiB"), "{}", said(&endless));
    let bad = feed(BOX.replace("cherry", "chery").as_bytes());
    assert!(said(&bad).starts_with("standard input:6:8:"), "{}", said(&bad));
}

/// The day that the work begins, and the day by which it must be done.
#[test]
fn dates_come_from_the_flags() {
    let bench = Bench::new("dates");
    let file = bench.file("box.toml", BOX);
    let plan = |flags: &[&str]| {
        let mut args = vec!["plan", file.to_str().unwrap(), "--json"];
        args.extend(flags);
        let output = run(&args);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        serde_json::from_slice::<serde_json::Value>(&output.stdout).unwrap()
    };
    // 2026-11-25 is a Wednesday (Gregorian calendar): work begins on it.
    let forward = plan(&["--today", "2026-11-25"]);
    assert_eq!(forward["made_on"], "2026-11-25");
    assert_eq!(forward["timeline"]["first"], "2026-11-25");
    let backward = plan(&["--today", "2026-11-25", "--due", "2027-03-01"]);
    assert_eq!(backward["made_on"], "2026-11-25");
    assert!(backward["timeline"]["last"].as_str().unwrap() <= "2027-03-01", "{}", backward["timeline"]);
    assert!(backward["timeline"]["first"].as_str().unwrap() > "2026-11-25", "{}", backward["timeline"]);
    let late = plan(&["--today", "2026-11-25", "--due", "2026-11-26"]);
    let codes: Vec<_> = late["cautions"].as_array().unwrap().iter().map(|c| c["code"].clone()).collect();
    assert!(codes.iter().any(|c| c == "starts-in-the-past"), "no caution of the date: {codes:?}");
    let never = run(["plan", file.to_str().unwrap(), "--today", "2026-02-30"]);
    assert_eq!(never.status.code(), Some(2));
    assert!(said(&never).contains("2026-02-30"), "{}", said(&never));
}

/// Lengths are shown in the unit asked for, and the same seed gives the same plan.
#[test]
fn units_and_seed() {
    let mut inches = job("plan", "pencil-case.toml");
    inches.extend(["--units".into(), "in".into(), "--seed".into(), "7".into()]);
    let first = data(&run(&inches));
    assert!(first.contains("Outside ") && first.contains('"'), "{first}");
    let millimeters = data(&run(job("plan", "pencil-case.toml")));
    assert_ne!(first, millimeters);
    assert!(millimeters.contains(" mm × "), "{millimeters}");
    assert_eq!(first, data(&run(&inches)));
    assert!(first.lines().all(|l| l.chars().count() <= 100), "a line is wider than 100");
}

#[test]
fn nothing_is_written_over_without_force() {
    let bench = Bench::new("packet");
    let out = bench.0.join("out");
    let mut args = job("packet", "pencil-case.toml");
    args.extend(["--out".into(), out.to_string_lossy().into_owned()]);
    let first = run(&args);
    assert_eq!(first.status.code(), Some(0), "{}", said(&first));
    let pdf = out.join("packet.pdf");
    let bytes = fs::read(&pdf).unwrap();
    for file in ["parts.csv", "timeline.ics", "plan.json"] {
        assert!(out.join(file).is_file(), "{file}");
    }
    fs::write(&pdf, "mine").unwrap();
    let again = run(&args);
    assert_eq!(again.status.code(), Some(2));
    assert!(said(&again).contains("packet.pdf is there already"), "{}", said(&again));
    assert!(said(&again).contains("--force"), "{}", said(&again));
    assert_eq!(fs::read(&pdf).unwrap(), b"mine");
    args.push("--force".into());
    let forced = run(&args);
    assert_eq!(forced.status.code(), Some(0), "{}", said(&forced));
    assert_eq!(fs::read(&pdf).unwrap(), bytes, "the same plan on the same day gives the same bytes");
    let left: Vec<_> = fs::read_dir(&out).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(left.iter().all(|n| !n.to_string_lossy().starts_with('.')), "{left:?}");
    // A folder below a file cannot be made, whoever runs the test.
    let mut below = job("packet", "pencil-case.toml");
    below.extend(["--out".into(), pdf.join("deeper").to_string_lossy().into_owned()]);
    let unwritable = run(&below);
    assert_eq!(unwritable.status.code(), Some(2));
    assert!(said(&unwritable).contains("cannot write"), "{}", said(&unwritable));
}

#[test]
fn the_plan_is_json_with_every_chapter() {
    for name in ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"] {
        let mut args = job("plan", &format!("{name}.toml"));
        args.push("--json".into());
        let output = run(&args);
        assert_eq!(output.status.code(), Some(0), "{name}: {}", said(&output));
        let plan: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(plan["format"], "keepwright-plan", "{name}");
        assert_eq!(plan["version"], 1, "{name}");
        for key in [
            "outside", "inside", "parts", "runs", "boards", "waste", "bound", "setups", "fit", "seasons",
            "cautions", "glue", "finish", "time", "price",
        ] {
            assert!(!plan[key].is_null(), "{name}: no `{key}`");
        }
        let keys =
            ["name", "role", "wood", "count", "length_mm", "width_mm", "thickness_mm", "blank", "volume_mm3"];
        for key in keys {
            assert!(!plan["parts"][0][key].is_null(), "{name}: a part without `{key}`");
        }
        let boards = plan["boards"].as_array().unwrap();
        assert!(boards.iter().any(|b| b["parts"].as_array().is_some_and(|p| !p.is_empty())), "{name}");
        for (board, part) in
            boards.iter().flat_map(|b| b["parts"].as_array().unwrap().iter().map(move |p| (b, p)))
        {
            for (at, size, room) in [("x_mm", "length_mm", "length_mm"), ("y_mm", "width_mm", "width_mm")] {
                let number = |of: &serde_json::Value, key: &str| of[key].as_f64().unwrap();
                assert!(number(part, at) >= 0.0, "{name}: {part}");
                // Written to a tenth of a millimeter or finer.
                let end = number(part, at) + number(part, size);
                assert!(
                    end <= number(board, room) + 0.1,
                    "{name}: {part} hangs over board {}",
                    board["name"]
                );
            }
        }
        for setup in plan["setups"].as_array().unwrap() {
            for key in ["number", "purpose", "machine", "members"] {
                assert!(!setup[key].is_null(), "{name}: a set-up without `{key}`");
            }
        }
        for caution in plan["cautions"].as_array().unwrap() {
            for key in ["code", "weight", "where", "numbers"] {
                assert!(!caution[key].is_null(), "{name}: a caution without `{key}`");
            }
            assert!(caution.get("change").is_some(), "{name}: a caution without `change`");
        }
    }
}

#[test]
fn numbers_and_words_can_be_asked_about() {
    let list = run(job("why", "stamp-chest.toml"));
    assert_eq!(list.status.code(), Some(0), "{}", said(&list));
    assert!(data(&list).contains("key.depth"), "{}", data(&list));
    let mut one = job("why", "stamp-chest.toml");
    one.push("key.depth".into());
    let text = data(&run(&one));
    // 12 mm walls: √2·12 = 16.97 mm to break through, 3 mm of skin stated: 13.97 mm.
    assert!(text.contains("formula") && text.contains("source") && text.contains("14.0 mm"), "{text}");
    let ledge = data(&run(job("plan", "ring-boxes.toml")));
    let bottom = ledge.lines().find(|l| l.trim_start().starts_with("bottom ") && l.contains("ledge"));
    assert!(bottom.is_some_and(|l| !l.contains("0.00")), "{ledge}");
    let mut loud = job("why", "stamp-chest.toml");
    loud.push("Key.Depth".into());
    assert_eq!(data(&run(&loud)), text);
    let mut wrong = job("why", "stamp-chest.toml");
    wrong.push("key.dept.h".into());
    let output = run(&wrong);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("no number of this box is called"), "{}", said(&output));
    let mut near = job("why", "stamp-chest.toml");
    near.push("botom.width".into());
    let output = run(&near);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("did you mean bottom.width"), "{}", said(&output));
    assert!(output.stdout.is_empty());
    let output = run(["words", "mitrr"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty() && said(&output).contains("did you mean miter"), "{}", said(&output));
    let word = data(&run(["words", "kerf"]));
    assert!(word.starts_with("kerf"), "{word}");
    assert_eq!(run(["words", "qqqqq"]).status.code(), Some(2));
    assert!(data(&run(["words"])).lines().count() > 60);
}

#[test]
fn codes_help_and_scripts() {
    let mut grave = job("check", "stamp-chest.toml");
    grave.extend(["--fail-on".into(), "knowing".into()]);
    assert_eq!(run(&grave).status.code(), Some(1));
    assert_eq!(run(job("check", "stamp-chest.toml")).status.code(), Some(0));
    assert!(data(&run(["completions", "bash"])).contains("keepwright"));
    let page = data(&run(["man"]));
    for part in [".TH keepwright 1", ".SH \"EXIT STATUS\"", "\\-\\-fail\\-on", ".SH \"COMMAND PACKET\""] {
        assert!(page.contains(part), "no {part} in the man page");
    }
    for shell in ["zsh", "fish", "powershell", "elvish"] {
        assert!(data(&run(["completions", shell])).contains("fail-on"), "{shell}");
    }
    assert!(data(&run(["--help"])).contains("Exit codes"));
    assert_eq!(run(["saw-it"]).status.code(), Some(2));
}

#[test]
fn a_new_statement_can_be_checked_and_is_not_written_over() {
    let bench = Bench::new("new");
    let path = bench.0.join("tin.toml").to_string_lossy().into_owned();
    let args = ["new", &path, "--name", "Tin", "--outside", "200 mm x 120 mm x 70 mm", "--wood", "cherry"];
    let made = run(args);
    assert_eq!(made.status.code(), Some(0), "{}", said(&made));
    let checked = run(["check", &path]);
    assert_eq!(checked.status.code(), Some(0), "{}", said(&checked));
    assert!(data(&checked).starts_with("Tin: "), "{}", data(&checked));
    assert!(made.stdout.is_empty() && said(&made).contains("wrote"), "{}", said(&made));
    let printed =
        run(["new", "-", "--inside", "8 x 5 x 3", "--units", "in", "--wood", "ash", "--lid", "slab"]);
    assert!(printed.stderr.is_empty(), "{}", said(&printed));
    assert!(data(&printed).contains("# kind: none, frame, slab"), "{}", data(&printed));
    let asked = run(["new", "-", "--wood", "ash"]);
    assert_eq!(asked.status.code(), Some(2));
    assert!(said(&asked).contains("--outside or --inside not given"), "{}", said(&asked));
    let wrong = run(["new", "-", "--wood", "asch", "--outside", "8 x 5 x 3"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(said(&wrong).contains("asch"), "{}", said(&wrong));
    let text = fs::read(&path).unwrap();
    let again = run(args);
    assert_eq!(again.status.code(), Some(2), "{}", said(&again));
    assert_eq!(fs::read(&path).unwrap(), text);
    let forced = run(["new", &path, "--outside", "8 x 5 x 3", "--units", "in", "--wood", "ash", "--force"]);
    assert_eq!(forced.status.code(), Some(0), "{}", said(&forced));
    assert_ne!(fs::read(&path).unwrap(), text);
    // Below a file nothing can be written.
    let below = format!("{path}/deeper.toml");
    let unwritable = run(["new", &below, "--outside", "8 x 5 x 3", "--units", "in", "--wood", "ash"]);
    assert_eq!(unwritable.status.code(), Some(2));
    assert!(said(&unwritable).contains("cannot be written"), "{}", said(&unwritable));
}

/// Every file below a folder, by its path in it.
/// Whatever `check` would refuse is refused before it is written, at the key that says it.
#[test]
fn a_new_statement_that_cannot_be_a_box_is_not_written() {
    let bench = Bench::new("new-refused");
    let path = bench.0.join("tin.toml").to_string_lossy().into_owned();
    for (flags, says) in [
        (["--outside", "200 x 120 x 70", "--thickness", "65"], ["walls 65.0 mm thick", "thickness = \"65\""]),
        (
            ["--outside", "-8 x 5 x 3", "--thickness", "5"],
            ["`length`: `-8` is below zero", "length = \"-8\""],
        ),
        (["--inside", "-0 x 50 x 30", "--thickness", "5"], ["must be more than 0", "length = \"-0\""]),
        (["--outside", "200 x 120 x 70", "--thickness", "-5"], ["`-5` is below zero", "thickness = \"-5\""]),
    ] {
        let refused = run(["new", &path, "--wood", "cherry"].into_iter().chain(flags));
        assert_eq!(refused.status.code(), Some(2), "{flags:?}: {}", said(&refused));
        for part in says.iter().chain(&["the statement as answered:"]) {
            assert!(said(&refused).contains(part), "{flags:?}: no {part} in {}", said(&refused));
        }
        assert!(!Path::new(&path).exists(), "{flags:?}");
    }
}

fn tree(folder: &Path, below: &Path, into: &mut std::collections::BTreeMap<PathBuf, Vec<u8>>) {
    for entry in fs::read_dir(folder.join(below)).unwrap() {
        let entry = entry.unwrap();
        let place = below.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            tree(folder, &place, into);
        } else {
            into.insert(place, fs::read(entry.path()).unwrap());
        }
    }
}

/// Not the pages alone: drawings, templates, solids and lists too.
#[test]
fn the_same_packet_on_the_same_day_is_the_same_in_every_byte() {
    let bench = Bench::new("twice");
    let [first, second] = ["first", "second"].map(|name| {
        let out = bench.0.join(name);
        let mut args = job("packet", "pencil-case.toml");
        args.extend(["--out".into(), out.to_string_lossy().into_owned()]);
        let output = run(&args);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        let mut files = std::collections::BTreeMap::new();
        tree(&out, Path::new(""), &mut files);
        // Standard output lists exactly what was written.
        let mut listed: Vec<PathBuf> = data(&output).lines().map(PathBuf::from).collect();
        listed.sort();
        assert_eq!(listed, files.keys().map(|f| out.join(f)).collect::<Vec<_>>());
        files
    });
    assert!(first.len() > 4 && first.values().all(|bytes| !bytes.is_empty()), "{:?}", first.keys());
    assert_eq!(first.keys().collect::<Vec<_>>(), second.keys().collect::<Vec<_>>());
    for (name, bytes) in &first {
        assert!(second.get(name) == Some(bytes), "{} differs", name.display());
    }
}

/// A packet that is refused for one file leaves the folder as it was.
#[test]
fn a_refused_packet_leaves_nothing_behind() {
    let bench = Bench::new("refused");
    fs::create_dir_all(bench.0.join("out/packet.pdf")).unwrap();
    let out = bench.0.join("out");
    for force in [false, true] {
        let mut args = job("packet", "pencil-case.toml");
        args.extend(["--out".into(), out.to_string_lossy().into_owned()]);
        args.extend(force.then(|| "--force".to_owned()));
        let output = run(&args);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(output.stdout.is_empty() && said(&output).contains("packet.pdf"), "{}", said(&output));
        let left: Vec<_> = fs::read_dir(&out).unwrap().map(|e| e.unwrap().file_name()).collect();
        assert_eq!(left, ["packet.pdf"], "force: {force}");
    }
}

/// A link that leads nowhere yet is the maker's too: it is not replaced unasked.
#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_not_replaced() {
    let bench = Bench::new("link");
    let out = bench.0.join("out");
    fs::create_dir_all(&out).unwrap();
    std::os::unix::fs::symlink(bench.0.join("elsewhere.pdf"), out.join("packet.pdf")).unwrap();
    let mut args = job("packet", "pencil-case.toml");
    args.extend(["--out".into(), out.to_string_lossy().into_owned()]);
    let output = run(&args);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("packet.pdf is there already"), "{}", said(&output));
    assert!(fs::symlink_metadata(out.join("packet.pdf")).unwrap().is_symlink());
}

/// A rack file of no bytes at all is refused at its place, as any file without a version is.
#[test]
fn a_rack_of_no_bytes_is_refused() {
    let bench = Bench::new("blank-rack");
    let file = bench.file("box.toml", BOX);
    let rack = bench.file("rack.toml", "");
    let output = run([OsStr::new("plan"), file.as_os_str(), OsStr::new("--rack"), rack.as_os_str()]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("rack.toml:1:1: `keepwright` is missing"), "{}", said(&output));
    assert!(output.stdout.is_empty());
}
