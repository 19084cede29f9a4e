//! The whole job on the example boxes with the example rack and shop, judged by the independent judges.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads the project's own files and stops at the first surprise"
)]

use keepwright_model::boards::Board;
use keepwright_model::caution::Weight;
use keepwright_model::cutting::{NeverStop, verify};
use keepwright_model::design::{Defaults, Statement, read_rack, read_shop, read_statement};
use keepwright_model::job::{Order, Plan, Shop, When, plan, rack_from};
use keepwright_model::saw::Effort;
use keepwright_model::saw::simulate::{Miss, judge};
use keepwright_model::shop::schedule::Day;
use keepwright_model::wood;
use std::fs;
use std::path::{Path, PathBuf};

const NAMES: [&str; 6] = ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

fn example(name: &str) -> String {
    let path: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn statement(name: &str) -> Statement {
    read_statement(&example(&format!("{name}.toml")), &Defaults::default(), &wood::named)
        .unwrap_or_else(|p| panic!("{name}: {p:#?}"))
}

fn shop_and_rack() -> (Shop, Vec<Board>) {
    let file = read_shop(&example("shop.toml"), &Defaults::default()).unwrap();
    let shop = Shop::from_file(&file).unwrap();
    let rack =
        read_rack(&example("rack.toml"), &Defaults::default(), file.shop.currency, &wood::named).unwrap();
    (shop, rack_from(&rack))
}

fn planned(name: &str) -> Plan {
    let (shop, rack) = shop_and_rack();
    let s = statement(name);
    let order = Order {
        statement: &s,
        rack: Some(&rack),
        shop: &shop,
        when: Some(When::From(Day::parse("2026-11-25").unwrap())),
        effort: Effort::Fast,
    };
    plan(&order, &mut NeverStop).unwrap_or_else(|e| panic!("{name}: {e:#?}"))
}

#[test]
fn the_examples_can_be_made_from_the_example_rack() {
    for name in NAMES {
        let plan = planned(name);
        assert!(
            plan.stock.cutting.is_complete(),
            "{name}: short of {:?}",
            plan.stock
                .cutting
                .short
                .iter()
                .map(|s| (&plan.stock.demand.items[s.item], s.why))
                .collect::<Vec<_>>()
        );
        let problems = verify::problems(&plan.stock.demand, &plan.stock.cutting);
        assert!(problems.is_empty(), "{name}: {problems:?}");
        let grave: Vec<_> = plan.cautions.iter().filter(|c| c.weight == Weight::Cannot).collect();
        assert!(grave.is_empty(), "{name}: {grave:#?}");
    }
}

/// A caution that only a set-up carries is as grave as one of the whole box.
#[test]
fn the_gravest_caution_may_stand_at_the_saw() {
    let mut plan = planned("stamp-chest");
    plan.cautions.clear();
    let at_the_saw = plan.saw.setups.iter().flat_map(|s| &s.cautions).map(|c| c.weight).max();
    assert!(at_the_saw >= Some(Weight::LikelyToFail), "{at_the_saw:?}");
    assert_eq!(plan.worst(), at_the_saw);
}

#[test]
fn every_number_can_be_asked_about_by_one_key() {
    for name in NAMES {
        let plan = planned(name);
        assert!(plan.reasons.len() > 30, "{name}");
        for r in &plan.reasons {
            assert!(!r.title.is_empty() && !r.formula.is_empty(), "{name}: {}", r.key);
        }
    }
}

/// Blank = part + allowances + what the part's own cuts and the assembly's cuts take, by volume.
#[test]
fn blanks_hold_their_parts() {
    for name in NAMES {
        let plan = planned(name);
        for (part, m) in plan.parts.parts.iter().zip(&plan.measures) {
            let blank = part.blank.length() * part.blank.width() * part.blank.thickness();
            assert!(
                m.volume.to_mm3() <= blank.to_mm3() + 1e-6,
                "{name}: {} {} > {}",
                part.name,
                m.volume.to_mm3(),
                blank.to_mm3()
            );
            let block: f64 = part.size.iter().map(|l| l.to_mm()).product();
            let sum = part.blank.finished.iter().map(|l| l.to_mm()).product::<f64>();
            assert!((block - sum).abs() < 1e-9, "{name}: {}", part.name);
        }
    }
}

/// The judge of the saw room cuts every set-up of every example again, by kinematics of blade, fence and
/// gauge, and compares with the faces that the parts' own operations make.
#[test]
fn every_set_up_gives_back_its_faces() {
    for name in NAMES {
        let plan = planned(name);
        let mut judged = 0;
        for (i, setup) in plan.saw.setups.iter().enumerate() {
            for member in &setup.members {
                let Some(part) = member.part.map(|id| &plan.parts.parts[id.0]) else { continue };
                match judge(setup, member, part, 1e-6) {
                    Ok(()) => judged += 1,
                    // Stock is squared and hand work is cut to a line: nothing is set, nothing to play.
                    Err(Miss::NothingSet { .. }) => {}
                    Err(miss) => {
                        panic!("{name}: set-up {}, {} of {}: {miss}", i + 1, setup.purpose.words(), part.name)
                    }
                }
            }
        }
        assert!(judged > 15, "{name}: only {judged} cuts judged");
    }
}
