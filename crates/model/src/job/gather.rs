//! What the plan gathers from several rooms at once: rings that close, faces, screws, time sheets, prices, harms.

use super::living::name_of;
use super::measure::Faces;
use super::plan::Fit;
use super::shop::Shop;
use super::short;
use super::stock::StockPlan;
use crate::caution::{Caution, Change, Weight};
use crate::design::{LidKind, Registration, Statement};
use crate::fit::{self, Verdict};
use crate::parts::{BoxParts, Role};
use crate::reason::{Basis, Given, Reason, Value};
use crate::shop::finish::FinishPlan;
use crate::shop::glue::GlueUp;
use crate::shop::hardware::{Hardness, HingeSeat, Screws, hinge_screws};
use crate::shop::sanding::{FaceGroup, Sanding, When as SandWhen, usual_sequence};
use crate::shop::time::{ByArea, Phase, Timing, tally, tally_glue, timing};
use crate::units::{Length, Money};
use crate::wood;

/// Blank sizes of every part, so that each can be asked about.
pub(super) fn part_reasons(parts: &BoxParts, reasons: &mut Vec<Reason>) {
    for p in &parts.parts {
        if p.role == Role::Key {
            continue;
        }
        let sum =
            |f: fn(&crate::parts::Allowance) -> Length| p.blank.allowances.iter().map(f).sum::<Length>();
        reasons.push(Reason {
            key: format!("blank.{}", p.name.replace(' ', "_")),
            title: format!("length of the blank for {}", p.name),
            formula: "finished length, tip to tip + trim at both ends".into(),
            given: vec![
                Given::new("finished length", Value::Length(p.size[0])),
                Given::new("trim", Value::Length(sum(|a| a.length))),
                Given::new("added to the width", Value::Length(sum(|a| a.width))),
                Given::new("added to the thickness", Value::Length(sum(|a| a.thickness))),
            ],
            result: Value::Length(p.blank.length()),
            basis: Basis::CommonPractice,
        });
    }
}

pub(super) fn close(
    parts: &BoxParts,
    shop: &Shop,
    reasons: &mut Vec<Reason>,
    cautions: &mut Vec<Caution>,
) -> Fit {
    let ring = |role: Role| -> Option<fit::Ring> {
        let members: Vec<_> = parts.parts.iter().filter(|p| p.role == role).collect();
        let first = members.first()?;
        // Round a frame the miter runs over the members' width, round a box over the walls' thickness.
        let (thickness, height) =
            if role == Role::Wall { (first.size[2], first.size[1]) } else { (first.size[1], first.size[2]) };
        let walls = fit::Walls { lengths: members.iter().map(|p| p.size[0]).collect(), thickness, height };
        fit::ring_closure(&walls, &shop.errors).ok()
    };
    let mitered = parts.joints.iter().any(|j| {
        j.seam == crate::parts::Seam::Miter && parts.parts.get(j.a.0).is_some_and(|p| p.role == Role::Wall)
    });
    let walls = if mitered { ring(Role::Wall) } else { None };
    let frame = ring(Role::FrameMember);
    for (ring, key, place) in [(&walls, "fit", "walls, miters"), (&frame, "lid_fit", "lid frame, miters")] {
        let Some(ring) = ring else { continue };
        reasons.push(ring.reason_held(&format!("{key}.held")));
        reasons.push(ring.reason_last(&format!("{key}.last")));
        reasons.push(ring.reason_spread(&format!("{key}.spread")));
        if ring.verdict() == Verdict::NotSeen {
            continue;
        }
        let gap = ring.spread();
        cautions.push(Caution {
            code: "miters-show",
            weight: if ring.verdict() == Verdict::Shows { Weight::LikelyToFail } else { Weight::WorthKnowing },
            place: place.into(),
            says: format!(
                "With this saw's errors a miter is typically {:.2} mm open and hardly ever more than {:.2} mm; {:.1} mm is seen.",
                gap.typical().to_mm(),
                gap.worst().to_mm(),
                fit::VISIBLE_GAP.limit.to_mm()
            ),
            numbers: vec![
                Given::new("typical gap", Value::Length(gap.typical())),
                Given::new("worst gap", Value::Length(gap.worst())),
            ],
            basis: fit::VISIBLE_GAP.basis.clone(),
            change: Some(Change::words("Cut a test frame, read its gaps, and correct tilt and stop before the real walls")),
        });
    }
    Fit { walls, frame }
}

pub(super) fn stock_cautions(stock: &StockPlan, has_rack: bool, cautions: &mut Vec<Caution>) {
    // The judge, written apart from the search, looks at every plan.
    if let Some(problem) = stock.judged.first() {
        cautions.push(Caution {
            code: "cutting-plan-judged-wrong",
            weight: Weight::Cannot,
            place: "boards".into(),
            says: format!("The cutting plan was judged wrong and must not be cut: {problem}."),
            numbers: vec![Given::new("problems found", Value::Count(stock.judged.len() as u64))],
            basis: Basis::Derived(
                "every layout is checked again by code that shares nothing with the search",
            ),
            change: Some(Change::words("Plan again with another --seed, and report this")),
        });
    }
    if !has_rack || stock.cutting.is_complete() {
        return;
    }
    cautions.extend(short::cautions(stock));
}

