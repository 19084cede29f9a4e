//! How a box stands for a picture: what an open lid clears, what a cut takes, what is seen along a direction.

#![expect(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a test stops at the first surprise; drawings repeat exactly"
)]

use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, read_statement};
use keepwright_model::job::{Order, Plan, Shop, plan};
use keepwright_model::saw::Effort;
use keepwright_model::solids::{Solid, intersection_volume};
use keepwright_model::space::{Plane, Pose, Vec3};
use keepwright_model::wood;
use keepwright_packet::drawing::Drawing;
use keepwright_packet::drawings::{LidMotion, Room, Stance, sawn, seen_along};

const EXAMPLES: [(&str, &str); 6] = [
    ("pencil case", include_str!("../../../examples/pencil-case.toml")),
    ("ring boxes", include_str!("../../../examples/ring-boxes.toml")),
    ("seed bowl", include_str!("../../../examples/seed-bowl.toml")),
    ("sewing box", include_str!("../../../examples/sewing-box.toml")),
    ("stamp chest", include_str!("../../../examples/stamp-chest.toml")),
    ("tea caddy", include_str!("../../../examples/tea-caddy.toml")),
];
/// Room that never makes a drawing smaller.
const WIDE: Room = Room::new(5000.0, 5000.0);

fn planned(text: &str) -> Plan {
    let statement = read_statement(text, &Defaults::default(), &wood::named).unwrap();
    let shop = Shop::small_shop();
    let order = Order { statement: &statement, rack: None, shop: &shop, when: None, effort: Effort::Fast };
    plan(&order, &mut NeverStop).unwrap()
}

fn seen(plan: &Plan, stance: Stance, direction: Vec3) -> Drawing {
    seen_along(&plan.statement, &plan.parts, &plan.solids, stance, direction, WIDE)
}

fn size(drawing: &Drawing) -> [f64; 2] {
    drawing.bounds(1.0).map_or([0.0, 0.0], |b| [b.width(), b.height()])
}

#[test]
fn a_lid_that_opens_runs_into_nothing() {
    for (name, text) in EXAMPLES {
        let plan = planned(text);
        let Some(motion) = LidMotion::of(&plan.statement, &plan.parts) else { continue };
        let pieces = sawn(&plan.parts, &plan.solids);
        for share in [0.1, 0.5, 1.0] {
            let pose = motion.pose(share);
            let put = |solid: &Solid, closed: Vec3| solid.posed(&Pose { origin: closed, ..Pose::IDENTITY });
            for lid in pieces.iter().filter(|p| p.lid) {
                let lid_solid = put(&lid.solid, lid.closed).posed(&pose);
                for rest in pieces.iter().filter(|p| !p.lid) {
                    let shared = intersection_volume(&lid_solid, &put(&rest.solid, rest.closed)).to_mm3();
                    let of = |i: usize| &plan.parts.parts[i].name;
                    assert!(
                        shared < 0.01,
                        "{name} at {share}: {} in {}: {shared} mm³",
                        of(lid.part),
                        of(rest.part)
                    );
                }
            }
        }
    }
}

#[test]
fn a_hinged_lid_rises_by_its_stop() {
    let plan = planned(EXAMPLES[3].1);
    let motion = LidMotion::of(&plan.statement, &plan.parts).unwrap();
    let LidMotion::Turn { at, to, .. } = motion else { panic!("{motion:?}") };
    // Stated: opens to 95 degrees.
    assert!((to.to_degrees() - 95.0).abs() < 1e-9);
    let front = Vec3::new(100.0, 0.0, at.z);
    let open = motion.pose(1.0).point(front);
    let reach = at.y - front.y;
    assert!((open.z - at.z - reach * 95f64.to_radians().sin()).abs() < 1e-9);
    assert!((open.y - at.y + reach * 95f64.to_radians().cos()).abs() < 1e-9);
    assert_eq!(motion.pose(0.0).point(front), front);
}

#[test]
fn a_plain_view_has_the_size_of_the_box() {
    // Stated: 228 × 74 × 48; the lid and its pull stay within.
    let plan = planned(EXAMPLES[0].1);
    for (direction, want) in [(Vec3::Y, [228.0, 48.0]), (-Vec3::X, [74.0, 48.0]), (-Vec3::Z, [228.0, 74.0])] {
        let got = size(&seen(&plan, Stance::default(), direction));
        for (got, want) in got.into_iter().zip(want) {
            assert!((got - want).abs() < 1.0, "{direction:?}: {got} of {want} mm, lines included");
        }
    }
}

#[test]
fn a_cut_takes_what_lies_beyond_it() {
    let plan = planned(EXAMPLES[0].1);
    let cut = Some(Plane { n: Vec3::X, d: 100.0 });
    let got = size(&seen(&plan, Stance { cut, ..Stance::default() }, Vec3::Y));
    assert!((got[0] - 100.0).abs() < 1.0, "{got:?}");
}

#[test]
fn what_is_apart_or_open_takes_more_room() {
    for (name, text) in EXAMPLES {
        let plan = planned(text);
        let from = Vec3::new(-0.5, 0.7, -0.4);
        let area = |stance| size(&seen(&plan, stance, from)).into_iter().product::<f64>();
        let closed = area(Stance::default());
        assert!(area(Stance { apart: 1.0, ..Stance::default() }) > 1.2 * closed, "{name}");
        if LidMotion::of(&plan.statement, &plan.parts).is_some() {
            assert!(area(Stance { open: 1.0, ..Stance::default() }) > 1.2 * closed, "{name}");
        }
        assert_eq!(
            area(Stance { apart: f64::NAN, ..Stance::default() }),
            closed,
            "{name}: no number, no move"
        );
    }
}

#[test]
fn no_direction_draws_nothing() {
    let plan = planned(EXAMPLES[0].1);
    for direction in [Vec3::ZERO, Vec3::new(f64::NAN, 0.0, 1.0)] {
        assert!(seen(&plan, Stance::default(), direction).items.is_empty());
    }
}
