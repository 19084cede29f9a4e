//! A code that a camera reads, as text for a terminal and as a path for a page.

use qrcode::{Color, EcLevel, QrCode};
use std::fmt::Write as _;

/// Light modules all round, as readers need them.
const MARGIN: usize = 4;

/// A square of dark and light modules, margin included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Qr {
    /// Modules of one side.
    side: usize,
    dark: Vec<bool>,
}

impl Qr {
    /// The code of a text; none for one that is too long for any.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
        let (inner, colors) = (code.width(), code.to_colors());
        let side = inner + 2 * MARGIN;
        let mut dark = vec![false; side * side];
        for (at, color) in colors.iter().enumerate() {
            let place = (at / inner + MARGIN) * side + at % inner + MARGIN;
            if let Some(module) = dark.get_mut(place) {
                *module = *color == Color::Dark;
            }
        }
        Some(Self { side, dark })
    }

    /// Modules of one side, margin included.
    pub(crate) fn side(&self) -> usize {
        self.side
    }

    fn is_dark(&self, x: usize, y: usize) -> bool {
        x < self.side && self.dark.get(y * self.side + x).copied().unwrap_or(false)
    }

    /// The dark modules as the path of a drawing, one unit to a module, each run of a row in one piece.
    pub(crate) fn path(&self) -> String {
        let mut path = String::new();
        for y in 0..self.side {
            let mut x = 0;
            while x < self.side {
                let run = (x..self.side).take_while(|x| self.is_dark(*x, y)).count();
                if run > 0 {
                    // Writing into a string cannot fail.
                    let _ = write!(path, "M{x} {y}h{run}v1h-{run}z");
                }
                x += run + 1;
            }
        }
        path
    }

    /// Lines of half blocks, two rows of modules to a line: the light ones are drawn, as for a dark terminal.
    pub(crate) fn blocks(&self) -> String {
        let mut lines = String::new();
        for y in (0..self.side).step_by(2) {
            for x in 0..self.side {
                lines.push(match (self.is_dark(x, y), self.is_dark(x, y + 1) || y + 1 == self.side) {
                    (false, false) => '█',
                    (false, true) => '▀',
                    (true, false) => '▄',
                    (true, true) => ' ',
                });
            }
            lines.push('\n');
        }
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINK: &str = "http://192.168.7.20:4571/pair/abcdefghjkmnpqrstuvwxyz023456789";

    /// Both writings are read back into modules, and these are the library's.
    #[test]
    fn both_writings_show_the_modules_of_the_code() {
        let qr = Qr::of(LINK).unwrap();
        let code = QrCode::with_error_correction_level(LINK, EcLevel::M).unwrap();
        let inner = code.width();
        assert_eq!(qr.side(), inner + 8);
        let mut from_path = vec![false; qr.side() * qr.side()];
        for run in qr.path().split('M').skip(1) {
            let (x, rest) = run.split_once(' ').unwrap();
            let (y, rest) = rest.split_once('h').unwrap();
            let (width, _) = rest.split_once('v').unwrap();
            let (x, y, width): (usize, usize, usize) =
                (x.parse().unwrap(), y.parse().unwrap(), width.parse().unwrap());
            for at in x..x + width {
                from_path[y * qr.side() + at] = true;
            }
        }
        let text = qr.blocks();
        for y in 0..qr.side() {
            let line: Vec<char> = text.lines().nth(y / 2).unwrap().chars().collect();
            for x in 0..qr.side() {
                let within = (MARGIN..MARGIN + inner).contains(&x) && (MARGIN..MARGIN + inner).contains(&y);
                let want = within && code[(x - MARGIN, y - MARGIN)] == Color::Dark;
                let shown = match line[x] {
                    '█' => false,
                    '▀' => y % 2 == 1,
                    '▄' => y % 2 == 0,
                    _ => true,
                };
                assert_eq!((from_path[y * qr.side() + x], shown), (want, want), "{x} {y}");
            }
        }
    }

    #[test]
    fn what_no_code_holds_has_none() {
        assert!(Qr::of(&"a".repeat(5000)).is_none());
    }
}
