//! Cutting plans of the planted box-shop problems: complete, verified, with the gap to the planted cost.
//!
//! `cargo bench --bench cutting -- [SECONDS or steps=STEPS] [NAME]`; two searches with different seeds run side by side.

mod boxshop;

use boxshop::{demand_of, instances, number};
use keepwright_model::cutting::{
    Bound, Demand, NeverStop, Plan, Settings, Silent, Terminator, bound, plan, verify,
};
use std::time::{Duration, Instant};

struct Clock(Instant);

impl Terminator for Clock {
    fn stop(&mut self) -> bool {
        #[expect(clippy::disallowed_methods, reason = "the clock lives here, outside the model")]
        let now = Instant::now();
        now >= self.0
    }
}

#[expect(clippy::disallowed_methods, reason = "the clock lives here, outside the model")]
fn solve(demand: &Demand, seconds: f64, steps: u64) -> (Plan, f64) {
    let start = Instant::now();
    let end = start + Duration::from_secs_f64(seconds);
    let one = |seed| plan(demand, Settings { seed, steps }, &mut Clock(end), &mut Silent);
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
    let mut steps = u64::MAX;
    let mut only = String::new();
    for word in std::env::args().skip(1).filter(|w| !w.starts_with('-')) {
        let count = word.strip_prefix("steps=").and_then(|n| n.parse().ok());
        match (count, word.parse::<f64>()) {
            (Some(count), _) => (seconds, steps) = (3600.0, count),
            (None, Ok(s)) => seconds = s,
            (None, Err(_)) => only = word,
        }
    }
    println!(
        "{:<18} {:>9} {:>9} {:>7} {:>9} {:>7} short  time  steps verified",
        "name", "cost", "planted", "gap", "bound", "gap"
    );
    for instance in &instances() {
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
        let (found, took) = solve(&demand, seconds, steps);
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
    let Some(mut demand) = instances().first().map(demand_of) else { return };
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
