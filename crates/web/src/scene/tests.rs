//! The scenes of the example boxes: their surfaces, their places in the wood, their words.

use super::*;
use crate::scene::place::in_run;
use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, read_statement};
use keepwright_model::job::{Order, Shop, plan};
use keepwright_model::parts::Figure as AtCorner;
use keepwright_model::saw::Effort;
use keepwright_model::units::{Length, LengthUnit};
use keepwright_model::wood;

/// All examples but the rack and the shop.
const EXAMPLES: [(&str, &str); 6] = [
    ("pencil case", include_str!("../../../../examples/pencil-case.toml")),
    ("ring boxes", include_str!("../../../../examples/ring-boxes.toml")),
    ("seed bowl", include_str!("../../../../examples/seed-bowl.toml")),
    ("sewing box", include_str!("../../../../examples/sewing-box.toml")),
    ("stamp chest", include_str!("../../../../examples/stamp-chest.toml")),
    ("tea caddy", include_str!("../../../../examples/tea-caddy.toml")),
];

fn planned(text: &str, unit: LengthUnit) -> Plan {
    let statement = read_statement(text, &Defaults::default(), &wood::named).unwrap();
    let mut shop = Shop::small_shop();
    shop.unit = unit;
    let order = Order { statement: &statement, rack: None, shop: &shop, when: None, effort: Effort::Fast };
    plan(&order, &mut NeverStop).unwrap()
}

fn example(name: &str) -> Plan {
    let (_, text) = EXAMPLES.iter().find(|(n, _)| *n == name).unwrap();
    planned(text, LengthUnit::Millimeter)
}

/// A point of a piece's part frame in its log.
fn in_log(piece: &Piece, p: [f64; 3]) -> [f64; 3] {
    let m = piece.log.map(Short::value);
    core::array::from_fn(|row| {
        let r = &m[4 * row..4 * row + 4];
        r[0] * p[0] + r[1] * p[1] + r[2] * p[2] + r[3]
    })
}

#[test]
fn a_surface_encloses_the_wood_of_its_part() {
    for (name, text) in EXAMPLES {
        let plan = planned(text, LengthUnit::Millimeter);
        let scene = scene(&plan);
        for (part, solid) in plan.parts.parts.iter().zip(&plan.solids) {
            let (mut six, id) = (0.0, part_id(part));
            for piece in scene.pieces.iter().filter(|p| p.part == id) {
                let at = |i: &u32| {
                    let p = &piece.mesh.points[3 * *i as usize..3 * *i as usize + 3];
                    Vec3::new(p[0].value(), p[1].value(), p[2].value())
                };
                for t in piece.mesh.triangles.chunks_exact(3) {
                    six += at(&t[0]).dot(at(&t[1]).cross(at(&t[2])));
                }
                let counted: f64 = piece.mesh.faces.chunks_exact(5).map(|f| f[4].value()).sum();
                assert_eq!(
                    Short::of(counted * 3.0),
                    Short::of(piece.mesh.triangles.len() as f64),
                    "{name} {id}"
                );
            }
            let (got, want) = (six / 6.0, solid.volume().to_mm3());
            assert!((got - want).abs() < 1e-4 * want + 0.5, "{name} {id}: {got} of {want} mm³");
        }
    }
}

#[test]
fn every_triangle_faces_the_way_its_face_says() {
    for (name, text) in EXAMPLES {
        for piece in &scene(&planned(text, LengthUnit::Millimeter)).pieces {
            let mut triangles = piece.mesh.triangles.chunks_exact(3);
            for face in piece.mesh.faces.chunks_exact(5) {
                let normal = Vec3::new(face[0].value(), face[1].value(), face[2].value());
                let count = (0..10_000).take_while(|k| f64::from(*k) < face[4].value()).count();
                for t in triangles.by_ref().take(count) {
                    let at = |i: u32| {
                        let p = &piece.mesh.points[3 * i as usize..3 * i as usize + 3];
                        Vec3::new(p[0].value(), p[1].value(), p[2].value())
                    };
                    let turned = (at(t[1]) - at(t[0])).cross(at(t[2]) - at(t[0]));
                    // Slivers turn with the rounding of their corners.
                    assert!(
                        turned.norm() < 0.05 || turned.unit().dot(normal) > 0.99,
                        "{name} {}: {turned:?} on a face toward {normal:?}",
                        piece.name
                    );
                }
            }
        }
    }
}

