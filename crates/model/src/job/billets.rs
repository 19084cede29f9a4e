//! From parts to billets: the rectangles that are asked of the boards, for one box or for several together.

use super::stock::StockRules;
use crate::boards::Board;
use crate::cutting::{self, Bound, Demand, Item, Rules, Run, Stock};
use crate::parts::{BoxParts, Origin, Part, PartId};
use crate::units::{Angle, Area, Length};

/// How far a sheet may measure from the thickness asked for and still be the one meant.
const SHEET_NEAR: Length = Length::mm(0.6);
/// Key stock is prepared in strips no longer than this: longer ones whip at the saw (common practice).
const LONGEST_KEY_STRIP: Length = Length::mm(400.0);
/// More boxes than this are laid out for one box, and the count is applied to the shopping list.
const MOST_LAID_OUT: u32 = 60;

/// A box, or several alike, whose parts are to be laid out.
#[derive(Clone, Copy, Debug)]
pub struct BoxOrder<'a> {
    /// The box's name, which tells its blanks from those of the others; `None` where it is alone.
    pub name: Option<&'a str>,
    /// The parts of one such box.
    pub parts: &'a BoxParts,
    /// How many boxes.
    pub count: u32,
}

impl BoxOrder<'_> {
    /// How many boxes are laid out; the count is applied to the shopping list beyond that.
    pub(super) fn laid_out(&self) -> u32 {
        self.count.clamp(1, MOST_LAID_OUT)
    }

    /// What is behind a blank's name to say whose it is.
    fn suffix(&self, number: u32) -> String {
        match self.name {
            Some(name) if self.count > 1 => format!(" of {name}, box {number}"),
            None if self.count > 1 => format!(" of box {number}"),
            _ => self.named(),
        }
    }

    fn named(&self) -> String {
        self.name.map_or_else(String::new, |name| format!(" of {name}"))
    }
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

/// What is asked of a rack: the billets of all orders as one demand.
#[derive(Clone, Debug)]
pub struct Question<'a> {
    /// The boxes.
    pub orders: &'a [BoxOrder<'a>],
    /// The shop's rules.
    pub rules: &'a StockRules,
    /// The demand; `Stock::board` is the place of a board in the rack.
    pub demand: Demand,
    /// One per item of the demand, in order.
    pub billets: Vec<Billet>,
    /// For each item, the place of its order.
    pub order_of: Vec<usize>,
}

/// Makes one demand of the billets of all orders.
pub fn ask<'a>(orders: &'a [BoxOrder<'a>], rack: &[Board], rules: &'a StockRules) -> Question<'a> {
    let mut asked = Asked {
        rules,
        boards: rack,
        items: Vec::new(),
        runs: Vec::new(),
        billets: Vec::new(),
        order_of: Vec::new(),
        order: 0,
    };
    for (place, order) in orders.iter().enumerate() {
        asked.order = place;
        for number in 1..=order.laid_out() {
            asked.one_box(order, number);
        }
        asked.keys(order);
    }
    let Asked { items, runs, billets, order_of, .. } = asked;
    let mut stock = Stock::from_rack(rack, &rules.milling);
    for s in &mut stock {
        if let Some(board) = rack.get(s.board).filter(|b| is_sheet(&b.wood)) {
            s.wood = sheet_key(&board.wood, board.thickness);
            s.thickness = board.thickness;
        }
    }
    let rules_of_cutting = Rules { kerf: rules.kerf, order: rules.order, keep: rules.keep };
    let demand = Demand { items, runs, stock, rules: rules_of_cutting };
    Question { orders, rules, demand, billets, order_of }
}

impl Question<'_> {
    /// No complete plan can cost less than this; `None` where there is no board to cut.
    pub fn bound(&self) -> Option<Bound> {
        if self.demand.stock.is_empty() { None } else { cutting::bound(&self.demand).ok() }
    }

    /// The same bound with area for cost: the least area of boards that a complete plan can use.
    pub fn least_area(&self) -> Option<Area> {
        let mut by_area = self.demand.clone();
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
    order_of: Vec<usize>,
    /// The order that is being asked for.
    order: usize,
}

impl Asked<'_> {
    fn push(&mut self, item: Item, billet: Billet) -> usize {
        self.items.push(item);
        self.billets.push(billet);
        self.order_of.push(self.order);
        self.items.len() - 1
    }

    fn one_box(&mut self, order: &BoxOrder<'_>, number: u32) {
        let parts = order.parts;
        let suffix = order.suffix(number);
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
            let others = match group.len().saturating_sub(1) {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
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
    fn keys(&mut self, order: &BoxOrder<'_>) {
        let (parts, boxes) = (order.parts, order.laid_out());
        let suffix = order.named();
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
                    id: format!("stock for {keys} keys {:.1} mm thick{suffix}", part.size[2].to_mm()),
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
