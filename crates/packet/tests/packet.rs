//! The files of every example's packet, read by other readers.

mod jobs;

use std::collections::BTreeSet;
use std::io::Cursor;
use std::path::Path;
use std::sync::OnceLock;

use icalendar::{Calendar, Component as _};
use jobs::plans;
use keepwright_model::job::Plan;
use keepwright_packet::packet::{OutFile, files, files_and_pages};
use keepwright_packet::page::Paper;
use keepwright_packet::sheets::PacketSettings;

fn settings(paper: Paper) -> PacketSettings {
    PacketSettings { paper, date: "2026-11-25".into() }
}

/// Every example's packet on A4, made once.
fn packets() -> &'static [(&'static str, &'static Plan, Vec<OutFile>)] {
    static PACKETS: OnceLock<Vec<(&'static str, &'static Plan, Vec<OutFile>)>> = OnceLock::new();
    PACKETS.get_or_init(|| {
        let made = |(name, plan): &'static (&'static str, Plan)| {
            (*name, plan, files(plan, &settings(Paper::A4)).expect("a sound plan"))
        };
        plans().iter().map(made).collect()
    })
}

fn named<'a>(files: &'a [OutFile], path: &str) -> Option<&'a OutFile> {
    files.iter().find(|f| f.path == path)
}

fn below<'a>(files: &'a [OutFile], folder: &str) -> Vec<&'a OutFile> {
    files.iter().filter(|f| f.path.starts_with(folder)).collect()
}

