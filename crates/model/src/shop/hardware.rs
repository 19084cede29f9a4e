//! Hinges and their screws: pilot holes, what pulls them out, what splits, where a chest's lid becomes a danger.

use super::say::{self, caution, number, reason};
use crate::caution::{Caution, Change, Checked, Weight};
use crate::design::Hinges;
use crate::reason::{Basis, Reason, Value};
use crate::units::{Angle, Force, Length, Volume};
use crate::wood;

/// Softwood or hardwood: pilot holes differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hardness {
    /// Softwood.
    Softwood,
    /// Hardwood.
    Hardwood,
}

/// What the hinges are screwed into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HingeSeat<'a> {
    /// Place in words, such as "back wall" or "lid".
    pub place: &'a str,
    /// Thickness of the edge that takes the screws, across them.
    pub edge: Length,
    /// Wood along the screws.
    pub deep: Length,
    /// Specific gravity at 12 percent moisture content.
    pub gravity: f64,
    /// Softwood or hardwood.
    pub hardness: Hardness,
}

/// The screws of one seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Screws {
    /// Where.
    pub place: String,
    /// Shank diameter.
    pub shank: Length,
    /// Pilot hole for the thread.
    pub pilot: Length,
    /// Pilot depth, from the leaf's bed.
    pub depth: Length,
    /// Thread that holds.
    pub thread: Length,
    /// Mean force that pulls one out of side grain; not a safe load.
    pub pulls_out: Force,
    /// Load that a designer would allow on one in side grain.
    pub allowed: Force,
    /// All screws of the seat.
    pub count: u32,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// Inside volume at which chest rules begin, as the standards print it: 0.031 m³ (1.1 cubic feet).
///
/// # Source
/// ASTM F834 / F963 (toy chests) and F2598 (keepsake, blanket and cedar chests).
pub const CHEST: Volume = Volume::mm3(0.031e9);

/// Thread's share of a wood screw's length.
///
/// # Source
/// Common practice: about two thirds.
const THREADED: f64 = 2.0 / 3.0;

/// Root diameter as a share of the shank.
///
/// # Source
/// From memory: Wood Handbook ch. 8, about two thirds.
const ROOT: f64 = 2.0 / 3.0;

/// Shank diameter by gauge: 0.060 in + 0.013 in for each number.
///
/// # Source
/// From memory: ASME B18.6.1.
pub fn shank(gauge: u32) -> Length {
    wood::screw_shank(u8::try_from(gauge.min(24)).unwrap_or(24))
}

/// Mean force that pulls a wood screw out of side grain: 15 700 G² D L in pounds and inches.
///
/// # Source
/// Wood Handbook ch. 8, Eq. 8-10 (108.25 G² D L in newtons and millimeters).
pub fn pulls_out(gravity: f64, shank: Length, thread: Length) -> Force {
    wood::screw_withdrawal(gravity, shank, thread)
}

/// Load that a designer would allow: 2850 G² D pounds for each inch of thread, side grain only.
///
/// # Source
/// Printed in a structural engineering handbook for timber design; its G is oven-dry, a small difference.
pub fn allowed(gravity: f64, shank: Length, thread: Length) -> Force {
    wood::screw_allowable(gravity, shank, thread)
}

