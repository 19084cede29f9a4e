//! The part list: identical parts on one line, finished sizes, and blanks with every allowance on its own line.

use keepwright_model::job::Becomes;
use keepwright_model::parts::{Allowance, AllowanceKind, Origin, Part, PartId, Role};
use keepwright_model::units::{Length, Mass};

use super::draft::{Draft, numbers, title, wood_name};
use crate::document::Sheet;
use crate::flow::{Block, Column, Table, Words};
use crate::shown::{angle, counted};

/// Parts that are alike in all that the bench sees.
#[derive(Clone, Debug)]
pub(crate) struct Kind<'a> {
    /// The first of them.
    pub(crate) part: &'a Part,
    /// All of them.
    pub(crate) ids: Vec<PartId>,
    /// Weight of one.
    pub(crate) mass: Option<Mass>,
}

impl Kind<'_> {
    /// Their names, shortened to the words that they share where there are many.
    pub(crate) fn name(&self, draft: &Draft<'_>) -> String {
        let names: Vec<&str> =
            self.ids.iter().filter_map(|id| draft.part(*id)).map(|p| p.name.as_str()).collect();
        if names.len() <= 4 {
            return names.join(", ");
        }
        let role = self.part.role.words();
        numbered(&names, role).unwrap_or_else(|| format!("{role} ({})", span(&names)))
    }
}

/// Names that differ in their last number alone, such as `bottom strips 2, 4, 6, 8, 10`; numbers that follow each
/// other are said by the first and the last. The words before end with the role, which takes the plural.
fn numbered(names: &[&str], role: &str) -> Option<String> {
    let mut numbers: Vec<u32> = Vec::new();
    let mut head = None;
    for name in names {
        let (words, number) = name.rsplit_once(' ')?;
        if *head.get_or_insert(words) != words {
            return None;
        }
        numbers.push(number.parse().ok()?);
    }
    let head = head.filter(|words| words.ends_with(role))?;
    let in_a_row = numbers.windows(2).all(|w| matches!(w, [a, b] if a.checked_add(1) == Some(*b)));
    match numbers.as_slice() {
        [first, .., last] if in_a_row => Some(format!("{head}s {first} to {last}")),
        _ => {
            let each: Vec<String> = numbers.iter().map(u32::to_string).collect();
            Some(format!("{head}s {}", each.join(", ")))
        }
    }
}

impl Kind<'_> {
    /// One name for all: the words that the names share, or what the part is.
    pub(crate) fn short(&self, draft: &Draft<'_>) -> String {
        match self.ids.as_slice() {
            [one] => draft.part(*one).map_or_else(String::new, |p| p.name.clone()),
            _ => super::super::drawings::wood::kind(self.part),
        }
    }
}

/// First and last of many names.
fn span(names: &[&str]) -> String {
    match names {
        [first, .., last] => format!("{first} … {last}"),
        _ => names.concat(),
    }
}

/// The parts by kind, in the order of the first of each.
pub(crate) fn kinds<'a>(draft: &Draft<'a>) -> Vec<Kind<'a>> {
    let mut kinds: Vec<Kind<'_>> = Vec::new();
    for (i, part) in draft.plan.parts.parts.iter().enumerate() {
        let alike = kinds.iter_mut().find(|k| alike(k.part, part));
        match alike {
            Some(kind) => kind.ids.push(PartId(i)),
            None => kinds.push(Kind {
                part,
                ids: vec![PartId(i)],
                mass: draft.plan.measures.get(i).and_then(|m| m.mass),
            }),
        }
    }
    kinds
}

