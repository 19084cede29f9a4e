//! From parts to boards: billets, the cutting plan with its bound, and what must be bought.

use super::shopping::{Purchase, Shortage, purchases};
use crate::boards::{Board, Milling};
use crate::cutting::{self, Bound, Demand, Item, KeepOffcuts, Order, Rules, Run, Stock, Terminator};
use crate::parts::{BoxParts, Origin, Part, PartId};
use crate::units::{Angle, Area, Length, Money};

/// How far a sheet may measure from the thickness asked for and still be the one meant.
const SHEET_NEAR: Length = Length::mm(0.6);
/// Key stock is prepared in strips no longer than this: longer ones whip at the saw (common practice).
const LONGEST_KEY_STRIP: Length = Length::mm(400.0);
/// More boxes than this are laid out for one box, and the count is applied to the shopping list.
const MOST_LAID_OUT: u32 = 60;

/// What a shop brings to the cutting of boards.
#[derive(Clone, Debug, PartialEq)]
pub struct StockRules {
    /// Kerf of the saw that breaks boards down.
    pub kerf: Length,
    /// What planer and bandsaw take.
    pub milling: Milling,
    /// Which cuts come first.
    pub order: Order,
    /// Offcuts worth keeping.
    pub keep: KeepOffcuts,
    /// Added to the width of each strip of an edge-glued panel for jointing its edges.
    pub jointing: Length,
    /// Share of waste to buy for, where no rack is there to plan on (20 to 40 % for boxes, common practice).
    pub buying_waste: f64,
    /// Spare parts in a batch, as a share (5 to 10 %, common practice); keys only.
    pub spares: f64,
}

/// What a billet becomes after it is cut from its board.
#[derive(Clone, Debug, PartialEq)]
pub enum Becomes {
    /// One blank.
    Blank(PartId),
    /// Several blanks, resawn through the thickness.
    Slices(Vec<PartId>),
    /// One of several strips that are edge-glued to one panel.
    PanelStrip {
        /// The panel.
        part: PartId,
        /// Number of this strip, from 1.
        number: u32,
        /// Strips in all.
        of: u32,
    },
    /// A strip from which keys are cut, one at a time.
    KeyStock {
        /// A key of this kind.
        key: PartId,
        /// How many keys it gives.
        keys: u32,
    },
}

/// One rectangle laid out on a board, and what becomes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Billet {
    /// Which box of the batch it is for, from 1; 0 when shared by all.
    pub of_box: u32,
    /// What becomes of it.
    pub becomes: Becomes,
    /// Origin of the parts.
    pub origin: Origin,
}

/// Everything about the stock of one job.
#[derive(Clone, Debug, PartialEq)]
pub struct StockPlan {
    /// One per item of the demand, in order.
    pub billets: Vec<Billet>,
    /// What was asked of the boards.
    pub demand: Demand,
    /// The layouts.
    pub cutting: cutting::Plan,
    /// No complete plan of these billets on this rack is cheaper; `None` without a rack.
    pub bound: Option<Bound>,
    /// No complete plan of these billets on this rack uses less board; `None` where there is none.
    pub area_bound: Option<Area>,
    /// What the independent judge finds wrong with the layouts: nothing, or the plan must not be cut.
    pub judged: Vec<cutting::verify::Problem>,
    /// What is missing, or everything when there is no rack.
    pub shopping: Vec<Purchase>,
    /// How many boxes the layout is for.
    pub laid_out: u32,
    /// Area of all boards used.
    pub board_area: Area,
    /// Area of the billets laid out on them.
    pub billet_area: Area,
    /// Area of offcuts kept.
    pub kept_area: Area,
    /// Cost of the boards used, less the share of kept offcuts.
    pub cost: Money,
}

impl StockPlan {
    /// Share of the boards that does not become a billet, kept offcuts included.
    pub fn not_billets(&self) -> f64 {
        let all = self.board_area.to_mm2();
        if all > 0.0 { 1.0 - self.billet_area.to_mm2() / all } else { 0.0 }
    }

    /// No complete plan leaves a smaller share than this (see [`StockPlan::not_billets`]).
    pub fn least_not_billets(&self) -> Option<f64> {
        let least = self.area_bound?.to_mm2();
        (least > 0.0).then(|| (1.0 - self.billet_area.to_mm2() / least).max(0.0))
    }

