//! The plan as JSON against its description: every field is described, and every description has its field.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in its own scene")]

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

const NAMES: [&str; 6] = ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

/// Fields that hold the same as another; described once.
const ALIASES: [(&str, &str); 6] = [
    ("setups[].cautions[]", "cautions[]"),
    ("setups[].members[].passes[]", "setups[].passes[]"),
    ("fit.lid_frame", "fit.walls"),
    ("price.one_box_alone", "price.each"),
    ("seasons.frame_miter[]", "seasons.wall_miter[]"),
    ("setups[].cautions[].numbers[]", "cautions[].numbers[]"),
];
/// Where values of any kind stand.
const VALUES: [&str; 4] =
    ["cautions[].numbers[]", "setups[].cautions[].numbers[]", "reasons[].given[]", "reasons[].result"];
/// What the name of a number with a fraction ends in.
const UNITS: [&str; 11] =
    ["_mm", "_mm2", "_mm3", "_deg", "_g", "_min", "_percent", "_mpa", "_n", "_ml", "_c"];

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(name)
}

fn planned(file: &Path, more: &[&str]) -> Value {
    let output = Command::new(env!("CARGO_BIN_EXE_keepwright"))
        .args(["plan", "--json", "--today", "2026-11-25"])
        .arg(file)
        .args(more)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The six examples on the example rack, without a rack, and a box glued to fail.
fn plans() -> Vec<(String, Value)> {
    let example = |name: &str| folder("examples").join(name).to_string_lossy().into_owned();
    let (rack, shop) = (example("rack.toml"), example("shop.toml"));
    let mut plans: Vec<(String, Value)> = NAMES
        .iter()
        .map(|name| {
            let file = folder("examples").join(format!("{name}.toml"));
            ((*name).to_owned(), planned(&file, &["--rack", &rack, "--shop", &shop]))
        })
        .collect();
    for name in ["seed-bowl", "tea-caddy"] {
        let file = folder("examples").join(format!("{name}.toml"));
        plans.push((format!("{name} without a rack"), planned(&file, &[])));
    }
    // The tests of this file run side by side in one process: each thread has its own folder.
    let own = format!("keepwright-plan-json-{}-{:?}", std::process::id(), std::thread::current().id());
    let scratch = std::env::temp_dir().join(own);
    std::fs::create_dir_all(&scratch).unwrap();
    let (bad, teeth) = (scratch.join("glued.toml"), scratch.join("teeth.toml"));
    std::fs::write(
        &bad,
        "keepwright = 1\n[size]\noutside = { length = 300, depth = 200, height = 70 }\n[walls]\nwood = \"beech\"\n\
         [bottom]\nwood = \"beech\"\nhold = \"rabbet\"\n",
    )
    .unwrap();
    std::fs::write(&teeth, "keepwright = 1\n[saw]\nteeth = \"alternate top bevel\"\n").unwrap();
    plans.push(("solid bottom glued in".to_owned(), planned(&bad, &["--shop", &teeth.to_string_lossy()])));
    std::fs::remove_dir_all(&scratch).unwrap();
    plans
}

/// Every field path with the values found there.
fn fields<'v>(value: &'v Value, path: &str, into: &mut BTreeMap<String, Vec<&'v Value>>) {
    if !path.is_empty() {
        into.entry(path.to_owned()).or_default().push(value);
    }
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                // The list itself is described by its items' row.
                let path = if inner.is_array() { format!("{path}[]") } else { path };
                fields(inner, &path, into);
            }
        }
        Value::Array(items) => {
            for item in items {
                fields(item, path, into);
            }
        }
        _ => {}
    }
}

/// The row that describes a field.
fn described_as(path: &str) -> String {
    for place in VALUES {
        if let Some(field) = path.strip_prefix(place).and_then(|rest| rest.strip_prefix('.')) {
            return format!("value.{field}");
        }
    }
    for (same, row) in ALIASES {
        if let Some(rest) = path.strip_prefix(same)
            && !rest.is_empty()
        {
            return described_as(&format!("{row}{rest}"));
        }
    }
    path.to_owned()
}

fn documented() -> BTreeSet<String> {
    let text = std::fs::read_to_string(folder("docs/plan-json.md")).unwrap();
    let rows: Vec<String> = text
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split_once('`').map(|(field, _)| field.to_owned()))
        .collect();
    let set: BTreeSet<String> = rows.iter().cloned().collect();
    assert_eq!(rows.len(), set.len(), "a field is described twice");
    set
}

#[test]
fn every_field_is_described_and_every_description_has_its_field() {
    let documented = documented();
    assert!(documented.len() > 250, "the tables were not found");
    let mut seen = BTreeSet::new();
    for (name, plan) in plans() {
        let mut found = BTreeMap::new();
        fields(&plan, "", &mut found);
        for path in found.keys() {
            let row = described_as(path);
            // A list or section that is null in this box carries no marks of being one.
            let known = documented.contains(&row) || documented.contains(&format!("{row}[]"));
            assert!(known, "{name}: `{path}` is not described in docs/plan-json.md");
            seen.insert(row);
        }
    }
    let unseen: Vec<&String> = documented.iter().filter(|row| !seen.contains(*row)).collect();
    assert!(unseen.is_empty(), "described, but in no plan: {unseen:#?}");
}

