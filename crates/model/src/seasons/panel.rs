//! A panel that floats in a groove: how wide to cut it today so that it lives through the year.

use super::movement::{across, coefficient_given};
use crate::reason::{Basis, Given, Reason, Value};
use crate::units::{Length, MoistureContent};
use crate::wood::{Coefficient, Figure};

/// A panel in a frame or between walls, seen across its grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floating {
    /// Between the two edges that the grooves are cut in.
    pub opening: Length,
    /// Depth of each groove.
    pub groove: Length,
    /// The panel's coefficient across this width.
    pub coefficient: Figure<Coefficient>,
    /// Moisture content when the panel is cut.
    pub today: MoistureContent,
    /// In the driest month.
    pub driest: MoistureContent,
    /// In the wettest month.
    pub wettest: MoistureContent,
    /// Left free at each groove's bottom in the wettest month.
    pub clearance: Length,
    /// Held in each groove at least in the driest month, the panel pushed fully to the other side.
    pub hold: Length,
}

/// A floating panel through the year. Gaps are from the panel's edge to the groove's bottom, at each side when centered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloatingPanel {
    /// What was given.
    pub given: Floating,
    /// Width to cut today.
    pub width: Length,
    /// Width in the wettest month.
    pub width_wettest: Length,
    /// Width in the driest month.
    pub width_driest: Length,
    /// Gap today.
    pub gap_today: Length,
    /// Gap in the wettest month; below zero the panel binds.
    pub gap_wettest: Length,
    /// Gap in the driest month.
    pub gap_driest: Length,
    /// Held in each groove in the driest month, the panel centered.
    pub held_centered: Length,
    /// Held in the worse groove in the driest month, the panel pushed fully to the other; below zero it drops out.
    pub held_pushed: Length,
    /// Least groove depth that gives both the clearance and the hold for a panel cut to suit it.
    pub groove_needed: Length,
}

/// The panel cut today so that it leaves the stated clearance in the wettest month.
pub fn floating_panel(given: Floating) -> FloatingPanel {
    let between = given.opening + given.groove * 2.0;
    let wettest = between - given.clearance * 2.0;
    let growth = 1.0 + across(Length::mm(1.0), given.coefficient, given.today, given.wettest).change.to_mm();
    panel_as_cut(given, wettest / growth)
}

/// The same year for a panel that was cut to a width of the maker's own.
pub fn panel_as_cut(given: Floating, width: Length) -> FloatingPanel {
    let becomes = |to| across(width, given.coefficient, given.today, to).becomes();
    let (width_wettest, width_driest) = (becomes(given.wettest), becomes(given.driest));
    let between = given.opening + given.groove * 2.0;
    let gap = |w: Length| (between - w) / 2.0;
    FloatingPanel {
        given,
        width,
        width_wettest,
        width_driest,
        gap_today: gap(width),
        gap_wettest: gap(width_wettest),
        gap_driest: gap(width_driest),
        held_centered: (width_driest - given.opening) / 2.0,
        held_pushed: width_driest - given.opening - given.groove,
        groove_needed: groove_needed(&given),
    }
}

/// Solves (opening + 2 groove − 2 clearance) × shrunk − opening − groove = hold for the groove.
fn groove_needed(g: &Floating) -> Length {
    let to = |m| 1.0 + across(Length::mm(1.0), g.coefficient, g.today, m).change.to_mm();
    let shrunk = to(g.driest) / to(g.wettest);
    let (opening, clearance, hold) = (g.opening.to_mm(), g.clearance.to_mm(), g.hold.to_mm());
    // No wood shrinks by half, so the divisor stays well above zero.
    let groove = (hold + opening * (1.0 - shrunk) + 2.0 * clearance * shrunk) / (2.0 * shrunk - 1.0).max(0.1);
    Length::mm(groove.max(0.0))
}

impl FloatingPanel {
    /// Whether it fills its grooves in the wettest month and pushes the frame apart.
    pub fn binds(&self) -> bool {
        self.gap_wettest.to_mm() < -1e-9
    }

    /// Whether grooves hold it; otherwise it lies on a ledge, and no season can let it slip out.
    pub fn in_groove(&self) -> bool {
        self.given.groove.to_mm() > 1e-9
    }

    /// Whether it can slip out of a groove in the driest month.
    pub fn drops_out(&self) -> bool {
        self.in_groove() && self.held_pushed.to_mm() < -1e-9
    }

    /// Whether a groove of this depth cannot give both clearance and hold, however the panel is cut.
    pub fn groove_too_shallow(&self) -> bool {
        self.in_groove() && self.groove_needed > self.given.groove
    }

    /// Why the panel is cut this wide today.
    pub fn reason_width(&self, key: &str) -> Reason {
        Reason {
            key: key.to_owned(),
            title: "width of the floating panel, cut today".to_owned(),
            formula: "(opening + 2 × groove − 2 × clearance in the wettest month) / growth from today to the wettest month"
                .to_owned(),
            given: vec![
                Given::new("opening", Value::Length(self.given.opening)),
                Given::new("groove depth", Value::Length(self.given.groove)),
                Given::new("clearance in the wettest month", Value::Length(self.given.clearance)),
                Given::new("moisture content today", Value::Percent(self.given.today.value())),
                Given::new("in the wettest month", Value::Percent(self.given.wettest.value())),
                coefficient_given(&self.given.coefficient),
            ],
            result: Value::Length(self.width),
            basis: self.basis(),
        }
    }

