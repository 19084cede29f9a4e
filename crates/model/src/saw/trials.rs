//! Every kind of cut, set up and simulated back to the faces of the part.

use super::derive::{self, Asked};
use super::scenes::{end, keyed_box, mm, part, strip_box, wall};
use super::simulate::{self, Miss, judge};
use super::{
    Effort, Guide, Lean, Lot, Offcut, Purpose, SawPlan, Settings, Setup, Side, Surface, cradle_cards,
    lid_card, plan,
};
use crate::caution::Weight;
use crate::parts::{
    Arris, BoxParts, Edge, End, Face, NotchPurpose, Operation, Origin, Part, PartId, Role, Span,
};
use crate::units::{Angle, Length};
use proptest::prelude::*;

fn setups(part: &Part, settings: &Settings) -> Vec<Setup> {
    (0..part.cuts.len())
        .map(|cut| {
            let asked = Asked { settings, part, id: PartId(0), cut, box_index: 0, count: 1 };
            derive::setup(&asked).unwrap()
        })
        .collect()
}

/// Judges every cut of a part; the message names the cut.
fn trial(part: &Part, settings: &Settings) -> Result<(), String> {
    for s in setups(part, settings) {
        let m = &s.members[0];
        judge(&s, m, part, 1e-6).map_err(|e| format!("{e}: {:?} {:?}", s, part.cuts[m.cut.unwrap()]))?;
        if s.purpose != Purpose::Chamfer && s.purpose != Purpose::RoundOver {
            assert!(s.lean != Lean::Toward, "the guide stands where the blade leans away");
        }
    }
    Ok(())
}

fn both(side: bool) -> Settings {
    let mut s = Settings::small_shop();
    s.table_saw.tilts = if side { Side::Left } else { Side::Right };
    s
}

/// By hand: 12 mm wall, 260 tip to tip, at 45° the back face is 260 − 12 = 248 from tip's plumb to heel, so the
/// stop stands 248 from the blade at the table; blade 12 + 5·cos 45° = 15.54 plumb.
#[test]
fn a_mitered_wall_by_hand() {
    let settings = Settings::small_shop();
    let list = setups(&wall("front", 260.0), &settings);
    let second = &list[2];
    assert_eq!(second.purpose, Purpose::BladeMiter);
    assert!((second.distance().unwrap().to_mm() - 248.0).abs() < 1e-9);
    assert!((second.height().unwrap().to_mm() - (12.0 + 5.0 / 2f64.sqrt())).abs() < 1e-9);
    assert!((second.exposure().unwrap().to_mm() - (12.0 * 2f64.sqrt() + 5.0)).abs() < 1e-9);
    assert_eq!((second.lean, second.side), (Lean::Away, Side::Right), "left-tilting saw: guide right");
    assert_eq!(second.offcut, Offcut::FreeSide(Side::Left));
    let lies = second.members[0].placement.unwrap();
    assert_eq!((lies.down, lies.toward), (Surface::Face(Face::Back), Surface::End(End::Start)));
    assert_eq!(list[1].guide, Guide::Mark, "the first end is only cleaned up");
    // Rabbet 6 wide with a 3.2 kerf: (6 − 0.5)/(3.2 − 0.5) → 3 passes, shoulder first, fence at 6 − 3.2.
    let at: Vec<f64> = list[0].passes.iter().map(|p| p.distance.to_mm()).collect();
    assert_eq!(at.len(), 3);
    assert!((at[0] - 2.8).abs() < 1e-9 && at[2].abs() < 1e-9);
    assert!((list[0].height().unwrap().to_mm() - 5.0).abs() < 1e-9);
}

