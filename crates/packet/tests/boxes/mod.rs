//! The example boxes, read and derived, for tests of drawings.

use std::fs;
use std::path::Path;

use keepwright_model::design::{Defaults, Statement, read_statement};
use keepwright_model::parts::{BoxParts, Settings, Swing, derive};
use keepwright_model::solids::{Solid, finished};
use keepwright_model::units::{Angle, Length};
use keepwright_model::wood;
use keepwright_packet::drawings::Shown;

/// An example, ready to be drawn.
pub struct Example {
    pub name: String,
    pub statement: Statement,
    pub parts: BoxParts,
    pub solids: Vec<Solid>,
    pub shown: Shown,
}

struct OnePercent;
impl Swing for OnePercent {
    fn swell(&self, _: &str, _: Angle) -> f64 {
        0.01
    }
    fn shrink(&self, _: &str, _: Angle) -> f64 {
        0.01
    }
}

fn settings() -> Settings<'static> {
    Settings {
        kerf: Length::mm(3.2),
        resaw_kerf: Length::mm(1.0),
        resaw_clean_up: Length::mm(0.75),
        end_trim: Length::mm(6.0),
        edge_trim: Length::mm(1.5),
        sanding: Length::mm(0.1),
        milling: Length::mm(0.5),
        skin: Length::mm(1.5),
        clearance: Length::mm(0.3),
        swing: &OnePercent,
    }
}

fn resolve(name: &str) -> Result<String, Vec<String>> {
    if let Some(s) = wood::species(name) {
        return Ok(s.id.to_string());
    }
    if let Some(s) = wood::sheet(name) {
        return Ok(s.id.to_string());
    }
    Err(wood::nearest_names(name, 3).into_iter().map(Into::into).collect())
}

/// All example boxes of the repository, by name.
pub fn examples() -> Vec<Example> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "toml"));
    paths.retain(|p| !matches!(p.file_stem().unwrap().to_str().unwrap(), "rack" | "shop"));
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let name = path.file_stem().unwrap().to_str().unwrap().to_string();
            let text = fs::read_to_string(&path).unwrap();
            let statement = read_statement(&text, &Defaults::default(), &resolve)
                .unwrap_or_else(|p| panic!("{name}: {p:#?}"));
            let parts = derive(&statement, &settings()).unwrap_or_else(|e| panic!("{name}: {e:#?}")).parts;
            let solids = finished(&parts);
            let shown = if text.contains("units = \"in\"") { Shown::INCH } else { Shown::MM };
            Example { name, statement, parts, solids, shown }
        })
        .collect()
}