    /// Why this gap is left at each side today.
    pub fn reason_gap(&self, key: &str) -> Reason {
        Reason {
            key: key.to_owned(),
            title: "gap at each groove's bottom today".to_owned(),
            formula: "(opening + 2 × groove − width) / 2".to_owned(),
            given: vec![
                Given::new("opening", Value::Length(self.given.opening)),
                Given::new("groove depth", Value::Length(self.given.groove)),
                Given::new("width", Value::Length(self.width)),
                Given::new("gap in the wettest month", Value::Length(self.gap_wettest)),
                Given::new("gap in the driest month", Value::Length(self.gap_driest)),
            ],
            result: Value::Length(self.gap_today),
            basis: Basis::Derived("the groove's bottom less the panel's edge"),
        }
    }

    /// Why this much is held in the driest month.
    pub fn reason_hold(&self, key: &str) -> Reason {
        Reason {
            key: key.to_owned(),
            title: "panel held in its groove in the driest month, pushed to the other side".to_owned(),
            formula: "width in the driest month − opening − groove".to_owned(),
            given: vec![
                Given::new("width in the driest month", Value::Length(self.width_driest)),
                Given::new("opening", Value::Length(self.given.opening)),
                Given::new("groove depth", Value::Length(self.given.groove)),
                Given::new("moisture content in the driest month", Value::Percent(self.given.driest.value())),
                coefficient_given(&self.given.coefficient),
            ],
            result: Value::Length(self.held_pushed),
            basis: self.basis(),
        }
    }

    fn basis(&self) -> Basis {
        self.given
            .coefficient
            .provenance
            .basis("Wood Handbook (FPL-GTR-190) ch. 13, Eq. 13-2 and 13-3, Table 13-5")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wood::Provenance;
    use proptest::prelude::*;

    fn cherry(opening: f64, groove: f64) -> Floating {
        Floating {
            opening: Length::mm(opening),
            groove: Length::mm(groove),
            coefficient: Figure {
                value: Coefficient::per_percent(0.00248),
                provenance: Provenance::Read("test"),
            },
            today: MoistureContent::percent(8.0),
            driest: MoistureContent::percent(6.0),
            wettest: MoistureContent::percent(12.0),
            clearance: Length::mm(0.3),
            hold: Length::mm(1.0),
        }
    }

    /// By hand, row WM-01's coefficient: 150 + 2 × 6 − 0.6 = 161.4 in the wettest month; today 161.4 / (1 + 0.00248 × 4)
    /// = 159.8146; in the driest 159.8146 × (1 − 0.00248 × 2) = 159.0219.
    #[test]
    fn cherry_panel() {
        let p = floating_panel(cherry(150.0, 6.0));
        assert!((p.width.to_mm() - 159.8146).abs() < 1e-4, "{p:?}");
        assert!((p.gap_wettest.to_mm() - 0.3).abs() < 1e-9);
        assert!((p.gap_today.to_mm() - 1.0927).abs() < 1e-4);
        assert!((p.width_driest.to_mm() - 159.0219).abs() < 1e-4);
        assert!((p.held_centered.to_mm() - 4.5110).abs() < 1e-4);
        assert!((p.held_pushed.to_mm() - 3.0219).abs() < 1e-4);
        assert!(!p.binds() && !p.drops_out() && !p.groove_too_shallow());
    }

    /// A panel cut tight to the groove's bottom binds as soon as the air is wetter than today.
    #[test]
    fn tight_panel_binds_and_a_shallow_groove_lets_go() {
        let tight = panel_as_cut(cherry(150.0, 6.0), Length::mm(162.0));
        assert!(tight.binds());
        let shallow = floating_panel(cherry(400.0, 3.0));
        assert!(shallow.drops_out() && shallow.groove_too_shallow());
    }

    /// Nothing holds a panel that lies on a ledge, so nothing can let it go; it can still push the walls apart.
    #[test]
    fn a_panel_on_a_ledge_does_not_drop_out() {
        let p = floating_panel(cherry(150.0, 0.0));
        assert!(!p.in_groove() && !p.drops_out() && !p.groove_too_shallow(), "{p:?}");
        assert!(panel_as_cut(cherry(150.0, 0.0), Length::mm(150.0)).binds());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// A groove of the depth needed holds exactly the stated hold.
        #[test]
        fn groove_needed_is_enough(opening in 40.0..500.0, dry in 3.0..8.0, wet in 8.0..16.0) {
            let mut g = cherry(opening, 1.0);
            g.driest = MoistureContent::percent(dry);
            g.wettest = MoistureContent::percent(wet);
            let needed = floating_panel(g).groove_needed;
            let p = floating_panel(Floating { groove: needed, ..g });
            prop_assert!((p.gap_wettest - g.clearance).to_mm().abs() < 0.05);
            prop_assert!((p.held_pushed - g.hold).to_mm().abs() < 0.05, "{p:?}");
        }
    }
}
