//! Cases and laws of the planner.

use super::*;
use crate::boards::{Board, Defect, Faces, Milling, Price, Surface};
use crate::units::{Angle, Length, Money};
use proptest::prelude::*;

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn item(id: &str, length: f64, width: f64) -> Item {
    let wood = "cherry".to_owned();
    Item { id: id.to_owned(), length: mm(length), width: mm(width), min_thickness: mm(10.0), wood }
}

fn stock(length: f64, width: f64, cost: u64) -> Stock {
    Stock {
        board: 0,
        length: mm(length),
        width: mm(width),
        cost,
        defects: Vec::new(),
        thickness: mm(19.0),
        wood: "cherry".to_owned(),
        margins: Margins::default(),
    }
}

fn demand(items: Vec<Item>, stock: Vec<Stock>, kerf: f64) -> Demand {
    let keep = KeepOffcuts { length: mm(150.0), width: mm(40.0) };
    Demand { items, runs: Vec::new(), stock, rules: Rules { kerf: mm(kerf), order: Order::Either, keep } }
}

fn planned(demand: &Demand, steps: u64) -> Plan {
    let found = plan(demand, Settings { seed: 5, steps }, &mut NeverStop, &mut Silent).unwrap();
    assert_eq!(verify::problems(demand, &found), [], "{demand:#?}");
    found
}

/// A walled box with a run, a bottom and a lid panel on a board with a knot and checked ends.
fn one_box() -> Demand {
    let items = vec![
        item("front", 280.0, 92.0),
        item("right", 180.0, 92.0),
        item("back", 280.0, 92.0),
        item("left", 180.0, 92.0),
        item("lid panel", 240.0, 140.0),
        item("bottom", 262.0, 162.0),
    ];
    let board = Board {
        name: "B3".into(),
        wood: "cherry".into(),
        length: mm(1300.0),
        width: mm(190.0),
        surface: Surface::Rough,
        thickness: mm(24.0),
        quarters: None,
        moisture: None,
        ring: Angle::ZERO,
        defects: vec![Defect {
            x: mm(700.0),
            y: mm(150.0),
            length: mm(30.0),
            width: mm(20.0),
            faces: Faces::Both,
        }],
        end_check_left: mm(40.0),
        end_check_right: mm(25.0),
        price: Price::PerBoard(Money::minor(3100)),
        count: 2,
    };
    let mut d = demand(items, Stock::from_rack(&[board], &Milling::default()), 3.2);
    d.runs.push(Run { name: "walls".into(), items: vec![0, 1, 2, 3], gap: Some(mm(3.2 * 2f64.sqrt())) });
    d
}

#[test]
fn one_box_from_two_boards() {
    let d = one_box();
    let found = planned(&d, 300);
    assert!(found.is_complete(), "{:?}", found.short);
    assert!(matches!(bound(&d).unwrap(), Bound::Cost(c) if c <= found.cost));
    for layout in &found.layouts {
        let cuts = layout.cuts();
        assert!(!cuts.is_empty());
        assert_eq!(cuts.first().map(|c| c.0), Some(&layout.root), "the whole board comes first");
    }
}

/// A stop rule and an ear.
#[test]
fn stops_when_told_and_tells_of_better_plans() {
    struct AtOnce;
    impl Terminator for AtOnce {
        fn stop(&mut self) -> bool {
            true
        }
    }
    #[derive(Default)]
    struct Ear(Vec<(usize, u64)>);
    impl Listener for Ear {
        fn improved(&mut self, plan: &Plan) {
            self.0.push((plan.short.len(), plan.cost));
        }
    }
    let d = one_box();
    let mut ear = Ear::default();
    let found = plan(&d, Settings { seed: 1, steps: 400 }, &mut AtOnce, &mut ear).unwrap();
    assert_eq!(verify::problems(&d, &found), []);
    let few = found.steps;
    let mut ear = Ear::default();
    let found = plan(&d, Settings { seed: 1, steps: 400 }, &mut NeverStop, &mut ear).unwrap();
    assert!(few < found.steps);
    assert_eq!(ear.0.last(), Some(&(0, found.cost)));
    assert!(ear.0.windows(2).all(|w| matches!(w, [a, b] if b.0 < a.0 || b <= a)));
}

struct Fit {
    name: &'static str,
    given: Demand,
    complete: bool,
}

