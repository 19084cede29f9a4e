//! What to know before the rag is wet.

use super::super::say::{self, caution, number};
use super::product::Rags;
use super::{Coats, Finishing, Side};
use crate::caution::{Caution, Change, Weight};
use crate::design::FinishKind;
use crate::reason::{Basis, Value};

pub(super) fn cautions(finishing: &Finishing<'_>, coats: &[Coats]) -> Vec<Caution> {
    let mut out = Vec::new();
    if coats.iter().any(|c| c.product.rags == Rags::Ignite) {
        out.push(rags());
    }
    if coats.iter().any(|c| c.product.rags == Rags::Solvent) {
        out.push(alcohol());
    }
    out.extend(coats.iter().filter(|c| c.side == Side::Inside && c.product.smells).map(smell));
    if !coats.is_empty() {
        out.extend(finishing.floating.iter().map(|panel| glued_by_finish(panel)));
        out.push(claims());
    }
    out.extend(one_side_bare(finishing));
    out
}

fn rags() -> Caution {
    caution(
        ("oily-rags", Weight::WorthKnowing),
        "finish, every coat",
        format!(
            "Rags, paper, steel wool and sanding dust wet with drying oil, oil varnish or some waxes heat by themselves and can burst \
             into flame within hours; about 1600 home fires a year in the United States begin so. NFPA: never pile them; \
             dry them flat outdoors, weighed down, away from buildings, then put them in a metal can with a tight lid, filled \
             with water and detergent. {}",
            say::FIRST
        ),
        [("home fires a year", Value::Count(1600))],
        (
            Basis::Published("NFPA, oily rags safety sheet and 2017 count of fires by spontaneous heating"),
            None,
        ),
    )
}

fn alcohol() -> Caution {
    caution(
        ("alcohol-vapor", Weight::WorthKnowing),
        "shellac, every coat",
        format!(
            "Alcohol's vapor catches fire: ethanol's flash point is 13 °C (55 °F), below a warm shop. Air the room; no flame, \
             heater or sparking switch near. Fuel sold as denatured may be largely methanol, poisonous through skin and lungs. {}",
            say::FIRST
        ),
        [("flash point", number(13.0, 0, "°C")), ("NIOSH limit in air", number(1000.0, 0, "ppm"))],
        (Basis::Published("NIOSH Pocket Guide to Chemical Hazards, ethyl alcohol"), None),
    )
}

fn smell(coats: &Coats) -> Caution {
    caution(
        ("smell-shut-in", Weight::LikelyToFail),
        "inside",
        format!(
            "{} inside a closed box smells for weeks and can mark what lies in it; it needs {:.0} days open before the lid is shut.",
            capital(&coats.product.name),
            coats.product.cure.to_hours() / 24.0
        ),
        [("cure", Value::Minutes(coats.product.cure))],
        (
            Basis::CommonPractice,
            Some(Change::set("Shellac the inside, or leave it bare", "finish.inside", "\"shellac\"")),
        ),
    )
}

fn glued_by_finish(panel: &str) -> Caution {
    caution(
        ("finish-glues-panel", Weight::WorthKnowing),
        panel,
        format!(
            "Finish that runs in round the {panel} glues it fast, and a held panel splits or opens the frame. Finish its edges before it \
             goes in, wax the groove or ledge that takes it, and move it a little before each coat is dry."
        ),
        [],
        (Basis::CommonPractice, None),
    )
}

fn claims() -> Caution {
    caution(
        ("claims-to-buyers", Weight::WorthKnowing),
        "finish, when selling",
        format!(
            "No finish is \"FDA approved\", and nut oils can harm the allergic: make no food claim. A box meant mainly for children of 12 or \
             under falls under lead limits in the United States (90 ppm in a coating, 100 ppm in the rest) and toy rules elsewhere: \
             ask before selling one as that. {}",
            say::FIRST
        ),
        [("lead in a coating", number(90.0, 0, "ppm"))],
        (Basis::Published("CPSC business guidance on children's products"), None),
    )
}

fn one_side_bare(finishing: &Finishing<'_>) -> Option<Caution> {
    let (f, none) = (finishing.finish, FinishKind::None);
    (f.inside.kind == none && f.outside.kind != none).then(|| {
        caution(
            ("one-side-finished", Weight::WorthKnowing),
            "lid and walls",
            "Finished on one face only, a lid takes up and gives off moisture faster on the bare one and cups for a while at \
             every change of weather.",
            [("coats outside", Value::Count(f.outside.coats.into()))],
            (
                Basis::CommonPractice,
                Some(Change::set("Shellac the inside too", "finish.inside", "\"shellac\"")),
            ),
        )
    })
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
