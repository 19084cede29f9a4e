//! Every drawing of a packet, made once: the pages and the loose files show the same.

use keepwright_model::cutting::{Layout, Next, Piece};
use keepwright_model::design::CornerName;
use keepwright_model::job::Plan;
use keepwright_model::parts::{AssemblyOperation, Part, Role};
use keepwright_model::units::Length;

use super::draft::Draft;
use crate::drawing::Drawing;
use crate::drawings::{self, BoardDrawing, Room, Shown, Titled};
use crate::flow::Card;
use crate::page::Paper;
use crate::shown::{Showing, and};

/// What stands on the cover beside the box apart: title, sentence, closed box, numbers, notes; millimeters.
const COVER: f64 = 136.0;
/// Height of the drawing of the closed box, millimeters.
const CLOSED: f64 = 62.0;
/// Height of the three views, millimeters.
const VIEWS: f64 = 100.0;
/// Height of a board, millimeters.
const BOARD: f64 = 70.0;
/// More cuts than this are not numbered in a board's drawing.
const MOST_CUTS: usize = 26;
/// Height of a strip, millimeters.
const STRIP: f64 = 80.0;
/// The closed box's share of the cover's width.
pub(super) const CLOSED_SHARE: f64 = 0.52;

/// The drawings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Drawn {
    pub(crate) apart: Drawing,
    pub(crate) closed: Drawing,
    pub(crate) views: Drawing,
    /// One for each layout of the cutting plan.
    pub(crate) boards: Vec<BoardDrawing>,
    /// Each strip with its place among the runs.
    pub(crate) strips: Vec<(usize, Drawing)>,
    /// One for each set-up, where there is something to see.
    pub(crate) setups: Vec<Option<Drawing>>,
    /// Full scale, as are all that follow.
    pub(crate) sections: Vec<Titled>,
    pub(crate) keys: Vec<Titled>,
    pub(crate) cradles: Vec<Titled>,
    pub(crate) templates: Vec<Titled>,
}

impl Drawn {
    /// All drawings for a paper.
    pub(crate) fn new(plan: &Plan, paper: Paper) -> Self {
        let frame = Draft::frame_of(paper);
        // A stroke's width and the figure's clear edge stay inside the frame.
        let across = |height: f64| Room::new(frame.width - 3.0, height.min(frame.height - 12.0));
        let shown = Showing::of(plan).shown;
        let (parts, solids) = (&plan.parts, &plan.solids);
        let beside = Room::new(frame.width * CLOSED_SHARE - 8.0, CLOSED);
        let [wide, high] = Card::drawing_room(frame.width);
        let sketch = Room::new(wide, high);
        let runs = parts.runs.iter().enumerate().filter(|(_, run)| run.mirrors.is_none());
        Self {
            apart: drawings::exploded(parts, solids, across(frame.height - COVER)),
            closed: drawings::assembled(parts, solids, shown, beside),
            views: drawings::views(parts, solids, shown, across(VIEWS)),
            boards: boards(plan, shown, across(BOARD)),
            strips: runs.map(|(i, _)| (i, drawings::strip_plan(parts, i, shown, across(STRIP)))).collect(),
            setups: plan.saw.setups.iter().map(|s| drawings::setup_drawing(s, shown, sketch)).collect(),
            sections: drawings::joint_sections(parts, solids, shown),
            keys: keys(plan, shown),
            cradles: cradles(plan, shown),
            templates: templates(plan, shown),
        }
    }

    /// Every drawing with its name, for loose files.
    pub(crate) fn all(&self, plan: &Plan) -> Vec<(String, &Drawing)> {
        let named = |name: &str, drawing| (name.to_owned(), drawing);
        let mut all = vec![
            named("taken apart", &self.apart),
            named("closed", &self.closed),
            named("views", &self.views),
        ];
        for (layout, board) in plan.stock.cutting.layouts.iter().zip(&self.boards) {
            let board_name = plan.stock.demand.stock.get(layout.stock).and_then(|s| plan.rack.get(s.board));
            all.push((format!("board {}", board_name.map_or("", |b| b.name.as_str())), &board.drawing));
        }
        for (run, drawing) in &self.strips {
            let name = plan.parts.runs.get(*run).map_or("", |r| r.name.as_str());
            all.push((format!("strip {name}"), drawing));
        }
        for (i, drawing) in self.setups.iter().enumerate() {
            all.extend(drawing.as_ref().map(|d| (format!("set-up {:02}", i + 1), d)));
        }
        all.extend(self.full_scale());
        all
    }

    /// The drawings at full scale, for templates.
    pub(crate) fn full_scale(&self) -> Vec<(String, &Drawing)> {
        let named = |kind: &'static str, of: &'_ [Titled]| -> Vec<String> {
            of.iter().map(|t| format!("{kind}{}", t.title)).collect()
        };
        let names = [
            named("section ", &self.sections),
            named("", &self.keys),
            named("", &self.cradles),
            named("", &self.templates),
        ];
        let drawings = self.sections.iter().chain(&self.keys).chain(&self.cradles).chain(&self.templates);
        names.concat().into_iter().zip(drawings.map(|t| &t.drawing)).collect()
    }
}

