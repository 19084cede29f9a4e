//! What stands in each chapter between its opening sentence and its cautions.

use keepwright_model::job::Plan;
use keepwright_model::saw::Setup;

use super::picture::{APART, BOARD, COLUMN, SETUP, VIEWS};
use super::{Chapter, Picture, woods};
use crate::drawings::{self, Room, Titled};
use crate::flow::{Block, Bullet, Column, List, Setting, Table, Words};
use crate::page::Paper;
use crate::setup_words;
use crate::sheets::draft::{Draft, figure, numbers, under, wood_name};
use crate::sheets::drawn::{self, Drawn};
use crate::sheets::{
    boards, finish, fit, glue, keys, money, part_list, seasons, setup_card, setup_passes, setups,
};
use crate::sheets::{stock, strip, timeline};
use crate::shown::{capital, minutes};

/// A piece of a chapter.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A block, drawing and all.
    Block(Block),
    /// A drawing that is made when it is looked at.
    Picture(Picture),
    /// A set-up of a machine.
    Setup(Box<SetupCard>),
}

impl From<Block> for Piece {
    fn from(block: Block) -> Self {
        Self::Block(block)
    }
}

/// A set-up in short, with what its card says.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupCard {
    /// Its place in the order, from 1.
    pub number: usize,
    /// What is done: `Miter the far ends`.
    pub title: String,
    /// With which machine and cutter.
    pub with: String,
    /// What is set.
    pub settings: Vec<Setting>,
    /// How the work lies, is held and turned; its passes.
    pub blocks: Vec<Block>,
    /// The pieces that are cut.
    pub pieces: Vec<String>,
    /// Its sketch, where there is something to see.
    pub picture: Option<Picture>,
}

/// The pieces of a chapter.
pub fn pieces(plan: &Plan, chapter: Chapter) -> Vec<Piece> {
    let none = Drawn::default();
    let draft = Draft::new(plan, Paper::A4, &none);
    match chapter {
        Chapter::Shape => shape(&draft),
        Chapter::Woods => blocks(woods::blocks(&draft)),
        Chapter::Boards => of_boards(&draft),
        Chapter::Saw => saw(&draft),
        Chapter::Joints => joints(&draft),
        Chapter::Seasons => blocks(year(&draft)),
        Chapter::Glue => blocks(gluing(&draft)),
        Chapter::Finish => blocks(finishing(&draft)),
        Chapter::Money => blocks(price(&draft)),
        Chapter::Packet => Vec::new(),
    }
}

fn blocks(blocks: Vec<Block>) -> Vec<Piece> {
    blocks.into_iter().map(Piece::Block).collect()
}

fn shape(draft: &Draft<'_>) -> Vec<Piece> {
    let (plan, show) = (draft.plan, &draft.show);
    let both = |sizes: &[_]| Words::bold(show.sizes(sizes)).and(format!("  {}", show.sizes_other(sizes)));
    let mut pairs = vec![
        ("outside".to_owned(), both(&plan.parts.outside)),
        ("inside".to_owned(), both(&plan.parts.inside)),
    ];
    if let Some(mass) = plan.mass() {
        pairs.push(("weight".into(), Words::plain(format!("{}, at today's moisture", show.mass(mass)))));
    }
    let kinds = part_list::kinds(draft);
    let mut parts = part_list::finished(draft, &kinds);
    // Which board a part comes from is said with the boards.
    parts.columns.remove(7);
    for row in &mut parts.rows {
        row.remove(7);
    }
    let mut out = vec![Piece::Block(Block::Pairs(pairs))];
    out.push(Piece::Picture(Picture::new(
        "views",
        "Front, top and right side of the closed box with its overall sizes.",
        VIEWS,
    )));
    out.extend(blocks(under("Parts of one box", vec![Block::Table(parts)])));
    out.push(Piece::Block(Block::note(
        "Finished sizes, length along the grain; of a mitered part from tip to tip.",
    )));
    out.push(Piece::Picture(Picture::new("apart", "The box taken apart, each kind of part named.", APART)));
    out
}

