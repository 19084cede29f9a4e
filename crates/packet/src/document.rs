//! A document: sheets of blocks, laid out on pages with a running head and foot.

use crate::faces::Face;
use crate::flow::slab::{Mark, Placed, Slab};
use crate::flow::tags::{Kind, Tags, Tree};
use crate::flow::{Block, Layout, paginate};
use crate::ink;
use crate::page::{Frame, Orientation, Paper, ScaleNote};
use crate::typeset::{Align, Style, Typesetter};

/// What is printed: the sheets of one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// The box's name; at the head of every page.
    pub title: String,
    /// Who made it; may be empty.
    pub author: String,
    /// Language tag of the text, such as `en-US`.
    pub language: String,
    /// The date as printed at the foot; from the caller, never from a clock.
    pub date: String,
    /// The paper.
    pub paper: Paper,
    /// The sheets, each beginning on a new page.
    pub sheets: Vec<Sheet>,
}

/// A sheet: one subject on one or more pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Its name; at the head of its pages and in the outline.
    pub title: String,
    /// Which way its paper lies.
    pub orientation: Orientation,
    /// What its foot says about the size of drawings.
    pub scale: ScaleNote,
    /// What is on it.
    pub blocks: Vec<Block>,
}

impl Sheet {
    /// An upright sheet with drawings that are not to scale.
    pub fn new(title: impl Into<String>, blocks: Vec<Block>) -> Self {
        Self { title: title.into(), orientation: Orientation::Portrait, scale: ScaleNote::NotToScale, blocks }
    }
}

/// A laid out page.
#[derive(Debug)]
pub(crate) struct Page {
    pub(crate) size: [f64; 2],
    pub(crate) frame: Frame,
    /// What flows.
    pub(crate) marks: Vec<Placed>,
    /// Running head and foot.
    pub(crate) running: Vec<Placed>,
    /// The sheet it belongs to, if it is that sheet's first page.
    pub(crate) opens: Option<String>,
}

/// All pages with their logical tree.
#[derive(Debug)]
pub(crate) struct Pages {
    pub(crate) pages: Vec<Page>,
    pub(crate) tags: Tags,
}

const HEAD_NAME: Style = Style::new(Face::BookBold, 3.5);
const HEAD_SHEET: Style = Style::new(Face::Plain, 3.2).colored(ink::SOFT);
const FOOT: Style = Style::new(Face::Plain, 2.9).colored(ink::SOFT).tabular();

impl Document {
    /// What is wrong with the laid out pages: text over text, or anything outside its page's frame.
    /// Empty for a sound document; for tests of sheets.
    pub fn faults(&self) -> Vec<String> {
        let pages = self.lay_out(&mut Typesetter::new());
        pages.pages.iter().enumerate().flat_map(|(index, page)| page.faults(index + 1)).collect()
    }

    /// How many pages it takes.
    pub fn page_count(&self) -> usize {
        self.lay_out(&mut Typesetter::new()).pages.len()
    }

    pub(crate) fn lay_out(&self, setter: &mut Typesetter) -> Pages {
        self.lay_out_telling(setter, &mut |_| {})
    }

    /// As [`Document::lay_out`], telling of each sheet before it is laid out.
    pub(crate) fn lay_out_telling(&self, setter: &mut Typesetter, tell: &mut dyn FnMut(&Sheet)) -> Pages {
        let mut tags = Tags::new();
        let mut pages = Vec::new();
        for sheet in &self.sheets {
            tell(sheet);
            let frame = Frame::of(self.paper, sheet.orientation);
            let tree = tags.under(Tags::ROOT, Kind::Section);
            let mut layout = Layout { setter: &mut *setter, tags: &mut tags, page: frame.height };
            let slabs = layout.blocks(&sheet.blocks, frame.width, tree);
            for (index, filled) in paginate(slabs, frame).into_iter().enumerate() {
                pages.push((
                    sheet,
                    Page {
                        size: self.paper.size(sheet.orientation),
                        frame,
                        marks: filled.marks,
                        running: Vec::new(),
                        opens: (index == 0).then(|| sheet.title.clone()),
                    },
                ));
            }
        }
        let count = pages.len();
        let mut done = Vec::with_capacity(count);
        for (index, (sheet, mut page)) in pages.into_iter().enumerate() {
            page.running = self.running(sheet, &page, index + 1, count, setter);
            done.push(page);
        }
        Pages { pages: done, tags }
    }

    /// Running head and foot of a page.
    fn running(
        &self,
        sheet: &Sheet,
        page: &Page,
        number: usize,
        count: usize,
        setter: &mut Typesetter,
    ) -> Vec<Placed> {
        let Frame { left, width, .. } = page.frame;
        let mut slab = Slab::default();
        // Never read aloud, so the place in the tree does not matter; it is taken off below.
        let tree: Tree = Tags::ROOT;
        let name = setter.line_within(&self.title, HEAD_NAME, width * 0.55);
        let subject = setter.line_within(&sheet.title, HEAD_SHEET, width * 0.4);
        slab.lines([0.0, 10.0], &name, width, Align::Left, tree);
        let y = 10.0 + name.baseline() - subject.baseline();
        slab.lines([0.0, y], &subject, width, Align::Right, tree);
        slab.hairline(0.0, 16.4, width, ink::RULE, 0.25);

        let foot = page.size[1] - 13.0;
        slab.hairline(0.0, foot - 1.6, width, ink::RULE, 0.25);
        let date = setter.line_within(&self.date, FOOT, width * 0.3);
        let note = setter.line_within(sheet.scale.words(), FOOT, width * 0.3);
        let page_of = setter.line(&format!("page {number} of {count}"), FOOT);
        slab.lines([0.0, foot], &date, width, Align::Left, tree);
        slab.lines([0.0, foot], &note, width, Align::Center, tree);
        slab.lines([0.0, foot], &page_of, width, Align::Right, tree);

        let mut page = Slab::default();
        page.place(slab, left, 0.0);
        page.marks.into_iter().map(|placed| Placed { tree: None, ..placed }).collect()
    }
}

impl Page {
    fn faults(&self, number: usize) -> Vec<String> {
        let mut faults = Vec::new();
        let Frame { left, top, width, height } = self.frame;
        for placed in &self.marks {
            let [a, b, c, d] = placed.mark.extent();
            if a < left - 0.05 || b < top - 0.05 || c > left + width + 0.05 || d > top + height + 0.05 {
                faults.push(format!("page {number}: {} leaves the frame", name(&placed.mark)));
            }
        }
        let solid: Vec<(&Mark, [f64; 4])> = self
            .marks
            .iter()
            .chain(&self.running)
            .map(|placed| &placed.mark)
            .filter(|mark| matches!(mark, Mark::Text { .. } | Mark::Art { .. }))
            .map(|mark| (mark, mark.extent()))
            .collect();
        for (index, (one, a)) in solid.iter().enumerate() {
            for (other, b) in solid.iter().skip(index + 1) {
                let across = a[2].min(b[2]) - a[0].max(b[0]);
                let down = a[3].min(b[3]) - a[1].max(b[1]);
                if across > 0.05 && down > 0.05 {
                    faults.push(format!("page {number}: {} over {}", name(one), name(other)));
                }
            }
        }
        faults
    }
}

/// A mark in words, for a fault.
fn name(mark: &Mark) -> String {
    match mark {
        Mark::Text { lines, .. } => format!("text “{}”", lines.text.chars().take(40).collect::<String>()),
        Mark::Rect { .. } => "a rectangle".to_owned(),
        Mark::Rule { .. } => "a line".to_owned(),
        Mark::Art { .. } => "a drawing".to_owned(),
    }
}
