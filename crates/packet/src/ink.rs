//! The colors of paper and screen: ink, rules, the three cautions. White paper is never tinted in print.

use keepwright_model::caution::Weight;

/// A color in sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Color {
    /// Red, 0 to 255.
    pub red: u8,
    /// Green, 0 to 255.
    pub green: u8,
    /// Blue, 0 to 255.
    pub blue: u8,
}

/// Near-black ink of text and visible edges.
pub const INK: Color = Color::rgb(0x24, 0x1a, 0x12);
/// Softer ink of captions, units and dimension lines.
pub const SOFT: Color = Color::rgb(0x5d, 0x4f, 0x40);
/// Hairline rules between rows.
pub const RULE: Color = Color::rgb(0xd9, 0xcc, 0xb8);
/// The caution "cannot be made or not safely".
pub const CANNOT: Color = Color::rgb(0x8d, 0x1f, 0x12);
/// The caution "likely to fail".
pub const LIKELY: Color = Color::rgb(0x8a, 0x53, 0x00);
/// The caution "worth knowing".
pub const WORTH: Color = Color::rgb(0x35, 0x56, 0x6b);
/// Work that is done.
pub const DONE: Color = Color::rgb(0x2f, 0x5d, 0x3a);
/// White paper.
pub const PAPER: Color = Color::rgb(0xff, 0xff, 0xff);

impl Color {
    /// A color from its three parts.
    pub const fn rgb(red: u8, green: u8, blue: u8) -> Self {
        Self { red, green, blue }
    }

    /// The color as `#rrggbb`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }

    /// The color mixed with white: `share` 1 leaves it, 0 gives white.
    #[must_use]
    pub fn tint(self, share: f64) -> Self {
        Self::rgb(mix(self.red, share), mix(self.green, share), mix(self.blue, share))
    }
}

/// One part of a color mixed with white.
fn mix(part: u8, share: f64) -> u8 {
    let value = 255.0 - (255.0 - f64::from(part)) * share.clamp(0.0, 1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=255")]
    let part = value.round().clamp(0.0, 255.0) as u8;
    part
}

/// The color of a caution's bar and word.
pub const fn of_weight(weight: Weight) -> Color {
    match weight {
        Weight::WorthKnowing => WORTH,
        Weight::LikelyToFail => LIKELY,
        Weight::Cannot => CANNOT,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance by WCAG 2.2's definition.
    fn luminance(color: Color) -> f64 {
        let part = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(color.red) + 0.7152 * part(color.green) + 0.0722 * part(color.blue)
    }

    #[test]
    fn text_colors_reach_contrast_of_wcag_aa_on_paper_and_on_their_tint() {
        // WCAG 2.2, success criterion 1.4.3: at least 4.5 : 1.
        for color in [INK, SOFT, CANNOT, LIKELY, WORTH, DONE] {
            for ground in [PAPER, color.tint(0.08)] {
                let ratio = (luminance(ground) + 0.05) / (luminance(color) + 0.05);
                assert!(ratio >= 4.5, "{} on {}: {ratio:.2}", color.hex(), ground.hex());
            }
        }
    }
}
