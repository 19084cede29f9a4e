//! Angles of many-sided boxes: upright polygons, and splayed walls whose end cuts are compound.
//!
//! # Convention
//! The lean of a wall is measured **from vertical**: zero is an upright box, 90° a frame lying flat.
//! Charts printed in saw manuals state the slope **from horizontal** instead: [`slope_from_horizontal`]
//! turns one into the other. Blade tilt is measured away from upright, the gauge angle away from a
//! square crosscut; both walls of a corner take the same two angles.

use crate::units::{Angle, Length};

/// The two angles of a compound end cut, the wall lying flat on the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compound {
    /// Blade tilt away from upright.
    pub tilt: Angle,
    /// Miter-gauge angle away from a square crosscut.
    pub gauge: Angle,
}

/// A slope stated from horizontal as the lean from vertical that this room speaks, and the reverse.
pub fn slope_from_horizontal(slope: Angle) -> Angle {
    Angle::SQUARE - slope
}

/// Half the angle that the walls turn through at a corner: 180° / sides, the miter of an upright box.
pub fn miter(sides: u32) -> Angle {
    Angle::degrees(180.0 / f64::from(sides.max(3)))
}

/// Angle inside the box between neighboring walls, seen from above.
pub fn interior(sides: u32) -> Angle {
    Angle::degrees(180.0) - miter(sides) * 2.0
}

/// Tilt and gauge for mitered walls leaning `lean` from vertical:
/// tilt = asin(sin(180°/n)·cos lean), gauge = atan(tan(180°/n)·sin lean).
pub fn mitered(sides: u32, lean: Angle) -> Compound {
    let half = miter(sides);
    Compound {
        tilt: Angle::radians((half.sin() * lean.cos()).asin()),
        gauge: Angle::radians((half.tan() * lean.sin()).atan()),
    }
}

/// Tilt and gauge for the butted walls of a splayed rectangle: gauge = atan(sin lean),
/// tilt = asin(sin² lean).
pub fn butted(lean: Angle) -> Compound {
    Compound {
        tilt: Angle::radians((lean.sin() * lean.sin()).asin()),
        gauge: Angle::radians(lean.sin().atan()),
    }
}

/// Width of a leaning wall measured along its face, for a height measured plumb.
pub fn slant_width(height: Length, lean: Angle) -> Length {
    height / lean.cos()
}

/// Bevel of an edge that must lie level when the wall leans: the lean itself.
pub fn level_edge_bevel(lean: Angle) -> Angle {
    lean
}

/// Outside length of one wall of a regular polygon that measures `across_flats` outside.
pub fn side_from_flats(sides: u32, across_flats: Length) -> Length {
    across_flats * miter(sides).tan()
}

/// Outside distance across corners of an even-sided polygon.
pub fn across_corners(sides: u32, across_flats: Length) -> Length {
    across_flats / miter(sides).cos()
}

