//! Titles, headings, sentences, lists, names with values.

use std::rc::Rc;

use super::slab::{Mark, Slab};
use super::tags::{Kind, Tree};
use super::{Layout, Words};
use crate::faces::Face;
use crate::ink;
use crate::typeset::{Align, Lines, Style};

/// Body text.
pub(super) const BODY: Style = Style::new(Face::Plain, 3.6);
/// Small soft text.
pub(super) const SMALL: Style = Style::new(Face::Plain, 3.05).colored(ink::SOFT);
const TITLE: Style = Style::new(Face::BookBold, 8.6).leaded(1.16);
const HEADING: Style = Style::new(Face::BookBold, 5.8).leaded(1.2);
pub(super) const SUBHEADING: Style = Style::new(Face::Bold, 3.6);
const LEAD: Style = Style::new(Face::Book, 5.0).leaded(1.32);
/// Lines longer than this are hard to read: about 75 letters of body text, millimeters.
const MEASURE: f64 = 132.0;

/// What stands before each item of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bullet {
    /// A dot.
    Dot,
    /// 1, 2, 3.
    Number,
    /// A box to tick.
    Box,
}

/// A list.
#[derive(Clone, Debug, PartialEq)]
pub struct List {
    /// What stands before each item.
    pub bullet: Bullet,
    /// The items.
    pub items: Vec<Words>,
}