/// Writes the packets where a person can look at them, and checks what is cheap to check for all.
#[test]
fn every_file_has_a_safe_name_and_reads_as_its_kind() {
    for (name, _, files) in packets() {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("packets").join(name);
        let mut paths = BTreeSet::new();
        for OutFile { path, bytes } in files {
            assert!(paths.insert(path.to_lowercase()), "{name}: {path} stands twice");
            let safe = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-./".contains(c);
            assert!(
                path.chars().all(safe) && !path.contains("..") && !path.starts_with('/'),
                "{name}: {path}"
            );
            assert!(!bytes.is_empty(), "{name}: {path}");
            let path = folder.join(path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        }
        for svg in below(files, "drawings/") {
            let text = std::str::from_utf8(&svg.bytes).unwrap();
            assert!(roxmltree::Document::parse(text).is_ok(), "{name}: {}", svg.path);
        }
        for drawing in below(files, "templates/") {
            let read = dxf::Drawing::load(&mut Cursor::new(&drawing.bytes)).unwrap();
            assert!(read.entities().count() > 0, "{name}: {}", drawing.path);
        }
        assert!(below(files, "templates/").len() >= 2, "{name}: joints and ends are drawn at full scale");
    }
}

/// Volume of a binary STL by signed tetrahedra, cubic millimeters.
fn volume(bytes: &[u8]) -> f64 {
    let read = stl_io::read_stl(&mut Cursor::new(bytes)).expect("a sound STL");
    let point = |i: usize| -> [f64; 3] {
        let v = read.vertices[i];
        [f64::from(v[0]), f64::from(v[1]), f64::from(v[2])]
    };
    read.faces
        .iter()
        .map(|face| {
            let [a, b, c] = face.vertices.map(point);
            a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
                + a[2] * (b[0] * c[1] - b[1] * c[0])
        })
        .sum::<f64>()
        / 6.0
}

#[test]
fn each_part_has_a_solid_of_its_volume() {
    for (name, plan, files) in packets() {
        let stl = below(files, "stl/");
        assert_eq!(stl.len(), plan.parts.parts.len(), "{name}");
        for ((file, part), solid) in stl.iter().zip(&plan.parts.parts).zip(&plan.solids) {
            let want = solid.volume().to_mm3();
            let got = volume(&file.bytes);
            // Coordinates in the file are 32-bit: good to about 2e-5 mm at 300 mm, on every face.
            let surface: f64 = part.size.iter().map(|l| l.to_mm()).fold(0.0, f64::max).powi(2) * 6.0;
            assert!((got - want).abs() < 4e-5 * surface + 1e-3, "{name}: {}: {got} {want}", part.name);
        }
    }
}

#[test]
fn each_part_stands_once_in_the_list() {
    for (name, plan, files) in packets() {
        let list = named(files, "parts.csv").unwrap();
        let mut reader = csv::Reader::from_reader(list.bytes.as_slice());
        let heading = reader.headers().unwrap().clone();
        let column = |of: &str| heading.iter().position(|h| h == of).unwrap();
        let (parts, pieces, each) = (column("parts"), column("pieces"), column("pieces in one box"));
        let length = column("length mm");
        let mut seen = Vec::new();
        let mut sum = 0;
        for row in reader.records() {
            let row = row.unwrap();
            let names: Vec<&str> = row[parts].split("; ").collect();
            assert_eq!(row[each].parse::<usize>().unwrap(), names.len(), "{name}");
            sum += row[pieces].parse::<usize>().unwrap();
            for part in &names {
                let of = plan.parts.parts.iter().find(|p| p.name == *part).unwrap();
                let said: f64 = row[length].parse().unwrap();
                assert!((said - of.size[0].to_mm()).abs() < 0.006, "{name}: {part}");
            }
            seen.extend(names.into_iter().map(ToOwned::to_owned));
        }
        seen.sort();
        let mut want: Vec<String> = plan.parts.parts.iter().map(|p| p.name.clone()).collect();
        want.sort();
        assert_eq!(seen, want, "{name}");
        assert_eq!(sum, want.len() * plan.statement.count as usize, "{name}");
    }
}

#[test]
fn the_calendar_has_the_days_of_the_plan() {
    for (name, plan, files) in packets() {
        let file = named(files, "timeline.ics");
        let Some(schedule) = &plan.schedule else {
            assert!(file.is_none(), "{name}: no dates, no calendar");
            continue;
        };
        let text = std::str::from_utf8(&file.unwrap().bytes).unwrap();
        let calendar: Calendar = text.parse().unwrap();
        let days: Vec<String> =
            calendar.events().map(|e| e.property_value("DTSTART").unwrap().to_owned()).collect();
        let want: Vec<String> = schedule
            .events
            .iter()
            .map(|e| {
                let (y, m, d) = e.first.to_civil();
                format!("{y:04}{m:02}{d:02}")
            })
            .collect();
        assert_eq!(days, want, "{name}");
        // The plan begins on the day that was asked for.
        assert_eq!(days.iter().min().map(String::as_str), Some("20261125"), "{name}");
        assert!(text.contains("DTSTAMP:20261125T000000Z"), "{name}: the packet's date, no clock");
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let (name, plan, one) = &packets()[4];
    let two = files(plan, &settings(Paper::A4)).unwrap();
    assert_eq!(one.len(), two.len(), "{name}");
    for (a, b) in one.iter().zip(&two) {
        assert!(a == b, "{name}: {}", a.path);
    }
}

/// The steps are told in order, each once and none beyond the last; the files are those that are made without telling.
#[test]
fn the_making_is_told_step_by_step() {
    let (_, plan) = &plans()[0];
    let mut told = Vec::new();
    let (made, pages) = files_and_pages(plan, &settings(Paper::A4), &mut |step| told.push(step)).unwrap();
    assert_eq!(made, packets()[0].2);
    let document = keepwright_packet::sheets::document(plan, &settings(Paper::A4));
    assert_eq!(pages.len(), document.page_count());
    let done: Vec<usize> = told.iter().map(|step| step.done).collect();
    assert_eq!(done, (0..document.sheets.len() + 4).collect::<Vec<_>>());
    assert!(told.iter().all(|step| step.of == done.len()));
    for (step, sheet) in told.iter().zip(&document.sheets) {
        assert!(step.now.contains(&sheet.title), "{step:?}");
    }
}
