//! Statement + rack + shop → the whole plan.

use super::living::{HomeSwing, Living, live};
use super::measure::{self, Faces, PartMeasure};
use super::shop::Shop;
use super::stock::{StockPlan, plan_stock};
use super::work::{Work, operations};
use crate::boards::Board;
use crate::caution::{Caution, Change, Weight};
use crate::cutting::Terminator;
use crate::design::Statement;
use crate::fit::{self, Verdict};
use crate::parts::{BoxParts, DeriveError, Role, derive};
use crate::reason::{Basis, Given, Reason, Value};
use crate::saw::{self, CradleCard, Effort, LidCard, Lot, SawPlan};
use crate::seasons;
use crate::shop::{
    self, FaceAreas, FinishPlan, GlueUp, KeyStock, Operation, Price, PriceInput, Sanding, Schedule, When,
};
use crate::solids::{Solid, finished};
use crate::units::{Length, Mass, Minutes, Money};
use crate::wood;
use thiserror::Error;

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
    /// Sanding.
    pub sanding: Sanding,
    /// Finish.
    pub finish: FinishPlan,
    /// The work in order, for the batch.
    pub operations: Vec<Operation>,
    /// Hands-on time for the batch.
    pub hands_on: Minutes,
    /// Price of the batch and of one.
    pub price: Price,
    /// The work on a calendar; `None` when no date was given.
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
pub fn plan(order: &Order<'_>, stop: &mut dyn Terminator) -> Result<Plan, Vec<PlanError>> {
    let (s, shop) = (order.statement, order.shop);
    let year = shop.home.year().map_err(|e| vec![PlanError::Home(e)])?;
    let today = shop.moisture;
    let swing = HomeSwing { today, driest: year.driest().moisture, wettest: year.wettest().moisture };
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
    let glue = shop::glue_ups(&parts, s, &shop.bench, s.count);
    let keys = shop::key_stock(&parts, &shop.bench, shop.saw.table_saw.kerf, s.count);
    let areas = FaceAreas { outside: faces.outside, inside: faces.inside, edges: faces.edges };
    let sanding = shop::sanding(&areas, &shop.bench, s);
    let finish = shop::finish(&areas, s, s.count);
    let operations = operations(&Work {
        s,
        parts: &parts,
        saw: &saw,
        glue: &glue,
        sanding: &sanding,
        finish: &finish,
        faces,
        set: &shop.bench,
    });
    let hands_on = operations.iter().map(Operation::hands_on).sum();
    let hardware = hardware_cost(&parts, shop, s.count, &mut cautions);
    let price = shop::price(
        &PriceInput {
            material: stock.cost,
            hardware,
            consumables: shop.bench.consumables,
            hands_on,
            count: s.count,
        },
        &shop.bench,
    );
    let schedule = order.when.map(|when| shop::schedule(&operations, &shop.bench, when));
    harms(&parts, &mut cautions);
    for g in &glue {
        cautions.extend(g.cautions.iter().cloned());
        reasons.extend(g.reasons.iter().cloned());
    }
    for k in &keys {
        reasons.extend(k.reasons.iter().cloned());
    }
    cautions.extend(sanding.cautions.iter().cloned());
    cautions.extend(finish.cautions.iter().cloned());
    cautions.extend(shop::hardware_cautions(&parts, s));
    cautions.extend(schedule.iter().flat_map(|s| s.cautions.iter().cloned()));
    reasons.extend(sanding.reasons.iter().cloned());
    reasons.extend(finish.reasons.iter().cloned());
    reasons.extend(price.reasons.iter().cloned());
    for card in &cradle {
        reasons.extend(card.reasons.iter().cloned());
    }
    reasons.extend(lid_card.iter().flat_map(|c| c.reasons.iter().cloned()));
    for (i, setup) in saw.setups.iter().enumerate() {
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
    cautions.sort_by(|a, b| b.weight.cmp(&a.weight));
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
        operations,
        hands_on,
        price,
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
        let sum = |f: fn(&crate::parts::Allowance) -> Length| p.blank.allowances.iter().map(f).sum::<Length>();
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
        let walls =
            fit::Walls { lengths: members.iter().map(|p| p.size[0]).collect(), thickness, height };
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
    if !has_rack || stock.cutting.is_complete() {
        return;
    }
    let short: Vec<&str> =
        stock.cutting.short.iter().filter_map(|s| stock.demand.items.get(s.item)).map(|i| i.id.as_str()).collect();
    let shown = short.iter().take(6).copied().collect::<Vec<_>>().join(", ");
    let more = if short.len() > 6 { format!(" and {} more", short.len() - 6) } else { String::new() };
    cautions.push(Caution {
        code: "rack-short",
        weight: Weight::Cannot,
        place: "rack".into(),
        says: format!("The rack does not give {} of {} blanks: {shown}{more}.", short.len(), stock.demand.items.len()),
        numbers: vec![Given::new("blanks short", Value::Count(short.len() as u64))],
        basis: Basis::Derived("the cutting plan; see the shopping list for each wood and why"),
        change: Some(Change::words("Buy what the shopping list says, or make the box smaller or of other woods")),
    });
}

fn hardware_cost(parts: &BoxParts, shop: &Shop, count: u32, cautions: &mut Vec<Caution>) -> Money {
    let mut sum = Money::ZERO;
    for h in &parts.hardware {
        match shop.hardware.iter().find(|p| h.name.contains(p.name.as_str())) {
            Some(p) => sum += p.each.times(f64::from(h.count) * f64::from(count)),
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
                place: species.common_name.to_lowercase(),
                says: harm.says.to_string(),
                numbers: Vec::new(),
                basis: harm.provenance.basis("published rating; see the table's sources"),
                change: None,
            });
        }
    }
}