fn boards(plan: &Plan, shown: Shown, room: Room) -> Vec<BoardDrawing> {
    (0..plan.stock.cutting.layouts.len()).filter_map(|i| board(plan, i, shown, room)).collect()
}

/// The board of one layout of the cutting plan.
pub(crate) fn board(plan: &Plan, index: usize, shown: Shown, room: Room) -> Option<BoardDrawing> {
    let layout = plan.stock.cutting.layouts.get(index)?;
    let names: Vec<String> = plan.stock.demand.items.iter().map(|i| i.id.clone()).collect();
    let stock = plan.stock.demand.stock.get(layout.stock)?;
    if layout.cuts().len() <= MOST_CUTS {
        return Some(drawings::board_layout(stock, layout, &names, shown, room));
    }
    // So many numbers would hide the board: the table beside it has the cuts.
    let whole = Layout { root: Piece { next: Next::Waste, ..layout.root.clone() }, ..layout.clone() };
    Some(drawings::board_layout(stock, &whole, &names, shown, room))
}

/// Corners whose keys are alike share a drawing.
pub(crate) fn keys(plan: &Plan, shown: Shown) -> Vec<Titled> {
    let mut kinds: Vec<(Vec<CornerName>, Vec<[Length; 3]>)> = Vec::new();
    for corner in (0..plan.statement.shape.sides).map(CornerName) {
        let cuts = plan.parts.assemblies.iter().flat_map(|a| &a.cuts);
        let slots: Vec<[Length; 3]> = cuts
            .filter_map(|cut| match cut.operation {
                AssemblyOperation::KeySlot {
                    corner: at, in_lid: false, height, thickness, depth, ..
                } => (at == corner).then_some([height, thickness, depth]),
                _ => None,
            })
            .collect();
        if slots.is_empty() {
            continue;
        }
        match kinds.iter_mut().find(|(_, have)| *have == slots) {
            Some((corners, _)) => corners.push(corner),
            None => kinds.push((vec![corner], slots)),
        }
    }
    let sides = plan.statement.shape.sides;
    kinds
        .iter()
        .filter_map(|(corners, _)| {
            let first = *corners.first()?;
            let drawing = drawings::key_layout(&plan.parts, first, shown)?;
            let names: Vec<String> = corners.iter().map(|c| c.words(sides)).collect();
            let all = corners.len() == usize::try_from(sides).unwrap_or(0);
            let title = if all { "keys, every corner".to_owned() } else { format!("keys, {}", and(&names)) };
            Some(Titled { title, drawing })
        })
        .collect()
}

fn cradles(plan: &Plan, shown: Shown) -> Vec<Titled> {
    let many = plan.cradle.len() > 1;
    plan.cradle
        .iter()
        .enumerate()
        .map(|(i, card)| Titled {
            title: if many { format!("cradle {}", i + 1) } else { "cradle".to_owned() },
            drawing: drawings::cradle(card, shown),
        })
        .collect()
}

/// Templates of one part of each kind: its end, its fingers, its hinge beds, its key.
fn templates(plan: &Plan, shown: Shown) -> Vec<Titled> {
    let mut out: Vec<Titled> = Vec::new();
    let mut done: Vec<(&str, &Part)> = Vec::new();
    let mut add = |kind: &'static str, part, drawing: Option<Drawing>| {
        let alike = |have: &Part, part: &Part| {
            have.role == part.role
                && have.size[1].same(part.size[1])
                && have.size[2].same(part.size[2])
                // Keys alike in shape are alike in everything; other parts must have the same cuts.
                && (kind != "key" && have.cuts.len() == part.cuts.len() || kind == "key" && have.size[0].same(part.size[0]))
        };
        let part: &Part = part;
        if done.iter().any(|(k, have)| *k == kind && alike(have, part)) {
            return;
        }
        if let Some(drawing) = drawing.filter(|d| !d.items.is_empty()) {
            done.push((kind, part));
            out.push(Titled { title: format!("{kind}, {}", part.name), drawing });
        }
    };
    for part in &plan.parts.parts {
        match part.role {
            Role::Wall => {
                add("end", part, Some(drawings::end_profile(part, shown)));
                add("fingers", part, drawings::finger_layout(part, shown));
                add("hinge beds", part, drawings::hinge_layout(part, shown));
            }
            Role::FrameMember => {
                add("end", part, Some(drawings::end_profile(part, shown)));
                add("hinge beds", part, drawings::hinge_layout(part, shown));
            }
            Role::TrayWall => add("fingers", part, drawings::finger_layout(part, shown)),
            Role::Pull | Role::Plinth | Role::Lip => {
                add("end", part, Some(drawings::end_profile(part, shown)));
            }
            Role::Key => add("key", part, Some(drawings::key_triangle(part, shown))),
            Role::Bottom if plan.statement.shape.sides != 4 => {
                add("outline", part, Some(drawings::face_outline(part, shown)));
            }
            _ => {}
        }
    }
    if let Some(cloth) = &plan.statement.inside.cloth {
        let [length, depth, _] = plan.parts.inside;
        let drawing = drawings::lining_card([length, depth], cloth.thickness, shown);
        out.push(Titled { title: "card for the bottom's cloth".into(), drawing });
    }
    out
}
