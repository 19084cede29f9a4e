//! Checks of the species table and of the densities drawn from it.

use super::super::species;
use super::*;

#[test]
fn sorted_whole_and_in_range() {
    let all = all();
    assert_eq!(all.len(), 93);
    assert!(all.is_sorted_by(|a, b| a.id < b.id));
    let within = |x: Option<f64>, low: f64, high: f64| x.is_none_or(|x| (low..=high).contains(&x));
    for s in all {
        let id = s.id;
        assert!(!s.common_name.is_empty() && !s.botanical.is_empty(), "{id}");
        assert!(s.drawing_color != [0, 0, 0], "{id}");
        assert!(within(s.specific_gravity_green.map(|f| f.value), 0.25, 1.1), "{id}");
        assert!(within(s.specific_gravity_12.map(|f| f.value), 0.25, 0.9), "{id}");
        assert!(within(s.radial.map(|f| f.value.to_per_percent()), 0.0007, 0.0032), "{id}");
        assert!(within(s.tangential.map(|f| f.value.to_per_percent()), 0.0011, 0.0044), "{id}");
        assert!(within(s.modulus.map(Stress::value), 5_000.0, 23_000.0), "{id}");
        assert!(within(s.tension_across.map(Stress::value), 1.0, 8.0), "{id}");
        assert!(within(s.compression_across.map(Stress::value), 2.0, 14.0), "{id}");
        assert_eq!(
            s.modulus.is_some() || s.bending.is_some() || s.side_hardness.is_some(),
            s.mechanical.is_some(),
            "{id}"
        );
        let figures =
            [s.specific_gravity_green, s.specific_gravity_12].into_iter().flatten().map(|f| f.provenance);
        let moves = [s.radial, s.tangential].into_iter().flatten().map(|f| f.provenance);
        for p in figures.chain(moves).chain(s.shrinkage.provenance).chain(s.mechanical) {
            let (Provenance::Read(text)
            | Provenance::FromMemory(text)
            | Provenance::Calculated(text)
            | Provenance::Estimated(text)) = p;
            assert!(!text.is_empty(), "{id}: every number says what it rests on");
        }
        if let (Some(r), Some(t)) = (s.radial, s.tangential) {
            assert!(r.value.to_per_percent() < t.value.to_per_percent(), "{id}: radial below tangential");
        }
        // Swelling from green to dry packs the same mass into less volume.
        if let (Some(g), Some(b)) = (s.specific_gravity_12, s.specific_gravity_green) {
            assert!(g.value > b.value, "{id}");
        }
    }
}

/// Rows WM-01 … WM-12: Wood Handbook Table 13-5.
#[test]
fn coefficients_of_the_handbook() {
    let cases = [
        ("WM-01", "cherry", 0.00126, 0.00248),
        ("WM-02", "black walnut", 0.00190, 0.00274),
        ("WM-03", "hard maple", 0.00165, 0.00353),
        ("WM-04", "soft maple", 0.00137, 0.00289),
        ("WM-05", "red oak", 0.00158, 0.00369),
        ("WM-06", "white oak", 0.00180, 0.00365),
        ("WM-07", "ash", 0.00169, 0.00274),
        ("WM-08", "birch", 0.00256, 0.00338),
        ("WM-09", "beech", 0.00190, 0.00431),
        ("WM-10", "basswood", 0.00230, 0.00330),
        ("WM-11", "sycamore", 0.00172, 0.00296),
        ("WM-12", "alder", 0.00151, 0.00256),
    ];
    for (row, name, radial, tangential) in cases {
        let s = species(name).unwrap();
        assert_eq!(s.radial.unwrap().value, Coefficient::per_percent(radial), "{row}");
        assert_eq!(s.tangential.unwrap().value, Coefficient::per_percent(tangential), "{row}");
        assert!(!s.tangential.unwrap().provenance.is_doubtful(), "{row}");
    }
}