#[test]
fn figure_runs_on_round_the_corners() {
    let mut corners = 0;
    for (name, text) in EXAMPLES {
        let plan = planned(text, LengthUnit::Millimeter);
        let scene = scene(&plan);
        let piece = |id: usize| {
            let part = &plan.parts.parts[id];
            (scene.pieces.iter().find(|p| p.part == part_id(part)).unwrap(), part)
        };
        for run in &plan.parts.runs {
            for (pair, corner) in run.parts.windows(2).zip(&run.corners) {
                assert_eq!(corner.figure, AtCorner::RunsOn, "{name}");
                let ((left, part), (right, _)) = (piece(pair[0].0), piece(pair[1].0));
                let [length, _, thickness] = part.size.map(Length::to_mm);
                for height in [0.0, 11.0, 40.0] {
                    let end = in_log(left, [length, height, thickness]);
                    let start = in_log(right, [0.0, height, thickness]);
                    // The board goes on by what the corner loses, along the grain, and nowhere else.
                    let way = if run.mirrors.is_some() { -1.0 } else { 1.0 };
                    assert!(
                        (start[0] - end[0] - way * corner.loss.to_mm()).abs() < 3e-4,
                        "{name} {end:?} {start:?}"
                    );
                    assert!((start[1] - end[1]).abs() < 3e-4 && (start[2] - end[2]).abs() < 3e-4, "{name}");
                }
                corners += 1;
            }
        }
    }
    assert!(corners >= 3 + 3 + 5 + 3 + 3 + 2, "corners looked at: {corners}");
}

#[test]
fn a_bookmatched_pair_mirrors_across_the_kerf() {
    let plan = example("tea caddy");
    let scene = scene(&plan);
    let milling = &plan.shop.stock.milling;
    let lost = milling.resaw_kerf + milling.sawn_face * 2.0;
    let find = |id: &str| scene.pieces.iter().find(|p| p.part == id).unwrap();
    for (ends, starts) in [("right", "back"), ("left", "front")] {
        let part = plan.parts.parts.iter().find(|p| p.name == ends).unwrap();
        let [length, _, thickness] = part.size.map(Length::to_mm);
        for (away, height) in [(0.0, 0.0), (17.0, 30.0), (60.0, 80.0)] {
            let before = in_log(find(ends), [length - away, height, thickness]);
            let after = in_log(find(starts), [away, height, thickness]);
            // The same place along the grain, the kerf between the two show faces.
            assert!((before[0] - after[0]).abs() < 3e-4, "{ends} {starts}: {before:?} {after:?}");
            let apart = (before[1] - after[1]).hypot(before[2] - after[2]);
            assert!((apart - lost.to_mm()).abs() < 3e-4, "{ends} {starts}: {apart}");
        }
    }
    // Nothing lies twice in the billet: the slices' thicknesses and the kerf follow one another.
    let (a, b) = (&plan.parts.runs[0], &plan.parts.runs[1]);
    let t = plan.parts.parts[a.parts[0].0].size[2].to_mm();
    let first = in_run(&plan.parts, a, a.parts[0], lost).place([0.0, 0.0, t]);
    let second = in_run(&plan.parts, b, b.parts[0], lost).place([0.0, 0.0, t]);
    assert!((second[2] - first[2] - lost.to_mm()).abs() < 1e-9);
}

#[test]
fn rings_meet_the_wide_face_at_their_angle() {
    for (name, text) in EXAMPLES {
        let plan = planned(text, LengthUnit::Millimeter);
        for (piece, part) in scene(&plan).pieces.iter().filter_map(|piece| {
            Some((piece.clone(), plan.parts.parts.iter().find(|p| p.name == piece.name)?.clone()))
        }) {
            if part.run.is_some() {
                continue;
            }
            // At the middle of the board the pith lies straight below in the log's z, so the rings run along its y.
            let m = part.size.map(|l| l.to_mm() / 2.0);
            let middle = in_log(&piece, m);
            assert!(middle[1].abs() < 1e-3 && middle[2] > 50.0, "{name} {}: {middle:?}", piece.name);
            let along = in_log(&piece, [m[0], m[1] + 1.0, m[2]]);
            let across = [along[1] - middle[1], along[2] - middle[2]];
            let angle = across[1].atan2(across[0]).to_degrees();
            assert!((angle - part.rings.to_degrees()).abs() < 0.05, "{name} {}: {angle}", piece.name);
        }
    }
}

