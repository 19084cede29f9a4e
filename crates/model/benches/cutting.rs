//! Cutting plans of the planted box-shop problems: complete, verified, with the gap to the planted cost.
//!
//! `cargo bench --bench cutting -- [SECONDS] [NAME]`; two searches with different seeds run side by side.

use keepwright_model::cutting::{
    Bound, Demand, Item, KeepOffcuts, Margins, NeverStop, Order, Plan, Rules, Run, Settings, Silent, Stock,
    StockDefect, Terminator, bound, plan, verify,
};
use keepwright_model::units::Length;
use std::time::{Duration, Instant};

struct Clock(Instant);

impl Terminator for Clock {
    fn stop(&mut self) -> bool {
        #[expect(clippy::disallowed_methods, reason = "the clock lives here, outside the model")]
        let now = Instant::now();
        now >= self.0
    }
}

fn number(value: &serde_json::Value) -> f64 {
    value.as_f64().unwrap_or(0.0)
}

fn place(value: &serde_json::Value) -> usize {
    value.as_u64().and_then(|v| usize::try_from(v).ok()).unwrap_or(0)
}

fn list(value: &serde_json::Value) -> &[serde_json::Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn demand_of(instance: &serde_json::Value) -> Demand {
    let wood = "hard-maple";
    let mut stock: Vec<Stock> = list(&instance["stock"])
        .iter()
        .enumerate()
        .map(|(board, s)| Stock {
            board,
            length: Length::mm(number(&s["l"])),
            width: Length::mm(number(&s["w"])),
            cost: s["cost"].as_u64().unwrap_or(0),
            defects: Vec::new(),
            thickness: Length::mm(20.0),
            wood: wood.to_owned(),
            margins: Margins::default(),
        })
        .collect();
    for d in list(&instance["defects"]) {
        if let Some(board) = stock.get_mut(place(&d[0])) {
            board.defects.push(StockDefect {
                x: Length::mm(number(&d[1])),
                y: Length::mm(number(&d[2])),
                length: Length::mm(number(&d[3])),
                width: Length::mm(number(&d[4])),
            });
        }
    }
    let items = list(&instance["items"])
        .iter()
        .enumerate()
        .map(|(n, i)| Item {
            id: n.to_string(),
            length: Length::mm(number(&i[0])),
            width: Length::mm(number(&i[1])),
            min_thickness: Length::mm(12.0),
            wood: wood.to_owned(),
        })
        .collect();
    let runs = list(&instance["chains"])
        .iter()
        .enumerate()
        .map(|(n, c)| Run { name: n.to_string(), items: list(c).iter().map(place).collect(), gap: None })
        .collect();
    let kerf = Length::mm(number(&instance["rules"]["kerf"]));
    let keep = KeepOffcuts { length: Length::mm(300.0), width: Length::mm(50.0) };
    Demand { items, runs, stock, rules: Rules { kerf, order: Order::Either, keep } }
}

#[expect(clippy::disallowed_methods, reason = "the clock lives here, outside the model")]
fn solve(demand: &Demand, seconds: f64) -> (Plan, f64) {
    let start = Instant::now();
    let end = start + Duration::from_secs_f64(seconds);
    let one = |seed| plan(demand, Settings { seed, steps: u64::MAX }, &mut Clock(end), &mut Silent);
    let (a, b) = std::thread::scope(|s| {
        let other = s.spawn(|| one(2));
        (one(1), other.join().expect("the search does not panic"))
    });
    let (a, b) = (a.expect("a sound demand"), b.expect("a sound demand"));
    let rank = |p: &Plan| (p.short.len(), p.cost);
    let best = if rank(&b) < rank(&a) { b } else { a };
    (best, start.elapsed().as_secs_f64())
}

#[expect(clippy::print_stdout, clippy::disallowed_methods, reason = "a bench reports and takes the time")]
fn main() {
    let mut seconds = 1.0;
    let mut only = String::new();
    for word in std::env::args().skip(1).filter(|w| !w.starts_with('-')) {
        match word.parse::<f64>() {
            Ok(s) => seconds = s,
            Err(_) => only = word,
        }
    }
    let file: serde_json::Value =
        serde_json::from_str(include_str!("data/boxshop_planted.json")).expect("the file is JSON");
    println!(
        "{:<18} {:>9} {:>9} {:>7} {:>9} {:>7} short  time  steps verified",
        "name", "cost", "planted", "gap", "bound", "gap"
    );
    for instance in list(&file["instances"]) {
        let name = instance["name"].as_str().unwrap_or("");
        if !name.contains(&only) {
            continue;
        }
        let demand = demand_of(instance);
        let planted = number(&instance["references"][0]["best"]);
        let began = Instant::now();
        let least = match bound(&demand).expect("a sound demand") {
            Bound::Cost(c) => c as f64,
            Bound::Impossible => f64::INFINITY,
        };
        let bound_ms = began.elapsed().as_secs_f64() * 1e3;
        let (found, took) = solve(&demand, seconds);
        let problems = verify::problems(&demand, &found);
        let cost = found.cost as f64;
        println!(
            "{name:<18} {cost:>9} {planted:>9} {:>+6.2}% {least:>9} {:>6.2}% {:>5} {took:>5.1} {:>6} {} bound {bound_ms:.1} ms",
            (cost / planted - 1.0) * 100.0,
            (1.0 - least / cost) * 100.0,
            found.short.len(),
            found.steps,
            if problems.is_empty() {
                "yes".to_owned()
            } else {
                format!("{:?}", &problems[..problems.len().min(3)])
            },
        );
    }
    small_job();
}

/// One box of 20 blanks on 8 boards with the usual steps: the daily bread.
#[expect(clippy::print_stdout, clippy::disallowed_methods, reason = "a bench reports and takes the time")]
fn small_job() {
    let file: serde_json::Value =
        serde_json::from_str(include_str!("data/boxshop_planted.json")).expect("the file is JSON");
    let mut demand = demand_of(&file["instances"][0]);
    demand.items.truncate(24);
    demand.runs.retain(|r| r.items.iter().all(|&i| i < 24));
    let began = Instant::now();
    let found = plan(&demand, Settings::default(), &mut NeverStop, &mut Silent).expect("a sound demand");
    let took = began.elapsed().as_secs_f64() * 1e3;
    println!(
        "small job: {took:.0} ms, cost {}, bound {:?}, short {}",
        found.cost,
        bound(&demand),
        found.short.len()
    );
}
