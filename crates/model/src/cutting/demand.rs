//! What is asked of the boards: items, runs, stock and the shop's rules.

use crate::units::Length;
use thiserror::Error;

/// One rectangle to be laid out, its length along the grain; it is never turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The maker's name for it, such as `front wall`.
    pub id: String,
    /// Along the grain, allowances included.
    pub length: Length,
    /// Across the grain, allowances included.
    pub width: Length,
    /// The least usable thickness of a board that can give it.
    pub min_thickness: Length,
    /// The species id of the wood.
    pub wood: String,
}

/// Items that must follow one another in one strip, in this order, so that the figure carries on.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The maker's name for it.
    pub name: String,
    /// Places in [`Demand::items`], in the order along the strip from left to right.
    pub items: Vec<usize>,
    /// What is lost between two neighbors; `None` is one kerf. Never less than the kerf.
    pub gap: Option<Length>,
}

/// A fault that no item may touch the inside of. A saw cut may pass through it.
///
/// # Units
/// From the lower left corner of the whole board, margins included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockDefect {
    /// Left edge.
    pub x: Length,
    /// Lower edge.
    pub y: Length,
    /// Along the board.
    pub length: Length,
    /// Across the board.
    pub width: Length,
}

/// What is unfit at the rim of a board: end checks, sapwood or bark edges.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Margins {
    /// At the left end.
    pub left: Length,
    /// At the right end.
    pub right: Length,
    /// Along the lower edge.
    pub lower: Length,
    /// Along the upper edge.
    pub upper: Length,
}

/// One board (or one slice resawn from a board) that may be cut once.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The board's place in the rack, for the caller.
    pub board: usize,
    /// Whole length, along the grain.
    pub length: Length,
    /// Whole width.
    pub width: Length,
    /// What using it costs, in whole units of the caller's choice (minor units of money).
    pub cost: u64,
    /// Faults of the face.
    pub defects: Vec<StockDefect>,
    /// Usable thickness after milling.
    pub thickness: Length,
    /// The species id.
    pub wood: String,
    /// What is unfit at the rim.
    pub margins: Margins,
}

/// Which cuts come first on a board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// Rips the whole length of the board first, then crosscuts the strips.
    RipFirst,
    /// Crosscuts the board to sections first, then rips the sections. A section may be as long as the board.
    CrosscutFirst,
    /// Whichever wastes less, board by board.
    #[default]
    Either,
}

/// The least offcut worth keeping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeepOffcuts {
    /// Least length along the grain.
    pub length: Length,
    /// Least width.
    pub width: Length,
}

/// The shop's rules for cutting up boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// Width of the saw cut.
    pub kerf: Length,
    /// Which cuts come first.
    pub order: Order,
    /// Offcuts at least this large are kept.
    pub keep: KeepOffcuts,
}

/// What is to be cut, from what, by which rules.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// The rectangles.
    pub items: Vec<Item>,
    /// The runs; an item is in one run at most.
    pub runs: Vec<Run>,
    /// The boards.
    pub stock: Vec<Stock>,
    /// The rules.
    pub rules: Rules,
}

/// Why a demand cannot be planned at all.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DemandError {
    /// A size that no saw can cut.
    #[error(
        "{of} `{name}`: {what} is {} mm; it must be a number above zero and at most {} mm: correct it",
        .given.to_mm(), Length::LONGEST.to_mm()
    )]
    Size {
        /// `item`, `stock`, `rules` or the like.
        of: &'static str,
        /// Its name.
        name: String,
        /// Which measure.
        what: &'static str,
        /// What was given.
        given: Length,
    },
    /// A run names an item that is not there.
    #[error("run `{run}` names item number {item}, but there are only {count} items: correct the run")]
    NoSuchItem {
        /// The run.
        run: String,
        /// The place it names, from 0.
        item: usize,
        /// How many there are.
        count: usize,
    },
    /// A run without items.
    #[error("run `{run}` has no items: give it at least one or leave it out")]
    EmptyRun {
        /// The run.
        run: String,
    },
    /// An item stands twice in runs.
    #[error("item `{item}` stands in runs twice (again in `{run}`): an item can be cut once only")]
    TwiceInRuns {
        /// The item.
        item: String,
        /// The later run.
        run: String,
    },
    /// Items of one run differ.
    #[error(
        "run `{run}`: `{item}` differs from the first item in width, wood or thickness; a run lies in one strip"
    )]
    MixedRun {
        /// The run.
        run: String,
        /// The item that differs.
        item: String,
    },
    /// More than a plan can be made for.
    #[error("{count} {what} are more than the {most} that can be planned at once: split the job")]
    TooMany {
        /// `items`, `boards` or the like.
        what: &'static str,
        /// How many were given.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// The gap is narrower than the saw cut.
    #[error("run `{run}`: a gap of {} mm is less than the kerf of {} mm; the saw takes at least its kerf", .gap.to_mm(), .kerf.to_mm())]
    GapBelowKerf {
        /// The run.
        run: String,
        /// The gap given.
        gap: Length,
        /// The kerf.
        kerf: Length,
    },
}