fn of_boards(draft: &Draft<'_>) -> Vec<Piece> {
    let plan = draft.plan;
    let shown = draft.show.shown;
    let mut out = Vec::new();
    for (i, run) in plan.parts.runs.iter().enumerate() {
        out.push(Block::Heading(format!("Strip of {}", run.name)).into());
        if run.mirrors.is_none() {
            let drawing = drawings::strip_plan(&plan.parts, i, shown, Room::new(COLUMN, 60.0));
            let note = drawings::strip_note(&plan.parts, i, shown);
            out.push(
                figure(drawing, &note, format!("The strip of {} with its walls in order.", run.name)).into(),
            );
        }
        out.push(strip::table(draft, run).into());
    }
    out.extend(blocks(under("Boards to take from the rack", stock::boards(draft))));
    for (i, layout) in plan.stock.cutting.layouts.iter().enumerate() {
        out.extend(layout_pieces(draft, i, layout));
    }
    out.extend(blocks(under("Wood to buy", stock::purchases(draft))));
    out.extend(blocks(under("Bought things", stock::hardware(draft))));
    let kinds = part_list::kinds(draft);
    out.extend(blocks(under(
        "Blanks, with what is left on for each step",
        vec![Block::Table(part_list::blanks(draft, &kinds))],
    )));
    out
}

fn layout_pieces(draft: &Draft<'_>, index: usize, layout: &keepwright_model::cutting::Layout) -> Vec<Piece> {
    let show = &draft.show;
    let Some(board) = stock::board_of(draft, layout) else { return Vec::new() };
    let sizes = [board.length, board.width, board.thickness];
    let head = format!("Board {}: {}, {}", board.name, wood_name(&board.wood), show.sizes(&sizes));
    let mut picture = Picture::new(
        format!("board-{}", index + 1),
        format!("Board {} to scale, with its faults, blanks and cuts.", board.name),
        BOARD,
    );
    let mut out = vec![Block::Heading(head).into()];
    let drawn = drawn::board(draft.plan, index, show.shown, BOARD);
    let legend = drawn.map(|d| d.legend).unwrap_or_default();
    let few = legend.len() <= boards::FEW;
    if few {
        let names: Vec<String> = legend.iter().map(|(n, name)| format!("{n} {name}")).collect();
        picture.caption = names.join(" · ");
    }
    out.push(Piece::Picture(picture));
    if !few {
        out.push(boards::legend(&legend).into());
    }
    out.extend(boards::cuts(draft, layout).map(Piece::Block));
    out
}

fn saw(draft: &Draft<'_>) -> Vec<Piece> {
    let plan = draft.plan;
    let cards = plan.saw.setups.iter().enumerate().map(|(i, s)| Piece::Setup(Box::new(setup(draft, i, s))));
    let mut out: Vec<Piece> = cards.collect();
    out.extend(plan.lid_card.as_ref().map(|c| Block::Card(setups::lid(draft, c)).into()));
    out.extend(blocks(under("What turning the second of a pair cancels", setups::turning(draft))));
    out
}

fn setup(draft: &Draft<'_>, index: usize, setup: &Setup) -> SetupCard {
    let said = |words: String| (!words.is_empty()).then(|| Block::paragraph(&words));
    let turned = setup.flip.and_then(|f| said(format!("**Turning.** {}", f.says)));
    let words = [said(setup_card::lying(setup)), said(setup_card::holds(setup)), turned];
    let machine = setup_words::machine(setup.machine);
    let alt = format!("Sketch of the set-up: {}, {machine}.", setup.purpose.words());
    // A sketch stands where the packet has one: for what is set against a guide with a blade, band or bit.
    let sketched = drawings::has_setup_drawing(setup);
    SetupCard {
        number: index + 1,
        title: capital(setup.purpose.words()),
        with: setup_words::with(&draft.show, setup),
        settings: setup_words::settings(&draft.show, setup),
        blocks: words.into_iter().flatten().chain(setup_passes::passes(draft, setup)).collect(),
        pieces: setup_words::ticks(&draft.plan.parts, setup),
        picture: sketched.then(|| Picture::new(format!("setup-{}", index + 1), alt, SETUP)),
    }
}

fn joints(draft: &Draft<'_>) -> Vec<Piece> {
    let plan = draft.plan;
    let mut out = Vec::new();
    let rings: Vec<_> = [("Walls", plan.fit.walls.as_ref()), ("Lid frame", plan.fit.frame.as_ref())]
        .into_iter()
        .filter_map(|(name, ring)| Some((name, ring?)))
        .collect();
    out.extend(blocks(titled(
        "Joints in section, at full scale on paper",
        drawings::joint_sections(&plan.parts, &plan.solids, draft.show.shown),
    )));
    if !rings.is_empty() {
        out.extend(blocks(under(
            "Gaps at the miters, by how the ring is put together",
            vec![fit::table(&rings)],
        )));
        out.extend(blocks(under("What the saw is measured to do", vec![fit::saw(draft)])));
        out.extend(blocks(under("To measure at the dry fit", vec![dots(fit::checks(draft))])));
    }
    out.extend(blocks(titled("Where the keys stand", drawn::keys(plan, draft.show.shown))));
    out.extend(blocks(under("Key stock", keys::stock(draft))));
    let cradles = (0..plan.cradle.len()).map(|i| Block::Card(keys::cradle(draft, i))).collect();
    out.extend(blocks(under("The cradle that carries the box over the blade", cradles)));
    out
}