fn alike(a: &Part, b: &Part) -> bool {
    let same = |x: &[Length; 3], y: &[Length; 3]| x.iter().zip(y).all(|(x, y)| x.same(*y));
    a.role == b.role
        && a.wood == b.wood
        && a.origin == b.origin
        && same(&a.size, &b.size)
        && a.blank.length().same(b.blank.length())
        && a.blank.width().same(b.blank.width())
        && a.blank.thickness().same(b.blank.thickness())
        && (a.rings - b.rings).abs().to_degrees() < 0.5
        // Walls have names of their own, and so has their place in the strip.
        && (a.role != Role::Wall || a.cuts.len() == b.cuts.len())
}

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let kinds = kinds(draft);
    let mut blocks = vec![title("Part list"), Block::Lead(Words::marked(&lead(draft, &kinds)))];
    blocks.push(Block::Table(finished(draft, &kinds)));
    if kinds.iter().any(|k| k.mass.is_none()) {
        blocks.push(Block::note("A question mark stands where the tables know no density of the wood."));
    }
    blocks.push(Block::note(
        "Finished sizes, length along the grain; of a mitered part from tip to tip. Rings: the angle between the wide face and \
         the growth rings, 0° flat-sawn, 90° quartersawn.",
    ));
    blocks.push(Block::Heading("Blanks".into()));
    blocks.push(Block::Table(blanks(draft, &kinds)));
    blocks.push(Block::note(
        "Each allowance stands on its own line: what is left on for it in length, width and thickness.",
    ));
    Sheet::new("Part list", blocks)
}

fn lead(draft: &Draft<'_>, kinds: &[Kind<'_>]) -> String {
    let pieces = draft.plan.parts.parts.len();
    let mass =
        draft.plan.mass().map_or_else(String::new, |m| format!(", **{}** together", draft.show.mass(m)));
    if draft.count() > 1 {
        let all = pieces.saturating_mul(draft.count() as usize);
        return format!(
            "**{all}** pieces for **{}** boxes: each box has **{pieces}** of **{}**{mass}.",
            draft.count(),
            counted(kinds.len(), "kind", "kinds")
        );
    }
    format!(
        "One box has **{}** of **{}**{mass}.",
        counted(pieces, "part", "parts"),
        counted(kinds.len(), "kind", "kinds")
    )
}

fn pieces(draft: &Draft<'_>, kind: &Kind<'_>) -> usize {
    kind.ids.len().saturating_mul(draft.count() as usize)
}

pub(crate) fn finished(draft: &Draft<'_>, kinds: &[Kind<'_>]) -> Table {
    let show = &draft.show;
    let rows = kinds
        .iter()
        .enumerate()
        .map(|(i, kind)| {
            let p = kind.part;
            let sheet = matches!(p.origin, Origin::Sheet);
            let rings = if sheet { String::new() } else { format!(", rings {}", angle(p.rings)) };
            let both = |l: Length| Words::bold(show.bare(l)).and(format!("\n{}", show.bare_other(l)));
            vec![
                Words::plain((i + 1).to_string()),
                Words::bold(kind.name(draft)),
                Words::plain(pieces(draft, kind).to_string()),
                both(p.size[0]),
                both(p.size[1]),
                both(p.size[2]),
                Words::plain(format!("{}{rings}", wood_name(&p.wood))),
                Words::plain(from(draft, kind)),
                Words::plain(kind.mass.map_or_else(|| "?".to_owned(), grams)),
            ]
        })
        .collect();
    let columns = vec![
        numbers("no."),
        Column::words("part"),
        numbers("pieces"),
        numbers(format!("length {}, {}", show.unit(), show.other_unit())),
        numbers("width"),
        numbers("thick"),
        Column::words("wood"),
        Column::narrow("from"),
        numbers("g each"),
    ];
    Table::new(columns, rows)
}

fn grams(mass: Mass) -> String {
    if mass.value() < 10.0 { format!("{:.1}", mass.value()) } else { format!("{:.0}", mass.value()) }
}

