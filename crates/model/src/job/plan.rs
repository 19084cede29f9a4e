//! Statement + rack + shop → the whole plan.

use super::living::{HomeSwing, Living, live, name_of};
use super::measure::{self, Faces, PartMeasure};
use super::shop::Shop;
use super::short;
use super::stock::{StockPlan, plan_stock};
use crate::boards::Board;
use crate::caution::{Caution, Change, Weight};
use crate::cutting::Terminator;
use crate::design::{LidKind, Registration, Statement};
use crate::fit::{self, Verdict};
use crate::parts::{BoxParts, DeriveError, Role, derive};
use crate::reason::{Basis, Given, Reason, Value};
use crate::saw::{self, CradleCard, Effort, LidCard, Lot, SawPlan};
use crate::seasons;
use crate::shop::finish::{FinishPlan, Finishing, finish_plan};
use crate::shop::glue::{GlueUp, Gluing, glue_ups};
use crate::shop::hardware::{Hardness, HingeSeat, Screws, chest, hinge_screws};
use crate::shop::keys::{KeyStock, key_stocks};
use crate::shop::price::{Costs, Price, PriceError, WoodCost, price};
use crate::shop::sanding::{FaceGroup, Sanding, When as SandWhen, sanding, usual_sequence};
use crate::shop::schedule::{self, Day, Schedule, ScheduleError, Task};
use crate::shop::tasks::{Job, tasks};
use crate::shop::time::{ByArea, Phase, Timing, tally, tally_glue, timing};
use crate::solids::{Solid, finished};
use crate::units::{Length, Mass, Money};
use crate::wood;
use thiserror::Error;

/// When the work begins, or when it must be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// Begin on this day.
    From(Day),
    /// Be done by a day; today is for the caution when that means having begun in the past.
    Due {
        /// The day.
        due: Day,
        /// Today.
        today: Day,
    },
}

