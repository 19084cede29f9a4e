//! What a reader looks at, as a request asks for it, and the line drawing of it.

use keepwright_model::job::Plan;
use keepwright_model::space::{Plane, Vec3};
use keepwright_packet::drawings::{Room, Stance, seen_along};
use keepwright_packet::svg;
use serde::Deserialize;
use thiserror::Error;

/// The words of a request for a line drawing; all may be left out.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
pub struct Sight {
    /// From the box to the eye, box frame: `1,-1.4,0.8`; its length does not count.
    pub from: Option<String>,
    /// How far apart, 0 to 1.
    pub apart: Option<String>,
    /// How far open, 0 to 1.
    pub open: Option<String>,
    /// What is cut away, as a plane of the box frame: `0,-1,0,92` takes away where −y is greater than 92.
    pub cut: Option<String>,
}

/// What is wrong with a request for a line drawing.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{field}={given} is not understood; write {wanted}")]
pub struct SightError {
    /// Which word.
    pub field: &'static str,
    /// What was given.
    pub given: String,
    /// What is possible.
    pub wanted: &'static str,
}

/// The usual view: from the front right and above, as the packet shows the box.
const USUAL: Vec3 = Vec3::new(0.52, -0.742, 0.423);
/// Room for the drawing, millimeters: about a page.
const PAPER: Room = Room::new(240.0, 240.0);
/// Clear space around it, millimeters.
const MARGIN: f64 = 4.0;

impl Sight {
    fn direction(&self) -> Result<Vec3, SightError> {
        let Some(given) = &self.from else { return Ok(-USUAL) };
        let wrong = || SightError {
            field: "from",
            given: given.clone(),
            wanted: "three numbers with commas, not all zero, such as 1,-1.4,0.8",
        };
        let [x, y, z] = numbers(given).ok_or_else(wrong)?;
        let toward = Vec3::new(x, y, z);
        if toward.norm() < 1e-9 { Err(wrong()) } else { Ok(-toward.unit()) }
    }

    fn stance(&self) -> Result<Stance, SightError> {
        let share = |field: &'static str, given: &Option<String>| {
            let Some(given) = given else { return Ok(0.0) };
            match numbers(given) {
                Some([share]) if (0.0..=1.0).contains(&share) => Ok(share),
                _ => Err(SightError { field, given: given.clone(), wanted: "a number from 0 to 1" }),
            }
        };
        let cut = match &self.cut {
            None => None,
            Some(given) => {
                let wrong = || SightError {
                    field: "cut",
                    given: given.clone(),
                    wanted: "four numbers with commas: a direction and a distance along it, such as 0,-1,0,-92",
                };
                let [x, y, z, d] = numbers(given).ok_or_else(wrong)?;
                let n = Vec3::new(x, y, z);
                if n.norm() < 1e-9 {
                    return Err(wrong());
                }
                Some(Plane { n: n.unit(), d: d / n.norm() })
            }
        };
        Ok(Stance { apart: share("apart", &self.apart)?, open: share("open", &self.open)?, cut })
    }
}

/// So many finite numbers of an ordinary size with commas between them.
fn numbers<const N: usize>(text: &str) -> Option<[f64; N]> {
    let mut out = [0.0; N];
    let mut words = text.split(',');
    for value in &mut out {
        *value = words.next()?.trim().parse::<f64>().ok().filter(|v| v.abs() < 1e6)?;
    }
    words.next().is_none().then_some(out)
}

/// The line drawing of a box as a sight asks for it: one SVG document.
///
/// # Errors
/// [`SightError`] names the word of the request that is not understood.
pub fn line_drawing(plan: &Plan, sight: &Sight) -> Result<String, SightError> {
    let (stance, direction) = (sight.stance()?, sight.direction()?);
    let drawing = seen_along(&plan.statement, &plan.parts, &plan.solids, stance, direction, PAPER);
    Ok(svg::write(&drawing, 1.0, MARGIN, &plan.statement.name))
}