/// A flat frame: gauge 45° for both ends, the second end with the part flipped over, same edge on the gauge.
#[test]
fn a_flat_frame_keeps_its_gauge() {
    let b = keyed_box();
    let list = setups(&b.parts[4], &both(true));
    let (one, two) = (&list[1], &list[2]);
    assert!((one.gauge.to_degrees() - 45.0).abs() < 1e-9 && (two.gauge.to_degrees() - 45.0).abs() < 1e-9);
    let lies = [one, two].map(|s| s.members[0].placement.unwrap());
    assert_eq!(lies[0].pushed, lies[1].pushed);
    assert_ne!(lies[0].down, lies[1].down);
    assert!((two.distance().unwrap().to_mm() - 260.0).abs() < 1e-9, "tip to tip along the gauge");
}

#[test]
fn the_judge_finds_a_wrong_number() {
    let settings = Settings::small_shop();
    let w = wall("front", 260.0);
    let mut s = setups(&w, &settings).remove(2);
    s.passes[0].distance += mm(0.1);
    let m = s.members[0].clone();
    assert!(
        matches!(judge(&s, &m, &w, 1e-6), Err(Miss::Elsewhere { off, .. }) if (off - 0.1 / 2f64.sqrt()).abs() < 1e-9)
    );
    let mut s = setups(&w, &settings).remove(2);
    s.tilt = Angle::degrees(44.9);
    assert!(judge(&s, &m, &w, 1e-6).is_err());
    let mut s = setups(&w, &settings).remove(2);
    s.side = s.side.other();
    assert!(matches!(judge(&s, &m, &w, 1e-6), Err(Miss::WrongWayRound { .. })));
    let mut s = setups(&w, &settings).remove(0);
    s.passes.pop();
    let m = s.members[0].clone();
    assert!(judge(&s, &m, &w, 1e-6).is_err(), "wood left at the edge");
}

