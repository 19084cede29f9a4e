//! Tables: columns as wide as their words need, rows kept whole, the heading repeated on the next page.

use std::rc::Rc;

use super::slab::Slab;
use super::tags::{Kind, Tree};
use super::{Layout, Words};
use crate::faces::Face;
use crate::ink;
use crate::typeset::{Align, Lines, Style};

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The heading.
    pub heading: String,
    /// Where its cells stand; numbers at the right.
    pub align: Align,
    /// Its share of the width that is left over, 0 for a column that stays as narrow as its words.
    pub weight: f64,
}

impl Column {
    /// A column of words that takes its share of spare width.
    pub fn words(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Left, weight: 1.0 }
    }

    /// A narrow column of numbers at the right.
    pub fn numbers(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Right, weight: 0.35 }
    }

    /// A narrow column of words.
    pub fn narrow(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Left, weight: 0.0 }
    }
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows; a row's missing cells are empty, cells past the last column are left out.
    pub rows: Vec<Vec<Words>>,
    /// How many rows at the end are totals: bold, under a line.
    pub totals: usize,
}

/// Clear width between columns, millimeters.
const GAP: f64 = 5.0;
/// Clear height above and below a row's words, millimeters.
const PAD: f64 = 1.15;
const CELL: Style = Style::new(Face::Plain, 3.4).leaded(1.3);
const HEAD: Style = Style::new(Face::Bold, 3.05).colored(ink::SOFT).leaded(1.25);

impl Layout<'_> {
    pub(super) fn table(&mut self, table: &Table, width: f64, tree: Tree, out: &mut Vec<Slab>) {
        if table.columns.is_empty() {
            return;
        }
        let tree = self.tags.under(tree, Kind::Table);
        let widths = self.column_widths(table, width);
        let mut head = self.head(table, &widths, width, tree);
        // Repeated, it is decoration: a screen reader has heard it.
        let mut again = head.clone();
        again.above = 0.0;
        again.keep_next = false;
        for placed in &mut again.marks {
            placed.tree = None;
        }
        let again = Rc::new(again);
        head.above = 3.4;
        head.keep_next = true;
        out.push(head);
        let count = table.rows.len();
        for (index, row) in table.rows.iter().enumerate() {
            let total = index + table.totals >= count;
            let mut slab = self.row(table, row, total, &widths, width, tree);
            let first_total = total && index + table.totals == count;
            if first_total && index > 0 {
                slab.hairline(0.0, 0.0, width, ink::INK, 0.3);
            }
            let line = if index + 1 == count { (ink::INK, 0.3) } else { (ink::RULE, 0.2) };
            let y = slab.height;
            slab.hairline(0.0, y, width, line.0, line.1);
            // Neither one row nor the totals stand alone on a page.
            slab.keep_next = index + 1 < count && (index == 0 || index + 1 + table.totals.max(1) >= count);
            slab.repeat = (index > 0).then(|| Rc::clone(&again));
            out.push(slab);
        }
    }

    fn head(&mut self, table: &Table, widths: &[f64], width: f64, tree: Tree) -> Slab {
        let tree = self.tags.under(tree, Kind::Row);
        let mut cells = Vec::new();
        for (column, cell) in table.columns.iter().zip(widths) {
            let lines = self.setter.set(&Words::plain(column.heading.as_str()), HEAD, *cell);
            cells.push((lines, column.align, self.tags.under(tree, Kind::HeadCell)));
        }
        let height = cells.iter().map(|(lines, ..)| lines.height()).fold(0.0, f64::max);
        let mut slab = Slab::empty(height + 1.2);
        let mut x = 0.0;
        for ((lines, align, tree), cell) in cells.iter().zip(widths) {
            // Headings stand on the line below them.
            slab.lines([x, height - lines.height()], lines, *cell, *align, *tree);
            x += cell + gap(table, width);
        }
        let y = slab.height;
        slab.hairline(0.0, y, width, ink::INK, 0.3);
        slab
    }

    fn row(
        &mut self,
        table: &Table,
        row: &[Words],
        total: bool,
        widths: &[f64],
        width: f64,
        tree: Tree,
    ) -> Slab {
        let tree = self.tags.under(tree, Kind::Row);
        let empty = Words::default();
        let mut cells: Vec<(Rc<Lines>, Align, Tree)> = Vec::new();
        for (index, (column, cell)) in table.columns.iter().zip(widths).enumerate() {
            let words = row.get(index).unwrap_or(&empty);
            let lines = self.setter.set(words, cell_style(column.align, total), *cell);
            cells.push((lines, column.align, self.tags.under(tree, Kind::Cell)));
        }
        let tallest = cells.iter().map(|(lines, ..)| lines.height()).fold(0.0, f64::max);
        let mut slab = Slab::empty(tallest + 2.0 * PAD);
        let mut x = 0.0;
        for ((lines, align, tree), cell) in cells.iter().zip(widths) {
            slab.lines([x, PAD], lines, *cell, *align, *tree);
            x += cell + gap(table, width);
        }
        slab
    }

    /// Widths without gaps; with gaps they fill the table's width.
    fn column_widths(&mut self, table: &Table, width: f64) -> Vec<f64> {
        let room = (width - gap(table, width) * (table.columns.len() - 1) as f64).max(1.0);
        let mut needs = Vec::with_capacity(table.columns.len());
        for (index, column) in table.columns.iter().enumerate() {
            let (mut least, mut most) = self.setter.widths(&Words::plain(column.heading.as_str()), HEAD);
            for (number, row) in table.rows.iter().enumerate() {
                if let Some(words) = row.get(index) {
                    let total = number + table.totals >= table.rows.len();
                    let (low, high) = self.setter.widths(words, cell_style(column.align, total));
                    (least, most) = (least.max(low), most.max(high));
                }
            }
            let weight = if column.weight.is_finite() { column.weight.max(0.0) } else { 0.0 };
            needs.push(Need { least: least + 0.01, most: most + 0.01, weight });
        }
        share(&needs, room)
    }
}

