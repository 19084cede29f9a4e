//! Whether the corners close, with the saw's measured errors.

use keepwright_model::fit::{
    Arris, Budget, DIAGONALS, PAIR_LENGTH, Ring, SET_THICKNESS, Tolerance, VISIBLE_GAP, Verdict,
};

use super::draft::{Chapter, Draft, numbers, title};
use crate::document::Sheet;
use crate::flow::{Block, Bullet, Column, List, Table, Words};
use crate::shown::Showing;

/// Nothing without miters.
pub(super) fn sheet(draft: &Draft<'_>) -> Option<Sheet> {
    let fit = &draft.plan.fit;
    let rings: Vec<(&str, &Ring)> = [("Walls", fit.walls.as_ref()), ("Lid frame", fit.frame.as_ref())]
        .into_iter()
        .filter_map(|(n, r)| Some((n, r?)))
        .collect();
    let (_, first) = rings.first()?;
    let mut blocks = vec![title("Fit"), Block::Lead(Words::marked(&lead(&rings, first)))];
    blocks.push(saw(draft));
    blocks.push(Block::Heading("Gaps, by how the ring is put together".into()));
    blocks.push(table(&rings));
    blocks.push(Block::Heading("At the dry fit".into()));
    blocks.push(checks(draft));
    blocks.extend(draft.of_chapter(Chapter::Fit).map(|c| Block::Caution(c.into())));
    Some(Sheet::new("Fit", blocks))
}

fn lead(rings: &[(&str, &Ring)], first: &Ring) -> String {
    let worst = rings.iter().map(|(_, r)| r.verdict()).max().unwrap_or(Verdict::NotSeen);
    let gap = first.spread();
    let says = match worst {
        Verdict::NotSeen => "no gap will show",
        Verdict::MayShow => "a gap may show",
        Verdict::Shows => "a gap will show",
    };
    format!(
        "With this saw's errors the walls' miters are typically **{}** open and hardly ever more than **{}**: {says}, {} being what \
         the eye finds.",
        Showing::gap(gap.typical()),
        Showing::gap(gap.worst()),
        Showing::gap(VISIBLE_GAP.limit)
    )
    .replace("the walls' miters", if rings.iter().any(|(n, _)| *n == "Walls") { "the walls' miters" } else { "the lid frame's miters" })
}

pub(crate) fn saw(draft: &Draft<'_>) -> Block {
    let e = &draft.plan.shop.errors;
    let degrees = |a: keepwright_model::units::Angle| format!("{:.3}°", a.to_degrees() + 0.0);
    Block::Pairs(vec![
        (
            "tilt".into(),
            Words::plain(format!(
                "off by {}, give or take {}",
                degrees(e.bevel.bias),
                degrees(e.bevel.spread)
            )),
        ),
        (
            "gauge".into(),
            Words::plain(format!(
                "off by {}, give or take {}",
                degrees(e.gauge.bias),
                degrees(e.gauge.spread)
            )),
        ),
        (
            "pair of lengths".into(),
            Words::plain(format!(
                "unequal by {}, give or take {}",
                Showing::gap(e.length_pair.bias),
                Showing::gap(e.length_pair.spread)
            )),
        ),
    ])
}

/// A way to put a ring together, and the gap that it leaves.
type Way = (&'static str, fn(&Ring) -> Budget);

/// Ways to put a ring together, and the gap that each leaves.
const WAYS: [Way; 4] = [
    ("Errors spread round all corners", Ring::spread),
    ("Each corner held square, the gap at every corner", |ring| ring.held),
    ("All but the last pulled tight, the last one takes it all", |ring| ring.last),
    ("From lower edge to rim a gap grows by", |ring| ring.taper),
];

pub(crate) fn table(rings: &[(&str, &Ring)]) -> Block {
    let rows = WAYS
        .iter()
        .map(|(name, gap)| {
            let gaps = rings.iter().map(|(_, ring)| gap(ring)).flat_map(|b| [b.typical(), b.worst()]);
            core::iter::once(Words::bold(*name)).chain(gaps.map(|l| Words::plain(Showing::gap(l)))).collect()
        })
        .collect();
    let mut columns = vec![Column::words("assembled so")];
    for (name, ring) in rings {
        let opens = ring.corners.iter().find_map(|c| c.opens_at);
        let at = opens.map_or("", |a| if a == Arris::Heel { ", at the heel" } else { ", at the toe" });
        columns.push(numbers(format!("{}: typical{at}", name.to_lowercase())));
        columns.push(numbers("hardly ever more"));
    }
    Block::Table(Table::new(columns, rows))
}

pub(crate) fn checks(draft: &Draft<'_>) -> Block {
    let says = |t: &Tolerance| {
        Words::plain(format!("{}: at most {} ({})", t.name, draft.show.both(t.limit), t.basis))
    };
    let items = [&PAIR_LENGTH, &SET_THICKNESS, &VISIBLE_GAP, &DIAGONALS].into_iter().map(says).collect();
    Block::List(List { bullet: Bullet::Box, items })
}
