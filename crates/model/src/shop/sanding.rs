//! Sanding: grades, steps, what each takes off, minutes, and what is done before glue-up.

use super::say::{self, caution, number, reason};
use crate::caution::{Caution, Change, Checked, Weight};
use crate::design::FinishKind;
use crate::reason::{Reason, Value};
use crate::units::{Area, Length, Minutes};
use serde::Deserialize;
use std::sync::OnceLock;

/// The largest ratio of successive grain sizes that is called one step.
///
/// # Source
/// Common practice: do not skip more than one grade; the ratio P80 to P120 is 1.608.
pub const STEP: f64 = 1.61;

/// A grade of coated abrasive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grit {
    /// FEPA P grade.
    pub p: u32,
    /// Average grain size.
    pub size: Length,
    /// Wood that a careful pass takes off a face.
    pub removes: Length,
    /// Hands-on time for a square meter.
    pub per_m2: Minutes,
}

#[derive(Deserialize)]
struct Row {
    p: u32,
    um: f64,
    removes_mm: f64,
    min_per_m2: f64,
}

#[derive(Default, Deserialize)]
struct Table {
    grit: Vec<Row>,
}

/// The grades, coarse to fine.
///
/// # Source
/// Sizes: FEPA 43 / ISO 6344 as reprinted in trade tables. Removal and minutes: common practice.
pub fn grits() -> &'static [Grit] {
    static ROWS: OnceLock<Vec<Grit>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../data/abrasives.toml")).unwrap_or_default();
        let row = |r: Row| Grit {
            p: r.p,
            size: Length::mm(r.um / 1000.0),
            removes: Length::mm(r.removes_mm),
            per_m2: Minutes::minutes(r.min_per_m2),
        };
        table.grit.into_iter().map(row).collect()
    })
}

/// The grade with this P number.
pub fn grit(p: u32) -> Option<&'static Grit> {
    grits().iter().find(|g| g.p == p)
}

/// The usual sequence before a finish: to P220 under a film, to P320 under oil, wax and shellac.
///
/// # Source
/// Common practice.
pub const fn usual_sequence(finish: FinishKind) -> &'static [u32] {
    match finish {
        FinishKind::None | FinishKind::WipingVarnish | FinishKind::WaterBorne => &[120, 150, 180, 220],
        FinishKind::Oil | FinishKind::Wax | FinishKind::OilAndWax | FinishKind::Shellac => {
            &[120, 150, 180, 220, 320]
        }
    }
}

/// When a face is sanded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// Before glue-up: insides, panels, edges that cannot be reached later.
    BeforeGlueUp,
    /// After glue-up, keys and joints flushed.
    AfterGlueUp,
}

/// Faces that are sanded alike.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceGroup {
    /// Such as "inside of the walls".
    pub name: String,
    /// Their area in one box.
    pub area: Area,
    /// How many faces they are.
    pub faces: u32,
    /// When.
    pub when: When,
    /// What the blanks leave for sanding, off each face.
    pub allowance: Length,
    /// Grades, coarse to fine.
    pub sequence: Vec<u32>,
}

/// One pass over one group of faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Pass {
    /// The grade.
    pub p: u32,
    /// Grain size of the grade before over this one's; none for the first.
    pub step: Option<f64>,
    /// Taken off.
    pub removes: Length,
    /// Hands-on time.
    pub minutes: Minutes,
}

/// A group of faces and its passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Sanding {
    /// The faces.
    pub faces: FaceGroup,
    /// The passes.
    pub passes: Vec<Pass>,
    /// Taken off in all.
    pub removes: Length,
    /// Hands-on time in all.
    pub minutes: Minutes,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// The faces of a closed box by its outside and inside size: insides before glue-up, outsides after.
///
/// # Source
/// Six rectangles outside; inside four walls, bottom and lid. Frames, trays and splay make it a little more.
pub fn faces_of(
    outside: [Length; 3],
    inside: [Length; 3],
    allowance: Length,
    finishes: (FinishKind, FinishKind),
) -> Vec<FaceGroup> {
    let six = |[l, w, h]: [Length; 3]| (l * w + l * h + w * h) * 2.0;
    let group = |name: &str, area, when, finish| FaceGroup {
        name: name.into(),
        area,
        faces: 6,
        when,
        allowance,
        sequence: usual_sequence(finish).to_vec(),
    };
    vec![
        group("inside faces", six(inside), When::BeforeGlueUp, finishes.1),
        group("outside faces", six(outside), When::AfterGlueUp, finishes.0),
    ]
}