/// Consistency of the handbook with itself (Table 13-5 against Tables 4-3 and 4-4 by Eq. 13-3): the species whose
/// printed coefficients are another's or a group's are the only ones more than 1.6 percent off.
#[test]
fn tabulated_coefficients_follow_from_shrinkage() {
    let another = ["birch_sweet", "hickory_shagbark", "oak_northern_red", "oak_white", "teak"];
    let mut compared = 0;
    let (text, columns) = (
        include_str!("../../../data/species.csv"),
        [("cr_per_pct", "shrinkage_radial_pct"), ("ct_per_pct", "shrinkage_tangential_pct")],
    );
    Rows::of(text).map(|row| {
        for (coefficient, shrinkage) in columns {
            let (Some(c), Some(s)) = (row.number(coefficient), row.number(shrinkage)) else {
                continue;
            };
            let saturation = MoistureContent::percent(row.number("fiber_saturation_pct").unwrap());
            let from = Coefficient::from_shrinkage(s / 100.0, saturation).to_per_percent();
            let off = (from / c - 1.0).abs();
            assert!(off <= 0.016 || another.contains(&row.text("id")), "{} {off}", row.text("id"));
            compared += 1;
        }
    });
    assert!(compared > 90, "{compared}");
}

/// What is not known stays unknown.
#[test]
fn missing_numbers_are_missing() {
    let wenge = species("wenge").unwrap();
    assert!(wenge.radial.is_none() && wenge.specific_gravity_12.is_none() && wenge.modulus.is_none());
    assert_eq!(wenge.tangential.unwrap().value, Coefficient::per_percent(0.00201));
    assert!(wenge.density(MoistureContent::percent(8.0)).is_none());
    assert!(wenge.volumetric_shrinkage().is_none());
    // Honeylocust has no specific gravity at 12 percent: the green one serves.
    assert!(species("honeylocust").unwrap().density(MoistureContent::percent(8.0)).is_some());
    assert!(species("ipe").unwrap().tension_across.is_none());
}

/// Worked examples WE03, WE04, WE05 (Wood Handbook Eq. 4-14, Table 4-6a) and WE14 (Eq. 4-13).
#[test]
fn densities() {
    for (name, g, mc, want) in
        [("WE03", 0.60, 12.0, 672.0), ("WE04", 0.40, 100.0, 800.0), ("WE05", 0.40, 12.0, 448.0)]
    {
        let got = density(g, MoistureContent::percent(mc)).value();
        assert!((got - want).abs() < 0.01, "{name}: {got}");
    }
    let at = MoistureContent::percent(12.0);
    let from_green = Species { specific_gravity_12: None, ..species("white ash").unwrap().clone() };
    assert!((from_green.specific_gravity(at).unwrap() - 0.6027).abs() < 0.0005, "WE14");
    assert!((from_green.density(at).unwrap().value() - 675.0).abs() < 0.1, "WE14");
    let ash = species("white ash").unwrap();
    assert!((ash.specific_gravity(at).unwrap() - 0.60).abs() < 1e-12, "the tabulated value comes back");
}

/// The handbook agrees with itself: the green value and the species' own volumetric shrinkage, taken to 12 percent
/// (Eq. 4-9), give the tabulated value at 12 percent within 0.02.
#[test]
fn green_and_dry_specific_gravities_agree() {
    let mut compared = 0;
    for s in all() {
        let (Some(dry), Some(green)) = (s.specific_gravity_12, s.specific_gravity_green) else {
            continue;
        };
        let Some(volumetric) = s.shrinkage.volumetric else {
            continue;
        };
        let got = green.value / (1.0 - volumetric * (1.0 - 12.0 / 30.0));
        assert!((got - dry.value).abs() <= 0.02, "{}: {got} {}", s.id, dry.value);
        compared += 1;
    }
    assert!(compared > 40, "{compared}");
}