    /// Share of the boards that neither becomes a billet nor a kept offcut.
    pub fn waste(&self) -> f64 {
        let all = self.board_area.to_mm2();
        if all > 0.0 { 1.0 - (self.billet_area + self.kept_area).to_mm2() / all } else { 0.0 }
    }
}

/// Plans the stock for a batch.
pub fn plan_stock(
    parts: &BoxParts,
    count: u32,
    rack: Option<&[Board]>,
    rules: &StockRules,
    settings: cutting::Settings,
    stop: &mut dyn Terminator,
) -> StockPlan {
    let boards = rack.unwrap_or_default();
    let laid_out = count.clamp(1, MOST_LAID_OUT);
    let mut asked = Asked { rules, boards, items: Vec::new(), runs: Vec::new(), billets: Vec::new() };
    for number in 1..=laid_out {
        asked.one_box(parts, number, count);
    }
    asked.keys(parts, laid_out);
    let Asked { items, runs, billets, .. } = asked;
    let mut stock = Stock::from_rack(boards, &rules.milling);
    for s in &mut stock {
        if let Some(board) = boards.get(s.board).filter(|b| is_sheet(&b.wood)) {
            s.wood = sheet_key(&board.wood, board.thickness);
            s.thickness = board.thickness;
        }
    }
    let demand = Demand {
        items,
        runs,
        stock,
        rules: Rules { kerf: rules.kerf, order: rules.order, keep: rules.keep },
    };
    let cutting = if boards.is_empty() {
        cutting::Plan {
            layouts: Vec::new(),
            short: all_short(&demand),
            cost: 0,
            seed: settings.seed,
            steps: 0,
        }
    } else {
        cutting::plan(&demand, settings, stop, &mut cutting::Silent).unwrap_or_else(|_| cutting::Plan {
            layouts: Vec::new(),
            short: all_short(&demand),
            cost: 0,
            seed: settings.seed,
            steps: 0,
        })
    };
    let judged = if boards.is_empty() { Vec::new() } else { cutting::verify::problems(&demand, &cutting) };
    let bound = if boards.is_empty() { None } else { cutting::bound(&demand).ok() };
    let area_bound = bound.and_then(|_| least_area(&demand));
    let short = Shortage { demand: &demand, billets: &billets, plan: &cutting, parts, count, laid_out };
    let shopping = purchases(&short, rules);
    let area = |l: Length, w: Length| l * w;
    let board_area = cutting.layouts.iter().map(|l| area(l.root.length, l.root.width)).sum();
    let billet_area = cutting.layouts.iter().flat_map(|l| &l.parts).map(|p| area(p.length, p.width)).sum();
    let kept_area = cutting.layouts.iter().flat_map(|l| &l.offcuts).map(|o| area(o.length, o.width)).sum();
    let cost = cutting
        .layouts
        .iter()
        .map(|l| {
            let whole = area(l.root.length, l.root.width).to_mm2();
            let kept: f64 = l.offcuts.iter().map(|o| area(o.length, o.width).to_mm2()).sum();
            let price = Money::minor(i64::try_from(l.cost).unwrap_or(i64::MAX));
            price.times(1.0 - kept / whole.max(1.0))
        })
        .sum();
    StockPlan {
        billets,
        demand,
        cutting,
        bound,
        area_bound,
        judged,
        shopping,
        laid_out,
        board_area,
        billet_area,
        kept_area,
        cost,
    }
}

/// The same bound with area for cost: the least area of boards that a complete plan can use.
fn least_area(demand: &Demand) -> Option<Area> {
    let mut by_area = demand.clone();
    for stock in &mut by_area.stock {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole mm² of a board, rounded down"
        )]
        {
            stock.cost = (stock.length * stock.width).to_mm2().max(0.0).floor() as u64;
        }
    }
    match cutting::bound(&by_area) {
        Ok(Bound::Cost(mm2)) => Some(Area::mm2(mm2 as f64)),
        Ok(Bound::Impossible) | Err(_) => None,
    }
}

/// Every item is short: there is no board at all.
fn all_short(demand: &Demand) -> Vec<cutting::Shortage> {
    (0..demand.items.len())
        .map(|item| cutting::Shortage { item, why: cutting::ShortWhy::NoSuchWood })
        .collect()
}

/// Whether an id is a sheet good's.
pub(super) fn is_sheet(id: &str) -> bool {
    crate::wood::sheet(id).is_some()
}