/// Clear width between columns; less when there are too many columns for the width.
fn gap(table: &Table, width: f64) -> f64 {
    GAP.min(0.25 * width / table.columns.len() as f64)
}

fn cell_style(align: Align, total: bool) -> Style {
    let style = Style { face: if total { Face::Bold } else { Face::Plain }, ..CELL };
    if align == Align::Right { style.tabular() } else { style }
}

/// What a column needs.
#[derive(Clone, Copy)]
struct Need {
    least: f64,
    most: f64,
    weight: f64,
}

/// Widths that add up to `room`: natural widths and the rest by weight when there is room, else between
/// least and natural, else in proportion to the least.
fn share(needs: &[Need], room: f64) -> Vec<f64> {
    let least: f64 = needs.iter().map(|n| n.least).sum();
    let most: f64 = needs.iter().map(|n| n.most).sum();
    if most <= room {
        let weights: f64 = needs.iter().map(|n| n.weight).sum();
        let spare = room - most;
        if weights <= 0.0 {
            return needs.iter().map(|n| n.most).collect();
        }
        return needs.iter().map(|n| n.most + spare * n.weight / weights).collect();
    }
    if least <= room {
        let want: f64 = needs.iter().map(|n| n.most - n.least).sum();
        let give = (room - least) / want.max(1e-9);
        return needs.iter().map(|n| n.least + (n.most - n.least) * give).collect();
    }
    needs.iter().map(|n| n.least * room / least.max(1e-9)).collect()
}

impl Table {
    /// A table without totals.
    pub fn new(columns: Vec<Column>, rows: Vec<Vec<Words>>) -> Self {
        Self { columns, rows, totals: 0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_add_up() {
        let need = |least, most, weight| Need { least, most, weight };
        // Room for all: natural 30 + 40, spare 30 to the weighted one.
        assert_eq!(share(&[need(10.0, 30.0, 0.0), need(10.0, 40.0, 1.0)], 100.0), [30.0, 70.0]);
        // Between: 20 least, 70 natural, 45 room: half of what each would like.
        assert_eq!(share(&[need(10.0, 30.0, 0.0), need(10.0, 40.0, 1.0)], 45.0), [20.0, 25.0]);
        // Too narrow: in proportion.
        assert_eq!(share(&[need(10.0, 30.0, 0.0), need(30.0, 40.0, 1.0)], 20.0), [5.0, 15.0]);
    }
}
