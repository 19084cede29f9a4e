//! Statement to plan on the six example boxes: without and with the cutting plan, and batches.

#![expect(clippy::disallowed_methods, reason = "a bench reads the project's own examples")]

use criterion::{Criterion, criterion_group, criterion_main};
use keepwright_model::boards::Board;
use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, Statement, read_rack, read_shop, read_statement};
use keepwright_model::job::{Order, Shop, plan, rack_from};
use keepwright_model::saw::Effort;
use keepwright_model::wood;
use std::fs;
use std::hint::black_box;
use std::path::Path;

const NAMES: [&str; 6] = ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    fs::read_to_string(path).unwrap_or_default()
}

/// The shop, its rack, and the boxes by name.
type Scene = (Shop, Vec<Board>, Vec<(String, Statement)>);

fn scene() -> Option<Scene> {
    let file = read_shop(&example("shop.toml"), &Defaults::default()).ok()?;
    let shop = Shop::from_file(&file).ok()?;
    let rack =
        read_rack(&example("rack.toml"), &Defaults::default(), file.shop.currency, &wood::named).ok()?;
    let boxes = NAMES
        .iter()
        .map(|n| {
            let text = example(&format!("{n}.toml"));
            read_statement(&text, &Defaults::default(), &wood::named).ok().map(|s| ((*n).to_string(), s))
        })
        .collect::<Option<Vec<_>>>()?;
    Some((shop, rack_from(&rack), boxes))
}

fn run(s: &Statement, rack: Option<&[Board]>, shop: &Shop, effort: Effort) {
    let order = Order { statement: s, rack, shop, when: None, effort };
    let _ = black_box(plan(&order, &mut NeverStop));
}

fn plans(c: &mut Criterion) {
    let Some((shop, rack, boxes)) = scene() else { return };
    for (name, s) in &boxes {
        let text = example(&format!("{name}.toml"));
        c.bench_function(&format!("read and plan, no optimizer/{name}"), |b| {
            b.iter(|| {
                if let Ok(s) = read_statement(&text, &Defaults::default(), &wood::named) {
                    run(&s, None, &shop, Effort::Fast);
                }
            });
        });
        c.bench_function(&format!("with the cutting plan/{name}"), |b| {
            b.iter(|| run(s, Some(&rack), &shop, Effort::Fast));
        });
    }
    if let Some((_, s)) = boxes.iter().find(|(n, _)| n == "stamp-chest") {
        let mut batch = s.clone();
        batch.count = 50;
        let mut big = rack.clone();
        for b in &mut big {
            b.count = 60;
        }
        c.bench_function("a batch of 50 boxes on a large rack", |b| {
            b.iter(|| run(&batch, Some(&big), &shop, Effort::Fast));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = plans
}
criterion_main!(benches);
