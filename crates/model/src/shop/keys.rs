//! Key stock: how much strip the keys of a batch need, and how keys are cut, fitted and trimmed.

use super::say::{self, caution, reason};
use super::settings::{Settings, Share};
use crate::caution::{Caution, Checked, Weight};
use crate::parts::{BoxParts, Part, Role};
use crate::reason::{Basis, Reason, Value};
use crate::saw::key_strip::{PROUD, from_one_strip, grown, strip_length};
use crate::units::Length;

/// Strips of one wood and size, and the keys cut from them.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyStock {
    /// Species id.
    pub wood: String,
    /// Keys in one box.
    pub per_box: u32,
    /// Keys for the batch.
    pub needed: u32,
    /// Made beyond those.
    pub spare: u32,
    /// Strip thickness: the slot's width.
    pub thickness: Length,
    /// Strip width: the key's height, with what stands proud to be trimmed.
    pub width: Length,
    /// Long edge of a key, along the grain of the strip.
    pub long_edge: Length,
    /// Strip for all of them, head to tail, kerfs and a first waste triangle in it.
    pub strip_length: Length,
    /// How the numbers came about.
    pub reasons: Vec<Reason>,
}

/// How keys are cut, fitted and trimmed, one sentence each.
///
/// # Source
/// Common practice; trimming toward the corner is a published cause of torn keys.
pub const WAY: [&str; 4] = [
    "Plane the strip to the slot's width, not to its nominal size: a key slides in by finger push and swells with the glue.",
    "Grain runs along the key's long edge, across the corner; a key with grain the other way adds almost no strength.",
    "Cut head to tail from one strip and turn it over for each; fit and glue one at a time.",
    "When the glue is hard, trim from the corner's arris inward over the face; toward the arris the plane lifts the key's \
     end and tears it out below the surface.",
];

/// The key stock of a batch of so many boxes, one entry for each wood and size.
pub fn key_stocks(parts: &BoxParts, boxes: u32, kerf: Length, settings: &Settings) -> Checked<Vec<KeyStock>> {
    let mut kinds: Vec<(&Part, u32)> = Vec::new();
    for key in parts.parts.iter().filter(|p| p.role == Role::Key) {
        match kinds.iter_mut().find(|(k, _)| from_one_strip(k, key)) {
            Some((_, count)) => *count += 1,
            None => kinds.push((key, 1)),
        }
    }
    let value: Vec<KeyStock> =
        kinds.into_iter().map(|(key, count)| stock(key, count, boxes, (kerf, settings.spare_keys))).collect();
    let cautions = value.iter().filter_map(short_pieces).collect();
    Checked { value, cautions }
}

fn stock(key: &Part, per_box: u32, boxes: u32, (kerf, spares): (Length, Share)) -> KeyStock {
    let [_, height, thickness] = key.size;
    let (width, long_edge) = grown(key.size);
    let needed = per_box.saturating_mul(boxes);
    let spare = share_of(needed, spares);
    let total = needed.saturating_add(spare);
    let strip = strip_length(total, width, long_edge, kerf);
    let reasons = vec![
        reason(
            "keys.count",
            "keys for the batch",
            "keys in a box × boxes, and spares",
            [
                ("in a box", Value::Count(per_box.into())),
                ("boxes", Value::Count(boxes.into())),
                ("needed", Value::Count(needed.into())),
                ("spare", Value::Count(spare.into())),
            ],
            (
                Value::Count(total.into()),
                Basis::Derived("counted from the parts; spares are common practice"),
            ),
        ),
        reason(
            "keys.width",
            "width of the key strip",
            "key height + proud / sin(half the corner)",
            [("key height", Value::Length(height)), ("proud of each face", Value::Length(PROUD))],
            (Value::Length(width), Basis::Derived("the triangle grown outward, trimmed flush later")),
        ),
        reason(
            "keys.strip",
            "length of the key strip",
            "(keys + 1) × (half the long edge + kerf along the strip)",
            [
                ("keys", Value::Count(total.into())),
                ("long edge", Value::Length(long_edge)),
                ("kerf", Value::Length(kerf)),
            ],
            (Value::Length(strip), Basis::Derived("triangles head to tail; an upper bound")),
        ),
    ];
    KeyStock {
        wood: key.wood.clone(),
        per_box,
        needed,
        spare,
        thickness,
        width,
        long_edge,
        strip_length: strip,
        reasons,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small share of a u32, not below zero"
)]
fn share_of(count: u32, share: Share) -> u32 {
    (f64::from(count) * share.value().max(0.0)).ceil() as u32
}

fn short_pieces(stock: &KeyStock) -> Option<Caution> {
    (stock.needed > 0).then(|| {
        caution(
            ("keys-are-small-parts", Weight::WorthKnowing),
            "keys",
            format!(
                "Keys {:.0} mm long are far under the 300 mm below which a push stick is asked for; a small triangle can be \
                 caught and thrown. Cut them with a fine hand saw, or at a stop in a sled with the strip clamped. {}",
                stock.long_edge.to_mm(),
                say::FIRST
            ),
            [("long edge", Value::Length(stock.long_edge))],
            (Basis::Published("HSE WIS16: push stick for any cut under 300 mm"), None),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::super::scene::keyed_box;
    use super::*;

    /// Row KY-12: 24 right-angled keys from a strip 16 mm wide, kerf 2.4 mm: 484.853 mm.
    #[test]
    fn strip_for_twenty_four_keys() {
        let got = strip_length(24, Length::mm(16.0), Length::mm(32.0), Length::mm(2.4)).to_mm();
        assert!((got - 484.853).abs() < 1e-3, "KY-12: {got}");
    }

    /// A hexagon's key by hand (row KY-08: d = 8, long edge 27.7128): half 13.8564, slope √(13.8564² + 8²) = 16,
    /// kerf 1 mm takes 16 / 8 = 2 mm, so 11 × 15.8564 = 174.4204 mm for ten.
    #[test]
    fn strip_for_a_hexagon() {
        let got = strip_length(10, Length::mm(8.0), Length::mm(27.7128), Length::mm(1.0)).to_mm();
        assert!((got - 174.4204).abs() < 1e-3, "{got}");
        assert!(strip_length(3, Length::ZERO, Length::ZERO, Length::mm(1.0)).to_mm().abs() < 1e-12);
    }

    /// Row KY-13: twelve boxes with three keys in each of four corners: 144 keys (and 48 walls).
    #[test]
    fn a_batch_of_twelve() {
        let parts = keyed_box(3);
        let got = key_stocks(&parts, 12, Length::mm(2.4), &Settings::usual());
        let walls = parts.parts.iter().filter(|p| p.role == Role::Wall).count();
        assert_eq!((got.value[0].needed, walls * 12), (144, 48));
        assert_eq!((got.value.len(), got.value[0].per_box, got.value[0].spare), (1, 12, 15));
        // 8 mm high, 1.5 mm proud of two square faces: 8 + 1.5 × √2 = 10.1213 mm; the long edge is twice that.
        assert!((got.value[0].width.to_mm() - 10.1213).abs() < 1e-4);
        assert!((got.value[0].long_edge.to_mm() - 20.2426).abs() < 1e-4);
        assert_eq!(got.cautions.len(), 1);
        assert!(key_stocks(&keyed_box(0), 12, Length::mm(2.4), &Settings::usual()).value.is_empty());
    }
}