/// Inside length of one wall from its outside length.
pub fn inside_side(sides: u32, outside: Length, wall: Length) -> Length {
    outside - wall * (2.0 * miter(sides).tan())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Id, sides, slope from horizontal, gauge, tilt, tolerance (degrees).
    type Row = (&'static str, u32, f64, f64, f64, f64);

    /// Sources: rows at 0.005° from the compound-angle chart printed in owner's manuals of bench table
    /// saws and compound miter saws; rows at 0.0001° from plane geometry in space.
    const CHART: [Row; 31] = [
        ("CM-01", 4, 5.0, 44.89, 3.53, 0.005),
        ("CM-02", 4, 10.0, 44.56, 7.05, 0.005),
        ("CM-03", 4, 15.0, 44.01, 10.55, 0.005),
        ("CM-05", 4, 30.0, 40.89, 20.70, 0.005),
        ("CM-06", 4, 45.0, 35.26, 30.00, 0.005),
        ("CM-08", 4, 75.0, 14.51, 43.08, 0.005),
        ("CM-12", 5, 60.0, 19.96, 30.60, 0.005),
        ("CM-13", 6, 5.0, 29.91, 2.50, 0.005),
        ("CM-14", 6, 15.0, 29.15, 7.44, 0.005),
        ("CM-15", 6, 30.0, 26.57, 14.48, 0.005),
        ("CM-16", 6, 45.0, 22.21, 20.70, 0.005),
        ("CM-17", 6, 70.0, 11.17, 28.02, 0.005),
        ("CM-18", 7, 10.0, 25.37, 4.32, 0.005),
        ("CM-19", 7, 20.0, 24.35, 8.53, 0.005),
        ("CM-20", 7, 35.0, 21.53, 14.41, 0.005),
        ("CM-21", 8, 15.0, 21.81, 5.68, 0.005),
        ("CM-22", 8, 30.0, 19.73, 11.03, 0.005),
        ("CM-23", 8, 45.0, 16.32, 15.70, 0.005),
        ("CM-24", 8, 50.0, 14.91, 17.05, 0.005),
        ("CM-25", 9, 10.0, 19.72, 3.40, 0.005),
        ("CM-26", 9, 30.0, 17.50, 9.85, 0.005),
        ("CM-27", 9, 40.0, 15.58, 12.70, 0.005),
        ("CM-29", 10, 35.0, 14.90, 10.21, 0.005),
        ("CM-30", 10, 45.0, 12.94, 12.62, 0.005),
        ("CM-31", 4, 80.0, 9.8511, 44.1360, 0.0001),
        ("CM-32", 4, 85.0, 4.9811, 44.7824, 0.0001),
        ("CM-33", 6, 80.0, 5.7251, 29.4987, 0.0001),
        ("CM-34", 3, 60.0, 40.8934, 48.5904, 0.0001),
        ("CM-36", 4, 82.5, 7.4366, 44.5119, 0.0001),
        ("upright", 4, 90.0, 0.0, 45.0, 1e-9),
        ("flat frame", 4, 0.0, 45.0, 0.0, 1e-9),
    ];

    #[test]
    fn compound_chart() {
        for (id, sides, slope, gauge, tilt, within) in CHART {
            let got = mitered(sides, slope_from_horizontal(Angle::degrees(slope)));
            // The chart is stated to the nearest 0.005°, so half a step of print is allowed on top.
            let within = within + if within > 0.001 { 5e-4 } else { 0.0 };
            assert!((got.gauge.to_degrees() - gauge).abs() <= within, "{id} gauge {got:?}");
            assert!((got.tilt.to_degrees() - tilt).abs() <= within, "{id} tilt {got:?}");
        }
    }

    /// Sources: CM-39, CM-41, CM-42, derived from plane geometry.
    #[test]
    fn butt_joint_and_slant() {
        let lean = slope_from_horizontal(Angle::degrees(75.0));
        let b = butted(lean);
        assert!((b.gauge.to_degrees() - 14.5108).abs() < 1e-4, "CM-39");
        assert!((b.tilt.to_degrees() - 3.8410).abs() < 1e-4, "CM-39");
        for (id, height, slope, width, bevel) in
            [("CM-41", 80.0, 75.0, 82.8221, 15.0), ("CM-42", 60.0, 70.0, 63.8507, 20.0)]
        {
            let lean = slope_from_horizontal(Angle::degrees(slope));
            assert!((slant_width(Length::mm(height), lean).to_mm() - width).abs() < 1e-4, "{id}");
            assert!((level_edge_bevel(lean).to_degrees() - bevel).abs() < 1e-9, "{id}");
        }
    }

    /// Sources: PG-01..09 (N = 4..10 agree with the table in miter-saw manuals), PG-12..16 derived.
    #[test]
    fn polygons() {
        for (id, n, inner, half) in [
            ("PG-01", 3, 60.0, 60.0),
            ("PG-02", 4, 90.0, 45.0),
            ("PG-03", 5, 108.0, 36.0),
            ("PG-04", 6, 120.0, 30.0),
            ("PG-05", 7, 128.5714, 25.7143),
            ("PG-06", 8, 135.0, 22.5),
            ("PG-07", 9, 140.0, 20.0),
            ("PG-08", 10, 144.0, 18.0),
            ("PG-09", 11, 147.2727, 16.3636),
        ] {
            assert!((interior(n).to_degrees() - inner).abs() < 1e-4, "{id}");
            assert!((miter(n).to_degrees() - half).abs() < 1e-4, "{id}");
        }
        let near = |a: Length, b: f64| (a.to_mm() - b).abs() < 1e-4;
        assert!(near(across_corners(6, Length::mm(150.0)), 173.2051), "PG-12");
        assert!(near(side_from_flats(8, Length::mm(200.0)), 82.8427), "PG-13");
        assert!(near(inside_side(6, Length::mm(90.0), Length::mm(10.0)), 78.4530), "PG-15");
        assert!(near(inside_side(8, Length::mm(70.0), Length::mm(9.5)), 62.1299), "PG-16");
    }
}