impl Layout<'_> {
    pub(super) fn title(&mut self, text: &str, under: &str, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(&Words::plain(text), TITLE, width);
        let head = self.tags.under(tree, Kind::Heading(1));
        let mut slab = Slab { keep_next: true, ..Slab::empty(lines.height()) };
        slab.lines([0.0, 0.0], &lines, width, Align::Left, head);
        if !under.is_empty() {
            let lines = self.setter.set(&Words::plain(under), BODY.colored(ink::SOFT), width);
            let tree = self.tags.under(tree, Kind::Paragraph);
            slab.lines([0.0, slab.height + 1.0], &lines, width, Align::Left, tree);
            slab.height += 1.0 + lines.height();
        }
        slab.height += 2.0;
        out.push(slab);
    }

    pub(super) fn heading(&mut self, text: &str, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(&Words::plain(text), HEADING, width);
        let head = self.tags.under(tree, Kind::Heading(2));
        let mut slab = Slab { above: 9.0, keep_next: true, ..Slab::empty(lines.height()) };
        slab.lines([0.0, 0.0], &lines, width, Align::Left, head);
        out.push(slab);
    }

    pub(super) fn subheading(&mut self, text: &str, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(&Words::plain(text), SUBHEADING, width);
        let head = self.tags.under(tree, Kind::Heading(3));
        let mut slab = Slab { above: 5.5, keep_next: true, ..Slab::empty(lines.height()) };
        slab.lines([0.0, 0.0], &lines, width, Align::Left, head);
        out.push(slab);
    }

    pub(super) fn lead(&mut self, words: &Words, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(words, LEAD, width.min(MEASURE * 1.25));
        let tree = self.tags.under(tree, Kind::Paragraph);
        line_slabs(&lines, width, 2.5, tree, out);
        // The sentence opens what follows: it does not stay behind alone.
        if let Some(last) = out.last_mut() {
            last.keep_next = true;
        }
    }

    pub(super) fn paragraph(&mut self, words: &Words, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(words, BODY, width.min(MEASURE));
        let tree = self.tags.under(tree, Kind::Paragraph);
        line_slabs(&lines, width, 2.4, tree, out);
    }

    pub(super) fn note(&mut self, words: &Words, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let lines = self.setter.set(words, SMALL, width.min(MEASURE));
        let tree = self.tags.under(tree, Kind::Paragraph);
        line_slabs(&lines, width, 1.8, tree, out);
    }

    pub(super) fn list(&mut self, list: &List, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let numbered = list.bullet == Bullet::Number;
        let tree = self.tags.under(tree, Kind::List { numbered });
        let widest = self.setter.line(&format!("{}.", list.items.len()), BODY.tabular()).width();
        let indent = match list.bullet {
            Bullet::Dot => 4.5,
            Bullet::Box => 7.0,
            Bullet::Number => widest + 2.0,
        };
        for (index, words) in list.items.iter().enumerate() {
            let item = self.tags.under(tree, Kind::Item);
            let label = self.tags.under(item, Kind::ItemLabel);
            let body = self.tags.under(item, Kind::ItemBody);
            let lines = self.setter.set(words, BODY, (width - indent).clamp(10.0, MEASURE));
            let first = out.len();
            let above = match (index, list.bullet) {
                (0, _) => 2.6,
                (_, Bullet::Box) => 2.2,
                _ => 1.0,
            };
            line_slabs(&lines, width, above, body, out);
            for slab in out.iter_mut().skip(first) {
                let body = std::mem::take(&mut slab.marks);
                slab.place(Slab { marks: body, ..Slab::default() }, indent, 0.0);
            }
            if let Some(slab) = out.get_mut(first) {
                let words = match list.bullet {
                    Bullet::Dot => "•".to_owned(),
                    Bullet::Number => format!("{}.", index + 1),
                    Bullet::Box => {
                        let side = 3.6;
                        let y = (lines.line_height() - side) / 2.0;
                        tick_box(slab, 0.2, y, side);
                        // The box has grown the first slab's marks only: the words follow it in reading order.
                        continue;
                    }
                };
                let mark = self.setter.line(&words, BODY.tabular());
                let (at, align) = if numbered { (widest, Align::Right) } else { (indent, Align::Left) };
                let mut before = Slab::default();
                before.lines([0.0, 0.0], &mark, at, align, label);
                before.marks.append(&mut slab.marks);
                slab.marks = before.marks;
            }
        }
    }

    pub(super) fn pairs(&mut self, pairs: &[(String, Words)], width: f64, tree: Tree, out: &mut Vec<Slab>) {
        let names: Vec<Words> = pairs.iter().map(|(name, _)| Words::plain(name.as_str())).collect();
        let style = BODY.colored(ink::SOFT);
        let widest = names.iter().map(|name| self.setter.widths(name, style).1).fold(0.0, f64::max);
        let column = (widest + 5.0).min(width * 0.45);
        for (index, ((_, value), name)) in pairs.iter().zip(&names).enumerate() {
            let tree = self.tags.under(tree, Kind::Paragraph);
            let left = self.setter.set(name, style, column - 3.0);
            let right = self.setter.set(value, BODY, (width - column).max(10.0));
            let height = left.height().max(right.height());
            let mut slab = Slab { above: if index == 0 { 2.2 } else { 0.6 }, ..Slab::empty(height) };
            slab.lines([0.0, 0.0], &left, column, Align::Left, tree);
            slab.lines([column, 0.0], &right, width - column, Align::Left, tree);
            // Neither the first nor the last pair stands alone.
            slab.keep_next = pairs.len() > 2 && (index == 0 || index + 2 == pairs.len());
            out.push(slab);
        }
    }
}

/// A box to tick.
pub(super) fn tick_box(slab: &mut Slab, x: f64, y: f64, side: f64) {
    let stroke = Some((ink::INK, 0.3));
    slab.put(Mark::Rect { x, y, width: side, height: side, fill: None, stroke }, None);
}

/// Lines as slabs: at least two of them stand together at a page's foot and at its head.
pub(super) fn line_slabs(lines: &Rc<Lines>, width: f64, above: f64, tree: Tree, out: &mut Vec<Slab>) {
    let count = lines.rows.len();
    for index in 0..count {
        let mut slab = Slab::empty(lines.line_height());
        slab.above = if index == 0 { above } else { 0.0 };
        slab.keep_next = index + 1 < count && (index == 0 || index + 2 == count);
        if lines.rows.get(index).is_some_and(|line| !line.runs.is_empty()) {
            slab.put(Mark::Text { x: 0.0, y: 0.0, lines: Rc::clone(lines), index }, Some(tree));
        }
        slab.check(width);
        out.push(slab);
    }
}