fn op(kind: u32, size: [f64; 3], a: f64, b: f64, lean: f64, flip: bool) -> Operation {
    let [l, w, t] = size;
    let face = if flip { Face::Show } else { Face::Back };
    let edge = if a < 0.5 { Edge::Lower } else { Edge::Upper };
    let e = if a < 0.5 { End::Start } else { End::Finish };
    let depth = mm(t * (0.2 + 0.3 * b));
    let lean = Angle::degrees(lean);
    let rabbet = |arris, width: f64, lean| Operation::Rabbet {
        arris,
        width: mm(width),
        depth,
        span: Span::Through,
        lean,
    };
    match kind {
        0 => rabbet(Arris::Long(face, edge), 4.0 + 8.0 * b, Angle::ZERO),
        1 => rabbet(Arris::Cross(face, e), 4.0 + 8.0 * b, Angle::ZERO),
        2 => rabbet(Arris::Long(face, edge), 5.0 + 8.0 * b, lean),
        3 | 4 => Operation::Groove {
            face,
            along_grain: kind == 3,
            offset: mm(if kind == 3 { w } else { l } * (0.1 + 0.5 * a)),
            width: mm(3.4 + 8.0 * b),
            depth,
            span: Span::Through,
            lean: Angle::ZERO,
        },
        5 => Operation::Groove {
            face,
            along_grain: true,
            offset: mm(w * 0.3),
            width: mm(4.0 + 4.0 * b),
            depth,
            span: Span::Through,
            lean,
        },
        6 => Operation::Notch {
            from: [mm(l * 0.4), if flip { mm(w * 0.5) } else { Length::ZERO }, Length::ZERO],
            to: [mm(l * 0.4 + 4.0 + 3.0 * b), if flip { mm(w) } else { mm(w * 0.5) }, mm(t)],
            purpose: NotchPurpose::HalfLap,
        },
        7 => Operation::Notch {
            from: [if flip { mm(l - 10.0) } else { Length::ZERO }, mm(w * 0.3), Length::ZERO],
            to: [if flip { mm(l) } else { mm(10.0) }, mm(w * 0.3 + 8.0), mm(t)],
            purpose: NotchPurpose::Finger,
        },
        8 => Operation::Chamfer { arris: Arris::Long(face, edge), width: mm(1.0 + 2.0 * b) },
        9 => Operation::RoundOver { arris: Arris::Cross(face, e), radius: mm(1.0 + 2.0 * b) },
        10 => Operation::EdgeCut {
            edge,
            at: if edge == Edge::Lower { Length::ZERO } else { mm(w) },
            tilt: lean,
        },
        _ => rabbet(Arris::Short(edge, e), 5.0 + 8.0 * b, Angle::ZERO),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Walls upright and splayed, frames, parallel-sided and tapered ends, on either kind of saw.
    #[test]
    fn end_cuts_come_back(l in 60.0f64..600.0, w in 20.0f64..160.0, t in 5.0f64..24.0,
        tilt in -44.0f64..44.0, gauge in -20.0f64..44.0, other in 0.0f64..1.0, left in any::<bool>()) {
        let settings = both(left);
        let long = l + w;
        for (g, tl) in [(0.0, tilt), (gauge, 0.0), (gauge / 3.0, tilt), (0.0, 0.0)] {
            let second = if other < 0.5 { g } else { g / 2.0 };
            let p = part("wall", Role::Wall, [long, w, t], vec![
                end(End::Start, 0.0, g, tl),
                end(End::Finish, long, second, tl),
            ]);
            prop_assert_eq!(trial(&p, &settings), Ok(()));
        }
    }

    /// Splayed walls: both edges beveled first, then compound ends that end in a point.
    #[test]
    fn splayed_walls_come_back(l in 120.0f64..400.0, w in 40.0f64..120.0, t in 6.0f64..16.0,
        lean in 1.0f64..40.0, sides in 4u32..9, left in any::<bool>()) {
        let c = super::compound::mitered(sides, Angle::degrees(lean));
        let bevel = Angle::degrees(lean);
        let p = part("wall", Role::Wall, [l + w, w, t], vec![
            Operation::EdgeCut { edge: Edge::Lower, at: Length::ZERO, tilt: bevel },
            Operation::EdgeCut { edge: Edge::Upper, at: mm(w), tilt: -bevel },
            end(End::Start, 0.0, c.gauge.to_degrees(), c.tilt.to_degrees()),
            end(End::Finish, l + w, c.gauge.to_degrees(), c.tilt.to_degrees()),
        ]);
        prop_assert_eq!(trial(&p, &both(left)), Ok(()));
    }

    /// Rabbets, grooves, notches, arrises, ripped edges.
    #[test]
    fn shaped_cuts_come_back(kind in 0u32..12, l in 120.0f64..400.0, w in 40.0f64..120.0, t in 8.0f64..20.0,
        a in 0.0f64..1.0, b in 0.0f64..1.0, lean in -20.0f64..20.0, flip in any::<bool>(), left in any::<bool>()) {
        let p = part("piece", Role::Wall, [l, w, t], vec![op(kind, [l, w, t], a, b, lean, flip)]);
        prop_assert_eq!(trial(&p, &both(left)), Ok(()));
    }

    /// Slots for loose tongues in miters: flat on the table at 45°, standing on end for many-sided boxes.
    #[test]
    fn end_slots_come_back(l in 120.0f64..400.0, t in 10.0f64..20.0, sides in 4u32..9,
        width in 3.2f64..3.6, share in 0.35f64..0.6, at_finish in any::<bool>(), left in any::<bool>()) {
        let tilt = super::compound::miter(sides);
        let (e, at) = if at_finish { (End::Finish, l) } else { (End::Start, 0.0) };
        let face = t / tilt.cos();
        let p = part("wall", Role::Wall, [l, 60.0, t], vec![
            end(End::Start, 0.0, 0.0, tilt.to_degrees()),
            end(End::Finish, l, 0.0, tilt.to_degrees()),
            Operation::EndSlot { end: e, at: mm(at), tilt, from_heel: mm(face * share), width: mm(width),
                depth: mm(t * 0.3), span: Span::Through },
        ]);
        prop_assert_eq!(trial(&p, &both(left)), Ok(()));
    }
}

fn planned(parts: &BoxParts, count: u32, effort: Effort) -> SawPlan {
    plan(&[Lot { parts, count }], &Settings::small_shop(), effort)
}

fn keeps_precedence(p: &SawPlan) {
    assert!(p.before.iter().all(|(a, b)| a < b), "{:?}", p.before);
    // The cuts of each part come in its own order.
    let mut seen = std::collections::BTreeMap::new();
    for (i, s) in p.setups.iter().enumerate() {
        for m in &s.members {
            if let (Some(part), Some(cut)) = (m.part, m.cut) {
                let last = seen.insert((m.box_index, part), (cut, i));
                assert!(last.is_none_or(|(c, at)| c < cut || at == i), "{} out of order", m.name);
            }
        }
    }
}

#[test]
fn a_whole_box() {
    let b = keyed_box();
    let p = planned(&b, 6, Effort::Thorough);
    keeps_precedence(&p);
    let find = |purpose| p.setups.iter().filter(|s| s.purpose == purpose).collect::<Vec<_>>();
    // All eight first ends of walls share one set-up (no stop); second ends need one stop for each length.
    let miters = find(Purpose::BladeMiter);
    assert_eq!(miters.len(), 3);
    assert!(miters.iter().any(|s| s.guide == Guide::Mark && s.pieces() == 24));
    assert_eq!(find(Purpose::GaugeMiter).len(), 3);
    assert_eq!(find(Purpose::Rabbet).len(), 1);
    // Keys at 15, 45 and 75 of 90: 15 and 75 share a stop by turning the box.
    let keys = find(Purpose::KeySlot);
    assert_eq!(keys.len(), 2);
    assert_eq!(keys.iter().map(|s| s.pieces()).sum::<u32>(), 72, "12 keys in each of 6 boxes");
    let at = |purpose| p.setups.iter().position(|s| s.purpose == purpose).unwrap();
    assert!(at(Purpose::SawOff) > at(Purpose::FlushTrim) && at(Purpose::FlushTrim) > at(Purpose::KeySlot));
    assert!(p.bound <= p.minutes);
    let fast = planned(&b, 6, Effort::Fast);
    keeps_precedence(&fast);
    assert!(fast.minutes >= p.minutes && p.bound >= fast.bound);
    assert!(p.setups.iter().filter(|s| !s.passes.is_empty()).all(|s| !s.reasons.is_empty()));
    for s in &p.setups {
        for m in &s.members {
            if let (Some(id), Some(_), false) = (m.part, m.cut, s.passes.is_empty()) {
                judge(s, m, &b.parts[id.0], 1e-6).unwrap();
            }
        }
    }
    assert_eq!(cradle_cards(&b, &Settings::small_shop()).len(), 1);
    assert!(lid_card(&b, &Settings::small_shop()).is_some());
}

#[test]
fn two_boxes_share_set_ups() {
    let (a, b) = (keyed_box(), keyed_box());
    let settings = Settings::small_shop();
    let one = planned(&a, 1, Effort::Fast);
    let lots = [Lot { parts: &a, count: 1 }, Lot { parts: &b, count: 1 }];
    let two = plan(&lots, &settings, Effort::Fast);
    keeps_precedence(&two);
    assert_eq!(one.setups.len(), two.setups.len());
}

#[test]
fn walls_straight_from_the_strip() {
    let b = strip_box();
    let p = planned(&b, 1, Effort::Fast);
    keeps_precedence(&p);
    let s: Vec<_> = p.setups.iter().filter(|s| s.purpose == Purpose::MiterFromStrip).collect();
    assert_eq!(s.len(), 1);
    let mut stops: Vec<f64> = s[0].more_stops.iter().map(|d| d.to_mm()).collect();
    stops.push(s[0].distance().unwrap().to_mm());
    stops.sort_by(f64::total_cmp);
    assert!((stops[0] - 168.0).abs() < 1e-9 && (stops[1] - 248.0).abs() < 1e-9, "180 − 12 and 260 − 12");
}

/// Sources: SA-05 (HSE 300 mm push-stick rule), SA-06 (HSE figures).
#[test]
fn cautions_of_the_very_cut() {
    let one = |length: f64| {
        let cuts = vec![end(End::Finish, length, 0.0, 0.0)];
        let p = part("lip", Role::Lip, [length, 20.0, 6.0], cuts);
        let mut b = keyed_box();
        b.parts = vec![p];
        b.assemblies.clear();
        planned(&b, 1, Effort::Fast).setups.into_iter().find(|s| s.purpose == Purpose::Crosscut).unwrap()
    };
    let code = |s: &Setup, c: &str| s.cautions.iter().find(|x| x.code == c).map(|x| x.weight);
    assert_eq!(code(&one(60.0), "very-short-part"), Some(Weight::LikelyToFail), "SA-05");
    assert_eq!(code(&one(200.0), "short-part"), Some(Weight::WorthKnowing));
    assert_eq!(code(&one(320.0), "short-part"), None);
    assert!(one(60.0).holding.contains(&super::Holding::SledWithClamp), "SA-05");
    let g = super::GUARD_LIMITS;
    assert_eq!((g.knife_gap.to_mm(), g.push_stick.to_mm(), g.brake_seconds), (8.0, 450.0, 10), "SA-06");
    let p = planned(&keyed_box(), 1, Effort::Fast);
    for s in &p.setups {
        for c in &s.cautions {
            assert!(c.says.contains("manual") && !c.says.contains(" is safe"), "{}", c.code);
        }
        let tilted = s.tilt > Angle::ZERO;
        assert_eq!(code(s, "tilted-blade").is_some(), tilted);
        assert_eq!(code(s, "cradle").is_some(), s.purpose == Purpose::KeySlot);
        assert_eq!(code(s, "lid-pinch").is_some(), s.purpose == Purpose::SawOff);
    }
}

/// Keys are planed and mitered as one strip: its length counts, not that of a key. One key of 16 × 8 mm grows to
/// 10.1213 mm; with a kerf of 3.2 mm a strip for n of them is (n + 1) × (10.1213 + 3.2 √2) mm: 29.3 mm for one.
#[test]
fn keys_are_handled_as_a_strip() {
    let keyed = |count: usize| {
        let mut b = keyed_box();
        b.assemblies.clear();
        let size = [16.0, 8.0, 3.2];
        let key =
            |n| Part { origin: Origin::KeyStrip, ..part(&format!("key {n}"), Role::Key, size, Vec::new()) };
        b.parts = (0..count).map(key).collect();
        let p = planned(&b, 1, Effort::Fast);
        let mill = p.setups.into_iter().find(|s| s.purpose == Purpose::Mill).unwrap();
        let said = mill.cautions.into_iter().find(|c| c.code == "planer-short");
        (mill.members[0].in_strip.unwrap().length.to_mm(), said.map(|c| c.place))
    };
    let kerf = Settings::small_shop().table_saw.kerf.to_mm();
    let pitch = 8.0 + 1.5 * 2.0_f64.sqrt() + kerf * 2.0_f64.sqrt();
    let (one, said) = keyed(1);
    assert!((one - 2.0 * pitch).abs() < 1e-9, "{one}");
    assert_eq!(said.as_deref(), Some("key strip"));
    let (many, said) = keyed(24);
    assert!((many - 25.0 * pitch).abs() < 1e-9 && many > 300.0, "{many}");
    assert_eq!(said, None);
}

/// Walls come off their board as one strip and are planed as that: a box of short walls is not told that its walls are
/// too short for the planer when the strip is not.
#[test]
fn walls_of_a_run_are_planed_as_their_strip() {
    let planed = |length: f64| {
        let mut b = strip_box();
        b.assemblies.clear();
        b.parts.truncate(4);
        b.runs[0].strip_length = mm(length);
        let p = planned(&b, 1, Effort::Fast);
        let mills = p.setups.into_iter().filter(|s| s.purpose == Purpose::Mill);
        mills
            .flat_map(|s| s.cautions)
            .filter(|c| c.code == "planer-short")
            .map(|c| c.place)
            .collect::<Vec<_>>()
    };
    assert_eq!(planed(640.0), Vec::<String>::new());
    assert_eq!(planed(250.0), ["strip"]);
}

/// A triangle's 60° miter is beyond the saw's tilt; a groove narrower than the kerf has no setting.
#[test]
fn what_the_saw_cannot_do_is_said() {
    let mut b = keyed_box();
    b.assemblies.clear();
    b.parts = vec![part(
        "side",
        Role::Wall,
        [300.0, 60.0, 10.0],
        vec![
            end(End::Finish, 300.0, 0.0, 60.0),
            Operation::Groove {
                face: Face::Back,
                along_grain: true,
                offset: mm(10.0),
                width: mm(2.0),
                depth: mm(3.0),
                span: Span::Through,
                lean: Angle::ZERO,
            },
        ],
    )];
    let p = planned(&b, 1, Effort::Fast);
    let said = |c: &str| p.setups.iter().any(|s| s.cautions.iter().any(|x| x.code == c));
    assert!(said("tilt-beyond-saw") && said("no-setting"));
}

/// A slot |z − height| ≤ thickness / 2, x ≤ depth comes out of the cradle for every key, turned or not.
#[test]
fn key_slots_come_back() {
    let settings = Settings::small_shop();
    let b = keyed_box();
    let p = planned(&b, 1, Effort::Fast);
    let mut seen = 0;
    for s in p.setups.iter().filter(|s| s.purpose == Purpose::KeySlot) {
        for m in &s.members {
            let crate::parts::AssemblyOperation::KeySlot { height, thickness, depth, .. } =
                b.assemblies[0].cuts[m.cut.unwrap()].operation
            else {
                panic!("not a key slot");
            };
            let slots = simulate::cradle_slots(s, m, mm(90.0), settings.cradle.floor);
            assert_eq!(slots.len(), 1);
            let d: Vec<f64> = slots[0].planes.iter().map(|p| p.d).collect();
            let want = [depth, height + thickness / 2.0, thickness / 2.0 - height].map(Length::to_mm);
            assert!(d.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-9), "{} {d:?} {want:?}", m.at);
            seen += 1;
        }
    }
    assert_eq!(seen, 12);
}