/// The passes over each group of faces: their grades, steps, removal and time.
pub fn sanding(groups: &[FaceGroup]) -> Checked<Vec<Sanding>> {
    let mut cautions = Vec::new();
    let value: Vec<Sanding> = groups.iter().map(|g| of_group(g, &mut cautions)).collect();
    if !value.is_empty() {
        cautions.push(dust());
    }
    Checked { value, cautions }
}

fn of_group(group: &FaceGroup, cautions: &mut Vec<Caution>) -> Sanding {
    let mut passes: Vec<Pass> = Vec::with_capacity(group.sequence.len());
    let mut before: Option<&Grit> = None;
    for p in &group.sequence {
        let Some(grit) = grit(*p) else {
            cautions.push(unknown(group, *p));
            continue;
        };
        let step = before.map(|b| b.size.to_mm() / grit.size.to_mm());
        if let (Some(b), Some(step)) = (before, step)
            && !(1.0..=STEP).contains(&step)
        {
            cautions.push(long_step(group, (b, grit), step));
        }
        passes.push(Pass { p: *p, step, removes: grit.removes, minutes: grit.per_m2 * group.area.to_m2() });
        before = Some(grit);
    }
    let removes: Length = passes.iter().map(|p| p.removes).sum();
    let minutes: Minutes = passes.iter().map(|p| p.minutes).sum();
    if removes > group.allowance {
        cautions.push(more_than_left(group, removes));
    }
    let reasons = vec![
        reason(
            format!("sanding.{}.removes", group.name.replace(' ', "-")),
            "taken off each face",
            "sum over the grades",
            [("grades", Value::Count(passes.len() as u64)), ("allowance", Value::Length(group.allowance))],
            (Value::Length(removes), say::basis("")),
        ),
        reason(
            format!("sanding.{}.minutes", group.name.replace(' ', "-")),
            "sanding time",
            "area × minutes for a square meter, summed over the grades",
            [("area", Value::Area(group.area))],
            (Value::Minutes(minutes), say::basis("")),
        ),
    ];
    Sanding { faces: group.clone(), passes, removes, minutes, reasons }
}

fn unknown(group: &FaceGroup, p: u32) -> Caution {
    caution(
        ("grit-not-known", Weight::WorthKnowing),
        group.name.clone(),
        format!("P{p} is not in the table of grades and is left out of the times."),
        [("grade", Value::Count(p.into()))],
        (say::basis("fepa"), Some(Change::words("Name one of P80 to P600"))),
    )
}

/// Longer steps are reported, never forbidden: many makers take them.
fn long_step(group: &FaceGroup, (from, to): (&Grit, &Grit), step: f64) -> Caution {
    let (code, says) = if step < 1.0 {
        ("grit-step-back", format!("P{} after P{} scratches again what was smooth.", to.p, from.p))
    } else {
        (
            "grit-step-long",
            format!(
                "From P{} to P{} the grain shrinks {step:.2} times; steps up to about 1.6 are usual. The finer paper then works long \
                 to clear the coarser scratches: look at it in raking light.",
                from.p, to.p
            ),
        )
    };
    let between = grits().iter().find(|g| g.p > from.p && g.p < to.p);
    caution(
        (code, Weight::WorthKnowing),
        group.name.clone(),
        says,
        [("ratio", number(step, 2, ""))],
        (say::basis(""), between.map(|g| Change::words(format!("Put P{} between", g.p)))),
    )
}

fn more_than_left(group: &FaceGroup, removes: Length) -> Caution {
    caution(
        ("sanding-allowance", Weight::WorthKnowing),
        group.name.clone(),
        format!(
            "The grades take about {:.2} mm off each face; the blanks leave {:.2} mm. The part ends thinner by the difference.",
            removes.to_mm(),
            group.allowance.to_mm()
        ),
        [("takes", Value::Length(removes)), ("left for it", Value::Length(group.allowance))],
        (
            say::basis(""),
            Some(Change::words("Leave more for sanding in the shop file, or begin with a finer grade")),
        ),
    )
}

