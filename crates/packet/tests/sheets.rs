//! The packet of every example: pages without faults on both papers, and files that other readers agree with.

mod jobs;

use std::path::Path;
use std::time::Instant;

use jobs::plans;
use keepwright_packet::packet::{OutFile, files};
use keepwright_packet::page::Paper;
use keepwright_packet::sheets::{PacketSettings, document};

fn settings(paper: Paper) -> PacketSettings {
    PacketSettings { paper, date: "2026-11-25".into() }
}

const PAPERS: [(Paper, &str); 2] = [(Paper::Letter, "letter"), (Paper::A4, "a4")];

#[test]
fn nothing_overlaps_and_nothing_leaves_its_page() {
    let mut all = Vec::new();
    for (name, plan) in plans() {
        for (paper, paper_name) in PAPERS {
            let document = document(plan, &settings(paper));
            let faults = document.faults();
            all.extend(faults.into_iter().map(|f| format!("{name}, {paper_name}: {f}")));
        }
    }
    assert!(all.is_empty(), "{} faults:\n{}", all.len(), all.join("\n"));
}

#[test]
fn packets_are_written_to_be_looked_at() {
    for (name, plan) in plans() {
        for (paper, paper_name) in PAPERS {
            let begun = Instant::now();
            let files = files(plan, &settings(paper)).unwrap();
            let took = begun.elapsed();
            let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("packets/{name}-{paper_name}"));
            for OutFile { path, bytes } in &files {
                let path = folder.join(path);
                std::fs::create_dir_all(path.parent().unwrap()).unwrap();
                std::fs::write(path, bytes).unwrap();
            }
            assert!(files.len() > 10, "{name}: {took:?}");
        }
    }
}