/// A lowered wall is ripped to its floor; a hinge bed gives the depth of the leaf.
#[test]
fn lowered_wall_and_hinge_bed() {
    let notch = |from: [f64; 3], to: [f64; 3], purpose| Operation::Notch {
        from: from.map(mm),
        to: to.map(mm),
        purpose,
    };
    let p = part(
        "right",
        Role::Wall,
        [180.0, 90.0, 12.0],
        vec![
            notch([0.0, 80.0, 0.0], [180.0, 90.0, 12.0], NotchPurpose::Opening),
            notch([20.0, 78.5, 2.0], [50.0, 80.0, 12.0], NotchPurpose::HingeLeaf),
        ],
    );
    let settings = Settings::small_shop();
    let list = setups(&p, &settings);
    assert!((list[0].distance().unwrap().to_mm() - 80.0).abs() < 1e-9);
    assert_eq!(judge(&list[0], &list[0].members[0], &p, 1e-9), Ok(()));
    assert!(list[1].height().is_some_and(|h| h > Length::ZERO));
}

/// Source: KY-10, a 3.2 mm kerf with teeth beveled 15° leaves a V of 0.8574 mm.
#[test]
fn beveled_teeth_are_named_for_keys() {
    let mut settings = Settings::small_shop();
    settings.table_saw.teeth = super::Teeth::AlternateBevel(Angle::degrees(15.0));
    let b = keyed_box();
    let p = plan(&[Lot { parts: &b, count: 1 }], &settings, Effort::Fast);
    let keys = p.setups.iter().filter(|s| s.purpose == Purpose::KeySlot);
    for s in keys {
        assert!(
            s.cautions.iter().any(|c| c.code == "v-at-slot-bottom" && c.says.contains("0.86 mm")),
            "KY-10"
        );
    }
}