/// Source: counted by hand.
#[test]
fn exact_fits() {
    let two = |l: f64| vec![item("a", l, 50.0), item("b", l, 50.0)];
    let inch = Length::inches;
    let pencil = {
        let lengths = [2.875, 8.5, 8.125, 2.875, 8.5, 8.125];
        let items = lengths.map(|l| Item { length: inch(l), ..item("side", 1.0, 60.0) }).to_vec();
        // GW-07 counts six kerfs, the last one parting the run from the stock; the board ends with it here.
        let board = Stock { length: inch(39.75 - 0.125), ..stock(1.0, 60.0, 1) };
        let mut d = demand(items, vec![board], 0.0);
        d.rules.kerf = inch(0.125);
        d.runs.push(Run { name: "box".into(), items: (0..6).collect(), gap: None });
        d
    };
    let mut pencil_short = pencil.clone();
    pencil_short.stock[0].length = inch(39.75 - 0.125) - mm(0.01);
    let cases = [
        Fit {
            name: "two and a kerf",
            given: demand(two(248.5), vec![stock(500.0, 50.0, 1)], 3.0),
            complete: true,
        },
        Fit {
            name: "a hair short",
            given: demand(two(248.51), vec![stock(500.0, 50.0, 1)], 3.0),
            complete: false,
        },
        Fit {
            name: "5 15/16 in twice in 12 in",
            given: {
                let mut d = demand(two(25.4 * 5.9375), vec![stock(304.8, 50.0, 1)], 3.175);
                d.rules.kerf = inch(0.125);
                d
            },
            complete: true,
        },
        Fit { name: "GW-07", given: pencil, complete: true },
        Fit { name: "GW-07, a hundredth short", given: pencil_short, complete: false },
        Fit {
            name: "a wide one beside two narrow ones, below a long one",
            given: demand(
                vec![
                    item("long", 1000.0, 80.0),
                    item("wide", 400.0, 103.0),
                    item("n1", 597.0, 50.0),
                    item("n2", 597.0, 50.0),
                ],
                vec![stock(1000.0, 186.0, 1)],
                3.0,
            ),
            complete: true,
        },
    ];
    for c in cases {
        let found = planned(&c.given, 200);
        assert_eq!(found.is_complete(), c.complete, "{}: {found:#?}", c.name);
    }
}

/// Rows GW-04, GW-05, GW-09: strip of four walls by the corner losses derived there.
#[test]
fn strip_of_four_walls() {
    let root2 = 2f64.sqrt();
    let cases = [
        ("GW-04", [200.0, 120.0], 3.2 * root2, 653.5765),
        ("GW-05", [200.0, 120.0], 3.2 + 2.0 * 0.5, 652.6),
        ("GW-09", [12.0 * 25.4, 8.0 * 25.4], 3.175 * root2, 40.5303 * 25.4),
    ];
    for (name, [a, b], gap, want) in cases {
        let items = [a, b, a, b].map(|l| item("wall", l, 80.0)).to_vec();
        let mut d = demand(items, vec![stock(1100.0, 80.0, 1)], 3.175);
        d.runs.push(Run { name: "walls".into(), items: vec![0, 1, 2, 3], gap: Some(mm(gap)) });
        let tolerance = if name == "GW-09" { 1e-4 * 25.4 } else { 1e-4 };
        assert!((d.run_length(&d.runs[0]).to_mm() - want).abs() < tolerance, "{name}");
        let found = planned(&d, 20);
        let parts = &found.layouts[0].parts;
        let end = parts.iter().map(|p| p.x + p.length).fold(Length::ZERO, Length::max);
        let start = parts.iter().map(|p| p.x).fold(Length::LONGEST, Length::min);
        assert!(((end - start).to_mm() - want).abs() < 0.03, "{name}: {:?}", end - start);
    }
}

