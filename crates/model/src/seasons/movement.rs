//! How far a dimension moves between two moisture contents.

use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Length, MoistureContent, Strain};
use crate::wood::{Coefficient, Figure, Provenance};

/// Wood moves only below it.
///
/// # Source
/// Wood Handbook ch. 4: about 30 percent; ch. 13 uses 30 for every species.
pub const FIBER_SATURATION: MoistureContent = MoistureContent::percent(30.0);

/// The law that gave a movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// Wood Handbook Eq. 13-2: size × coefficient × change of moisture, both between 6 and 14 percent.
    Linear,
    /// Wood Handbook Eq. 13-3: from the shrinkage to oven-dry, outside 6 to 14 percent.
    Shrinkage,
}

/// A dimension across the grain and how it changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Movement {
    /// At the first moisture content.
    pub dimension: Length,
    /// Moisture content at which the dimension was measured.
    pub from: MoistureContent,
    /// Moisture content asked about.
    pub to: MoistureContent,
    /// Dimensional change coefficient.
    pub coefficient: Figure<Coefficient>,
    /// Which law was used.
    pub law: Law,
    /// Positive when the wood grows.
    pub change: Length,
}

/// Change of a dimension across the grain.
///
/// Inside 6 to 14 percent the linear law; otherwise Eq. 13-3 with the shrinkage that the coefficient implies at 10
/// percent, so that both laws come from one number: D (Mf − Mi) / (1/C + Mi − 10), moisture in percent. Moisture contents
/// are taken as lying between oven-dry and fiber saturation.
///
/// # Source
/// Wood Handbook (FPL-GTR-190) ch. 13, Eq. 13-2 and 13-3.
pub fn across(
    dimension: Length,
    coefficient: Figure<Coefficient>,
    from: MoistureContent,
    to: MoistureContent,
) -> Movement {
    let (a, b) = (within(from).to_percent(), within(to).to_percent());
    let c = coefficient.value.to_per_percent();
    let linear = |m: f64| (6.0..=14.0).contains(&m);
    let (law, strain) = if linear(a) && linear(b) {
        (Law::Linear, c * (b - a))
    } else {
        // 1/C − 10 + Mi, times C: no division by a coefficient of nothing.
        (Law::Shrinkage, c * (b - a) / (1.0 + c * (a - 10.0)))
    };
    Movement { dimension, from, to, coefficient, law, change: dimension * strain }
}

fn within(moisture: MoistureContent) -> MoistureContent {
    moisture.max(MoistureContent::ZERO).min(FIBER_SATURATION)
}

impl Movement {
    /// Change over the dimension at the first moisture content.
    pub fn strain(&self) -> Strain {
        if self.dimension == Length::ZERO {
            return across(Length::mm(1.0), self.coefficient, self.from, self.to).strain();
        }
        Strain::fraction(self.change / self.dimension)
    }

    /// The dimension at the second moisture content.
    pub fn becomes(&self) -> Length {
        self.dimension + self.change
    }

    /// Why the dimension changes so much; `of` names it, such as "lid panel's width".
    pub fn reason(&self, key: &str, of: &str) -> Reason {
        let formula = match self.law {
            Law::Linear => "size × coefficient × change in moisture content (both within 6 to 14 %)",
            Law::Shrinkage => {
                "size × change in moisture content / (1 / coefficient + moisture content now − 10), outside 6 to 14 %"
            }
        };
        let work = match self.law {
            Law::Linear => "Wood Handbook (FPL-GTR-190) ch. 13, Eq. 13-2, Table 13-5",
            Law::Shrinkage => "Wood Handbook (FPL-GTR-190) ch. 13, Eq. 13-3, Table 13-5",
        };
        Reason {
            key: key.to_owned(),
            title: format!("change of the {of}"),
            formula: formula.to_owned(),
            given: vec![
                Given::new("size", Value::Length(self.dimension)),
                Given::new("moisture content now", Value::Percent(self.from.value())),
                Given::new("moisture content then", Value::Percent(self.to.value())),
                coefficient_given(&self.coefficient),
            ],
            result: Value::Length(self.change),
            basis: self.coefficient.provenance.basis(work),
        }
    }
}

/// The coefficient as a reason shows it: five decimals, as the book prints it.
pub(super) fn coefficient_given(coefficient: &Figure<Coefficient>) -> Given {
    let value = coefficient.value.to_per_percent();
    let name = match coefficient.provenance {
        Provenance::Estimated(_) => "coefficient (estimated)",
        Provenance::FromMemory(_) => "coefficient (from memory)",
        _ => "coefficient",
    };
    Given::new(name, Value::Number { value, decimals: 5, unit: "per point" })
}

/// Change of a dimension along the grain: a little, and only known as a range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Along {
    /// At the first moisture content.
    pub dimension: Length,
    /// Change if the wood shrinks 0.1 percent from green to oven-dry.
    pub least: Length,
    /// Change at 0.15 percent.
    pub middle: Length,
    /// Change at 0.2 percent.
    pub most: Length,
}

/// Change of a dimension along the grain, positive when it grows: 0.1 to 0.2 percent from green to oven-dry, in
/// proportion to the change in moisture content.
///
/// # Source
/// Wood Handbook ch. 4, from memory: straight-grained mature wood; juvenile wood and reaction wood shrink up to 2 percent.
pub fn along(dimension: Length, from: MoistureContent, to: MoistureContent) -> Along {
    let share = (within(to) - within(from)) / FIBER_SATURATION;
    let change = |green_to_dry: f64| dimension * (green_to_dry * share);
    Along { dimension, least: change(0.001), middle: change(0.0015), most: change(0.002) }
}

