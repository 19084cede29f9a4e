//! The example boxes, read and derived, for tests of drawings.

use std::fs;
use std::path::Path;

use keepwright_model::design::{Defaults, Statement, read_statement};
use keepwright_model::job::{HomeSwing, Shop};
use keepwright_model::parts::{BoxParts, derive};
use keepwright_model::solids::{Solid, finished};
use keepwright_model::wood;
use keepwright_packet::drawings::Shown;

/// An example, ready to be drawn.
pub(crate) struct Example {
    pub(crate) name: String,
    pub(crate) statement: Statement,
    pub(crate) parts: BoxParts,
    pub(crate) solids: Vec<Solid>,
    pub(crate) shown: Shown,
}

/// All example boxes of the repository, by name.
pub(crate) fn examples() -> Vec<Example> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut paths: Vec<_> =
        fs::read_dir(folder).expect("the examples").map(|e| e.expect("an entry").path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    paths.retain(|p| !p.ends_with("rack.toml") && !p.ends_with("shop.toml"));
    paths.sort();
    let shop = Shop::small_shop();
    let year = shop.home.year().expect("a home");
    let swing = HomeSwing::of(&year, shop.moisture);
    paths
        .into_iter()
        .map(|path| {
            let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            let text = fs::read_to_string(&path).expect("text");
            let statement = read_statement(&text, &Defaults::default(), &wood::named)
                .unwrap_or_else(|p| panic!("{name}: {p:#?}"));
            let parts = derive(&statement, &shop.part_settings(&swing))
                .unwrap_or_else(|e| panic!("{name}: {e:#?}"))
                .parts;
            let solids = finished(&parts);
            let shown = if text.contains("units = \"in\"") { Shown::INCH } else { Shown::MM };
            Example { name, statement, parts, solids, shown }
        })
        .collect()
}