/// A sheet good together with its thickness: sheets are bought in a thickness and not planed.
fn sheet_key(id: &str, thickness: Length) -> String {
    format!("{id} {:.1} mm", thickness.to_mm())
}

/// The demand as it grows.
struct Asked<'a> {
    rules: &'a StockRules,
    boards: &'a [Board],
    items: Vec<Item>,
    runs: Vec<Run>,
    billets: Vec<Billet>,
}

impl Asked<'_> {
    fn push(&mut self, item: Item, billet: Billet) -> usize {
        self.items.push(item);
        self.billets.push(billet);
        self.items.len() - 1
    }

    fn one_box(&mut self, parts: &BoxParts, number: u32, count: u32) {
        let suffix = if count > 1 { format!(" of box {number}") } else { String::new() };
        self.wall_runs(parts, number, &suffix);
        let mut loose: Vec<PartId> = (0..parts.parts.len())
            .map(PartId)
            .filter(|id| {
                let p = &parts.parts[id.0];
                p.run.is_none() && matches!(p.origin, Origin::Board | Origin::Sheet)
            })
            .collect();
        while let Some(first) = loose.first().copied() {
            let part = &parts.parts[first.0];
            let alike: Vec<PartId> =
                loose.iter().copied().filter(|id| same_blank(part, &parts.parts[id.0])).collect();
            let stack = self.slices_to_take(part, alike.len());
            let group: Vec<PartId> = alike.into_iter().take(stack.max(1)).collect();
            loose.retain(|id| !group.contains(id));
            self.blank(part, &group, number, &suffix);
        }
    }

    /// Walls that follow one another in a strip; a resawn pair takes one billet for two slices.
    fn wall_runs(&mut self, parts: &BoxParts, number: u32, suffix: &str) {
        for (r, run) in parts.runs.iter().enumerate().filter(|(_, r)| r.mirrors.is_none()) {
            let mirror = parts.runs.iter().find(|m| m.mirrors == Some(r));
            let loss = self.rules.milling.resaw_kerf + self.rules.milling.sawn_face * 2.0;
            let last = run.parts.len().saturating_sub(1);
            let gap = run.corners.iter().map(|c| c.loss).fold(Length::ZERO, Length::max).max(self.rules.kerf);
            let mut members = Vec::with_capacity(run.parts.len());
            for (k, &id) in run.parts.iter().enumerate() {
                let part = &parts.parts[id.0];
                let ends = f64::from(u8::from(k == 0)) + f64::from(u8::from(k == last));
                let slices = f64::from(run.slices.max(1));
                let one = part.blank.thickness();
                let item = Item {
                    id: format!("{}{suffix}", part.name),
                    length: part.blank.length() + run.end_trim * ends,
                    width: run.strip_width,
                    min_thickness: one * slices + loss * (slices - 1.0),
                    wood: part.wood.clone(),
                };
                let becomes = match mirror.and_then(|m| m.parts.get(k)) {
                    Some(&twin) => Becomes::Slices(vec![id, twin]),
                    None => Becomes::Blank(id),
                };
                members.push(self.push(item, Billet { of_box: number, becomes, origin: part.origin }));
            }
            self.runs.push(Run { name: format!("{}{suffix}", run.name), items: members, gap: Some(gap) });
        }
    }

    /// How many alike blanks to resaw from one billet: as many as the thinnest board that can give one allows.
    fn slices_to_take(&self, part: &Part, alike: usize) -> usize {
        if part.origin != Origin::Board || alike < 2 {
            return 1;
        }
        let need = part.blank.thickness();
        self.boards
            .iter()
            .filter(|b| b.wood == part.wood)
            .filter_map(|b| self.rules.milling.slices(b, need).ok())
            .map(|(n, _)| n as usize)
            .filter(|n| *n > 0)
            .min()
            .map_or(1, |n| n.min(alike))
    }

    fn blank(&mut self, part: &Part, group: &[PartId], number: u32, suffix: &str) {
        let Some(&first) = group.first() else { return };
        let billet = |becomes| Billet { of_box: number, becomes, origin: part.origin };
        let (length, width) = (part.blank.length(), part.blank.width());
        if part.origin == Origin::Sheet {
            let wood = self.sheet_wood(part);
            let item = Item {
                id: format!("{}{suffix}", part.name),
                length,
                width,
                min_thickness: Length::ZERO,
                wood,
            };
            self.push(item, billet(Becomes::Blank(first)));
            return;
        }
        let slices = group.len() as f64;
        let loss = self.rules.milling.resaw_kerf + self.rules.milling.sawn_face * 2.0;
        let min_thickness = part.blank.thickness() * slices + loss * (slices - 1.0);
        let (strips, strip_width) = self.panel_strips(part, width);
        for k in 1..=strips {
            let label = if strips > 1 { format!(" {k}/{strips}") } else { String::new() };
            let others = if group.len() > 1 { format!(" +{}", group.len() - 1) } else { String::new() };
            let item = Item {
                id: format!("{}{others}{label}{suffix}", part.name),
                length,
                width: strip_width,
                min_thickness,
                wood: part.wood.clone(),
            };
            let becomes = match (strips, group.len()) {
                (1, 1) => Becomes::Blank(first),
                (1, _) => Becomes::Slices(group.to_vec()),
                _ => Becomes::PanelStrip { part: first, number: k, of: strips },
            };
            self.push(item, billet(becomes));
        }
    }

    /// In how many strips a panel is glued up when no board is wide enough, and their width.
    fn panel_strips(&self, part: &Part, width: Length) -> (u32, Length) {
        let widest = self
            .boards
            .iter()
            .filter(|b| b.wood == part.wood && b.sound_length() >= part.blank.length())
            .filter(|b| self.rules.milling.usable(b).0 >= part.blank.thickness())
            .map(|b| b.width)
            .fold(Length::ZERO, Length::max);
        if widest <= self.rules.jointing || width <= widest {
            return (1, width);
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small positive count")]
        let strips = ((width / (widest - self.rules.jointing)).ceil() as u32).clamp(2, 50);
        (strips, width / f64::from(strips) + self.rules.jointing)
    }

    /// The rack's sheet that is near enough in thickness, or the bare id.
    fn sheet_wood(&self, part: &Part) -> String {
        let need = part.size[2];
        self.boards
            .iter()
            .filter(|b| b.wood == part.wood && (b.thickness - need).abs() <= SHEET_NEAR)
            .min_by(|a, b| (a.thickness - need).abs().to_mm().total_cmp(&(b.thickness - need).abs().to_mm()))
            .map_or_else(|| sheet_key(&part.wood, need), |b| sheet_key(&b.wood, b.thickness))
    }

    /// Key stock for the whole batch: keys of a kind are cut head to tail from strips.
    fn keys(&mut self, parts: &BoxParts, boxes: u32) {
        let mut kinds: Vec<(PartId, u32)> = Vec::new();
        for (i, part) in parts.parts.iter().enumerate().filter(|(_, p)| p.origin == Origin::KeyStrip) {
            match kinds.iter_mut().find(|(id, _)| same_blank(&parts.parts[id.0], part)) {
                Some((_, n)) => *n += 1,
                None => kinds.push((PartId(i), 1)),
            }
        }
        for (id, per_box) in kinds {
            let part = &parts.parts[id.0];
            let wanted = f64::from(per_box * boxes);
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a small positive count"
            )]
            let mut left = (wanted * (1.0 + self.rules.spares)).ceil() as u32;
            // One key takes its height plus a kerf measured along the strip at the cut's angle.
            let pitch = part.size[0] / 2.0 + part.blank.length() - part.size[0];
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a small positive count"
            )]
            let most = ((LONGEST_KEY_STRIP / pitch).floor().max(2.0) as u32).saturating_sub(1).max(1);
            while left > 0 {
                let keys = left.min(most);
                left -= keys;
                let item = Item {
                    id: format!("stock for {keys} keys {:.1} mm thick", part.size[2].to_mm()),
                    length: pitch * f64::from(keys + 1),
                    width: part.size[1] + Length::mm(1.0),
                    min_thickness: part.size[2],
                    wood: part.wood.clone(),
                };
                let becomes = Becomes::KeyStock { key: id, keys };
                self.push(item, Billet { of_box: 0, becomes, origin: Origin::KeyStrip });
            }
        }
    }
}

/// Whether two parts come from blanks that are alike.
fn same_blank(a: &Part, b: &Part) -> bool {
    let rings = |x: Angle, y: Angle| (x - y).abs().to_degrees() < 0.5;
    a.wood == b.wood
        && a.origin == b.origin
        && a.run.is_none()
        && b.run.is_none()
        && rings(a.rings, b.rings)
        && a.blank.length().same(b.blank.length())
        && a.blank.width().same(b.blank.width())
        && a.blank.thickness().same(b.blank.thickness())
}
