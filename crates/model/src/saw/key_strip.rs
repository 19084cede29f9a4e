//! The strip that keys are cut from, head to tail.

use crate::parts::{BoxParts, Origin, Part, Role};
use crate::units::Length;

/// How far a key stands out of both faces before it is trimmed flush.
///
/// # Source
/// Common practice: a sixteenth of an inch or so.
pub const PROUD: Length = Length::mm(1.5);

/// Width of the strip and long edge of the keys cut from it, for a key of this finished size: the triangle grows
/// about its long edge, and its apex moves out by proud / sin(half the corner).
pub fn grown([long, height, _]: [Length; 3]) -> (Length, Length) {
    let half_corner = (long.to_mm() / 2.0).atan2(height.to_mm());
    let width = height + PROUD / half_corner.sin().max(0.1);
    (width, width * (2.0 * half_corner.tan()))
}

/// Strip length for triangles cut head to tail, an upper bound: (keys + 1) × (half the long edge + the kerf
/// measured along the strip). `width` is the triangle's height.
///
/// # Source
/// Derived; for a right-angled key half its long edge is its height and the kerf takes √2 times its width.
pub fn strip_length(keys: u32, width: Length, long_edge: Length, kerf: Length) -> Length {
    let half = long_edge.to_mm() / 2.0;
    let slope = half.hypot(width.to_mm());
    let along = if width.to_mm() > 0.0 { kerf.to_mm() * slope / width.to_mm() } else { 0.0 };
    Length::mm((f64::from(keys) + 1.0) * (half + along))
}

/// Whether two keys are cut from the same strip.
pub fn from_one_strip(a: &Part, b: &Part) -> bool {
    a.wood == b.wood && a.size.iter().zip(b.size).all(|(a, b)| a.same(b))
}

/// Length of the strip that this part is cut from with its like, without spares; `None` where it is no key.
pub(super) fn of(parts: &BoxParts, part: &Part, boxes: u32, kerf: Length) -> Option<Length> {
    if part.role != Role::Key || part.origin != Origin::KeyStrip {
        return None;
    }
    let alike = parts.parts.iter().filter(|p| p.role == Role::Key && from_one_strip(p, part)).count();
    let keys = u32::try_from(alike).unwrap_or(u32::MAX).saturating_mul(boxes);
    let (width, long_edge) = grown(part.size);
    Some(strip_length(keys, width, long_edge, kerf))
}
