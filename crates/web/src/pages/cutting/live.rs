//! Cutting runs while they run: one thread to each, which says how far it is and can be told to stop.

use super::outcome::{BoardCut, Figures, Inputs, Outcome, boards_cut};
use crate::clock;
use crate::state::Bench;
use keepwright_model::boards::Board;
use keepwright_model::cutting::{Bound, Demand, Listener, Plan, Settings, Terminator};
use keepwright_model::job::{BoxOrder, Shop, ask, lay_out};
use keepwright_model::parts::BoxParts;
use keepwright_store::{RunId, Time};
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// Runs at once; each keeps one processor busy.
pub(crate) const MOST_AT_ONCE: usize = 4;
/// Every search begins from here, so that the same question gives the same answer.
const SEED: u64 = 1;

/// The runs under way.
#[derive(Debug, Default)]
pub(crate) struct Runs(Mutex<BTreeMap<i64, Arc<Live>>>);

/// A run under way.
#[derive(Debug)]
pub(crate) struct Live {
    stop: AtomicBool,
    begun: Instant,
    seconds: u64,
    rack: Vec<Board>,
    shop: Shop,
    so_far: Mutex<SoFar>,
}

/// What is known so far.
#[derive(Debug, Default)]
struct SoFar {
    demand: Option<Arc<Demand>>,
    order_of: Vec<usize>,
    bound: Option<Bound>,
    best: Option<Arc<Plan>>,
    /// Counts the better plans, so that a page knows whether its drawing is the last one.
    drawing: u64,
}

/// How far a run is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Progress {
    /// Seconds gone.
    pub(crate) elapsed: f64,
    /// Seconds that it may take.
    pub(crate) seconds: u64,
    /// The best plan so far; none before the first.
    pub(crate) best: Option<Figures>,
    /// The number of that plan.
    pub(crate) drawing: u64,
}

/// What a run is made from, read.
#[derive(Debug)]
pub(crate) struct Question {
    /// The boxes and boards with their versions.
    pub(crate) inputs: Inputs,
    /// The parts and count of each box, in the order of the inputs.
    pub(crate) parts: Vec<(BoxParts, u32)>,
    /// The boards, in the order of the inputs.
    pub(crate) rack: Vec<Board>,
    /// The shop.
    pub(crate) shop: Shop,
}

impl Runs {
    fn all(&self) -> MutexGuard<'_, BTreeMap<i64, Arc<Live>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A run that is under way.
    pub(crate) fn live(&self, run: RunId) -> Option<Arc<Live>> {
        self.all().get(&run.get()).cloned()
    }

    /// Whether no run is under way.
    pub(crate) fn is_idle(&self) -> bool {
        self.all().is_empty()
    }

    /// Whether another run may begin.
    pub(crate) fn has_room(&self) -> bool {
        self.all().len() < MOST_AT_ONCE
    }
}

impl Live {
    fn so_far(&self) -> MutexGuard<'_, SoFar> {
        self.so_far.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Tells it to end with the best it has.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// How far it is.
    pub(crate) fn progress(&self) -> Progress {
        let so_far = self.so_far();
        Progress {
            elapsed: self.begun.elapsed().as_secs_f64(),
            seconds: self.seconds,
            best: so_far.best.as_ref().map(|plan| Figures::of(plan, so_far.bound)),
            drawing: so_far.drawing,
        }
    }

    /// The best plan so far, drawn.
    pub(crate) fn best(&self) -> Vec<BoardCut> {
        let (demand, best, order_of) = {
            let so_far = self.so_far();
            (so_far.demand.clone(), so_far.best.clone(), so_far.order_of.clone())
        };
        match (demand, best) {
            (Some(demand), Some(best)) => boards_cut(&demand, &best, &self.rack, &order_of, &self.shop),
            _ => Vec::new(),
        }
    }
}

/// Ends the search when the time is up or somebody says so.
struct Until<'a> {
    live: &'a Live,
    end: Instant,
}

impl Terminator for Until<'_> {
    fn stop(&mut self) -> bool {
        self.live.stop.load(Ordering::Relaxed) || clock::instant() >= self.end
    }
}

/// Keeps every better plan for the page.
struct Ear<'a>(&'a Live);

impl Listener for Ear<'_> {
    fn improved(&mut self, plan: &Plan) {
        let mut so_far = self.0.so_far();
        so_far.best = Some(Arc::new(plan.clone()));
        so_far.drawing += 1;
    }
}

/// Begins a run on a thread of its own. It ends as done, or as dropped where that was asked for in the meantime.
pub(crate) fn begin(bench: &Bench, run: RunId, question: Question) {
    let Question { inputs, parts, rack, shop } = question;
    let live = Arc::new(Live {
        stop: AtomicBool::new(false),
        begun: clock::instant(),
        seconds: inputs.seconds,
        rack,
        shop,
        so_far: Mutex::new(SoFar::default()),
    });
    bench.runs().all().insert(run.get(), Arc::clone(&live));
    let bench = bench.clone();
    std::thread::spawn(move || {
        let found = catch_unwind(AssertUnwindSafe(|| searched(&live, &inputs, &parts)));
        let now = Time::seconds(clock::now());
        let text = found.ok().and_then(|outcome| serde_json::to_string(&outcome).ok());
        let kept = text.map(|text| bench.store().finish_run(run, &text, now));
        if !matches!(kept, Some(Ok(_))) {
            // Given up meanwhile, or it cannot be kept: then it must not stay as running.
            let _ = bench.store().drop_run(run, now);
        }
        bench.runs().all().remove(&run.get());
    });
}

fn searched(live: &Live, inputs: &Inputs, parts: &[(BoxParts, u32)]) -> Outcome {
    let orders: Vec<BoxOrder<'_>> = parts
        .iter()
        .zip(&inputs.boxes)
        .map(|((parts, count), source)| BoxOrder { name: Some(&source.name), parts, count: *count })
        .collect();
    let question = ask(&orders, &live.rack, &live.shop.stock);
    let bound = question.bound();
    let order_of = question.order_of.clone();
    {
        let mut so_far = live.so_far();
        so_far.demand = Some(Arc::new(question.demand.clone()));
        so_far.order_of.clone_from(&order_of);
        so_far.bound = bound;
    }
    let settings = Settings { seed: SEED, steps: u64::MAX };
    let mut until = Until { live, end: live.begun + Duration::from_secs(live.seconds) };
    let plan = lay_out(question, settings, &mut until, &mut Ear(live));
    Outcome::of(&plan, &live.rack, &order_of, &live.shop)
}