/// The boards that the parts of a kind come from.
pub(crate) fn from(draft: &Draft<'_>, kind: &Kind<'_>) -> String {
    let stock = &draft.plan.stock;
    let mut boards: Vec<&str> = Vec::new();
    for layout in &stock.cutting.layouts {
        let Some(board) = super::stock::board_of(draft, layout) else { continue };
        let gives = layout.parts.iter().filter_map(|p| stock.billets.get(p.item)).any(|b| {
            let has = |id: &PartId| kind.ids.contains(id);
            match &b.becomes {
                Becomes::Blank(id)
                | Becomes::PanelStrip { part: id, .. }
                | Becomes::KeyStock { key: id, .. } => has(id),
                Becomes::Slices(ids) => ids.iter().any(has),
            }
        });
        if gives && !boards.contains(&board.name.as_str()) {
            boards.push(&board.name);
        }
    }
    if !boards.is_empty() {
        return boards.join(", ");
    }
    match kind.part.origin {
        Origin::VeneerLeaf => "veneer".into(),
        Origin::Board | Origin::Sheet | Origin::KeyStrip => "to buy".into(),
    }
}

/// Why wood is left on, in words.
pub(crate) const fn allowance(kind: AllowanceKind) -> &'static str {
    match kind {
        AllowanceKind::Kerf => "kerf",
        AllowanceKind::Trim => "trim",
        AllowanceKind::Sanding => "sanding",
        AllowanceKind::Milling => "milling",
        AllowanceKind::Resawing => "resawing",
    }
}

pub(crate) fn blanks(draft: &Draft<'_>, kinds: &[Kind<'_>]) -> Table {
    let show = &draft.show;
    let added = |l: Length| {
        if l.to_mm().abs() < 1e-9 { String::new() } else { format!("+\u{a0}{}", show.bare(l)) }
    };
    let mut rows: Vec<Vec<Words>> = Vec::new();
    for (i, kind) in kinds.iter().enumerate() {
        let blank = &kind.part.blank;
        let allowances: Vec<&Allowance> = blank
            .allowances
            .iter()
            .filter(|a| [a.length, a.width, a.thickness].iter().any(|l| l.to_mm().abs() > 1e-9))
            .collect();
        let lines = |of: fn(&Allowance) -> Length, whole: Length, finished: Length| -> Words {
            let mut words = Words::plain(show.bare(finished));
            for a in &allowances {
                words = words.and(format!("\n{}", added(of(a))));
            }
            words.and("\n").and(Words::bold(show.bare(whole))).and(format!("\n{}", show.bare_other(whole)))
        };
        let mut what = Words::plain("finished");
        for a in &allowances {
            what = what.and(format!("\n{}", allowance(a.kind)));
        }
        what = what.and("\n").and(Words::bold("blank")).and("\n");
        rows.push(vec![
            Words::plain((i + 1).to_string()),
            Words::bold(kind.name(draft))
                .and(format!("\n{}", counted(pieces(draft, kind), "piece", "pieces"))),
            what,
            lines(|a| a.length, blank.length(), blank.finished[0]),
            lines(|a| a.width, blank.width(), blank.finished[1]),
            lines(|a| a.thickness, blank.thickness(), blank.finished[2]),
        ]);
    }
    let columns = vec![
        numbers("no."),
        Column { weight: 2.0, ..Column::words("part") },
        Column::narrow("line"),
        Column::numbers(format!("length {}, {}", show.unit(), show.other_unit())),
        Column::numbers("width"),
        Column::numbers("thickness"),
    ];
    Table::new(columns, rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbered_parts_are_not_a_range_with_gaps() {
        let even =
            ["bottom strip 2", "bottom strip 4", "bottom strip 6", "bottom strip 8", "bottom strip 10"];
        assert_eq!(numbered(&even, "strip").as_deref(), Some("bottom strips 2, 4, 6, 8, 10"));
        let row = ["lid strip 1", "lid strip 2", "lid strip 3", "lid strip 4", "lid strip 5"];
        assert_eq!(numbered(&row, "strip").as_deref(), Some("lid strips 1 to 5"));
        for other in
            [&["left", "right"][..], &["key front right 1", "key back left 1"], &["foot 1", "lid strip 2"]]
        {
            assert_eq!(numbered(other, "strip"), None, "{other:?}");
        }
    }
}
