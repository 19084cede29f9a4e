//! The color of a wood, bare and under a finish.

use keepwright_model::design::{Coat, FinishKind};
use keepwright_model::wood;
use serde::Serialize;

/// A wood's own color, and how it looks under the finish of either side; `#rrggbb`, sRGB.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Tones {
    /// Without finish: as in the table of woods, chosen by eye.
    pub bare: String,
    /// Under the outside's finish.
    pub outside: String,
    /// Under the inside's finish.
    pub inside: String,
}

/// What a finish does to a color.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Effect {
    /// The share of light that is left.
    dark: f64,
    /// How much more of blue than of red is taken: the yellow of oils and resins.
    amber: f64,
    /// How strongly the surface shines, 0 to 1.
    pub(super) shine: f64,
}

/// What a finish does to a wood's color.
///
/// # Source
/// By eye, from memory, as common practice tells it: oil darkens as water does and yellows; shellac and varnish warm;
/// wax darkens little; a water-borne coat hardly at all. A test piece decides.
pub(super) const fn effect(coat: Coat) -> Effect {
    if coat.coats == 0 {
        return Effect { dark: 1.0, amber: 0.0, shine: 0.0 };
    }
    let (dark, amber, shine) = match coat.kind {
        FinishKind::None => (1.0, 0.0, 0.0),
        FinishKind::Oil => (0.82, 0.14, 0.18),
        FinishKind::OilAndWax => (0.82, 0.14, 0.26),
        FinishKind::Wax => (0.93, 0.05, 0.2),
        FinishKind::Shellac => (0.88, 0.12, 0.42),
        FinishKind::WipingVarnish => (0.84, 0.13, 0.38),
        FinishKind::WaterBorne => (0.96, 0.0, 0.32),
    };
    Effect { dark, amber, shine }
}

/// The tones of a species or sheet under two finishes.
pub(super) fn tones(id: &str, outside: Effect, inside: Effect) -> Tones {
    let color = wood::species(id)
        .map(|s| s.drawing_color)
        .or_else(|| wood::sheet(id).map(|s| s.drawing_color))
        .unwrap_or(UNKNOWN);
    let hex = |effect| {
        let [red, green, blue] = under(color, effect);
        format!("#{red:02x}{green:02x}{blue:02x}")
    };
    Tones {
        bare: hex(Effect { dark: 1.0, amber: 0.0, shine: 0.0 }),
        outside: hex(outside),
        inside: hex(inside),
    }
}

/// A plain light brown for a wood that is in no table.
const UNKNOWN: [u8; 3] = [0xc8, 0xb0, 0x90];

/// A color under a finish.
fn under(color: [u8; 3], effect: Effect) -> [u8; 3] {
    let [red, green, blue] = color.map(f64::from);
    let part = |value: f64, amber: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=255")]
        let part = (value * effect.dark * (1.0 - amber)).round().clamp(0.0, 255.0) as u8;
        part
    };
    [part(red, 0.0), part(green, effect.amber * 0.45), part(blue, effect.amber)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn oil_darkens_and_yellows_more_than_a_water_borne_coat() {
        let coat = |kind, coats| effect(Coat { kind, coats });
        let cherry = [0xb4, 0x70, 0x4a];
        let (oil, water) =
            (under(cherry, coat(FinishKind::Oil, 2)), under(cherry, coat(FinishKind::WaterBorne, 3)));
        assert!(oil[0] < water[0] && water[0] < cherry[0]);
        let blue = |c: [u8; 3]| f64::from(c[2]) / f64::from(c[0]);
        assert!(blue(oil) < blue(water) - 0.03, "oil {oil:?}, water-borne {water:?}");
        assert_eq!(under(cherry, coat(FinishKind::Oil, 0)), cherry, "no coat, no change");
        assert_eq!(under(cherry, coat(FinishKind::None, 1)), cherry);
    }
}