impl Demand {
    /// Whether the demand makes sense at all.
    ///
    /// # Errors
    /// [`DemandError`] names the first thing that is wrong and what to do.
    pub fn check(&self) -> Result<(), DemandError> {
        not_too_many("items", self.items.len(), MOST_ITEMS)?;
        not_too_many("boards", self.stock.len(), MOST_BOARDS)?;
        let rules = &self.rules;
        at_least_zero("rules", "kerf", "kerf", rules.kerf)?;
        at_least_zero("rules", "offcuts", "least length", rules.keep.length)?;
        at_least_zero("rules", "offcuts", "least width", rules.keep.width)?;
        for item in &self.items {
            above_zero("item", &item.id, "length", item.length)?;
            above_zero("item", &item.id, "width", item.width)?;
            at_least_zero("item", &item.id, "least thickness", item.min_thickness)?;
        }
        for (place, stock) in self.stock.iter().enumerate() {
            check_stock(&format!("number {place}"), stock)?;
        }
        self.check_runs()
    }

    fn check_runs(&self) -> Result<(), DemandError> {
        let mut seen = vec![false; self.items.len()];
        for run in &self.runs {
            let gap = run.gap.unwrap_or(self.rules.kerf);
            at_least_zero("run", &run.name, "gap", gap)?;
            if gap < self.rules.kerf {
                return Err(DemandError::GapBelowKerf { run: run.name.clone(), gap, kerf: self.rules.kerf });
            }
            let mut first: Option<&Item> = None;
            for &place in &run.items {
                let (Some(item), Some(mark)) = (self.items.get(place), seen.get_mut(place)) else {
                    let count = self.items.len();
                    return Err(DemandError::NoSuchItem { run: run.name.clone(), item: place, count });
                };
                if core::mem::replace(mark, true) {
                    return Err(DemandError::TwiceInRuns { item: item.id.clone(), run: run.name.clone() });
                }
                let head = *first.get_or_insert(item);
                let alike = head.width.same(item.width)
                    && head.wood == item.wood
                    && head.min_thickness.same(item.min_thickness);
                if !alike {
                    return Err(DemandError::MixedRun { run: run.name.clone(), item: item.id.clone() });
                }
            }
            if first.is_none() {
                return Err(DemandError::EmptyRun { run: run.name.clone() });
            }
        }
        Ok(())
    }

    /// The length of strip that a run takes, from the first item's left end to the last one's right end.
    pub fn run_length(&self, run: &Run) -> Length {
        let items = run.items.iter().filter_map(|&i| self.items.get(i));
        let gaps = run.items.len().saturating_sub(1) as f64;
        items.map(|i| i.length).sum::<Length>() + self.gap_of(run) * gaps
    }

    /// The gap between neighbors of a run.
    pub fn gap_of(&self, run: &Run) -> Length {
        run.gap.unwrap_or(self.rules.kerf)
    }
}

/// Far more than a one-person shop has in hand; keeps the tree of cuts from growing too deep.
const MOST_ITEMS: usize = 2000;
const MOST_BOARDS: usize = 1000;
const MOST_FAULTS: usize = 500;

fn not_too_many(what: &'static str, count: usize, most: usize) -> Result<(), DemandError> {
    if count > most { Err(DemandError::TooMany { what, count, most }) } else { Ok(()) }
}

fn check_stock(name: &str, stock: &Stock) -> Result<(), DemandError> {
    not_too_many("defects of one board", stock.defects.len(), MOST_FAULTS)?;
    above_zero("stock", name, "length", stock.length)?;
    above_zero("stock", name, "width", stock.width)?;
    at_least_zero("stock", name, "thickness", stock.thickness)?;
    let m = &stock.margins;
    for (what, given) in [
        ("left margin", m.left),
        ("right margin", m.right),
        ("lower margin", m.lower),
        ("upper margin", m.upper),
    ] {
        at_least_zero("stock", name, what, given)?;
    }
    for d in &stock.defects {
        for (what, given) in [
            ("left edge of a defect", d.x),
            ("lower edge of a defect", d.y),
            ("length of a defect", d.length),
            ("width of a defect", d.width),
        ] {
            at_least_zero("stock", name, what, given)?;
        }
    }
    Ok(())
}

fn above_zero(of: &'static str, name: &str, what: &'static str, given: Length) -> Result<(), DemandError> {
    if given > Length::ZERO && given <= Length::LONGEST {
        return Ok(());
    }
    Err(DemandError::Size { of, name: name.to_owned(), what, given })
}

fn at_least_zero(of: &'static str, name: &str, what: &'static str, given: Length) -> Result<(), DemandError> {
    if given >= Length::ZERO && given <= Length::LONGEST {
        return Ok(());
    }
    Err(DemandError::Size { of, name: name.to_owned(), what, given })
}