#[test]
fn dimensions_speak_the_shops_unit() {
    let text = |plan: &Plan, name: &str| {
        scene(plan).sizes.iter().find(|s| s.name == name).map(|s| s.text.clone()).unwrap()
    };
    // Stated: 286 × 184 and a lid that stands over by 3 all round.
    let chest = example("stamp chest");
    assert_eq!(text(&chest, "outside length"), "292");
    assert_eq!(text(&chest, "outside depth"), "190");
    // Stated: 8 1/4 by 5 1/2 by 4 inside.
    let caddy = planned(EXAMPLES[5].1, LengthUnit::Inch);
    assert_eq!(text(&caddy, "inside length"), "8 1/4\"");
    assert_eq!(text(&caddy, "inside depth"), "5 1/2\"");
    assert_eq!(text(&caddy, "inside height"), "4\"");
}

#[test]
fn inside_dimensions_stand_between_the_walls() {
    for (name, text) in EXAMPLES {
        let plan = planned(text, LengthUnit::Millimeter);
        let inside = plan.parts.inside.map(Length::to_mm);
        for (size, axis) in scene(&plan).sizes.iter().filter(|s| s.inside).zip(0..) {
            assert!(!size.places.is_empty(), "{name}");
            for place in &size.places {
                let long = place.to[axis].value() - place.from[axis].value();
                assert!(
                    (long - inside[axis]).abs() < 1e-3,
                    "{name} {}: {long} of {}",
                    size.name,
                    inside[axis]
                );
            }
        }
    }
}

#[test]
fn a_name_cannot_end_the_script_block() {
    let text = EXAMPLES[0].1.replace("Pencil case", "</script><b>x");
    let json = json(&scene(&planned(&text, LengthUnit::Millimeter))).unwrap();
    assert!(!json.contains('<') && json.contains("\\u003c/script>"));
    let read: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(read["name"], "</script><b>x");
}

#[test]
fn the_same_box_gives_the_same_bytes() {
    let bytes = || json(&scene(&example("stamp chest"))).unwrap();
    assert_eq!(bytes(), bytes());
}

#[test]
fn a_lid_says_how_it_opens() {
    let kind = |name| match scene(&example(name)).lid {
        None => "none",
        Some(Lid::Lift { .. }) => "lift",
        Some(Lid::Slide { .. }) => "slide",
        Some(Lid::Turn { .. }) => "turn",
    };
    let got = EXAMPLES.map(|(name, _)| kind(name));
    assert_eq!(got, ["slide", "lift", "none", "turn", "lift", "lift"]);
    let caddy = scene(&example("tea caddy"));
    let halves = caddy.pieces.iter().filter(|p| p.part == "front").map(|p| p.lid).collect::<Vec<_>>();
    assert_eq!(halves, [false, true], "the saw divides the front");
}

#[test]
fn a_request_for_a_line_drawing_is_read_or_refused() {
    let plan = example("pencil case");
    let asked = |from: &str, apart: &str, cut: Option<&str>| Sight {
        from: Some(from.into()),
        apart: Some(apart.into()),
        open: None,
        cut: cut.map(Into::into),
    };
    let usual = line_drawing(&plan, &Sight::default()).unwrap();
    assert!(usual.contains("<title>Pencil case</title>"));
    let front = line_drawing(&plan, &asked("0,-1,0", "0", None)).unwrap();
    let cut = line_drawing(&plan, &asked("0,-1,0", "0", Some("0,-1,0,-37"))).unwrap();
    assert!(usual != front && front != cut);
    for (sight, field) in [
        (asked("0,0,0", "0", None), "from"),
        (asked("1,2", "0", None), "from"),
        (asked("1,2,NaN", "0", None), "from"),
        (asked("1,2,3", "1.5", None), "apart"),
        (asked("1,2,3", "0", Some("0,0,0,4")), "cut"),
        (asked("1,2,3", "0", Some("1,0,0,1e300")), "cut"),
    ] {
        let error = line_drawing(&plan, &sight).unwrap_err();
        assert_eq!(error.field, field);
        assert!(error.to_string().contains("write "), "{error}");
    }
}

#[test]
fn the_element_says_its_name_and_nothing_of_a_name_is_markup() {
    let text = EXAMPLES[0].1.replace("Pencil case", "<b>A & B</b>");
    let plan = planned(&text, LengthUnit::Millimeter);
    let html = element(&plan, "<svg></svg>", "/boxes/a/drawing.svg").unwrap();
    assert!(html.contains("<svg></svg>") && html.contains("data-line-drawing=\"/boxes/a/drawing.svg\""));
    assert!(!html.contains("<b>") && !html.contains("style="), "markup from a name, or an inline style");
    assert!(html.contains("download=\"b-a-b-b.svg\""));
    let json = html.split("data-scene>").nth(1).and_then(|rest| rest.split("</script>").next()).unwrap();
    let read: serde_json::Value = serde_json::from_str(json).unwrap();
    assert_eq!(read["name"], "<b>A & B</b>");
}
