//! The pages of every example's packet: no faults on either paper, each subject there, full-scale pages with their bar.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in what it reopens")]

mod clear;
mod jobs;

use jobs::{planned, plans};
use keepwright_model::job::Plan;
use keepwright_model::saw::Holding;
use keepwright_packet::drawings::{Room, Shown, setup_drawing};
use keepwright_packet::flow::Card;
use keepwright_packet::page::{Frame, Orientation, Paper};
use keepwright_packet::pdf;
use keepwright_packet::setup_words::held_by;
use keepwright_packet::sheets::{PacketSettings, document};
use lopdf::Document;

const PAPERS: [(Paper, &str); 2] = [(Paper::Letter, "letter"), (Paper::A4, "a4")];

fn settings(paper: Paper) -> PacketSettings {
    PacketSettings { paper, date: "2026-11-25".into() }
}

/// The words of each page, blanks and line ends as single blanks.
fn words(plan: &Plan, paper: Paper) -> Vec<String> {
    let bytes = pdf::write(&document(plan, &settings(paper))).unwrap();
    let read = Document::load_mem(&bytes).unwrap();
    read.get_pages()
        .keys()
        .map(|page| {
            let text = read.extract_text(&[*page]).unwrap().replace('\u{a0}', " ");
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        })
        .collect()
}

#[test]
fn nothing_overlaps_and_nothing_leaves_its_page() {
    let mut all = Vec::new();
    for (name, plan) in plans() {
        for (paper, paper_name) in PAPERS {
            let document = document(plan, &settings(paper));
            let faults = document.faults();
            all.extend(faults.into_iter().map(|f| format!("{name}, {paper_name}: {f}")));
            // A packet is read at the bench: no example needs more than a thin folder, and none fits a few pages.
            let pages = document.page_count();
            if !(15..=70).contains(&pages) {
                all.push(format!("{name}, {paper_name}: {pages} pages"));
            }
        }
    }
    assert!(all.is_empty(), "{} faults:\n{}", all.len(), all.join("\n"));
}

#[test]
fn every_subject_is_there_and_full_scale_pages_have_their_bar() {
    for (name, plan) in plans() {
        let pages = words(plan, Paper::A4);
        let all = pages.join(" ");
        for said in [
            "In this packet",
            "The box in words",
            "Stock and shopping",
            "Part list",
            "Set-ups",
            "At full scale",
            "Glue-up",
            "Sanding and finish",
            "Seasons",
            "Money",
            "Timeline",
            "Labels",
            plan.statement.name.as_str(),
        ] {
            assert!(all.contains(said), "{name}: {said}");
        }
        // The cover alone is one page, and the box in words begins the next.
        assert!(pages[1].contains("The box in words"), "{name}: {}", pages[1]);
        for (i, page) in pages.iter().enumerate().filter(|(_, p)| p.contains("print at 100 %")) {
            assert!(page.contains("Lay a rule on the bars first."), "{name}: page {}", i + 1);
        }
        let setups = plan.saw.setups.len();
        assert!(all.contains(&format!("of {setups}")), "{name}: set-ups are counted");
    }
}

/// Every number that a maker sets stands in both units: an inch is 25.4 mm, so a stop at 100 mm is 3 15/16 in
/// (the rounding itself is checked in the model, FR-05).
#[test]
fn settings_stand_in_both_units() {
    for (name, plan) in plans() {
        let all = words(plan, Paper::Letter).join(" ");
        for (i, setup) in plan.saw.setups.iter().enumerate() {
            let Some(height) = setup.height().filter(|h| h.to_mm() > 0.5) else { continue };
            let mm = format!("{:.1}", (height.to_mm() * 10.0).round() / 10.0);
            let inch = keepwright_model::units::Inches::nearest(height, plan.shop.fineness).to_string();
            assert!(all.contains(&mm), "{name}: set-up {}: {mm}", i + 1);
            assert!(all.contains(&inch), "{name}: set-up {}: {inch}", i + 1);
        }
    }
}

/// Cards show the sketches of set-ups as they are drawn, so what stands free there stands free on paper.
#[test]
fn no_words_of_a_set_up_lie_on_lines_or_words() {
    let mut faults = Vec::new();
    for (name, plan) in plans() {
        for (paper, paper_name) in PAPERS {
            let [wide, high] = Card::drawing_room(Frame::of(paper, Orientation::Portrait).width);
            for (i, setup) in plan.saw.setups.iter().enumerate() {
                let shown = Shown { unit: plan.shop.unit, fineness: plan.shop.fineness };
                let Some(drawing) = setup_drawing(setup, shown, Room::new(wide, high)) else { continue };
                let place = format!("{name}, {paper_name}, set-up {}", i + 1);
                let b = drawing.bounds(1.0).unwrap();
                if b.width() > wide - 1.0 || b.height() > high - 1.0 {
                    faults.push(format!("{place}: {:.1} x {:.1} mm", b.width(), b.height()));
                }
                faults.extend(clear::crowded(&drawing).iter().map(|f| format!("{place}: {f}")));
            }
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn cautions_are_all_printed() {
    for (name, plan) in plans() {
        let all = words(plan, Paper::A4).join(" ").replace(' ', "");
        for caution in &plan.cautions {
            // Lines end at hyphens, too, so blanks are left out on both sides.
            let says: String = caution.says.split_whitespace().collect();
            let begins: String = says.chars().take(40).collect();
            assert!(all.contains(&begins), "{name}: {} is not printed: {}", caution.code, caution.says);
        }
    }
}

/// A part is held by the gauge or by the sled, never by both.
#[test]
fn a_sled_takes_the_place_of_the_gauge() {
    let plans = plans();
    let both = plans.iter().flat_map(|(_, plan)| &plan.saw.setups).filter(|s| {
        s.holding.contains(&Holding::GaugeWithFence) && s.holding.contains(&Holding::SledWithClamp)
    });
    let said: Vec<String> = both.map(held_by).collect();
    assert!(!said.is_empty());
    for words in said {
        assert!(words.contains("fence or, for short parts, sled"), "{words}");
        assert_eq!(words.matches("sled").count(), 1, "{words}");
    }
}

/// The program's own sentences mark bold words with two asterisks; those that a maker writes are printed.
#[test]
fn asterisks_of_the_maker_are_printed() {
    let loud = |text: &str| text.replace("name = \"", "name = \"**loud**");
    for name in ["sewing-box", "seed-bowl"] {
        // The reader puts blanks where letters were moved nearer to each other.
        let all = words(&planned(name, loud), Paper::Letter).join(" ").replace(' ', "");
        let (said, starred) = (all.matches("loud").count(), all.matches("**loud**").count());
        assert!(starred > 5, "{name}: {starred}");
        let parts = all.split("**loud**").find(|part| part.contains("loud"));
        assert_eq!((said, parts), (starred, None), "{name}");
    }
}