/// Faces to sand: insides before glue-up, outsides after.
pub(super) fn face_groups(s: &Statement, shop: &Shop, faces: Faces, parts: &BoxParts) -> Vec<FaceGroup> {
    let count = |roles: &[Role]| {
        u32::try_from(parts.parts.iter().filter(|p| roles.contains(&p.role)).count()).unwrap_or(u32::MAX)
    };
    let inside = count(&[Role::Wall, Role::Bottom, Role::Lining, Role::TrayWall, Role::Divider]);
    let outside = count(&[Role::Wall, Role::FrameMember, Role::FramePanel, Role::LidPanel, Role::Top]);
    let group = |name: &str, area, faces, when, kind| FaceGroup {
        name: name.into(),
        area,
        faces,
        when,
        allowance: shop.sanding,
        sequence: usual_sequence(kind).to_vec(),
    };
    vec![
        group("inside faces", faces.inside, inside, SandWhen::BeforeGlueUp, s.finish.inside.kind),
        group(
            "outside faces",
            faces.outside + faces.edges,
            outside,
            SandWhen::AfterGlueUp,
            s.finish.outside.kind,
        ),
    ]
}

/// Screws of the hinges, in the back wall and in the lid.
pub(super) fn screws(s: &Statement, parts: &BoxParts, cautions: &mut Vec<Caution>) -> Vec<Screws> {
    let Some(hinges) = s.hinges.filter(|_| s.lid.registration == Registration::Hinges) else {
        return Vec::new();
    };
    let seat = |place: &'static str, part: &crate::parts::Part, edge, deep| {
        let species = wood::species(&part.wood);
        HingeSeat {
            place,
            edge,
            deep,
            gravity: species.and_then(|w| w.specific_gravity_12).map_or(0.5, |g| g.value),
            hardness: match species.map(|w| w.group) {
                Some(wood::Group::Softwood) => Hardness::Softwood,
                _ => Hardness::Hardwood,
            },
        }
    };
    let mut seats = Vec::new();
    if let Some(wall) = parts.parts.iter().find(|p| p.role == Role::Wall && p.name == "back") {
        seats.push(seat("back wall", wall, wall.size[2], wall.size[1]));
        if let LidKind::Sawn { height, .. } = s.lid.kind {
            seats.push(seat("lid", wall, wall.size[2], height));
        }
    }
    if let Some(lid) = parts.parts.iter().find(|p| p.name == "lid frame back" || p.name == "lid") {
        seats.push(seat("lid", lid, lid.size[1], lid.size[2]));
    }
    let found = hinge_screws(&hinges, &seats);
    cautions.extend(found.cautions);
    found.value
}

/// The time sheets of the batch and of a single box.
pub(super) fn time(
    parts: &BoxParts,
    glue: &[GlueUp],
    sanding: &[Sanding],
    finish: &FinishPlan,
    count: u32,
    set: &crate::shop::Settings,
) -> (Timing, Timing) {
    let mut work = tally(parts);
    tally_glue(&mut work, glue);
    let mut by_area: Vec<ByArea> = sanding
        .iter()
        .map(|g| ByArea {
            title: format!("sand {}", g.faces.name),
            phase: if g.faces.when == SandWhen::BeforeGlueUp { Phase::SandBefore } else { Phase::SandAfter },
            each: g.minutes,
        })
        .collect();
    by_area.extend(finish.coats.iter().map(|c| ByArea {
        title: format!("{}, {}", c.product.name, c.side.words()),
        phase: Phase::Finish,
        each: c.each * f64::from(c.coats),
    }));
    (timing(&work, &by_area, count, set), timing(&work, &by_area, 1, set))
}

pub(super) fn not_priced(stock: &StockPlan, has_rack: bool) -> Caution {
    let says = if has_rack {
        format!(
            "The price leaves out {} of the shopping list, which the rack does not give.",
            super::plural_of(u32::try_from(stock.shopping.len()).unwrap_or(u32::MAX), "line")
        )
    } else {
        "No rack was given, so no wood is in the price.".to_string()
    };
    Caution {
        code: "wood-not-priced",
        weight: Weight::WorthKnowing,
        place: "price".into(),
        says,
        numbers: Vec::new(),
        basis: Basis::Stated,
        change: Some(Change::words("Name the boards in a rack file, with what they cost")),
    }
}

/// What the hardware of one box costs.
pub(super) fn hardware_cost(parts: &BoxParts, shop: &Shop, cautions: &mut Vec<Caution>) -> Money {
    let mut sum = Money::ZERO;
    for h in &parts.hardware {
        match shop.hardware.iter().find(|p| h.name.contains(p.name.as_str())) {
            Some(p) => sum += p.each.times(f64::from(h.count)),
            None => cautions.push(Caution {
                code: "hardware-not-priced",
                weight: Weight::WorthKnowing,
                place: "price".into(),
                says: format!("The shop file has no price for {}, so the box's price leaves it out.", h.name),
                numbers: vec![Given::new("pieces in one box", Value::Count(u64::from(h.count)))],
                basis: Basis::Stated,
                change: Some(Change::words("Add it under [[hardware]] in the shop file")),
            }),
        }
    }
    sum
}

pub(super) fn harms(parts: &BoxParts, cautions: &mut Vec<Caution>) {
    let mut seen: Vec<&str> = Vec::new();
    for p in &parts.parts {
        if seen.contains(&p.wood.as_str()) {
            continue;
        }
        seen.push(&p.wood);
        let Some(species) = wood::species(&p.wood) else { continue };
        for harm in &species.harms {
            cautions.push(Caution {
                code: "wood-harms",
                weight: Weight::WorthKnowing,
                place: name_of(species.id),
                says: harm.says.to_string(),
                numbers: Vec::new(),
                basis: harm.provenance.basis("published rating; see the table's sources"),
                change: None,
            });
        }
    }
}