/// Drawings with their names under them, under one heading.
fn titled(heading: &str, drawings: Vec<Titled>) -> Vec<Block> {
    let each = |t: Titled| {
        let name = capital(&t.title);
        figure(t.drawing, &name, format!("{name}."))
    };
    under(heading, drawings.into_iter().map(each).collect())
}

/// A list on a screen has no boxes to tick.
fn dots(block: Block) -> Block {
    match block {
        Block::List(List { bullet: Bullet::Box, items }) => Block::List(List { bullet: Bullet::Dot, items }),
        other => other,
    }
}

fn year(draft: &Draft<'_>) -> Vec<Block> {
    let mut out = vec![
        figure(
            seasons::year(draft),
            "Moisture content that wood settles at in the home, month by month, and the wood's moisture today.",
            "A line of the wood's moisture content through the twelve months.",
        ),
        Block::note(&seasons::ends(draft)),
    ];
    out.extend(under("Floating panels", seasons::floats(draft)));
    out.extend(under("Miters", seasons::miters(draft)));
    out.extend(under("Glued across the grain", stresses(draft)));
    out.extend(under("Bows", seasons::bows(draft)));
    out.extend(under("Every part across and along its grain", seasons::movements(draft)));
    out
}

/// What is kept from moving, and how hard it is strained at worst.
fn stresses(draft: &Draft<'_>) -> Vec<Block> {
    let row = |(name, glued): &(String, keepwright_model::seasons::GluedAcross)| {
        vec![
            Words::bold(capital(name)),
            Words::plain(format!("{:.1}\u{a0}MPa", glued.stress.value())),
            Words::plain(format!("{:.1}\u{a0}MPa", glued.strength.value())),
            Words::plain(format!("{:.1}\u{a0}MPa", glued.strength_low.value())),
            Words::plain(crate::shown::percent(glued.share())),
        ]
    };
    let rows: Vec<_> = draft.plan.living.glued.iter().map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        Column::words("part"),
        numbers("stress if nothing yields"),
        numbers("mean strength"),
        numbers("19 of 20 pieces bear"),
        numbers("of the mean"),
    ];
    vec![Block::Table(Table::new(columns, rows))]
}

fn gluing(draft: &Draft<'_>) -> Vec<Block> {
    let with = &draft.plan.shop.bench.gluing.glue;
    let mut out = vec![Block::note(&format!(
        "{}: open {}, in clamps {}, full strength {} after that ({}). The label of the glue at hand comes before these.",
        capital(&with.name),
        minutes(with.open),
        minutes(with.clamp),
        minutes(with.cure),
        with.basis
    ))];
    for mut block in draft.plan.glue.iter().flat_map(|up| glue::of(draft, up)) {
        if let Block::Card(card) = &mut block {
            for inner in &mut card.blocks {
                *inner = numbered(inner.clone());
            }
        }
        out.push(block);
    }
    out
}

/// Steps to do one after another.
fn numbered(block: Block) -> Block {
    match block {
        Block::List(List { bullet: Bullet::Box, items }) => {
            Block::List(List { bullet: Bullet::Number, items })
        }
        other => other,
    }
}

fn finishing(draft: &Draft<'_>) -> Vec<Block> {
    let mut out = under("Sanding", finish::sanding(draft));
    out.extend(under("Coats", finish::coats(draft)));
    out.extend(under("Hinge screws", finish::screws(draft)));
    // Coats are dated on paper, not here.
    out.retain(|b| !matches!(b, Block::List(List { bullet: Bullet::Box, .. })));
    out
}

fn price(draft: &Draft<'_>) -> Vec<Block> {
    let plan = draft.plan;
    let mut out = under("Price of one box", vec![Block::Table(money::price(draft))]);
    out.push(Block::note(&format!(
        "An hour costs {}; price = (wood + hours + hardware + consumables + overhead) ÷ (1 − what the channel keeps, {}).",
        draft.show.money(plan.shop.bench.rate),
        crate::shown::percent(plan.shop.bench.channel.value())
    )));
    out.extend(under("Hours", vec![Block::Table(money::work_hours(draft))]));
    let days = match &plan.schedule {
        Some(schedule) => timeline::dated(schedule, &plan.tasks),
        None => timeline::undated(&plan.tasks),
    };
    // The opening sentence is the chapter's own.
    let days = days.into_iter().filter(|b| !matches!(b, Block::Lead(_))).collect();
    out.extend(under("Day by day", days));
    out
}