/// The screws of each seat, with cautions about splitting and about lids that fall.
pub fn hinge_screws(hinges: &Hinges, seats: &[HingeSeat<'_>]) -> Checked<Vec<Screws>> {
    let mut cautions = Vec::new();
    let value = seats.iter().map(|s| screws(hinges, s, &mut cautions)).collect();
    cautions.extend(past_upright(hinges));
    Checked { value, cautions }
}

fn screws(hinges: &Hinges, seat: &HingeSeat<'_>, cautions: &mut Vec<Caution>) -> Screws {
    let shank = shank(hinges.screw_gauge);
    let in_wood = (hinges.screw_length - hinges.leaf_thickness).max(Length::ZERO);
    // A tip that would come out holds only as far as there is wood.
    let thread = (hinges.screw_length * THREADED).min(in_wood).min(seat.deep.max(Length::ZERO));
    let share = match seat.hardness {
        Hardness::Softwood => 0.7,
        Hardness::Hardwood => 0.9,
    };
    let pilot = shank * (ROOT * share);
    let (ultimate, safe) = (pulls_out(seat.gravity, shank, thread), allowed(seat.gravity, shank, thread));
    let aside = (seat.edge - shank) / 2.0;
    if aside.to_mm() < 1.5 * shank.to_mm() {
        cautions.push(splits(hinges, seat, shank));
    }
    let count = hinges.count.saturating_mul(hinges.screws_per_leaf);
    let key = |what: &str| format!("screws.{}.{what}", seat.place.replace(' ', "-"));
    let reasons = vec![
        reason(
            key("shank"),
            "shank of the screw",
            "0.060 in + 0.013 in × gauge",
            [("gauge", Value::Count(hinges.screw_gauge.into()))],
            (Value::Length(shank), Basis::FromMemory("ASME B18.6.1")),
        ),
        reason(
            key("pilot"),
            "pilot hole",
            "two thirds of the shank (the root) × 90 % in hardwood, 70 % in softwood",
            [("shank", Value::Length(shank)), ("share of the root", Value::Percent(share))],
            (Value::Length(pilot), Basis::FromMemory("Wood Handbook (FPL-GTR-190), ch. 8")),
        ),
        reason(
            key("withdrawal"),
            "force that pulls one screw out, on average",
            "108.25 × specific gravity² × shank × thread; a designer would allow about a fifth or sixth of it",
            [
                ("specific gravity", number(seat.gravity, 2, "")),
                ("shank", Value::Length(shank)),
                ("thread in the wood", Value::Length(thread)),
                ("a designer would allow", Value::Force(safe)),
                ("screws", Value::Count(count.into())),
            ],
            (
                Value::Force(ultimate),
                Basis::Published("Wood Handbook (FPL-GTR-190), Eq. 8-10; side grain only"),
            ),
        ),
    ];
    Screws {
        place: seat.place.into(),
        shank,
        pilot,
        depth: in_wood,
        thread,
        pulls_out: ultimate,
        allowed: safe,
        count,
        reasons,
    }
}

/// Wood beside a screw: at least one and a half shanks on each side.
fn splits(hinges: &Hinges, seat: &HingeSeat<'_>, shank: Length) -> Caution {
    let fits = (seat.edge.to_inches() / 4.0 - 0.060) / 0.013;
    let gauge = fits.floor().max(0.0);
    let change = if fits >= 0.0 {
        Change::set(format!("Take No. {gauge:.0} screws"), "hinges.screw_gauge", format!("{gauge:.0}"))
    } else {
        Change::words("Pin the leaf instead, or make the wall thicker")
    };
    caution(
        ("screw-splits-edge", Weight::LikelyToFail),
        format!("{}, hinges", seat.place),
        format!(
            "A No. {} screw is {:.1} mm thick in an edge of {:.1} mm: less than one and a half times its thickness of wood stays on \
             each side, and thin edges split. Drill the pilot, cut the thread with a steel screw first, wax, then drive the brass one.",
            hinges.screw_gauge,
            shank.to_mm(),
            seat.edge.to_mm()
        ),
        [("shank", Value::Length(shank)), ("edge", Value::Length(seat.edge))],
        (Basis::CommonPractice, Some(change)),
    )
}

fn past_upright(hinges: &Hinges) -> Option<Caution> {
    (hinges.opens_to.to_degrees() > 90.0).then(|| {
        caution(
            ("lid-falls-back", Weight::WorthKnowing),
            "lid",
            format!(
                "Opened to {:.0}° the lid leans past upright and hangs on its screws; without a stop or stay it levers them out. \
                 Let a stay, a chain or the hinge's own stop carry it.",
                hinges.opens_to.to_degrees()
            ),
            [
                ("opens to", Value::Angle(hinges.opens_to)),
                ("upright", Value::Angle(Angle::SQUARE)),
            ],
            (Basis::CommonPractice, None),
        )
    })
}

/// The caution for a box as large as a chest, by its clear inside.
pub fn chest(inside: [Length; 3]) -> Option<Caution> {
    let [l, w, h] = inside;
    let volume = (l * w) * h;
    (volume >= CHEST).then(|| {
        caution(
            ("chest-size", Weight::LikelyToFail),
            "lid",
            format!(
                "The inside holds {:.4} m³ ({:.2} cubic feet). From 0.031 m³ published chest rules ask for a lid support that holds at every \
                 angle, no latch that closes by itself, and vents that wall or floor cannot block: children have died under falling \
                 lids and shut in chests. Fit such a support and vents, and read the standard before selling it. {}",
                volume.to_mm3() * 1e-9,
                volume.to_mm3() / 304.8f64.powi(3),
                say::FIRST
            ),
            [("inside", number(volume.to_mm3() * 1e-9, 4, "m³")), ("rules from", number(0.031, 3, "m³"))],
            (
                Basis::Published("ASTM F834, F963, F2598 thresholds; CPSC releases of 1982 and 2014"),
                Some(Change::words("Fit a spring-type lid support and vents, or make it smaller")),
            ),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Newtons in a pound-force, exact (0.45359237 × 9.80665).
    const N_PER_LB: f64 = 4.448_221_615_260_5;

    /// Rows SC-01 … SC-05: the ASME B18.6.1 series.
    #[test]
    fn shanks() {
        for (row, gauge, inches) in [
            ("SC-01", 2, 0.086),
            ("SC-02", 4, 0.112),
            ("SC-03", 6, 0.138),
            ("SC-04", 8, 0.164),
            ("SC-05", 10, 0.190),
        ] {
            assert!((shank(gauge).to_inches() - inches).abs() < 1e-12, "{row}");
        }
    }

    /// Rows SC-07, SC-08, SC-10, SC-11, SC-12.
    #[test]
    fn withdrawals() {
        for (row, gauge, thread, g, ultimate, safe) in [
            ("SC-07", 4, 0.5, 0.55, 265.96, 48.28),
            ("SC-08", 4, 0.375, 0.50, 164.85, 29.92),
            ("SC-10", 5, 0.5, 0.68, 453.73, 82.37),
        ] {
            let (d, l) = (shank(gauge), Length::inches(thread));
            let (u, s) = (pulls_out(g, d, l).value() / N_PER_LB, allowed(g, d, l).value() / N_PER_LB);
            assert!((u - ultimate).abs() < 0.01 && (s - safe).abs() < 0.01, "{row}: {u} {s}");
        }
        let one = Length::mm(1.0);
        assert!((pulls_out(1.0, one, one).value() - 108.248).abs() < 1e-3, "SC-11");
        let ratio = pulls_out(0.5, one, one) / allowed(0.5, one, one);
        assert!((ratio - 5.5088).abs() < 1e-4, "SC-12");
    }

    fn hinges() -> Hinges {
        Hinges {
            count: 2,
            leaf_length: Length::mm(25.0),
            leaf_width: Length::mm(9.0),
            leaf_thickness: Length::mm(1.5),
            knuckle: Length::mm(4.0),
            screw_gauge: 4,
            screw_length: Length::mm(12.7),
            screws_per_leaf: 2,
            from_end: Length::mm(30.0),
            opens_to: Angle::degrees(95.0),
        }
    }

    fn seat(edge: f64) -> HingeSeat<'static> {
        HingeSeat {
            place: "back wall",
            edge: Length::mm(edge),
            deep: Length::mm(60.0),
            gravity: 0.50,
            hardness: Hardness::Hardwood,
        }
    }

    /// By hand: a No. 4 shank is 2.8448 mm; its root two thirds, 1.8965; 90 % of that 1.7069 mm. Thread 2/3 of 12.7 is
    /// 8.4667 mm. An edge of 4 shanks, 11.38 mm, is the least.
    #[test]
    fn pilots_and_edges() {
        let got = hinge_screws(&hinges(), &[seat(12.0)]);
        let s = &got.value[0];
        assert!((s.pilot.to_mm() - 1.7069).abs() < 1e-4 && (s.thread.to_mm() - 8.4667).abs() < 1e-4);
        assert_eq!(s.count, 4);
        assert_eq!(got.cautions.iter().map(|c| c.code).collect::<Vec<_>>(), ["lid-falls-back"]);
        let thin = hinge_screws(&hinges(), &[seat(9.0)]);
        let split = thin.cautions.iter().find(|c| c.code == "screw-splits-edge").unwrap();
        // 9 mm / 4 = 2.25 mm = 0.0886 in: No. 2 (0.086 in) fits, No. 3 (0.099) does not.
        assert_eq!(split.change.as_ref().unwrap().sets[0].value, "2");
    }

    /// Rows SA-02, SA-03, SA-04.
    #[test]
    fn chests() {
        let of = |s: [f64; 3]| chest(s.map(Length::mm));
        assert!(of([400.0, 300.0, 260.0]).is_some_and(|c| c.says.contains("0.0312 m³")), "SA-02");
        assert!(of([400.0, 300.0, 255.0]).is_none(), "SA-03");
        let inches = chest([16.0, 12.0, 10.0].map(Length::inches)).unwrap();
        assert!(inches.says.contains("1.11 cubic feet"), "SA-04: {}", inches.says);
    }
}
