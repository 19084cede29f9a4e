//! Stress in wood that is kept from moving: a tight panel in its frame, a board glued across the grain.

use super::movement::across;
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Angle, Area, Force, Length, MoistureContent, Strain, Stress};
use crate::wood::{self, Provenance, Species, coefficient_at_most, elastic, scatter};

/// A panel across its grain, as its frame meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panel {
    /// Growth that it would have if free, positive when it swells.
    pub free: Strain,
    /// Width across the grain.
    pub width: Length,
    /// Room left on purpose, both sides together.
    pub gap: Length,
    /// Modulus across the grain.
    pub modulus: Stress,
    /// Thickness × length along the grain.
    pub area: Area,
}

/// What holds the panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Frame {
    /// Does not yield: the worst case.
    Rigid,
    /// Rails that lie across the panel's grain and stretch.
    Stretches {
        /// Modulus along the rails.
        modulus: Stress,
        /// Cross-section of both rails together.
        area: Area,
    },
}

/// A panel pressed by its frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// What was given.
    pub panel: Panel,
    /// Growth that the gap does not take up.
    pub taken: Strain,
    /// Compression in the panel.
    pub stress: Stress,
    /// Pull on the frame.
    pub force: Force,
}

/// Compression in a panel that swells against its frame; nothing while the gap lasts or when it shrinks.
///
/// Elastic, so an upper bound: wood creeps and sets, and long-term stress is lower.
///
/// # Source
/// Statics of two bars in series: σ = e E / (1 + E A / (F B)), F and B the frame's modulus and area, e reduced by gap over width.
pub fn panel_in_frame(panel: Panel, frame: Frame) -> Held {
    let room = if panel.width > Length::ZERO { panel.gap / panel.width } else { 0.0 };
    let taken = (panel.free.value() - room).max(0.0);
    let yields = match frame {
        Frame::Rigid => 0.0,
        Frame::Stretches { modulus, area } => {
            let own = panel.modulus.value() * panel.area.to_mm2();
            own / (modulus.value() * area.to_mm2()).max(f64::MIN_POSITIVE)
        }
    };
    let stress = panel.modulus * (taken / (1.0 + yields));
    Held {
        panel,
        taken: Strain::fraction(taken),
        stress,
        force: Force::newtons(stress.value() * panel.area.to_mm2()),
    }
}

impl Held {
    /// Why the panel is pressed so hard.
    pub fn reason(&self, key: &str) -> Reason {
        let percent = |e: Strain| Value::Number { value: e.value() * 100.0, decimals: 2, unit: "%" };
        Reason {
            key: key.to_owned(),
            title: "compression in the panel, held by its frame".to_owned(),
            formula: "(swelling − gap / width) × modulus / (1 + panel's stiffness / frame's stiffness)"
                .to_owned(),
            given: vec![
                Given::new("free swelling", percent(self.panel.free)),
                Given::new("gap, both sides", Value::Length(self.panel.gap)),
                Given::new("width", Value::Length(self.panel.width)),
                Given::new("modulus across the grain", Value::Stress(self.panel.modulus)),
                Given::new("pull on the frame", Value::Force(self.force)),
            ],
            result: Value::Stress(self.stress),
            basis: Basis::Derived(
                "statics of two bars in series, elastic: an upper bound, since wood creeps",
            ),
        }
    }
}

/// Which way restrained wood is strained across its grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Load {
    /// It dries and is pulled: it splits.
    Tension,
    /// It wets and is pressed: it crushes and takes a set, and gaps when it dries.
    Compression,
}

/// A board glued across its grain to something that does not move, such as a solid bottom glued round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GluedAcross {
    /// Change that it would have if free.
    pub free: Strain,
    /// Modulus in that direction.
    pub modulus: Stress,
    /// What the modulus rests on.
    pub modulus_from: Provenance,
    /// Stress, without sign.
    pub stress: Stress,
    /// Which way.
    pub load: Load,
    /// Mean strength of clear wood that way.
    pub strength: Stress,
    /// Strength that nineteen pieces of twenty exceed.
    pub strength_low: Stress,
}

/// Stress in a board glued across its grain to something rigid, between two moisture contents.
///
/// Elastic, so an upper bound; the strength is the mean of small clear pieces, and scatters by a quarter.
///
/// # Errors
/// [`wood::Error::Unknown`] if movement, stiffness or strength of the species is not known.
/// # Source
/// σ = E ε. Strength: Wood Handbook Table 5-3 (tension perpendicular to grain, maximum; compression perpendicular,
/// proportional limit). Nineteen of twenty: mean − 1.645 standard deviations, as of a normal distribution.
pub fn glued_across(
    species: &Species,
    ring_angle: Angle,
    from: MoistureContent,
    to: MoistureContent,
) -> Result<GluedAcross, wood::Error> {
    let coefficient = coefficient_at_most(species, ring_angle)?;
    let free = across(Length::mm(1.0), coefficient, from, to).strain();
    let stiffness = elastic(species)?;
    let modulus = stiffness.value.modulus_across(ring_angle);
    let unknown = |what| wood::Error::Unknown {
        what,
        species: species.common_name,
        instead: "float the part instead of gluing it",
    };
    let (load, strength, varies) = if free.value() < 0.0 {
        let strength =
            species.tension_across.ok_or_else(|| unknown("strength in tension across the grain"))?;
        (Load::Tension, strength, scatter().tension_across)
    } else {
        let strength =
            species.compression_across.ok_or_else(|| unknown("strength in compression across the grain"))?;
        (Load::Compression, strength, scatter().compression_across)
    };
    Ok(GluedAcross {
        free,
        modulus,
        modulus_from: stiffness.provenance,
        stress: modulus * free.value().abs(),
        load,
        strength,
        strength_low: strength * (1.0 - 1.645 * varies),
    })
}

