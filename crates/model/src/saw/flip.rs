//! Turning the second of a pair: which error it cancels, and which it leaves.

use super::setup::{Flip, Purpose};

/// The advice for a purpose, where there is any.
pub(super) const fn of(purpose: Purpose) -> Option<Flip> {
    match purpose {
        Purpose::BladeMiter | Purpose::MiterFromStrip => Some(Flip {
            says: "Cut both of a pair off one stop. For the second end turn the part end for end, same face up, so \
                   that its other edge meets the gauge.",
            cancels: "A stop set slightly off makes both of a pair equally long, so the ring still closes. A gauge \
                      not quite square leans both ends the same way, so the corners stay closed and only slip \
                      along the miter; an error of the tilt is not canceled, it doubles at each corner.",
        }),
        Purpose::GaugeMiter => Some(Flip {
            says: "Cut both of a pair off one stop. For the second end flip the part over, same edge on the gauge.",
            cancels: "A blade not quite upright bevels the two ends oppositely, and the bevels meet flush in the \
                      corner; an error of the gauge is not canceled, it doubles at each corner.",
        }),
        Purpose::CompoundMiter => Some(Flip {
            says: "Cut both of a pair off one stop. The second end needs the gauge swung to the other side of \
                   square.",
            cancels: "A stop set slightly off makes both of a pair equally long; errors of tilt and gauge are not \
                      canceled.",
        }),
        Purpose::Crosscut => Some(Flip {
            says: "Cut both of a pair off one stop. For the second end turn the part end for end, same face up.",
            cancels: "A gauge not quite square makes the ends parallel instead of tapered; a stop set slightly off \
                      makes both of a pair equally long.",
        }),
        Purpose::KeySlot => Some(Flip {
            says: "Cut the first row of keys, then turn the box end for end against the same stop for the mirrored \
                   row.",
            cancels: "A stop set slightly off moves both rows alike, so the pattern stays symmetric about \
                      mid-height.",
        }),
        Purpose::Finger => Some(Flip {
            says: "Start both mates from the same edge, the second one finger width over.",
            cancels: "The error of the pitch adds up alike in both, so the fingers still meet; the last finger \
                      takes the sum.",
        }),
        Purpose::Groove | Purpose::Rabbet => Some(Flip {
            says: "Keep the same edge on the guide for every part.",
            cancels: "A fence set slightly off moves the groove alike in all walls, so the panel still lies flat.",
        }),
        Purpose::HalfLap => Some(Flip {
            says: "Gang all like pieces and slot them in one pass; slot the crossing pieces off the same stop.",
            cancels: "A stop set slightly off moves every slot alike, so the grid stays square.",
        }),
        _ => None,
    }
}