impl Along {
    /// Why the dimension changes so little; `of` names it, such as "front wall's length".
    pub fn reason(&self, key: &str, of: &str) -> Reason {
        Reason {
            key: key.to_owned(),
            title: format!("change of the {of}, along the grain"),
            formula: "size × 0.15 % × change in moisture content / 30 % (between 0.1 and 0.2 %)".to_owned(),
            given: vec![
                Given::new("size", Value::Length(self.dimension)),
                Given::new("least change", Value::Length(self.least)),
                Given::new("most change", Value::Length(self.most)),
            ],
            result: Value::Length(self.middle),
            basis: Basis::FromMemory("Wood Handbook ch. 4: 0.1 to 0.2 % from green to oven-dry"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stated(per_percent: f64) -> Figure<Coefficient> {
        Figure { value: Coefficient::per_percent(per_percent), provenance: Provenance::Read("test") }
    }

    fn from_shrinkage(percent: f64) -> Figure<Coefficient> {
        let value = Coefficient::from_shrinkage(percent / 100.0, FIBER_SATURATION);
        Figure { value, provenance: Provenance::Calculated("test") }
    }

    fn pc(percent: f64) -> MoistureContent {
        MoistureContent::percent(percent)
    }

    /// Row WM-23 (a flooring guide's example, also WE16) and the chapter 13 example of Wood Handbook p. 13-17 (WE01).
    #[test]
    fn published_examples_of_the_linear_law() {
        let mesquite = across(Length::inches(5.0), stated(0.00129), pc(6.0), pc(9.0));
        assert_eq!(mesquite.law, Law::Linear);
        assert!((mesquite.change.to_inches() - 0.01935).abs() < 1e-9, "WM-23");
        let fir = across(Length::mm(232.0), stated(0.00245), pc(8.0), pc(11.0));
        assert!((fir.change.to_mm() - 1.7).abs() < 0.05, "WE01");
        assert!((fir.becomes().to_mm() - 233.7).abs() < 0.05, "WE01");
    }

    /// WE12: Wood Handbook Eq. 13-3 worked by hand, with shrinkage from Table 4-3. The linear law would serve two of
    /// these; the strain form is asked for by starting from the shrinkage.
    #[test]
    fn shrinkage_law() {
        for (name, mm, from, to, shrinkage, want) in [
            ("black walnut", 100.0, 8.0, 12.0, 7.8, 1.1031),
            ("black cherry", 150.0, 6.0, 14.0, 7.1, 3.0110),
            ("white oak", 120.0, 12.0, 6.0, 10.5, -2.6894),
        ] {
            // In two steps through 14.5 percent, where Eq. 13-3 rules; its steps add up.
            let c = from_shrinkage(shrinkage);
            let up = across(Length::mm(mm), c, pc(from), pc(14.5));
            let down = across(up.becomes(), c, pc(14.5), pc(to));
            assert_eq!((up.law, down.law), (Law::Shrinkage, Law::Shrinkage));
            let got = (up.change + down.change).to_mm();
            assert!((got - want).abs() < 5e-4, "{name}: {got}");
        }
    }

    /// Green to oven-dry is the tabulated shrinkage itself (Wood Handbook Table 4-3, black cherry 7.1 percent).
    #[test]
    fn green_to_dry_is_the_shrinkage() {
        let m = across(Length::mm(100.0), from_shrinkage(7.1), FIBER_SATURATION, pc(0.0));
        assert!((m.change.to_mm() + 7.1).abs() < 1e-9, "{m:?}");
        let wetter = across(Length::mm(100.0), from_shrinkage(7.1), pc(80.0), pc(0.0));
        assert_eq!(wetter.change, m.change, "no movement above fiber saturation");
    }

    #[test]
    fn along_the_grain_is_a_range() {
        let a = along(Length::mm(300.0), pc(30.0), pc(0.0));
        assert!((a.least.to_mm() + 0.3).abs() < 1e-9 && (a.most.to_mm() + 0.6).abs() < 1e-9);
        let reason = a.reason("wall.length", "front wall's length");
        assert_eq!(reason.result, Value::Length(a.middle));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn no_change_of_moisture_no_movement(mm in 1.0..900.0, c in 0.0005..0.0045, m in 0.0..30.0) {
            prop_assert!(across(Length::mm(mm), stated(c), pc(m), pc(m)).change.to_mm().abs() < 1e-12);
        }

        /// Steps of Eq. 13-3 add up exactly: each starts from the size that the last one left.
        #[test]
        fn steps_add_up(mm in 1.0..900.0, c in 0.0005..0.0045, a in 14.1..30.0, b in 0.0..5.9, m in 14.1..30.0) {
            let c = stated(c);
            let whole = across(Length::mm(mm), c, pc(a), pc(b)).becomes();
            let half = across(Length::mm(mm), c, pc(a), pc(m)).becomes();
            let rest = across(half, c, pc(m), pc(b)).becomes();
            prop_assert!((whole - rest).to_mm().abs() < 1e-9);
        }

        /// The two laws meet: across the range of the linear one they differ by less than two percent of the change.
        #[test]
        fn the_laws_agree_where_both_hold(c in 0.0005..0.0045, a in 6.0..14.0, b in 6.0..14.0) {
            let linear = c * (b - a);
            let other = c * (b - a) / (1.0 + c * (a - 10.0));
            let used = across(Length::mm(1.0), stated(c), pc(a), pc(b)).change.to_mm();
            prop_assert!((used - linear).abs() < 1e-12);
            prop_assert!((used - other).abs() <= 0.02 * linear.abs() + 1e-12);
        }
    }
}
