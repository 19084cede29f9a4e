//! The example boxes: read, derived, carved; no two parts overlap, and cuts lose no wood unaccounted.

use keepwright_model::design::{Defaults, Statement, read_statement};
use keepwright_model::parts::{BoxParts, Derived, Settings, Swing, derive};
use keepwright_model::solids::{Solid, carve, finished, intersection_volume};
use keepwright_model::units::{Angle, Length};
use keepwright_model::wood;
use std::fs;
use std::path::Path;

struct NoSwing;
impl Swing for NoSwing {
    fn swell(&self, _: &str, _: Angle) -> f64 {
        0.01
    }
    fn shrink(&self, _: &str, _: Angle) -> f64 {
        0.01
    }
}

fn settings() -> Settings<'static> {
    Settings {
        kerf: Length::mm(3.175),
        resaw_kerf: Length::mm(1.0),
        resaw_clean_up: Length::mm(0.75),
        end_trim: Length::mm(6.0),
        edge_trim: Length::mm(1.5),
        sanding: Length::mm(0.1),
        milling: Length::mm(0.5),
        skin: Length::mm(1.5),
        clearance: Length::mm(0.3),
        swing: &NoSwing,
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

fn examples() -> Vec<(String, Statement)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut names: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .filter(|p| !matches!(p.file_stem().unwrap().to_str().unwrap(), "rack" | "shop"))
        .collect();
    names.sort();
    names
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let name = path.file_name().unwrap().to_str().unwrap().to_string();
            let statement = read_statement(&text, &Defaults::default(), &resolve)
                .unwrap_or_else(|p| panic!("{name}: {p:#?}"));
            (name, statement)
        })
        .collect()
}

fn derived(name: &str, s: &Statement) -> Derived {
    derive(s, &settings()).unwrap_or_else(|e| panic!("{name}: {e:#?}"))
}

/// Pairs of parts that share more wood than the tolerance, with the shared volume in mm³.
fn overlaps(parts: &BoxParts, solids: &[Solid]) -> Vec<String> {
    let mut found = Vec::new();
    for i in 0..solids.len() {
        for j in i + 1..solids.len() {
            let shared = intersection_volume(&solids[i], &solids[j]).to_mm3();
            if shared > 1e-3 {
                found.push(format!("{} × {}: {shared:.3} mm³", parts.parts[i].name, parts.parts[j].name));
            }
        }
    }
    found
}

#[test]
fn no_two_parts_overlap() {
    let mut all = Vec::new();
    for (name, statement) in examples() {
        let derived = derived(&name, &statement);
        let solids = finished(&derived.parts);
        for (part, solid) in derived.parts.parts.iter().zip(&solids) {
            if solid.volume().to_mm3() <= 0.0 {
                all.push(format!("{name}: {} has no wood", part.name));
            }
        }
        all.extend(overlaps(&derived.parts, &solids).into_iter().map(|o| format!("{name}: {o}")));
    }
    assert!(all.is_empty(), "parts overlap:\n{}", all.join("\n"));
}

#[test]
fn every_finished_part_is_a_closed_surface_of_its_volume() {
    for (name, statement) in examples() {
        let derived = derived(&name, &statement);
        for (part, solid) in derived.parts.parts.iter().zip(finished(&derived.parts)) {
            let mesh = solid.mesh();
            assert!(mesh.check().is_ok(), "{name}: {}: {:?}", part.name, mesh.problems());
            let (a, b) = (mesh.volume().to_mm3(), solid.volume().to_mm3());
            assert!((a - b).abs() < 1e-6 * b.max(1.0), "{name}: {}: {a} {b}", part.name);
            let block: f64 = part.size.iter().map(|l| l.to_mm()).product();
            assert!(carve(part).volume().to_mm3() <= block + 1e-6, "{name}: {}", part.name);
        }
    }
}
