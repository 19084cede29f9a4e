//! A card: one set-up or one step, framed, kept whole, its settings in figures to be read at arm's length.

use std::rc::Rc;

use super::figure::fitted;
use super::prose::{BODY, SMALL, tick_box};
use super::slab::{Mark, Slab};
use super::tags::{Kind, Tree};
use super::{Block, Layout, Words};
use crate::drawing::Drawing;
use crate::faces::Face;
use crate::ink;
use crate::typeset::{Align, Style};

/// One setting of a card.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What is set: "stop to tip".
    pub name: String,
    /// The value in big figures: `260.0`.
    pub value: String,
    /// Unit and remark after it: "mm, long pair".
    pub unit: String,
}

impl Setting {
    /// A setting.
    pub fn new(name: impl Into<String>, value: impl Into<String>, unit: impl Into<String>) -> Self {
        Self { name: name.into(), value: value.into(), unit: unit.into() }
    }
}

/// A card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Card {
    /// What is done: "Miter the far ends".
    pub title: String,
    /// Soft words beside it: "set-up 5 of 9, table saw".
    pub under: String,
    /// The settings.
    pub settings: Vec<Setting>,
    /// A small drawing with what it shows in words.
    pub drawing: Option<(Drawing, String)>,
    /// What stands under the drawing and under the settings, each in half the width.
    pub halves: [Vec<Block>; 2],
    /// What stands under all that, across the card.
    pub blocks: Vec<Block>,
    /// Boxes to tick at the foot: "test piece", "Front", "Back"; may be empty.
    pub ticks: Vec<String>,
}

impl Card {
    /// Width and height that a drawing beside settings has in a card of this width, millimeters; one that keeps to them
    /// is shown as it is, also where two such cards stand side by side.
    pub fn drawing_room(width: f64) -> [f64; 2] {
        [half(width - 2.0 * PAD).min(super::cards::beside_width(width) - 2.0 * PAD), DRAWING]
    }
}

/// A card narrower than this has everything in one column, millimeters.
const ONE_COLUMN: f64 = 120.0;

/// One of the two columns inside a card.
fn half(inner: f64) -> f64 {
    inner * 0.5 - GUTTER / 2.0
}

const PAD: f64 = 5.0;
const TITLE: Style = Style::new(Face::BookBold, 5.2).leaded(1.2);
const VALUE: Style = Style::new(Face::Bold, 8.2).leaded(1.16);
const NAME: Style = Style::new(Face::Plain, 3.6).colored(ink::SOFT);
/// The tallest small drawing, millimeters.
const DRAWING: f64 = 44.0;
/// Clear width between drawing and settings, millimeters.
const GUTTER: f64 = 12.0;

