//! Slabs onto pages: what must stay together does, and a page never begins with empty space.

use super::slab::{Placed, Slab};
use crate::page::Frame;

/// One page's marks, from the page's upper left corner, y down, millimeters.
#[derive(Clone, Debug, Default)]
pub(crate) struct Filled {
    pub(crate) marks: Vec<Placed>,
}

/// The slabs on as many pages as they need; at least one.
pub(crate) fn paginate(slabs: Vec<Slab>, frame: Frame) -> Vec<Filled> {
    let mut pages = Pages { frame, done: Vec::new(), page: Filled::default(), used: 0.0, fresh: true };
    let mut slabs = slabs.into_iter().peekable();
    while let Some(first) = slabs.next() {
        let mut group = vec![first];
        while group.last().is_some_and(|slab| slab.keep_next) {
            match slabs.next_if(|slab| !slab.new_page) {
                Some(next) => group.push(next),
                None => break,
            }
        }
        pages.group(group);
    }
    pages.finish()
}

struct Pages {
    frame: Frame,
    done: Vec<Filled>,
    page: Filled,
    used: f64,
    /// Nothing but repeated headings stands on the page.
    fresh: bool,
}

impl Pages {
    fn group(&mut self, group: Vec<Slab>) {
        if group.first().is_some_and(|slab| slab.new_page) && !self.fresh {
            self.turn();
        }
        let mut height = 0.0;
        for (index, slab) in group.iter().enumerate() {
            let above = if index == 0 && self.fresh { 0.0 } else { slab.above };
            height += above + slab.height;
        }
        let repeated = |slab: &Slab| slab.repeat.as_ref().map_or(0.0, |again| again.height);
        let on_fresh = height - group.first().filter(|_| !self.fresh).map_or(0.0, |slab| slab.above)
            + group.first().map_or(0.0, repeated);
        if self.used + height <= self.frame.height + 1e-6 {
            for slab in group {
                self.place(slab);
            }
        } else if !self.fresh && on_fresh <= self.frame.height + 1e-6 {
            self.turn();
            self.begin(&group);
            for slab in group {
                self.place(slab);
            }
        } else {
            // More than a page: let it break between its slabs, and a slab where it can be cut.
            for slab in group {
                self.one(slab);
            }
        }
    }

    /// A slab on its own, wherever it fits.
    fn one(&mut self, slab: Slab) {
        let above = if self.fresh { 0.0 } else { slab.above };
        if self.used + above + slab.height <= self.frame.height + 1e-6 {
            self.place(slab);
            return;
        }
        if !self.fresh {
            self.turn();
            self.begin(std::slice::from_ref(&slab));
        }
        let mut rest = slab;
        while rest.height > self.frame.height - self.used + 1e-6 {
            match rest.clone().split(self.frame.height - self.used) {
                Some((upper, lower)) => {
                    self.place(upper);
                    self.turn();
                    rest = lower;
                }
                None => break,
            }
        }
        self.place(rest);
    }

    /// The heading that a page begins with when a table goes on.
    fn begin(&mut self, group: &[Slab]) {
        if let Some(again) = group.first().and_then(|slab| slab.repeat.clone()) {
            self.place((*again).clone());
            self.fresh = true;
        }
    }

    fn place(&mut self, slab: Slab) {
        if self.fresh && slab.marks.is_empty() {
            return;
        }
        if !self.fresh {
            self.used += slab.above;
        }
        let y = self.frame.top + self.used;
        self.used += slab.height;
        if !slab.marks.is_empty() {
            self.fresh = false;
        }
        let mut page = Slab::default();
        page.place(slab, self.frame.left, y);
        self.page.marks.append(&mut page.marks);
    }

    fn turn(&mut self) {
        self.done.push(std::mem::take(&mut self.page));
        self.used = 0.0;
        self.fresh = true;
    }

    fn finish(mut self) -> Vec<Filled> {
        if !self.page.marks.is_empty() || self.done.is_empty() {
            self.done.push(self.page);
        }
        self.done
    }
}
