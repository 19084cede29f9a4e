//! Several boxes laid out together on one rack: never dearer than one after the other, each part once.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test reads the project's own files and stops at the first surprise"
)]

use keepwright_model::boards::Board;
use keepwright_model::cutting::{Bound, Listener, NeverStop, Plan, Settings, Silent, Terminator, verify};
use keepwright_model::design::{Defaults, read_rack, read_shop, read_statement};
use keepwright_model::job::{
    Becomes, BoxOrder, HomeSwing, Shop, StockPlan, ask, lay_out, plan_stock, rack_from,
};
use keepwright_model::parts::{BoxParts, Origin, derive};
use keepwright_model::wood;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Enough for two small boxes on a dozen boards to be proved cheapest or given up.
const SETTINGS: Settings = Settings { seed: 1, steps: 6000 };

fn example(name: &str) -> String {
    let path: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn shop_and_rack() -> (Shop, Vec<Board>) {
    let file = read_shop(&example("shop.toml"), &Defaults::default()).unwrap();
    let rack =
        read_rack(&example("rack.toml"), &Defaults::default(), file.shop.currency, &wood::named).unwrap();
    (Shop::from_file(&file).unwrap(), rack_from(&rack))
}

fn parts(name: &str, shop: &Shop) -> (BoxParts, u32) {
    let text = example(&format!("{name}.toml"));
    let statement = read_statement(&text, &Defaults::default(), &wood::named).unwrap();
    let swing = HomeSwing::of(&shop.home.year().unwrap(), shop.moisture);
    (derive(&statement, &shop.part_settings(&swing)).unwrap().parts, statement.count)
}

/// The boards that a plan leaves on the rack: whole ones, as one that is cut is not free any more.
fn rest(rack: &[Board], plan: &StockPlan) -> Vec<Board> {
    let mut left = rack.to_vec();
    for layout in &plan.cutting.layouts {
        let board = plan.demand.stock[layout.stock].board;
        left[board].count -= 1;
    }
    left.retain(|b| b.count > 0);
    left
}

#[test]
fn two_boxes_together_cost_no_more_than_one_after_the_other() {
    let (shop, mut rack) = shop_and_rack();
    // Two of each board, so that the second box has whole boards left.
    for board in &mut rack {
        board.count *= 2;
    }
    let mut cheaper = 0;
    for (first, second) in
        [("tea-caddy", "sewing-box"), ("pencil-case", "stamp-chest"), ("sewing-box", "ring-boxes")]
    {
        let ((a, a_count), (b, b_count)) = (parts(first, &shop), parts(second, &shop));
        let alone = plan_stock(&a, a_count, Some(&rack), &shop.stock, SETTINGS, &mut NeverStop);
        let then = plan_stock(&b, b_count, Some(&rest(&rack, &alone)), &shop.stock, SETTINGS, &mut NeverStop);
        let orders = [
            BoxOrder { name: Some(first), parts: &a, count: a_count },
            BoxOrder { name: Some(second), parts: &b, count: b_count },
        ];
        let both = lay_out(ask(&orders, &rack, &shop.stock), SETTINGS, &mut NeverStop, &mut Silent);
        assert_eq!(both.judged, [], "{first} and {second}");
        assert!(alone.cutting.is_complete() && then.cutting.is_complete() && both.cutting.is_complete());
        let sum = alone.cutting.cost + then.cutting.cost;
        assert!(both.cutting.cost <= sum, "{first} and {second}: {} > {sum}", both.cutting.cost);
        cheaper += u32::from(both.cutting.cost < sum);
        let Some(Bound::Cost(bound)) = both.bound else { panic!("{first} and {second}: no bound") };
        assert!(bound <= both.cutting.cost, "{first} and {second}");
    }
    assert!(cheaper > 0, "at least one pair must share a board");
}

/// Every part that comes from a board or sheet is in one billet of its own box, and every billet is placed once.
#[test]
fn each_part_of_each_box_is_laid_out_once() {
    let (shop, rack) = shop_and_rack();
    let ((a, _), (b, _)) = (parts("tea-caddy", &shop), parts("pencil-case", &shop));
    let orders = [
        BoxOrder { name: Some("Tea"), parts: &a, count: 1 },
        BoxOrder { name: Some("Pencils"), parts: &b, count: 2 },
    ];
    let question = ask(&orders, &rack, &shop.stock);
    let order_of = question.order_of.clone();
    let plan = lay_out(question, SETTINGS, &mut NeverStop, &mut Silent);
    assert_eq!(order_of.len(), plan.demand.items.len());
    assert_eq!(verify::problems(&plan.demand, &plan.cutting), []);
    let mut times: BTreeMap<(usize, u32, usize), u32> = BTreeMap::new();
    for (billet, &order) in plan.billets.iter().zip(&order_of) {
        let ids = match &billet.becomes {
            Becomes::Blank(id) => vec![*id],
            Becomes::Slices(ids) => ids.clone(),
            Becomes::PanelStrip { part, number: 1, .. } => vec![*part],
            Becomes::PanelStrip { .. } | Becomes::KeyStock { .. } => Vec::new(),
        };
        for id in ids {
            *times.entry((order, billet.of_box, id.0)).or_default() += 1;
        }
    }
    for (place, order) in orders.iter().enumerate() {
        for number in 1..=order.count {
            for (id, part) in order.parts.parts.iter().enumerate() {
                let want = u32::from(matches!(part.origin, Origin::Board | Origin::Sheet));
                let got = times.get(&(place, number, id)).copied().unwrap_or(0);
                assert_eq!(got, want, "{} of order {place}, box {number}", part.name);
            }
        }
    }
    let mut placed = vec![0; plan.demand.items.len()];
    plan.cutting.layouts.iter().flat_map(|l| &l.parts).for_each(|p| placed[p.item] += 1);
    plan.cutting.short.iter().for_each(|s| placed[s.item] += 1);
    assert!(placed.iter().all(|n| *n == 1), "{placed:?}");
    let names: std::collections::BTreeSet<&str> = plan.demand.items.iter().map(|i| i.id.as_str()).collect();
    assert!(names.contains("front of Tea") && names.contains("front of Pencils, box 2"), "{names:?}");
}

/// Says stop after so many questions.
struct After(u32);

impl Terminator for After {
    fn stop(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

/// Keeps what it hears.
#[derive(Default)]
struct Heard(Vec<Plan>);

impl Listener for Heard {
    fn improved(&mut self, plan: &Plan) {
        self.0.push(plan.clone());
    }
}

#[test]
fn a_search_told_to_stop_gives_its_best_so_far() {
    let (shop, rack) = shop_and_rack();
    let (a, _) = parts("sewing-box", &shop);
    let orders = [BoxOrder { name: Some("Sewing"), parts: &a, count: 2 }];
    for asked in [1, 5, 40] {
        let mut heard = Heard::default();
        let question = ask(&orders, &rack, &shop.stock);
        let endless = Settings { seed: 1, steps: u64::MAX };
        let plan = lay_out(question, endless, &mut After(asked), &mut heard);
        let best = heard.0.last().unwrap();
        assert_eq!(best.cost, plan.cutting.cost, "after {asked}");
        assert!(heard.0.iter().all(|p| verify::problems(&plan.demand, p).is_empty()), "after {asked}");
        assert_eq!(plan.judged, []);
    }
}
