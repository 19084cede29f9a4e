//! The four embedded faces and how wide their letters run. No font of the machine is ever used.

use std::sync::OnceLock;

use skrifa::MetadataProvider as _;
use skrifa::instance::{LocationRef, Size};

/// A face that is embedded in the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Atkinson Hyperlegible Regular: everything read at arm's length.
    Plain,
    /// Atkinson Hyperlegible Bold.
    Bold,
    /// Source Serif 4 Regular: sentences.
    Book,
    /// Source Serif 4 Semibold: titles, and numbers in sentences.
    BookBold,
}

/// All faces, in the order of [`Face`].
pub const ALL: [Face; 4] = [Face::Plain, Face::Bold, Face::Book, Face::BookBold];

impl Face {
    /// The font file.
    pub const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Plain => {
                include_bytes!("../assets/fonts/atkinson-hyperlegible/AtkinsonHyperlegible_400Regular.ttf")
            }
            Self::Bold => {
                include_bytes!("../assets/fonts/atkinson-hyperlegible/AtkinsonHyperlegible_700Bold.ttf")
            }
            Self::Book => include_bytes!("../assets/fonts/source-serif-4/SourceSerif4_400Regular.ttf"),
            Self::BookBold => include_bytes!("../assets/fonts/source-serif-4/SourceSerif4_600SemiBold.ttf"),
        }
    }

    /// The family's name.
    pub const fn family(self) -> &'static str {
        match self {
            Self::Plain | Self::Bold => "Atkinson Hyperlegible",
            Self::Book | Self::BookBold => "Source Serif 4",
        }
    }

    /// The weight as style sheets count it.
    pub const fn weight(self) -> u16 {
        match self {
            Self::Plain | Self::Book => 400,
            Self::Bold => 700,
            Self::BookBold => 600,
        }
    }

    /// The face that stands in where this one lacks a sign (arrows, primes, eighths).
    #[must_use]
    pub const fn stand_in(self) -> Self {
        match self {
            Self::Plain | Self::Book => Self::Book,
            Self::Bold | Self::BookBold => Self::BookBold,
        }
    }

    /// The heavier face of the same family.
    #[must_use]
    pub const fn bold(self) -> Self {
        match self {
            Self::Plain | Self::Bold => Self::Bold,
            Self::Book | Self::BookBold => Self::BookBold,
        }
    }

    /// Width of `text` set at size 1, without kerning (within about one percent of the set line).
    pub fn advance(self, text: &str) -> f64 {
        let own = widths(self);
        let other = widths(self.stand_in());
        text.chars().map(|c| own.of(c).or_else(|| other.of(c)).unwrap_or(0.6)).sum()
    }

    /// Whether this face or its stand-in can draw the sign.
    pub fn draws(self, sign: char) -> bool {
        widths(self).of(sign).is_some() || widths(self.stand_in()).of(sign).is_some()
    }
}

/// Height of a capital at size 1, near enough for both families.
pub const CAPITAL: f64 = 0.67;
/// Depth of a descender at size 1, near enough for both families.
pub const DESCENT: f64 = 0.24;

/// Advance widths of one face at size 1.
struct Widths {
    /// Sorted by sign.
    rows: Vec<(char, f64)>,
}

impl Widths {
    fn of(&self, sign: char) -> Option<f64> {
        let at = self.rows.binary_search_by_key(&sign, |row| row.0).ok()?;
        self.rows.get(at).map(|row| row.1)
    }

    fn read(face: Face) -> Self {
        let mut rows = Vec::new();
        if let Ok(font) = skrifa::FontRef::new(face.bytes()) {
            let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
            let em = f64::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em.max(1));
            for (code, glyph) in font.charmap().mappings() {
                if let (Some(sign), Some(width)) = (char::from_u32(code), metrics.advance_width(glyph)) {
                    rows.push((sign, f64::from(width) / em));
                }
            }
        }
        rows.sort_by_key(|row| row.0);
        rows.dedup_by_key(|row| row.0);
        Self { rows }
    }
}

fn widths(face: Face) -> &'static Widths {
    static TABLES: [OnceLock<Widths>; 4] = [const { OnceLock::new() }; 4];
    let [plain, bold, book, book_bold] = &TABLES;
    let cell = match face {
        Face::Plain => plain,
        Face::Bold => bold,
        Face::Book => book,
        Face::BookBold => book_bold,
    };
    cell.get_or_init(|| Widths::read(face))
}

#[cfg(test)]
mod tests {
    use super::*;
    use sha2::Digest as _;

    #[test]
    fn files_are_as_their_origin_says() {
        let origin = include_str!("../assets/fonts/ORIGIN");
        let rows: Vec<Vec<&str>> = origin
            .lines()
            .map(|line| line.split('\t').collect())
            .filter(|row: &Vec<_>| row.len() == 5)
            .collect();
        assert_eq!(rows.len(), ALL.len());
        for face in ALL {
            let sum = sha2::Sha256::digest(face.bytes())
                .iter()
                .fold(String::new(), |text, byte| format!("{text}{byte:02x}"));
            assert!(rows.iter().any(|row| row.last() == Some(&sum.as_str())), "{face:?}: {sum}");
        }
    }

    #[test]
    fn every_sign_of_the_trade_can_be_drawn() {
        for face in ALL {
            for sign in "0123456789AZaz−×°½¼¾⅛⅜⅝⅞″′±≤≥→←↑↓√·–—“”‘’éüñßŁőœ…⁄≈²³µ§•☐✓€£α".chars()
            {
                assert!(face.draws(sign), "{face:?} lacks {sign}");
            }
        }
    }

    #[test]
    fn digits_of_the_book_face_are_of_one_width() {
        // Source Serif 4, hmtx table: 529 of 1000 units.
        assert!((Face::Book.advance("7") - 0.529).abs() < 1e-4);
        assert!((Face::Book.advance("1000") - 4.0 * 0.529).abs() < 1e-4);
    }
}
