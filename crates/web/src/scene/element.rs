//! The drawing as an element of a page: line drawing, stage, controls, and the scene that script draws.

use super::{json, scene};
use askama::Template;
use keepwright_model::job::Plan;

#[derive(Template)]
#[template(path = "parts/drawing.html")]
struct Drawing<'a> {
    name: &'a str,
    /// The line drawing, an element of this program's own making.
    still: &'a str,
    /// JSON for a script block.
    scene: String,
    /// Where the server draws the box in lines.
    href: &'a str,
    /// What the saved line drawing is called.
    file: String,
}

/// The element that `js/drawing/main.js` brings to life; `css/drawing.css` lays it out.
///
/// `still` is the line drawing that stays where there is no script or no WebGL, an SVG element from this program's own
/// writer. `href` answers with the line drawing of a [`super::Sight`].
///
/// # Errors
/// None are known: the scene has a form in JSON, and the template writes into memory.
pub fn element(plan: &Plan, still: &str, href: &str) -> Result<String, askama::Error> {
    let scene = json(&scene(plan)).map_err(|error| askama::Error::Custom(Box::new(error)))?;
    let name = &plan.statement.name;
    Drawing { name, still, scene, href, file: format!("{}.svg", file_name(name)) }.render()
}

/// A file's name that any system takes, from what the maker calls the box.
fn file_name(name: &str) -> String {
    let words: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    if words.is_empty() { "box".to_owned() } else { words.join("-").to_lowercase() }
}
