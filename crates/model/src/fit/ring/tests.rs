//! Checks of the ring: published and derived gap rows, symmetry, and laws of least squares.

use super::*;
use proptest::prelude::*;

fn walls(lengths: &[f64], thickness: f64) -> Walls {
    Walls {
        lengths: lengths.iter().copied().map(Length::mm).collect(),
        thickness: Length::mm(thickness),
        height: Length::mm(75.0),
    }
}

fn bevel(bias: f64, spread: f64) -> SawErrors {
    SawErrors {
        bevel: Spread { bias: Angle::degrees(bias), spread: Angle::degrees(spread) },
        ..SawErrors::default()
    }
}

/// Rows MG-01 and MG-11 in one ring: every cut 0.05° too sharp would gap half of MG-01 at each corner held square, and
/// miss by 0.8135 mm at the last.
#[test]
fn one_bias_three_ways() {
    let ring = ring_closure(&walls(&[200.0, 120.0, 200.0, 120.0], 12.0), &bevel(0.05, 0.0)).unwrap();
    assert!((ring.held.bias.to_mm() - 0.05934 / 2.0).abs() < 1e-4, "MG-01: {ring:?}");
    assert!((ring.last.bias.to_mm() - 0.8135).abs() < 1e-4, "MG-11");
    assert!((ring.last_wedge.to_degrees() - 0.4).abs() < 1e-12, "8 e");
    // A rectangle with equal errors needs no turn: spread round, each corner opens by the held gap, at the heel.
    for corner in &ring.corners {
        assert!((corner.gap.bias.to_mm() - 0.05924 / 2.0).abs() < 1e-5, "{corner:?}");
        assert_eq!(corner.opens_at, Some(Arris::Heel));
        assert!(corner.slip.to_mm().abs() < 1e-9);
    }
    assert_eq!(ring.verdict(), Verdict::NotSeen);
    assert_eq!(ring.last.verdict(&VISIBLE_GAP), Verdict::Shows);
}

/// Row MG-04: half a degree on each cut of a 12 mm wall shows however it is pulled.
#[test]
fn a_bad_saw_shows() {
    let ring = ring_closure(&walls(&[150.0; 4], 12.0), &bevel(-0.5, 0.0)).unwrap();
    assert_eq!(ring.verdict(), Verdict::Shows);
    assert!(ring.corners.iter().all(|c| c.opens_at == Some(Arris::Toe)));
}

/// By hand, square box 150 mm, 12 mm walls, bevels scattering by 0.05°: held square 12 √2 √2 σ = 0.020944 mm; last corner
/// √2 σ √(150² + 2·150² + 150²) = 0.370240 mm.
#[test]
fn spreads_by_root_sum_square() {
    let ring = ring_closure(&walls(&[150.0; 4], 12.0), &bevel(0.0, 0.05)).unwrap();
    assert!((ring.held.spread.to_mm() - 0.020944).abs() < 1e-6, "{:?}", ring.held);
    assert!((ring.last.spread.to_mm() - 0.370240).abs() < 1e-6, "{:?}", ring.last);
    assert!((ring.held.typical() - ring.held.spread).to_mm().abs() < 1e-12);
    assert!((ring.held.worst() - ring.held.spread * 3.0).to_mm().abs() < 1e-12);
}

/// Row MG-13, pairs differing with the worse signs: the last corner opens by twice D/√2, and spreading shares it out.
#[test]
fn unequal_pairs() {
    let errors = SawErrors {
        length_pair: Spread { bias: Length::mm(0.5), spread: Length::ZERO },
        ..SawErrors::default()
    };
    let ring = ring_closure(&walls(&[200.0, 120.0, 200.0, 120.0], 12.0), &errors).unwrap();
    assert!((ring.miss.opening.to_mm() - 2.0 * 0.35355).abs() < 2e-5, "{:?}", ring.miss);
    assert!(ring.spread().bias < ring.miss.opening);
}

/// Row MG-14: 0.2° over 75 mm runs out 0.26180 mm; two walls alike open a miter by √2 times that at the far end.
#[test]
fn taper() {
    let errors = SawErrors {
        gauge: Spread { bias: Angle::degrees(0.2), spread: Angle::ZERO },
        ..SawErrors::default()
    };
    let ring = ring_closure(&walls(&[200.0, 120.0, 200.0, 120.0], 12.0), &errors).unwrap();
    assert!((ring.taper.bias.to_mm() - core::f64::consts::SQRT_2 * 0.26180).abs() < 2e-5, "{:?}", ring.taper);
}

#[test]
fn what_is_no_ring_is_refused() {
    let none = SawErrors::default();
    assert!(matches!(ring_closure(&walls(&[100.0, 100.0], 12.0), &none), Err(Error::Walls { count: 2, .. })));
    assert!(ring_closure(&walls(&[100.0, 0.0, 100.0], 12.0), &none).is_err());
    assert!(ring_closure(&walls(&[100.0; 3], f64::NAN), &none).is_err());
    assert!(ring_closure(&walls(&[100.0; 25], 12.0), &none).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// No error, no gap; equal errors in an equal-sided ring leave equal corners.
    #[test]
    fn equal_rings(n in 3usize..9, side in 60.0..300.0, t in 4.0..19.0, e in -0.5..0.5) {
        let w = walls(&vec![side; n], t);
        let true_ring = ring_closure(&w, &SawErrors::default()).unwrap();
        prop_assert!(true_ring.spread().worst().to_mm() < 1e-9);
        prop_assert!(true_ring.miss.exact.to_mm() < 1e-9);
        let ring = ring_closure(&w, &bevel(e, 0.02)).unwrap();
        prop_assert_eq!(ring.corners.len(), n);
        for pair in ring.corners.windows(2) {
            prop_assert!((pair[0].gap.bias - pair[1].gap.bias).to_mm().abs() < 1e-8);
            prop_assert!((pair[0].gap.spread - pair[1].gap.spread).to_mm().abs() < 1e-8);
        }
    }

    /// Least squares does no worse, in the sum of squares, than pulling all corners but the last tight.
    #[test]
    fn spreading_is_least(a in 60.0..300.0, b in 60.0..300.0, d in -0.5..0.5) {
        let errors = SawErrors {
            length_pair: Spread { bias: Length::mm(d), spread: Length::ZERO },
            ..SawErrors::default()
        };
        let ring = ring_closure(&walls(&[a, b, a, b], 12.0), &errors).unwrap();
        let spread: f64 = ring.corners.iter()
            .map(|c| c.heel.to_mm().powi(2) + c.toe.to_mm().powi(2) + 2.0 * c.slip.to_mm().powi(2)).sum();
        prop_assert!(spread <= 2.0 * ring.miss.exact.to_mm().powi(2) + 1e-9, "{spread} {:?}", ring.miss);
    }
}
