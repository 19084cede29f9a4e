//! The order of set-ups on published instances of the sequential ordering problem.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in its fixtures")]

use keepwright_model::saw::sop::{Budget, FORBIDDEN, Problem, SopError, solve};

struct Case {
    name: &'static str,
    text: &'static str,
    /// Proven minimum; sources in `fixtures/sequencing/README.md`.
    minimum: u64,
    /// States kept by the dynamic programming; the proof is asked for when it is not zero.
    states: usize,
    shakes: u32,
    /// Largest part above the minimum that the local search may stay, in percent.
    above_pct: u64,
}

macro_rules! case {
    ($name:literal, $minimum:literal, $states:literal, $shakes:literal, $above:literal) => {
        Case {
            name: $name,
            text: include_str!(concat!("fixtures/sequencing/", $name, ".sop")),
            minimum: $minimum,
            states: $states,
            shakes: $shakes,
            above_pct: $above,
        }
    };
}

fn read(text: &str) -> Problem {
    let body = text.split("EDGE_WEIGHT_SECTION").nth(1).unwrap();
    let mut numbers = body.split_whitespace().map_while(|w| w.parse::<i64>().ok());
    let n = usize::try_from(numbers.next().unwrap()).unwrap();
    let mut cost = Vec::with_capacity(n * n);
    let mut before = Vec::new();
    for i in 0..n {
        for j in 0..n {
            let c = numbers.next().unwrap();
            if c < 0 {
                before.push((j, i));
            }
            cost.push(u32::try_from(c).unwrap_or(FORBIDDEN));
        }
    }
    Problem::new(n, cost, &before).unwrap()
}

#[test]
fn published_instances() {
    let cases = [
        case!("ESC07", 2125, 1000, 20, 0),
        case!("ESC11", 2075, 1000, 20, 0),
        case!("br17.10", 55, 100000, 100, 0),
        case!("ESC25", 1681, 20000, 100, 0),
        case!("p43.4", 83005, 0, 100, 1),
        case!("rbg048a", 351, 0, 2000, 3),
        case!("ft53.4", 14425, 0, 400, 2),
        case!("ry48p.3", 19894, 0, 400, 3),
    ];
    for c in cases {
        let problem = read(c.text);
        let budget = Budget { shakes: c.shakes, states: c.states, seed: 7 };
        let s = solve(&problem, budget);
        assert_eq!(problem.cost_of(&s.order), Some(s.cost), "{}: a path of that cost", c.name);
        assert!(s.bound <= c.minimum, "{}: bound {} is no bound", c.name, s.bound);
        assert!(s.cost >= c.minimum, "{}: {} is below the proven minimum", c.name, s.cost);
        let limit = c.minimum + c.minimum * c.above_pct / 100;
        assert!(s.cost <= limit, "{}: {} above {limit}", c.name, s.cost);
        if c.states > 0 {
            assert_eq!((s.cost, s.bound), (c.minimum, c.minimum), "{}: proven", c.name);
        }
    }
}

#[test]
fn impossible_problems_say_why() {
    let circle = Problem::new(4, vec![1; 16], &[(1, 2), (2, 1)]);
    assert!(matches!(circle, Err(SopError::Circle { .. })));
    assert_eq!(Problem::new(3, vec![1; 8], &[]), Err(SopError::NotSquare { entries: 8, jobs: 3 }));
    assert_eq!(Problem::new(3, vec![1; 9], &[(1, 5)]), Err(SopError::NoSuchJob { job: 5, jobs: 3 }));
}

/// Law: on small random problems the proof agrees with trying every order.
#[test]
fn small_problems_against_every_order() {
    let mut seed = 12345u64;
    let mut roll = |n: u64| {
        seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (seed >> 33) % n
    };
    for _ in 0..30 {
        let n = 7;
        let cost: Vec<u32> = (0..n * n).map(|_| u32::try_from(roll(50)).unwrap()).collect();
        let mut before = Vec::new();
        for a in 1..n - 1 {
            for b in a + 1..n - 1 {
                if roll(4) == 0 {
                    before.push((a, b));
                }
            }
        }
        let problem = Problem::new(n, cost, &before).unwrap();
        let mut best = u64::MAX;
        every_order(&mut vec![0], n, &mut |order| {
            if let Some(c) = problem.cost_of(order) {
                best = best.min(c);
            }
        });
        let s = solve(&problem, Budget { shakes: 10, states: 10000, seed: 3 });
        assert_eq!((s.cost, s.bound), (best, best));
    }
}

fn every_order(prefix: &mut Vec<usize>, n: usize, see: &mut impl FnMut(&[usize])) {
    if prefix.len() == n {
        see(prefix);
        return;
    }
    for j in 1..n {
        if !prefix.contains(&j) {
            prefix.push(j);
            every_order(prefix, n, see);
            prefix.pop();
        }
    }
}