#[test]
fn numbers_name_their_unit() {
    for (name, plan) in plans() {
        let mut found = BTreeMap::new();
        fields(&plan, "", &mut found);
        for (path, values) in found {
            let field = path.rsplit('.').next().unwrap().trim_end_matches("[]");
            let plain = matches!(field, "number" | "percent") || field.contains("board_feet");
            for value in values.into_iter().filter(|v| v.is_f64()) {
                assert!(plain || UNITS.iter().any(|u| field.ends_with(u)), "{name}: {path} is {value}");
            }
        }
    }
}

/// What version 1 promises its readers; this list never grows shorter while the version is 1.
#[test]
fn version_one_keeps_its_promises() {
    let promised = [
        "format",
        "version",
        "outside.length_mm",
        "outside.depth_mm",
        "outside.height_mm",
        "inside.length_mm",
        "parts[].name",
        "parts[].role",
        "parts[].wood",
        "parts[].count",
        "parts[].length_mm",
        "parts[].width_mm",
        "parts[].thickness_mm",
        "parts[].blank.length_mm",
        "parts[].volume_mm3",
        "runs[].order[]",
        "runs[].closing_corner",
        "runs[].strip_length_mm",
        "runs[].corners[].loss_mm",
        "boards[].name",
        "boards[].parts[].x_mm",
        "boards[].parts[].y_mm",
        "boards[].parts[].length_mm",
        "boards[].parts[].width_mm",
        "waste.waste_percent",
        "bound.least_cost_minor",
        "setups[].purpose",
        "fit.walls",
        "seasons.verdict",
        "cautions[].code",
        "cautions[].weight",
        "cautions[].where",
        "cautions[].numbers[]",
        "cautions[].change",
        "glue[].stages[].volume_mm3",
        "finish.coats[].volume_mm3",
        "time.per_box_min",
        "price.each.price_minor",
    ];
    for (name, plan) in plans().iter().take(NAMES.len()) {
        assert_eq!(plan["format"], "keepwright-plan", "{name}");
        assert_eq!(plan["version"], 1, "{name}");
        let mut found = BTreeMap::new();
        fields(plan, "", &mut found);
        for path in promised {
            assert!(found.contains_key(path), "{name}: no `{path}`");
        }
    }
}

/// Every part has one place on the boards or in a billet, and the numbers of a plan agree with each other.
/// The ring boxes' bottom lies on a ledge: there is no groove to name, nor to slip out of.
#[test]
fn a_panel_on_a_ledge_has_no_groove() {
    let plan = planned(&folder("examples/ring-boxes.toml"), &[]);
    let bottom = &plan["seasons"]["floating"][0];
    assert_eq!(bottom["part"], "bottom");
    for key in ["groove_mm", "groove_needed_mm", "held_pushed_mm"] {
        assert!(bottom[key].is_null(), "{key}: {bottom}");
    }
    assert_eq!(bottom["drops_out"], false);
}

#[test]
fn the_numbers_agree_with_each_other() {
    for (name, plan) in plans().iter().take(NAMES.len()) {
        let number = |v: &Value| v.as_f64().unwrap();
        let waste = &plan["waste"];
        let all = number(&waste["board_area_mm2"]);
        let blanks = number(&waste["blank_area_mm2"]);
        let share = (1.0 - blanks / all) * 100.0;
        assert!((share - number(&waste["not_blanks_percent"])).abs() < 1e-3, "{name}");
        let placed: f64 = plan["boards"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|b| b["parts"].as_array().unwrap())
            .map(|p| number(&p["length_mm"]) * number(&p["width_mm"]))
            .sum();
        assert!((placed - blanks).abs() < 1.0, "{name}: {placed} {blanks}");
        if let Some(mass) = plan["mass_g"].as_f64() {
            let parts = plan["parts"].as_array().unwrap();
            let sum: f64 = parts.iter().map(|p| number(&p["mass_g"]) * number(&p["count"])).sum();
            assert!((mass - sum).abs() < 0.5, "{name}: {mass} {sum}");
        }
        let count = number(&plan["box"]["count"]);
        let each = number(&plan["price"]["each"]["price_minor"]);
        assert!((number(&plan["price"]["batch_price_minor"]) - each * count).abs() < 1.0, "{name}");
        for (i, setup) in plan["setups"].as_array().unwrap().iter().enumerate() {
            let after = setup["after"].as_array().unwrap();
            assert!(after.iter().all(|a| number(a) <= i as f64), "{name}: set-up {} comes too early", i + 1);
        }
    }
}
