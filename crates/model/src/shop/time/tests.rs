//! Times against check rows and hand counts.

use super::super::scene::{keyed_box, ring};
use super::super::settings::TimeOverride;
use super::*;
use crate::design::CornerName;
use crate::parts::{AssemblyCut, Cut, End, Machine, PartId};
use crate::units::Angle;
use proptest::prelude::*;

/// Row SH-04: set-ups 90 min, 25 min a box: 115, 40, 32.5 minutes a box for 1, 6, 12.
#[test]
fn set_ups_are_shared() {
    for (boxes, want) in [(1, 115.0), (6, 40.0), (12, 32.5)] {
        let got = batch_minutes(Minutes::minutes(90.0), Minutes::minutes(25.0), boxes, None);
        assert!((got.value() / f64::from(boxes) - want).abs() < 1e-12, "SH-04 for {boxes}");
    }
}

/// By hand, an 80 % curve: boxes take 100, 80, 70.2104 (100 × 3^log₂0.8) and 64 minutes; four together 314.2104.
#[test]
fn learning() {
    let got = batch_minutes(Minutes::ZERO, Minutes::minutes(100.0), 4, Some(Share::percent(80.0)));
    assert!((got.value() - 314.2104).abs() < 1e-3, "{}", got.value());
    let none = batch_minutes(Minutes::ZERO, Minutes::minutes(100.0), 4, Some(Share::percent(120.0)));
    assert!((none.value() - 400.0).abs() < 1e-9, "a curve that forgets is no curve");
}

fn mitered() -> BoxParts {
    let mut b = keyed_box(2);
    for wall in 0..4 {
        for (end, at) in [(End::Start, Length::ZERO), (End::Finish, b.parts[wall].size[0])] {
            b.parts[wall].cuts.push(Cut {
                operation: Operation::EndCut { end, at, gauge: Angle::ZERO, tilt: Angle::degrees(45.0) },
                machine: Machine::TableSaw,
            });
        }
    }
    for corner in 0..4 {
        for number in 0..2 {
            b.assemblies[0].cuts.push(AssemblyCut {
                operation: AssemblyOperation::KeySlot {
                    corner: CornerName(corner),
                    in_lid: false,
                    number,
                    height: Length::mm(20.0 + 35.0 * f64::from(number)),
                    thickness: Length::mm(3.0),
                    depth: Length::mm(8.0),
                },
                machine: Machine::TableSaw,
                removes: Vec::new(),
                parts: vec![PartId(0)],
            });
        }
    }
    b
}

/// Counted by hand: eight miter cuts at two lengths, eight slots at two heights.
#[test]
fn counts_cuts_and_settings() {
    let work = tally(&mitered());
    let of = |key: &str| work.iter().find(|w| w.operation == key).map(|w| (w.setups, w.pieces));
    assert_eq!(of("miter"), Some((2, 8)));
    assert_eq!(of("key_slot"), Some((2, 8)));
    assert_eq!(of("key"), Some((1, 8)));
    assert_eq!(of("rabbet"), None);
    for w in &work {
        assert!(operation_times().iter().any(|t| t.key == w.operation), "{} is in the table", w.operation);
    }
}

#[test]
fn the_shop_edits_the_table() {
    let work = [Work { operation: "miter", setups: 2, pieces: 8 }];
    let mut settings = Settings::usual();
    // 2 × 12 + 8 × 1.5 = 36 minutes from the table.
    assert!((timing(&work, &[], 1, &settings).total.value() - 36.0).abs() < 1e-9);
    settings.times.push(TimeOverride {
        operation: "miter".into(),
        setup: Some(Minutes::minutes(5.0)),
        each: None,
    });
    let got = timing(&work, &[], 3, &settings);
    assert!((got.total.value() - (10.0 + 3.0 * 12.0)).abs() < 1e-9);
    assert!((got.phase(Phase::Parts) - got.total).abs().value() < 1e-9);
}

#[test]
fn the_table_is_whole() {
    let rows = operation_times();
    assert_eq!(rows.len(), 25);
    let keys: BTreeSet<&str> = rows.iter().map(|r| r.key.as_str()).collect();
    assert_eq!(keys.len(), rows.len(), "keys are unique");
    assert!(rows.windows(2).filter(|w| w[1].phase < w[0].phase).count() <= 1, "in the order of the job");
    for r in rows {
        assert!(r.setup.value() >= 0.0 && r.each > Minutes::ZERO, "{}", r.key);
    }
    assert!(!tally(&ring(&[100.0, 100.0, 100.0], 40.0, 6.0)).is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// A larger batch takes longer in all and never longer a box.
    #[test]
    fn batches(boxes in 1u32..60, setup in 0.0f64..300.0, each in 1.0f64..300.0, curve in 0.5f64..0.99) {
        let t = |n| batch_minutes(Minutes::minutes(setup), Minutes::minutes(each), n, Some(Share::fraction(curve))).value();
        prop_assert!(t(boxes + 1) > t(boxes));
        prop_assert!(t(boxes + 1) / f64::from(boxes + 1) <= t(boxes) / f64::from(boxes) + 1e-9);
    }
}