/// What is asked.
#[derive(Debug)]
pub struct Order<'a> {
    /// The box.
    pub statement: &'a Statement,
    /// The boards on the rack; `None` plans the shopping list only.
    pub rack: Option<&'a [Board]>,
    /// The shop.
    pub shop: &'a Shop,
    /// When to begin, or when it is due.
    pub when: Option<When>,
    /// How much thought to give the order of set-ups.
    pub effort: Effort,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanError {
    /// The statement contradicts itself or its geometry.
    #[error(transparent)]
    Derive(#[from] DeriveError),
    /// The home's air is impossible.
    #[error(transparent)]
    Home(#[from] seasons::Error),
    /// The price has no end.
    #[error(transparent)]
    Price(#[from] PriceError),
    /// The calendar has no working day.
    #[error(transparent)]
    Schedule(#[from] ScheduleError),
}

/// How the walls (and the lid's frame) close.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The ring of walls.
    pub walls: Option<fit::Ring>,
    /// The ring of the lid's frame.
    pub frame: Option<fit::Ring>,
}

/// Everything that packet, page and command line show.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The box as stated.
    pub statement: Statement,
    /// The shop it was planned for.
    pub shop: Shop,
    /// The parts of one box.
    pub parts: BoxParts,
    /// Their finished solids in the box frame, in the same order.
    pub solids: Vec<Solid>,
    /// Volume and weight of each.
    pub measures: Vec<PartMeasure>,
    /// Faces to sand and finish.
    pub faces: Faces,
    /// Woods by id and name, the one with most wood first.
    pub woods: Vec<(String, String)>,
    /// The boards of the rack.
    pub rack: Vec<Board>,
    /// Stock, layouts, shopping.
    pub stock: StockPlan,
    /// Machine set-ups in order.
    pub saw: SawPlan,
    /// The V cradle.
    pub cradle: Vec<CradleCard>,
    /// Sawing the lid off.
    pub lid_card: Option<LidCard>,
    /// Will it close.
    pub fit: Fit,
    /// Will it live.
    pub living: Living,
    /// Glue-ups.
    pub glue: Vec<GlueUp>,
    /// Key stock.
    pub keys: Vec<KeyStock>,
    /// Sanding, group by group.
    pub sanding: Vec<Sanding>,
    /// Finish.
    pub finish: FinishPlan,
    /// Hinge screws by seat.
    pub screws: Vec<Screws>,
    /// The time sheet of the batch.
    pub timing: Timing,
    /// The time sheet of a single box, for comparison.
    pub timing_single: Timing,
    /// Price of one box of the batch.
    pub price: Price,
    /// Price of one box made alone.
    pub price_single: Price,
    /// The tasks of the batch in order.
    pub tasks: Vec<Task>,
    /// The tasks on a calendar; `None` when no date was given.
    pub schedule: Option<Schedule>,
    /// What to know, gravest first.
    pub cautions: Vec<Caution>,
    /// Where the numbers come from.
    pub reasons: Vec<Reason>,
}

impl Plan {
    /// Weight of one box; `None` if a wood's density is not known.
    pub fn mass(&self) -> Option<Mass> {
        self.measures.iter().map(|m| m.mass).sum::<Option<Mass>>()
    }

    /// The gravest caution's weight.
    pub fn worst(&self) -> Option<Weight> {
        self.cautions.iter().map(|c| c.weight).max()
    }

    /// A reason by its key.
    pub fn reason(&self, key: &str) -> Option<&Reason> {
        self.reasons.iter().find(|r| r.key == key)
    }
}

/// Plans a job.
///
/// # Errors
/// Every contradiction in the statement, or the home's impossible air.
#[expect(
    clippy::too_many_lines,
    reason = "a line for each room in the order of the job; dividing it would hide the order"
)]
pub fn plan(order: &Order<'_>, stop: &mut dyn Terminator) -> Result<Plan, Vec<PlanError>> {
    let (s, shop) = (order.statement, order.shop);
    let year = shop.home.year().map_err(|e| vec![PlanError::Home(e)])?;
    let today = shop.moisture;
    let swing = HomeSwing::of(&year, today);
    let derived = derive(s, &shop.part_settings(&swing))
        .map_err(|e| e.into_iter().map(PlanError::Derive).collect::<Vec<_>>())?;
    let (parts, mut cautions, mut reasons) = (derived.parts, derived.cautions, derived.reasons);
    let solids = finished(&parts);
    let measures = measure::measures(&parts, &solids, today);
    let faces = measure::faces(&parts, &solids);
    let saw = saw::plan(&[Lot { parts: &parts, count: s.count }], &shop.saw, order.effort);
    let cradle = saw::cradle_cards(&parts, &shop.saw);
    let lid_card = saw::lid_card(&parts, &shop.saw);
    let fit = close(&parts, shop, &mut reasons, &mut cautions);
    let living = live(s, &parts, &year, today, &mut reasons, &mut cautions);
    let stock = plan_stock(&parts, s.count, order.rack, &shop.stock, shop.search, stop);
    stock_cautions(&stock, order.rack.is_some(), &mut cautions);
    let gravity = |id: &str| wood::species(id)?.specific_gravity_12.map(|g| g.value);
    let glue = glue_ups(&Gluing {
        parts: &parts,
        finish: &s.finish,
        settings: &shop.bench.gluing,
        gravity: &gravity,
    });
    cautions.extend(glue.cautions);
    let glue = glue.value;
    let keys = key_stocks(&parts, s.count, shop.saw.table_saw.kerf, &shop.bench);
    cautions.extend(keys.cautions);
    let keys = keys.value;
    let sanding = sanding(&face_groups(s, shop, faces, &parts));
    cautions.extend(sanding.cautions);
    let sanding = sanding.value;
    let floating: Vec<String> = parts.floats.iter().map(|f| f.name.clone()).collect();
    let finish = finish_plan(&Finishing {
        finish: &s.finish,
        outside: faces.outside + faces.edges,
        inside: faces.inside,
        floating: &floating,
        shellac_cut: shop.bench.shellac_cut,
    });
    cautions.extend(finish.cautions);
    if s.lid.kind == LidKind::None {
        // An open box shuts no smell in.
        cautions.retain(|c| c.code != "smell-shut-in");
    }
    let finish = finish.value;
    let screws = screws(s, &parts, &mut cautions);
    cautions.extend(chest(parts.inside));
    let (timing, timing_single) = time(&parts, &glue, &sanding, &finish, s.count, &shop.bench);
    let hardware = hardware_cost(&parts, shop, &mut cautions);
    let whole = s.count.max(1);
    // What the boards cost is shared by the boxes laid out on them.
    let wood_cost = match order.rack {
        Some(_) => WoodCost::Bought(stock.cost.times(1.0 / f64::from(stock.laid_out.max(1)))),
        None => WoodCost::Net(Money::ZERO),
    };
    if order.rack.is_none() || !stock.shopping.is_empty() {
        cautions.push(not_priced(&stock, order.rack.is_some()));
    }
    let costs = Costs { wood: wood_cost, hardware, consumables: shop.consumables };
    let failed = |e: PriceError| vec![PlanError::Price(e)];
    let price_each = price(&costs, timing.per_box, &shop.bench).map_err(failed)?;
    let price_single = if whole == 1 {
        price_each.clone()
    } else {
        price(&costs, timing_single.per_box, &shop.bench).map_err(failed)?
    };
    // Wood that lies on the rack has rested; only bought wood must.
    let rest_days = if stock.shopping.is_empty() { 0 } else { shop.bench.rest_days };
    let resting = crate::shop::Settings { rest_days, ..shop.bench.clone() };
    let tasks = tasks(&Job {
        glue_ups: &glue,
        finish: &s.finish,
        coats: &finish,
        timing: &timing,
        settings: &resting,
    });
    let booked = match order.when {
        None => None,
        Some(When::From(day)) => Some(schedule::forward(&tasks, &shop.bench.week, day)),
        Some(When::Due { due, today }) => {
            Some(schedule::backward(&tasks, &shop.bench.week, due, Some(today)))
        }
    };
    let booked = booked.transpose().map_err(|e| vec![PlanError::Schedule(e)])?;
    let schedule = booked.map(|b| {
        cautions.extend(b.cautions);
        b.value
    });
    harms(&parts, &mut cautions);
    for stage in glue.iter().flat_map(|g| &g.stages) {
        reasons.extend(stage.reasons.iter().cloned());
    }
    reasons.extend(keys.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(sanding.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(screws.iter().flat_map(|k| k.reasons.iter().cloned()));
    reasons.extend(finish.reasons.iter().cloned());
    reasons.extend(timing.reasons.iter().cloned());
    reasons.extend(price_each.reasons.iter().cloned());
    reasons.extend(schedule.iter().flat_map(|s: &Schedule| s.reasons.iter().cloned()));
    reasons.extend(shop.bench.reasons());
    for card in &cradle {
        reasons.extend(card.reasons.iter().cloned());
    }
    reasons.extend(lid_card.iter().flat_map(|c| c.reasons.iter().cloned()));
    reasons.push(saw.reason());
    for (i, setup) in saw.setups.iter().enumerate() {
        cautions.extend(setup.cautions.iter().filter(|c| c.weight == Weight::Cannot).cloned());
        reasons.extend(setup.reasons.iter().cloned().map(|mut r| {
            r.key = format!("setup.{}.{}", i + 1, r.key);
            r
        }));
    }
    part_reasons(&parts, &mut reasons);
    let mut seen: Vec<(&str, String)> = Vec::new();
    cautions.retain(|c| {
        let new = !seen.iter().any(|(code, says)| *code == c.code && *says == c.says);
        if new {
            seen.push((c.code, c.says.clone()));
        }
        new
    });
    cautions.sort_by_key(|c| core::cmp::Reverse(c.weight));
    let woods = measure::woods(&parts, &measures);
    Ok(Plan {
        statement: s.clone(),
        shop: shop.clone(),
        parts,
        solids,
        measures,
        faces,
        woods,
        rack: order.rack.unwrap_or_default().to_vec(),
        stock,
        saw,
        cradle,
        lid_card,
        fit,
        living,
        glue,
        keys,
        sanding,
        finish,
        screws,
        timing,
        timing_single,
        price: price_each,
        price_single,
        tasks,
        schedule,
        cautions,
        reasons,
    })
}

/// Blank sizes of every part, so that each can be asked about.
fn part_reasons(parts: &BoxParts, reasons: &mut Vec<Reason>) {
    for p in &parts.parts {
        if p.role == Role::Key {
            continue;
        }
        let sum =
            |f: fn(&crate::parts::Allowance) -> Length| p.blank.allowances.iter().map(f).sum::<Length>();
        reasons.push(Reason {
            key: format!("blank.{}", p.name.replace(' ', "_")),
            title: format!("length of the blank for {}", p.name),
            formula: "finished length, tip to tip + trim at both ends".into(),
            given: vec![
                Given::new("finished length", Value::Length(p.size[0])),
                Given::new("trim", Value::Length(sum(|a| a.length))),
                Given::new("added to the width", Value::Length(sum(|a| a.width))),
                Given::new("added to the thickness", Value::Length(sum(|a| a.thickness))),
            ],
            result: Value::Length(p.blank.length()),
            basis: Basis::CommonPractice,
        });
    }
}

fn close(parts: &BoxParts, shop: &Shop, reasons: &mut Vec<Reason>, cautions: &mut Vec<Caution>) -> Fit {
    let ring = |role: Role| -> Option<fit::Ring> {
        let members: Vec<_> = parts.parts.iter().filter(|p| p.role == role).collect();
        let first = members.first()?;
        // Round a frame the miter runs over the members' width, round a box over the walls' thickness.
        let (thickness, height) =
            if role == Role::Wall { (first.size[2], first.size[1]) } else { (first.size[1], first.size[2]) };
        let walls = fit::Walls { lengths: members.iter().map(|p| p.size[0]).collect(), thickness, height };
        fit::ring_closure(&walls, &shop.errors).ok()
    };
    let mitered = parts.joints.iter().any(|j| {
        j.seam == crate::parts::Seam::Miter && parts.parts.get(j.a.0).is_some_and(|p| p.role == Role::Wall)
    });
    let walls = if mitered { ring(Role::Wall) } else { None };
    let frame = ring(Role::FrameMember);
    for (ring, key, place) in [(&walls, "fit", "walls, miters"), (&frame, "lid_fit", "lid frame, miters")] {
        let Some(ring) = ring else { continue };
        reasons.push(ring.reason_held(&format!("{key}.held")));
        reasons.push(ring.reason_last(&format!("{key}.last")));
        reasons.push(ring.reason_spread(&format!("{key}.spread")));
        if ring.verdict() == Verdict::NotSeen {
            continue;
        }
        let gap = ring.spread();
        cautions.push(Caution {
            code: "miters-show",
            weight: if ring.verdict() == Verdict::Shows { Weight::LikelyToFail } else { Weight::WorthKnowing },
            place: place.into(),
            says: format!(
                "With this saw's errors a miter is typically {:.2} mm open and hardly ever more than {:.2} mm; {:.1} mm is seen.",
                gap.typical().to_mm(),
                gap.worst().to_mm(),
                fit::VISIBLE_GAP.limit.to_mm()
            ),
            numbers: vec![
                Given::new("typical gap", Value::Length(gap.typical())),
                Given::new("worst gap", Value::Length(gap.worst())),
            ],
            basis: fit::VISIBLE_GAP.basis.clone(),
            change: Some(Change::words("Cut a test frame, read its gaps, and correct tilt and stop before the real walls")),
        });
    }
    Fit { walls, frame }
}

fn stock_cautions(stock: &StockPlan, has_rack: bool, cautions: &mut Vec<Caution>) {
    // The judge, written apart from the search, looks at every plan.
    if let Some(problem) = stock.judged.first() {
        cautions.push(Caution {
            code: "cutting-plan-judged-wrong",
            weight: Weight::Cannot,
            place: "boards".into(),
            says: format!("The cutting plan was judged wrong and must not be cut: {problem}."),
            numbers: vec![Given::new("problems found", Value::Count(stock.judged.len() as u64))],
            basis: Basis::Derived(
                "every layout is checked again by code that shares nothing with the search",
            ),
            change: Some(Change::words("Plan again with another --seed, and report this")),
        });
    }
    if !has_rack || stock.cutting.is_complete() {
        return;
    }
    cautions.extend(short::cautions(stock));
}

/// Faces to sand: insides before glue-up, outsides after.
fn face_groups(s: &Statement, shop: &Shop, faces: Faces, parts: &BoxParts) -> Vec<FaceGroup> {
    let count = |roles: &[Role]| {
        u32::try_from(parts.parts.iter().filter(|p| roles.contains(&p.role)).count()).unwrap_or(u32::MAX)
    };
    let inside = count(&[Role::Wall, Role::Bottom, Role::Lining, Role::TrayWall, Role::Divider]);
    let outside = count(&[Role::Wall, Role::FrameMember, Role::FramePanel, Role::LidPanel, Role::Top]);
    let group = |name: &str, area, faces, when, kind| FaceGroup {
        name: name.into(),
        area,
        faces,
        when,
        allowance: shop.sanding,
        sequence: usual_sequence(kind).to_vec(),
    };
    vec![
        group("inside faces", faces.inside, inside, SandWhen::BeforeGlueUp, s.finish.inside.kind),
        group(
            "outside faces",
            faces.outside + faces.edges,
            outside,
            SandWhen::AfterGlueUp,
            s.finish.outside.kind,
        ),
    ]
}

/// Screws of the hinges, in the back wall and in the lid.
fn screws(s: &Statement, parts: &BoxParts, cautions: &mut Vec<Caution>) -> Vec<Screws> {
    let Some(hinges) = s.hinges.filter(|_| s.lid.registration == Registration::Hinges) else {
        return Vec::new();
    };
    let seat = |place: &'static str, part: &crate::parts::Part, edge, deep| {
        let species = wood::species(&part.wood);
        HingeSeat {
            place,
            edge,
            deep,
            gravity: species.and_then(|w| w.specific_gravity_12).map_or(0.5, |g| g.value),
            hardness: match species.map(|w| w.group) {
                Some(wood::Group::Softwood) => Hardness::Softwood,
                _ => Hardness::Hardwood,
            },
        }
    };
    let mut seats = Vec::new();
    if let Some(wall) = parts.parts.iter().find(|p| p.role == Role::Wall && p.name == "back") {
        seats.push(seat("back wall", wall, wall.size[2], wall.size[1]));
        if let LidKind::Sawn { height, .. } = s.lid.kind {
            seats.push(seat("lid", wall, wall.size[2], height));
        }
    }
    if let Some(lid) = parts.parts.iter().find(|p| p.name == "lid frame back" || p.name == "lid") {
        seats.push(seat("lid", lid, lid.size[1], lid.size[2]));
    }
    let found = hinge_screws(&hinges, &seats);
    cautions.extend(found.cautions);
    found.value
}

/// The time sheets of the batch and of a single box.
fn time(
    parts: &BoxParts,
    glue: &[GlueUp],
    sanding: &[Sanding],
    finish: &FinishPlan,
    count: u32,
    set: &crate::shop::Settings,
) -> (Timing, Timing) {
    let mut work = tally(parts);
    tally_glue(&mut work, glue);
    let mut by_area: Vec<ByArea> = sanding
        .iter()
        .map(|g| ByArea {
            title: format!("sand {}", g.faces.name),
            phase: if g.faces.when == SandWhen::BeforeGlueUp { Phase::SandBefore } else { Phase::SandAfter },
            each: g.minutes,
        })
        .collect();
    by_area.extend(finish.coats.iter().map(|c| ByArea {
        title: format!("{}, {}", c.product.name, c.side.words()),
        phase: Phase::Finish,
        each: c.each * f64::from(c.coats),
    }));
    (timing(&work, &by_area, count, set), timing(&work, &by_area, 1, set))
}

fn not_priced(stock: &StockPlan, has_rack: bool) -> Caution {
    let says = if has_rack {
        format!(
            "The price leaves out {} of the shopping list, which the rack does not give.",
            super::plural_of(u32::try_from(stock.shopping.len()).unwrap_or(u32::MAX), "line")
        )
    } else {
        "No rack was given, so no wood is in the price.".to_string()
    };
    Caution {
        code: "wood-not-priced",
        weight: Weight::WorthKnowing,
        place: "price".into(),
        says,
        numbers: Vec::new(),
        basis: Basis::Stated,
        change: Some(Change::words("Name the boards in a rack file, with what they cost")),
    }
}

/// What the hardware of one box costs.
fn hardware_cost(parts: &BoxParts, shop: &Shop, cautions: &mut Vec<Caution>) -> Money {
    let mut sum = Money::ZERO;
    for h in &parts.hardware {
        match shop.hardware.iter().find(|p| h.name.contains(p.name.as_str())) {
            Some(p) => sum += p.each.times(f64::from(h.count)),
            None => cautions.push(Caution {
                code: "hardware-not-priced",
                weight: Weight::WorthKnowing,
                place: "price".into(),
                says: format!("The shop file has no price for {}, so the box's price leaves it out.", h.name),
                numbers: vec![Given::new("pieces in one box", Value::Count(u64::from(h.count)))],
                basis: Basis::Stated,
                change: Some(Change::words("Add it under [[hardware]] in the shop file")),
            }),
        }
    }
    sum
}

fn harms(parts: &BoxParts, cautions: &mut Vec<Caution>) {
    let mut seen: Vec<&str> = Vec::new();
    for p in &parts.parts {
        if seen.contains(&p.wood.as_str()) {
            continue;
        }
        seen.push(&p.wood);
        let Some(species) = wood::species(&p.wood) else { continue };
        for harm in &species.harms {
            cautions.push(Caution {
                code: "wood-harms",
                weight: Weight::WorthKnowing,
                place: name_of(species.id),
                says: harm.says.to_string(),
                numbers: Vec::new(),
                basis: harm.provenance.basis("published rating; see the table's sources"),
                change: None,
            });
        }
    }
}