fn dust() -> Caution {
    caution(
        ("sanding-dust", Weight::WorthKnowing),
        "sanding",
        format!(
            "Wood dust is carcinogenic to humans (IARC Group 1); NIOSH recommends at most 1 mg/m³. Extract at the source and \
             wear a mask rated for fine dust. {}",
            say::FIRST
        ),
        [("NIOSH limit", number(1.0, 0, "mg/m³"))],
        (crate::reason::Basis::Published("IARC Monographs 62 (1995) and 100C (2012); NIOSH"), None),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows GR-01 … GR-13: FEPA / ISO 6344 as reprinted.
    #[test]
    fn grades() {
        let want = [
            (80, 201.0),
            (100, 162.0),
            (120, 125.0),
            (150, 100.0),
            (180, 82.0),
            (220, 68.0),
            (240, 58.5),
            (280, 52.2),
            (320, 46.2),
            (360, 40.5),
            (400, 35.0),
            (500, 30.2),
            (600, 25.8),
        ];
        assert_eq!(grits().len(), want.len());
        for (p, um) in want {
            assert!((grit(p).unwrap().size.to_mm() * 1000.0 - um).abs() < 1e-9, "P{p}");
        }
        assert!(grits().windows(2).all(|w| w[0].p < w[1].p && w[0].size > w[1].size));
    }

    fn group(sequence: &[u32]) -> FaceGroup {
        FaceGroup {
            name: "lid".into(),
            area: Area::mm2(1e6),
            faces: 1,
            when: When::AfterGlueUp,
            allowance: Length::mm(0.3),
            sequence: sequence.to_vec(),
        }
    }

    /// Rows GR-14, GR-16, GR-17, GR-18.
    #[test]
    fn steps_are_reported_and_never_forbidden() {
        for (row, from, to, want, long) in [
            ("GR-14", 80, 120, 1.6080, false),
            ("GR-16", 80, 220, 2.9559, true),
            ("GR-17", 150, 240, 1.7094, true),
            ("GR-18", 220, 320, 1.4719, false),
        ] {
            let got = sanding(&[group(&[from, to])]);
            let step = got.value[0].passes[1].step.unwrap();
            assert!((step - want).abs() < 1e-4, "{row}: {step}");
            let said = got.cautions.iter().any(|c| c.code == "grit-step-long");
            assert_eq!(said, long, "{row}");
            assert!(got.cautions.iter().all(|c| c.weight == Weight::WorthKnowing));
        }
        assert!(sanding(&[group(&[180, 120])]).cautions.iter().any(|c| c.code == "grit-step-back"));
        assert!(sanding(&[group(&[77])]).cautions.iter().any(|c| c.code == "grit-not-known"));
    }

    /// By hand from the table: P120 to P220 take 0.10 + 0.06 + 0.04 + 0.03 = 0.23 mm and 175 minutes for a square meter.
    #[test]
    fn removal_and_time() {
        let got = &sanding(&[group(usual_sequence(FinishKind::WaterBorne))]);
        assert!((got.value[0].removes.to_mm() - 0.23).abs() < 1e-12);
        assert!((got.value[0].minutes.value() - 175.0).abs() < 1e-9);
        assert!(got.cautions.iter().all(|c| c.code == "sanding-dust"), "usual sequences keep the step rule");
        let mut thin = group(&[80, 120]);
        thin.allowance = Length::mm(0.2);
        assert!(sanding(&[thin]).cautions.iter().any(|c| c.code == "sanding-allowance"));
    }

    /// Row FN-08's area: 200 × 120 × 75 mm, six faces: 0.0960 m².
    #[test]
    fn six_faces() {
        let size = [200.0, 120.0, 75.0].map(Length::mm);
        let groups = faces_of(size, size, Length::mm(0.3), (FinishKind::Oil, FinishKind::Shellac));
        assert!((groups[1].area.to_m2() - 0.0960).abs() < 1e-9);
        assert_eq!((groups[0].when, groups[1].when), (When::BeforeGlueUp, When::AfterGlueUp));
    }
}