impl Layout<'_> {
    pub(super) fn card(&mut self, card: &Card, width: f64, tree: Tree) -> Slab {
        let tree = self.tags.under(tree, Kind::Group);
        let inner = (width - 2.0 * PAD).max(20.0);
        let narrow = width < ONE_COLUMN;
        let mut parts = vec![self.card_head(card, inner, tree)];
        let drawing = self.card_drawing(card, inner, tree);
        let settings = self.card_settings(card, inner, drawing.as_ref().map(|(_, width)| *width), tree);
        if narrow {
            let above = |(slab, _): (Slab, f64)| Slab { above: 3.0, ..slab };
            parts.extend(drawing.map(above).into_iter().chain(settings.map(above)));
            for blocks in &card.halves {
                parts.extend(self.blocks(blocks, inner, tree));
            }
        } else if card.halves.iter().all(Vec::is_empty) {
            parts.extend(beside(drawing, settings));
        } else {
            parts.push(self.halves(card, drawing, settings, inner, tree));
        }
        let blocks = Slab::stack(self.blocks(&card.blocks, inner, tree));
        if blocks.height > 0.0 {
            parts.push(Slab { above: 3.0, ..blocks });
        }
        if !card.ticks.is_empty() {
            parts.push(self.ticks(&card.ticks, inner, tree));
        }
        let body = Slab::stack(parts);
        let height = body.height + 2.0 * PAD - 1.0;
        let mut slab = Slab { above: 5.0, ..Slab::empty(height) };
        let stroke = Some((ink::SOFT, 0.25));
        slab.put(Mark::Rect { x: 0.0, y: 0.0, width, height, fill: None, stroke }, None);
        slab.place(body, PAD, PAD - 1.0);
        slab
    }

    fn card_head(&mut self, card: &Card, width: f64, tree: Tree) -> Slab {
        let head = self.tags.under(tree, Kind::Heading(3));
        let title = self.setter.set(&Words::plain(card.title.as_str()), TITLE, width);
        let mut slab = Slab::empty(title.height());
        slab.lines([0.0, 0.0], &title, width, Align::Left, head);
        if !card.under.is_empty() {
            let tree = self.tags.under(tree, Kind::Paragraph);
            let words = Words::plain(card.under.as_str());
            let lines = self.setter.set(&words, SMALL.tabular(), width);
            let beside = title.rows.len() == 1 && lines.rows.len() == 1;
            if beside && title.width() + 6.0 + lines.width() <= width {
                // On the title's baseline, at the right.
                let y = title.baseline() - lines.baseline();
                slab.lines([0.0, y], &lines, width, Align::Right, tree);
            } else {
                slab.lines([0.0, slab.height], &lines, width, Align::Left, tree);
                slab.height += lines.height();
            }
        }
        slab
    }

    fn card_drawing(&mut self, card: &Card, width: f64, tree: Tree) -> Option<(Slab, f64)> {
        let (drawing, alt) = card.drawing.as_ref()?;
        let alone = card.settings.is_empty() && card.halves.iter().all(Vec::is_empty);
        let alone = alone || width + 2.0 * PAD < ONE_COLUMN;
        let room = if alone { width } else { half(width) };
        let art = fitted(drawing, room, DRAWING)?;
        let tree = self.tags.under(tree, Kind::Figure { alt: alt.clone() });
        let mut slab = Slab::empty(art.bounds.height());
        let wide = art.bounds.width();
        slab.put(Mark::Art { x: 0.0, y: 0.0, art: Rc::new(art) }, Some(tree));
        Some((slab, wide))
    }

    /// Drawing and settings side by side from the same height, words under each.
    fn halves(
        &mut self,
        card: &Card,
        drawing: Option<(Slab, f64)>,
        settings: Option<(Slab, f64)>,
        width: f64,
        tree: Tree,
    ) -> Slab {
        let half = half(width).max(10.0);
        let mut columns = Vec::with_capacity(2);
        for (first, blocks) in [drawing, settings].into_iter().zip(&card.halves) {
            let mut slabs: Vec<Slab> = first.map(|(slab, _)| slab).into_iter().collect();
            slabs.extend(self.blocks(blocks, half, tree));
            columns.push(Slab::stack(slabs));
        }
        let height = columns.iter().map(|slab| slab.height).fold(0.0, f64::max);
        let mut slab = Slab { above: 3.0, ..Slab::empty(height) };
        for (index, column) in columns.into_iter().enumerate() {
            slab.place(column, (half + GUTTER) * index as f64, 0.0);
        }
        slab
    }

    /// Settings: names in one column, figures in the next; beside a drawing at the right, else in two
    /// pairs of columns when there is room.
    fn card_settings(
        &mut self,
        card: &Card,
        width: f64,
        drawing: Option<f64>,
        tree: Tree,
    ) -> Option<(Slab, f64)> {
        if card.settings.is_empty() {
            return None;
        }
        let alone = drawing.is_none() && card.halves.iter().all(Vec::is_empty);
        let alone = alone || width + 2.0 * PAD < ONE_COLUMN;
        let room = if alone { width } else { half(width) };
        let mut name_width = 0.0_f64;
        for setting in &card.settings {
            let (least, most) = self.setter.widths(&Words::plain(setting.name.as_str()), NAME);
            name_width = name_width.max(most.min(room * 0.4)).max(least.min(room * 0.4));
        }
        let value_x = name_width + 4.0;
        let value_room = (room - value_x).max(10.0);
        let mut slab = Slab::default();
        for setting in &card.settings {
            let tree = self.tags.under(tree, Kind::Paragraph);
            let name = self.setter.set(&Words::plain(setting.name.as_str()), NAME, name_width + 0.01);
            let value = self.setter.set(&Words::plain(setting.value.as_str()), VALUE.tabular(), value_room);
            let unit_style = NAME;
            let top = slab.height;
            let after = value.width() + 2.0;
            let unit_natural = self.setter.widths(&Words::plain(setting.unit.as_str()), unit_style).1;
            let beside = value.rows.len() == 1 && after + unit_natural.min(14.0) <= value_room;
            let unit_room = if beside { value_room - after } else { value_room };
            let unit = self.setter.set(&Words::plain(setting.unit.as_str()), unit_style, unit_room);
            let base = value.baseline();
            let name_y = top + (base - name.baseline()).max(0.0);
            slab.lines([0.0, name_y], &name, name_width, Align::Left, tree);
            slab.lines([value_x, top], &value, value_room, Align::Left, tree);
            let mut bottom = (top + value.height()).max(name_y + name.height());
            if !setting.unit.is_empty() {
                let [x, y] = if beside {
                    [value_x + after, top + base - unit.baseline()]
                } else {
                    [value_x, top + value.height()]
                };
                slab.lines([x, y], &unit, unit_room, Align::Left, tree);
                bottom = bottom.max(y + unit.height());
            }
            slab.height = bottom + 0.6;
        }
        Some((slab, room))
    }

    fn ticks(&mut self, ticks: &[String], width: f64, tree: Tree) -> Slab {
        let mut slab = Slab { above: 3.4, ..Slab::default() };
        let (side, step) = (4.4, BODY.line_height() + 1.4);
        let (mut x, mut y) = (0.0, 0.0);
        for tick in ticks {
            let tree = self.tags.under(tree, Kind::Paragraph);
            let lines = self.setter.line_within(tick, BODY, width - side - 2.0);
            let wide = side + 2.0 + lines.width();
            if x > 0.0 && x + wide > width {
                (x, y) = (0.0, y + step);
            }
            tick_box(&mut slab, x + 0.2, y + 0.2, side - 0.4);
            let text_y = y + (side - lines.line_height()) / 2.0;
            slab.lines([x + side + 2.0, text_y.max(y)], &lines, lines.width(), Align::Left, tree);
            x += wide + 8.0;
        }
        slab.height = y + side.max(BODY.line_height()) + 0.4;
        slab
    }
}

/// Drawing at the left, settings at the right, both in the middle of their height.
fn beside(drawing: Option<(Slab, f64)>, settings: Option<(Slab, f64)>) -> Option<Slab> {
    match (drawing, settings) {
        (Some((drawing, _)), Some((settings, room))) => {
            let height = drawing.height.max(settings.height);
            let mut slab = Slab { above: 3.0, ..Slab::empty(height) };
            let (first, second) = ((height - drawing.height) / 2.0, (height - settings.height) / 2.0);
            slab.place(drawing, 0.0, first);
            // `room` is half the card less the gutter.
            slab.place(settings, room + GUTTER, second);
            Some(slab)
        }
        (Some((slab, _)), None) | (None, Some((slab, _))) => Some(Slab { above: 3.0, ..slab }),
        (None, None) => None,
    }
}
