//! Writes the scene and the usual line drawing of every example box into a folder, and says how large and how fast
//! they are: `cargo run -p keepwright-web --example scene -- FOLDER`.

use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, read_statement};
use keepwright_model::job::{Order, Plan, Shop, plan};
use keepwright_model::saw::Effort;
use keepwright_model::wood;
use keepwright_web::scene::{Sight, json, line_drawing, scene};
use std::error::Error;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::time::Instant;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).ok_or("name a folder to write into")?);
    fs::create_dir_all(&folder)?;
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut out = std::io::stdout();
    for entry in fs::read_dir(examples)? {
        let path = entry?.path();
        let Some(name) = path.file_stem().and_then(|n| n.to_str()) else { continue };
        if matches!(name, "rack" | "shop") || path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let plan = planned(&fs::read_to_string(&path)?)?;
        // The least of many runs: what the work takes when nothing else disturbs it.
        let mut least = f64::INFINITY;
        let mut text = String::new();
        for _ in 0..20 {
            let start = Instant::now();
            text = json(&scene(&plan))?;
            least = least.min(start.elapsed().as_secs_f64() * 1e3);
        }
        let start = Instant::now();
        let svg = line_drawing(&plan, &Sight::default())?;
        let drawn = start.elapsed().as_secs_f64() * 1e3;
        fs::write(folder.join(format!("{name}.json")), &text)?;
        fs::write(folder.join(format!("{name}.svg")), &svg)?;
        writeln!(
            out,
            "{name:14} {:3} parts, scene {:4} kB in {least:.2} ms, line drawing {:3} kB in {drawn:.2} ms",
            plan.parts.parts.len(),
            text.len() / 1000,
            svg.len() / 1000,
        )?;
    }
    Ok(())
}

/// The plan of a statement in a small shop without boards.
fn planned(text: &str) -> Result<Plan, Box<dyn Error>> {
    let statement = read_statement(text, &Defaults::default(), &wood::named)
        .map_err(|problems| format!("{problems:?}"))?;
    let mut shop = Shop::small_shop();
    if text.contains("units = \"in\"") {
        shop.unit = keepwright_model::units::LengthUnit::Inch;
    }
    let order = Order { statement: &statement, rack: None, shop: &shop, when: None, effort: Effort::Fast };
    plan(&order, &mut NeverStop).map_err(|problems| format!("{problems:?}").into())
}