impl GluedAcross {
    /// Stress over mean strength: above one, most pieces fail (if wood did not creep).
    pub fn share(&self) -> f64 {
        self.stress / self.strength
    }

    /// Whether one piece in twenty or more would fail.
    pub fn likely_to_fail(&self) -> bool {
        self.stress > self.strength_low
    }

    /// Why the stress is what it is.
    pub fn reason(&self, key: &str) -> Reason {
        let (title, strength) = match self.load {
            Load::Tension => ("tension across the grain in the glued board", "mean strength in tension"),
            Load::Compression => {
                ("compression across the grain in the glued board", "mean strength in compression")
            }
        };
        Reason {
            key: key.to_owned(),
            title: title.to_owned(),
            formula: "modulus across the grain × change that it cannot make".to_owned(),
            given: vec![
                Given::new(
                    "change if free",
                    Value::Number { value: self.free.value() * 100.0, decimals: 2, unit: "%" },
                ),
                Given::new("modulus across the grain", Value::Stress(self.modulus)),
                Given::new(strength, Value::Stress(self.strength)),
                Given::new("strength of nineteen pieces in twenty", Value::Stress(self.strength_low)),
            ],
            result: Value::Stress(self.stress),
            basis: self.modulus_from.basis(
                "elastic stress, an upper bound since wood creeps; Wood Handbook Tables 5-1, 5-3 and, for scatter, 5-6 from memory",
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wood::species;

    fn panel(free: f64, modulus: f64) -> Panel {
        Panel {
            free: Strain::fraction(free),
            width: Length::mm(200.0),
            gap: Length::ZERO,
            modulus: Stress::mpa(modulus),
            area: Area::mm2(1200.0),
        }
    }

    /// Rows SF-02, SF-03, SF-04: statics.
    #[test]
    fn framed() {
        for (row, free, modulus, frame_modulus, frame_area, rigid, stretched, force) in [
            ("SF-02", 0.01096, 650.0, 11600.0, 960.0, 7.1240, 6.6577, 7989.21),
            ("SF-03", 0.0146, 800.0, 12600.0, 1710.0, 11.6800, 11.1818, 13418.14),
        ] {
            let frame = Frame::Stretches { modulus: Stress::mpa(frame_modulus), area: Area::mm2(frame_area) };
            let stiff = panel_in_frame(panel(free, modulus), Frame::Rigid);
            let soft = panel_in_frame(panel(free, modulus), frame);
            assert!((stiff.stress.value() - rigid).abs() < 1e-4, "{row}");
            assert!((soft.stress.value() - stretched).abs() < 1e-4, "{row}");
            assert!((soft.force.value() - force).abs() < 0.01, "{row}");
        }
        let gapped = Panel { width: Length::mm(180.0), gap: Length::mm(1.2), ..panel(0.00992, 880.0) };
        assert!((panel_in_frame(gapped, Frame::Rigid).stress.value() - 2.8629).abs() < 1e-4, "SF-04");
        let shrinks = panel_in_frame(panel(-0.01, 880.0), Frame::Rigid);
        assert_eq!((shrinks.stress, shrinks.force), (Stress::ZERO, Force::ZERO));
    }

    /// By hand from Wood Handbook tables: flat-sawn black cherry, 12 to 6 percent: 0.00248 × 6 = 0.01488; `E_T` = 0.086 ×
    /// 1.1 × 10 300 = 974.38 N/mm²; 14.499 N/mm² against 3.9 N/mm² in tension across.
    #[test]
    fn a_cherry_bottom_glued_round_splits() {
        let pc = MoistureContent::percent;
        let got = glued_across(species("cherry").unwrap(), Angle::ZERO, pc(12.0), pc(6.0)).unwrap();
        assert_eq!(got.load, Load::Tension);
        assert!((got.stress.value() - 14.499).abs() < 1e-3, "{got:?}");
        assert!((got.strength.value() - 3.9).abs() < 1e-12 && got.likely_to_fail() && got.share() > 3.0);
        let small = glued_across(species("cherry").unwrap(), Angle::SQUARE, pc(8.0), pc(8.1)).unwrap();
        assert_eq!(small.load, Load::Compression);
        assert!(!small.likely_to_fail());
    }

    #[test]
    fn what_is_not_known_is_said() {
        let pc = MoistureContent::percent;
        let error = glued_across(species("ipe").unwrap(), Angle::ZERO, pc(12.0), pc(6.0)).unwrap_err();
        assert!(error.to_string().contains("tension across the grain"), "{error}");
        assert!(glued_across(species("wenge").unwrap(), Angle::ZERO, pc(12.0), pc(6.0)).is_err());
    }
}