#[test]
fn says_why_an_item_is_short() {
    let mut items = vec![
        item("fine", 200.0, 50.0),
        Item { wood: "walnut".into(), ..item("walnut", 200.0, 50.0) },
        Item { min_thickness: mm(30.0), ..item("thick", 200.0, 50.0) },
        item("long", 900.0, 50.0),
        item("on the knot", 420.0, 60.0),
    ];
    items.extend((0..9).map(|n| item(&format!("many {n}"), 180.0, 60.0)));
    let knot = StockDefect { x: mm(390.0), y: mm(20.0), length: mm(20.0), width: mm(30.0) };
    let d = demand(items, vec![Stock { defects: vec![knot], ..stock(800.0, 70.0, 9) }], 3.0);
    let found = planned(&d, 100);
    let why = |n: usize| found.short.iter().find(|s| s.item == n).map(|s| s.why);
    assert_eq!(why(1), Some(ShortWhy::NoSuchWood));
    assert_eq!(why(2), Some(ShortWhy::TooThin));
    assert_eq!(why(3), Some(ShortWhy::NoClearPlace));
    assert_eq!(why(4), Some(ShortWhy::NoClearPlace));
    // 390 on either side of the knot hold two of 180 or of 200 each: six of the ten stay out.
    assert_eq!(found.short.iter().filter(|s| s.why == ShortWhy::NoRoomLeft).count(), 6);
    assert_eq!(bound(&d).unwrap(), Bound::Impossible);
}

/// A sheet of another thickness is not a missing wood; one of another kind is.
#[test]
fn a_sheet_of_another_thickness_is_named() {
    let sheet = |id: &str, wood: &str| Item { wood: wood.into(), ..item(id, 100.0, 60.0) };
    let items = vec![sheet("bottom", "birch 6.0 mm"), sheet("panel", "poplar 6.0 mm")];
    let rack = vec![Stock { wood: "birch 3.0 mm".into(), ..stock(800.0, 70.0, 9) }];
    let found = planned(&demand(items, rack, 3.0), 10);
    let why = |n: usize| found.short.iter().find(|s| s.item == n).map(|s| s.why);
    assert_eq!(why(0), Some(ShortWhy::NoSuchThickness));
    assert_eq!(why(1), Some(ShortWhy::NoSuchWood));
}

#[test]
fn takes_the_cheaper_board_and_keeps_the_larger_offcut() {
    let d = demand(
        vec![item("a", 300.0, 60.0), item("b", 300.0, 60.0)],
        vec![stock(700.0, 70.0, 900), stock(1000.0, 140.0, 800), stock(620.0, 62.0, 850)],
        3.0,
    );
    let found = planned(&d, 300);
    assert_eq!((found.cost, found.layouts[0].stock), (800, 1));
    // Side by side at one end, 697 × 140 stay whole; end to end, less.
    let offcut = found.largest_offcut().unwrap();
    assert!(offcut.length.same(mm(697.0)) && offcut.width.same(mm(140.0)), "{offcut:?}");
}

/// Deep trees of cuts and odd measures do not trouble it.
#[test]
fn two_thousand_slips_from_one_strip() {
    let items = (0..2000).map(|n| item(&n.to_string(), 1.0, 20.0)).collect();
    let d = demand(items, vec![stock(10_000.0, 21.37, 1)], 3.137);
    let found = planned(&d, 3);
    assert!(found.is_complete());
    let mut more = d.clone();
    more.items.push(item("one more", 1.0, 20.0));
    let error = more.check().expect_err("too many");
    assert!(error.to_string().contains("2001 items"), "{error}");
}

/// Boards that cost nothing are still spared.
#[test]
fn spares_boards_that_are_paid_for() {
    let boards = vec![stock(900.0, 100.0, 0), stock(320.0, 70.0, 0), stock(500.0, 80.0, 0)];
    let found = planned(&demand(vec![item("a", 300.0, 60.0)], boards, 3.0), 300);
    assert_eq!(found.layouts.iter().map(|l| l.stock).collect::<Vec<_>>(), [1]);
}

#[test]
fn refuses_what_makes_no_sense() {
    let base = one_box();
    let change = |f: fn(&mut Demand)| {
        let mut d = base.clone();
        f(&mut d);
        plan(&d, Settings::default(), &mut NeverStop, &mut Silent).expect_err("refused").to_string()
    };
    let cases = [
        (change(|d| d.items[0].length = mm(0.0)), "above zero"),
        (change(|d| d.items[0].width = mm(f64::NAN)), "must be a number"),
        (change(|d| d.stock[0].width = mm(f64::INFINITY)), "must be a number"),
        (change(|d| d.rules.kerf = mm(-1.0)), "kerf"),
        (change(|d| d.runs[0].items.push(99)), "item number 99"),
        (change(|d| d.runs[0].items.push(0)), "twice"),
        (change(|d| d.runs[0].items.push(5)), "one strip"),
        (change(|d| d.runs[0].items.clear()), "no items"),
        (change(|d| d.runs[0].gap = Some(mm(1.0))), "less than the kerf"),
    ];
    for (message, want) in cases {
        assert!(message.contains(want), "{message}");
    }
}

