//! From a key press to numbers: statement text, plan, chapters and the box in space, for the six demo boxes.

use criterion::{Criterion, criterion_group, criterion_main};
use keepwright_model::design::{Defaults, read_shop};
use keepwright_model::job::Shop;
use keepwright_web::{Preview, demo};
use std::hint::black_box;

fn edit(c: &mut Criterion) {
    let Ok(file) = read_shop(demo::SHOP, &Defaults::default()) else { return };
    let Ok(shop) = Shop::from_file(&file) else { return };
    for (slug, text) in demo::BOXES {
        let preview = Preview::new(shop.clone(), slug);
        c.bench_function(&format!("text to chapters and scene/{slug}"), |b| {
            b.iter(|| black_box(preview.of(text)));
        });
    }
}

criterion_group!(benches, edit);
criterion_main!(benches);
