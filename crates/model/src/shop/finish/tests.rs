//! Amounts against the trade's check rows; which cautions speak when.

use super::super::Share;
use super::*;

const BARE: Coat = Coat { kind: FinishKind::None, coats: 0 };

fn box_finish(outside: Coat, inside: Coat) -> Finish {
    Finish { outside, inside, inside_first: true }
}

fn plan(finish: &Finish, floating: &[String]) -> Checked<FinishPlan> {
    let outside = six_faces([200.0, 120.0, 75.0].map(Length::mm));
    finish_plan(&Finishing { finish, outside, inside: outside * 0.8, floating, shellac_cut: 2.0 })
}

fn codes(checked: &Checked<FinishPlan>) -> Vec<&'static str> {
    checked.cautions.iter().map(|c| c.code).collect()
}

/// Row FN-08: 200 × 120 × 75 mm, six faces, outside only, three coats at 10 m²/L: 0.0960 m² and 28.80 mL.
#[test]
fn three_coats_outside() {
    let finish = box_finish(Coat { kind: FinishKind::WaterBorne, coats: 3 }, BARE);
    let got = plan(&finish, &[]);
    let coats = &got.value.coats[0];
    assert!((coats.area.to_m2() - 0.0960).abs() < 1e-9, "FN-08 area");
    assert!((coats.product.coverage - 10.0).abs() < 1e-12);
    assert!((coats.volume().to_ml() - 28.80).abs() < 1e-9, "FN-08: {}", coats.volume().to_ml());
    assert_eq!(codes(&got), ["claims-to-buyers", "one-side-finished"]);
}

/// Rows FN-02 … FN-07 and the printed 1604.17 square feet for a gallon at a dry mil.
#[test]
fn cuts_and_coverage() {
    let ml = |v: f64| Volume::mm3(v * 1000.0);
    let pint = super::super::glue::ML_PER_GALLON / 8.0;
    let cases = [
        ("FN-02", square_feet_per_gallon(400.0), 9.8170, 1e-4),
        ("FN-03", shellac_flakes(2.0, ml(250.0)).value(), 59.913, 1e-3),
        ("FN-04", shellac_flakes(3.0, ml(pint)).value(), 170.097, 1e-3),
        ("FN-05", shellac_flakes(1.0, ml(500.0)).value(), 59.913, 1e-3),
        ("FN-07", thinning_alcohol(ml(100.0), 3.0, 1.0).to_ml(), 200.0, 1e-9),
        (
            "a mil of solids",
            coverage_from_film(Share::WHOLE, Length::inches(0.001)),
            square_feet_per_gallon(1604.17),
            1e-3,
        ),
    ];
    for (row, got, want, within) in cases {
        assert!((got - want).abs() <= within, "{row}: {got} instead of {want}");
    }
    assert!(thinning_alcohol(ml(100.0), 1.0, 2.0).to_ml().abs() < 1e-12);
}

#[test]
fn the_cautions_that_belong_to_the_product() {
    let oil = Coat { kind: FinishKind::OilAndWax, coats: 3 };
    let shellac = Coat { kind: FinishKind::Shellac, coats: 2 };
    let got = plan(&box_finish(oil, shellac), &["bottom".into()]);
    assert_eq!(codes(&got), ["oily-rags", "alcohol-vapor", "finish-glues-panel", "claims-to-buyers"]);
    let names: Vec<&str> = got.value.coats.iter().map(|c| c.product.id.as_str()).collect();
    assert_eq!(names, ["shellac", "oil", "wax"]);
    // 0.0768 m² twice at 10 m²/L is 15.36 mL of alcohol; a two-pound cut takes 239.65 g/L of flakes: 3.681 g.
    let mix = got.value.shellac.unwrap();
    assert!((mix.flakes.value() - 3.681).abs() < 1e-3);
    assert!(plan(&box_finish(oil, oil), &[]).cautions.iter().any(|c| c.code == "smell-shut-in"));
    assert!(plan(&box_finish(BARE, BARE), &["bottom".into()]).cautions.is_empty());
}

/// The rag caution says what can happen, what reduces it, and defers.
#[test]
fn rags_are_worded_with_care() {
    let oil = Coat { kind: FinishKind::Oil, coats: 2 };
    let got = plan(&box_finish(oil, oil), &[]);
    let rags = got.cautions.iter().find(|c| c.code == "oily-rags").unwrap();
    for word in ["never pile", "flat outdoors", "metal can", "water and detergent", "come first"] {
        assert!(rags.says.contains(word), "{word}: {}", rags.says);
    }
}

#[test]
fn the_table_is_whole() {
    let rows = products();
    assert_eq!(rows.len(), 5);
    assert!(rows.windows(2).all(|w| w[0].id < w[1].id));
    for p in rows {
        assert!((7.0..=25.0).contains(&p.coverage), "{}", p.id);
        assert!(p.usual_coats > 0 && p.wait <= p.cure, "{}", p.id);
        assert!(super::super::sanding::grit(p.grit).is_some(), "{}", p.id);
    }
}