/// Plans spoiled on purpose: the judge must see each fault.
#[test]
fn the_judge_sees_spoiled_plans() {
    use verify::Problem;
    type Spoil = (&'static str, fn(&mut Plan), fn(&Problem) -> bool);
    let d = one_box();
    let good = planned(&d, 300);
    let cases: [Spoil; 8] = [
        ("moved", |p| p.layouts[0].parts[0].x = mm(-1.0), |p| matches!(p, Problem::OffBoard { .. })),
        ("in the check", |p| p.layouts[0].parts[0].x = mm(10.0), |p| matches!(p, Problem::OffBoard { .. })),
        ("lost", |p| p.layouts[0].parts.truncate(1), |p| matches!(p, Problem::NotOnce { times: 0, .. })),
        ("resized", |p| p.layouts[0].parts[0].width = mm(20.0), |p| matches!(p, Problem::WrongSize { .. })),
        ("dear", |p| p.cost += 1, |p| matches!(p, Problem::Sum { .. })),
        (
            "on top of each other",
            |p| {
                let first = p.layouts[0].parts[0];
                let second = &mut p.layouts[0].parts[1];
                (second.x, second.y) = (first.x, first.y);
            },
            |p| matches!(p, Problem::TooClose { .. }),
        ),
        ("cuts forgotten", |p| p.layouts[0].root.next = Next::Waste, |p| matches!(p, Problem::Tree { .. })),
        (
            "on the knot",
            |p| {
                let part = &mut p.layouts[0].parts[0];
                (part.x, part.y) = (mm(690.0), mm(90.0));
            },
            |p| matches!(p, Problem::OnDefect { .. }),
        ),
    ];
    for (name, spoil, sees) in cases {
        let mut bad = good.clone();
        spoil(&mut bad);
        assert!(verify::problems(&d, &bad).iter().any(sees), "{name}: {:?}", verify::problems(&d, &bad));
    }
    let mut swapped = good.clone();
    for part in swapped.layouts.iter_mut().flat_map(|l| &mut l.parts) {
        part.item = [2, 1, 0, 3, 4, 5][part.item];
    }
    assert!(verify::problems(&d, &swapped).iter().any(|p| matches!(p, Problem::BrokenRun { run: 0 })));
}

/// Whether edge-to-edge cuts can free blanks (kerf folded in) from a rectangle, by trying all ways.
fn can_all(blanks: &[(i64, i64)], len: i64, high: i64) -> bool {
    match *blanks {
        [] => return true,
        [(l, h)] => return l <= len && h <= high,
        _ => {}
    }
    for choice in 1..(1_u32 << blanks.len()) - 1 {
        let of = |side: u32| -> Vec<(i64, i64)> {
            let chosen = blanks.iter().enumerate().filter(|(n, _)| choice >> n & 1 == side);
            chosen.map(|(_, &b)| b).collect()
        };
        let (one, rest) = (of(1), of(0));
        // A cut can be pushed back until sums of sizes stop it.
        for sum in 1..1_u32 << one.len() {
            let part = one.iter().enumerate().filter(|(n, _)| sum >> n & 1 == 1);
            let (x, y) = part.fold((0, 0), |s, (_, b)| (s.0 + b.0, s.1 + b.1));
            if x <= len && can_all(&one, x, high) && can_all(&rest, len - x, high)
                || y <= high && can_all(&one, len, y) && can_all(&rest, len, high - y)
            {
                return true;
            }
        }
    }
    false
}

prop_compose! {
    fn any_stock()(
        length in 200_u32..900,
        width in 40_u32..200,
        cost in 0_u64..50,
        left in 0_u32..30,
        knots in proptest::collection::vec((0_u32..900, 0_u32..200, 1_u32..60, 1_u32..60), 0..4),
        oak in proptest::bool::weighted(0.2),
        thickness in 8_u32..24,
    ) -> Stock {
        let defects = knots.into_iter().map(|(x, y, l, w)| StockDefect {
            x: mm(x.into()), y: mm(y.into()), length: mm(l.into()), width: mm(f64::from(w) * 0.37),
        });
        Stock {
            defects: defects.collect(),
            margins: Margins { left: mm(left.into()), ..Margins::default() },
            wood: if oak { "white-oak" } else { "cherry" }.to_owned(),
            thickness: mm(thickness.into()),
            ..stock(length.into(), width.into(), cost)
        }
    }
}

prop_compose! {
    fn any_item()(
        length in 30.0_f64..300.0, width in 15_u32..90, oak in proptest::bool::weighted(0.2), thick in 5_u32..20,
    ) -> Item {
        let wood = if oak { "white-oak" } else { "cherry" }.to_owned();
        Item { wood, min_thickness: mm(thick.into()), ..item("any", length, width.into()) }
    }
}

prop_compose! {
    fn any_demand()(
        mut items in proptest::collection::vec(any_item(), 1..14),
        stock in proptest::collection::vec(any_stock(), 0..5),
        kerf in 0.0_f64..4.0,
        order in prop_oneof![Just(Order::Either), Just(Order::RipFirst), Just(Order::CrosscutFirst)],
        run in 0_usize..5,
        wide_gap in proptest::bool::ANY,
    ) -> Demand {
        let run = run.min(items.len());
        if let [first, rest @ ..] = &mut items[..run] {
            for other in rest {
                (other.width, other.wood, other.min_thickness) =
                    (first.width, first.wood.clone(), first.min_thickness);
            }
        }
        let mut d = demand(items, stock, kerf);
        d.rules.order = order;
        if run > 0 {
            let gap = wide_gap.then(|| mm(kerf * 2f64.sqrt()));
            d.runs.push(Run { name: "run".into(), items: (0..run).collect(), gap });
        }
        d
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// The judge accepts, the yield is at most 1, the bound holds, and it all comes out the same again.
    #[test]
    fn every_plan_stands(d in any_demand()) {
        let found = planned(&d, 60);
        prop_assert!(found.yield_fraction() <= 1.0);
        match bound(&d).unwrap() {
            Bound::Cost(least) => prop_assert!(!found.is_complete() || least <= found.cost),
            Bound::Impossible => prop_assert!(!found.is_complete()),
        }
        prop_assert_eq!(&planned(&d, 60), &found);
    }

    /// What one order of items can have, every order can have.
    #[test]
    fn order_of_demand_does_not_matter(d in any_demand(), turn in 0_usize..14) {
        let found = planned(&d, 60);
        let mut other = d.clone();
        let turn = turn % d.items.len();
        other.items.rotate_left(turn);
        for place in other.runs.iter_mut().flat_map(|r| &mut r.items) {
            *place = (*place + d.items.len() - turn) % d.items.len();
        }
        let again = planned(&other, 60);
        prop_assert_eq!(again.is_complete(), found.is_complete());
        prop_assert_eq!(again.cost, found.cost);
    }

    /// One board, up to four items, no faults: against trying all ways of cutting.
    #[test]
    fn agrees_with_trying_all_ways(
        sizes in proptest::collection::vec((3_i64..30, 3_i64..30), 1..5), len in 20_i64..60, high in 10_i64..50,
    ) {
        let kerf = 2;
        let blanks: Vec<(i64, i64)> = sizes.iter().map(|s| (s.0 + kerf, s.1 + kerf)).collect();
        let possible = can_all(&blanks, len + kerf, high + kerf);
        let to = |n: i64| n as f64 * 10.0;
        let items = sizes.iter().map(|&(l, h)| item("any", to(l), to(h))).collect();
        let d = demand(items, vec![stock(to(len), to(high), 7)], to(kerf));
        let found = planned(&d, 400);
        prop_assert!(possible || !found.is_complete());
        prop_assert!(!possible || bound(&d).unwrap() == Bound::Cost(7));
        // A few tiny layouts of many stages need luck: more steps are allowed before it counts as missed.
        let found = if possible && !found.is_complete() { planned(&d, 40_000) } else { found };
        prop_assert!(!possible || found.is_complete(), "the search misses a plan: {:?} on {} x {}", sizes, len, high);
    }
}
