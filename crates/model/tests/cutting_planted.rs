//! The small planted box-shop problems and one of middle size, solved whole with few steps and judged.

#[path = "../benches/boxshop/mod.rs"]
mod boxshop;

use boxshop::{demand_of, instances, number};
use keepwright_model::cutting::{Bound, NeverStop, Settings, Silent, bound, plan, verify};

struct Case {
    name: &'static str,
    steps: u64,
    /// At most this many times the planted cost.
    within: f64,
}

/// Planted costs: our own generator (`benches/data/README.md`). The limits leave room above the costs
/// reached when this was written (+0 %, +0 %, +4 %), so that only a real loss fails.
#[test]
fn complete_verified_and_near_the_planted_cost() {
    let cases = [
        Case { name: "box_s_defects_0", steps: 1500, within: 1.10 },
        Case { name: "box_s_defects_2", steps: 1500, within: 1.15 },
        Case { name: "box_m_clear_0", steps: 300, within: 1.10 },
    ];
    let all = instances();
    assert_eq!(all.len(), 13);
    for case in cases {
        let instance = all.iter().find(|i| i["name"] == case.name).expect(case.name);
        let demand = demand_of(instance);
        let settings = Settings { seed: 1, steps: case.steps };
        let found = plan(&demand, settings, &mut NeverStop, &mut Silent).expect(case.name);
        assert_eq!(verify::problems(&demand, &found), [], "{}", case.name);
        assert!(found.is_complete(), "{}: {:?}", case.name, found.short);
        let planted = number(&instance["references"][0]["best"]);
        assert!(found.cost as f64 <= planted * case.within, "{}: {} for {planted}", case.name, found.cost);
        let least = bound(&demand).expect(case.name);
        assert!(matches!(least, Bound::Cost(c) if c as f64 <= planted && c <= found.cost), "{}", case.name);
    }
}
