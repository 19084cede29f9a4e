//! Size, walls, corners and bottom in words.

use keepwright_model::design::{
    BottomHold, Build, CornerJoint, KeyDepth, KeyRow, Size, SizeAt, Spacing, StripMethod, Strips, WallCut,
};

use super::super::draft::Draft;
use super::{wood, woods};
use crate::flow::literal;
use crate::shown::{and, angle, counted};

/// Small counts as they are spoken.
pub(super) fn spoken(count: u32) -> String {
    let words = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    usize::try_from(count)
        .ok()
        .and_then(|c| words.get(c))
        .map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

/// Names of polygons by their sides.
fn plan_of(sides: u32) -> String {
    match sides {
        3 => "three-sided".into(),
        4 => "rectangular".into(),
        5 => "five-sided".into(),
        6 => "six-sided".into(),
        8 => "eight-sided".into(),
        n => format!("{}-sided", spoken(n)),
    }
}

pub(super) fn lead(draft: &Draft<'_>) -> String {
    let s = &draft.plan.statement;
    let lid = match s.lid.kind {
        keepwright_model::design::LidKind::None => "open box",
        keepwright_model::design::LidKind::Frame(_) => "box with a framed lid",
        keepwright_model::design::LidKind::Slab { .. } => "box with a slab lid",
        keepwright_model::design::LidKind::Sawn { .. } => "box whose lid is sawn from it",
        keepwright_model::design::LidKind::Sliding { .. } => "box with a sliding lid",
    };
    let count = if s.count > 1 { format!("{} alike, each a", spoken(s.count)) } else { "A".into() };
    let count = if s.count > 1 { crate::shown::capital(&count) } else { count };
    let walls = wood(&s.walls.wood);
    format!(
        "{count} {} {lid}, walls of {walls} **{}** thick, **{}** outside and **{}** inside.",
        plan_of(s.shape.sides),
        draft.show.length(s.walls.thickness),
        draft.show.sizes(&draft.plan.parts.outside),
        draft.show.sizes(&draft.plan.parts.inside),
    )
}

pub(super) fn size(draft: &Draft<'_>) -> String {
    let (plan, show) = (draft.plan, &draft.show);
    let s = &plan.statement;
    let stated = match &s.size {
        Size::Outside { .. } => "Its size is stated outside.".to_owned(),
        Size::Inside { .. } => "Its size is stated inside, before linings.".to_owned(),
        Size::Contents(c) => {
            let items: Vec<String> = c
                .items
                .iter()
                .map(|i| {
                    let many = i.along.max(1).saturating_mul(i.across.max(1)).saturating_mul(i.up.max(1));
                    let each = show.sizes(&[i.length, i.depth, i.height]);
                    let name = literal(&i.name);
                    if many > 1 {
                        format!("{many} {name} of {each} each")
                    } else {
                        format!("{name} of {each}")
                    }
                })
                .collect();
            format!(
                "Its size follows from what goes in: {}, with {} round each and {} above.",
                and(&items),
                show.length(c.slack),
                show.length(c.above)
            )
        }
    };
    let splay = if s.shape.splay.to_degrees().abs() > 1e-6 {
        let way = if s.shape.splay.to_degrees() > 0.0 { "outward" } else { "inward" };
        let at = match s.shape.size_at {
            SizeAt::Rim => "rim",
            SizeAt::Foot => "foot",
        };
        format!(
            " The walls lean {way} by {} from vertical; the size holds at the {at}.",
            angle(s.shape.splay.abs())
        )
    } else {
        String::new()
    };
    format!(
        "**Size.** The finished box measures **{}** outside ({}) and **{}** clear inside ({}): length, depth, height. {stated}{splay}",
        show.sizes(&plan.parts.outside),
        show.sizes_other(&plan.parts.outside),
        show.sizes(&plan.parts.inside),
        show.sizes_other(&plan.parts.inside),
    )
}

pub(super) fn walls(draft: &Draft<'_>) -> String {
    let s = &draft.plan.statement;
    let closing = s.walls.closing_corner.map(|c| c.words(s.shape.sides));
    let run = match s.walls.cut {
        WallCut::OneStrip => format!(
            "They are cut in order from one strip, so that the figure runs on round every corner but the {}",
            closing.unwrap_or_else(|| closing_of(draft))
        ),
        WallCut::BookmatchedPair => {
            "They are cut from a resawn, bookmatched pair of slices, so that the figure runs on or mirrors at every corner"
                .to_owned()
        }
        WallCut::Loose => "They are cut without care for how the figure meets at the corners".to_owned(),
    };
    let method = match s.walls.method {
        _ if s.walls.cut == WallCut::Loose => String::new(),
        StripMethod::MiterFromStrip if matches!(s.corners, CornerJoint::Fingers(_)) => String::new(),
        StripMethod::MiterFromStrip => "; the miters are cut straight from the strip".to_owned(),
        StripMethod::SquareFirst { trim } => format!(
            "; blanks are crosscut square first, {} at each end are left for the miter",
            draft.show.length(trim)
        ),
    };
    format!(
        "**Walls.** {} walls of {}, **{}** thick. {run}{method}.",
        crate::shown::capital(&spoken(s.shape.sides)),
        wood(&s.walls.wood),
        draft.show.length(s.walls.thickness),
    )
}

/// Where the run ends, as the parts have it.
fn closing_of(draft: &Draft<'_>) -> String {
    let sides = draft.plan.statement.shape.sides;
    let corners = draft.plan.parts.runs.iter().flat_map(|r| &r.corners);
    corners
        .filter(|c| c.figure == keepwright_model::parts::Figure::Closes)
        .map(|c| c.corner.words(sides))
        .next()
        .unwrap_or_else(|| "last".into())
}

pub(super) fn corners(draft: &Draft<'_>) -> String {
    let (s, show) = (&draft.plan.statement, &draft.show);
    let said = match &s.corners {
        CornerJoint::Miter => "The walls meet in plain glued miters.".to_owned(),
        CornerJoint::Keyed(k) => {
            let depth = match k.depth {
                KeyDepth::Depth(d) => format!("{} deep along the diagonal", show.length(d)),
                KeyDepth::LeaveSkin(skin) => {
                    format!("so deep that {} of wood stay between slot and inside", show.length(skin))
                }
            };
            let own: Vec<String> = k
                .per_corner
                .iter()
                .map(|(corner, rows)| {
                    format!(
                        " At the {} corner instead: {}.",
                        corner.words(s.shape.sides),
                        rows_of(draft, rows)
                    )
                })
                .collect();
            format!(
                "The walls meet in glued miters with keys let in from outside: {} at each corner, {depth}.{}",
                rows_of(draft, &k.rows),
                own.concat()
            )
        }
        CornerJoint::Tongue(t) => format!(
            "The walls meet in glued miters with a hidden loose tongue of {}, {} thick and {} wide, that ends {} below the rim.",
            wood(&t.wood),
            show.length(t.thickness),
            show.length(t.width),
            show.length(t.stopped)
        ),
        CornerJoint::Fingers(f) => format!(
            "The walls meet in finger joints, each finger {} wide, with {} of play in the sockets.",
            show.length(f.finger),
            show.length(f.play)
        ),
    };
    format!("**Corners.** {said}")
}

/// Rows of keys from bottom to top.
fn rows_of(draft: &Draft<'_>, rows: &[KeyRow]) -> String {
    let show = &draft.show;
    let each: Vec<String> = rows
        .iter()
        .map(|row| {
            let (count, place) = match &row.place {
                Spacing::Even { count } => (*count as usize, "evenly spaced".to_owned()),
                Spacing::Between { count, from_foot, from_rim } => (
                    *count as usize,
                    format!(
                        "spaced from {} above the lower edge to {} below the rim",
                        show.length(*from_foot),
                        show.length(*from_rim)
                    ),
                ),
                Spacing::Heights(heights) => {
                    let at: Vec<String> = heights.iter().map(|h| show.length(*h)).collect();
                    (heights.len(), format!("centered {} above the lower edge", and(&at)))
                }
            };
            let keys = counted(count, "key", "keys");
            format!("{keys} of {}, {} thick, {place}", wood(&row.wood), show.length(row.thickness))
        })
        .collect();
    each.join("; ")
}

pub(super) fn bottom(draft: &Draft<'_>) -> String {
    let (s, show) = (&draft.plan.statement, &draft.show);
    let held = match s.bottom.hold {
        BottomHold::Rabbet { depth, clearance } => format!(
            "glued into a rabbet {} from below, with {} of room on each side",
            depth.map_or_else(|| "half the wall deep".to_owned(), |d| format!("{} deep", show.length(d))),
            show.length(clearance)
        ),
        BottomHold::Groove { depth, above_edge, tongue } => {
            let deep = depth.map_or_else(
                || "as deep as the joints allow".to_owned(),
                |d| format!("{} deep", show.length(d)),
            );
            let up =
                above_edge.map_or_else(String::new, |a| format!(", {} above the lower edge", show.length(a)));
            let tongue = tongue.map_or_else(String::new, |t| {
                format!("; a rabbet leaves it a tongue {} thick", show.length(t))
            });
            format!("floating in a groove {deep}{up}{tongue}")
        }
        BottomHold::Ledge { width, height } => {
            format!("resting on a ledge {} wide and {} high", show.length(width), show.length(height))
        }
    };
    format!(
        "**Bottom.** {}, **{}** thick, {held}.",
        crate::shown::capital(&build(draft, &s.bottom.build)),
        show.length(s.bottom.thickness)
    )
}

/// What a panel is made of.
pub(super) fn build(draft: &Draft<'_>, build: &Build) -> String {
    match build {
        Build::Solid(of) => format!("solid {}", wood(of)),
        Build::Striped(strips) => format!("strips of {}", pattern(draft, strips)),
        Build::Sheet(id) => super::super::draft::wood_name(id),
        Build::Veneered { core, face, veneer } => format!(
            "{} veneered on both faces with {}, {} thick",
            super::super::draft::wood_name(core),
            wood(face),
            draft.show.length(*veneer)
        ),
    }
}

fn pattern(draft: &Draft<'_>, strips: &Strips) -> String {
    let each: Vec<String> = strips
        .pattern
        .iter()
        .map(|(of, width)| format!("{} {}", draft.show.length(*width), wood(of)))
        .collect();
    let different = woods(strips.pattern.iter().map(|(of, _)| of));
    let turns = if different.len() > 1 { ", in turn" } else { "" };
    format!("{}{turns}", and(&each))
}
