//! Shaping and line breaking through parley, with the embedded faces only.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;
use std::rc::Rc;
use std::sync::Arc;

use parley::fontique::{Blob, Collection, CollectionOptions, FontInfoOverride, FontWeight, SourceCache};
use parley::style::{FontFamily, FontFamilyName, FontFeatures, LineHeight, OverflowWrap, StyleProperty};
use parley::{FontContext, Layout, LayoutContext};

use super::words::held_together;
use super::{Style, Words};
use crate::faces::{self, Face};
use crate::ink::Color;
use crate::number::narrow;

/// Text broken into lines.
#[derive(Debug)]
pub(crate) struct Lines {
    /// What is read, byte ranges of glyphs count in it.
    pub(crate) text: String,
    pub(crate) rows: Vec<Line>,
    pub(crate) style: Style,
}

/// One line.
#[derive(Debug)]
pub(crate) struct Line {
    /// Width without the blank at its end.
    pub(crate) width: f64,
    pub(crate) runs: Vec<GlyphRun>,
}

/// Glyphs of one face and color.
#[derive(Debug)]
pub(crate) struct GlyphRun {
    pub(crate) face: Face,
    pub(crate) size: f64,
    pub(crate) color: Color,
    /// From the line's left edge.
    pub(crate) x: f64,
    pub(crate) glyphs: Vec<Glyph>,
}

/// One glyph; lengths are fractions of the size.
#[derive(Debug)]
pub(crate) struct Glyph {
    pub(crate) id: u32,
    pub(crate) advance: f32,
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) text: Range<usize>,
}

impl Lines {
    pub(crate) fn line_height(&self) -> f64 {
        self.style.line_height()
    }

    pub(crate) fn height(&self) -> f64 {
        self.line_height() * self.rows.len() as f64
    }

    /// From the top of a line to its baseline: capitals stand in the middle of the line.
    pub(crate) fn baseline(&self) -> f64 {
        f64::midpoint(self.line_height(), faces::CAPITAL * self.style.size)
    }

    pub(crate) fn width(&self) -> f64 {
        self.rows.iter().map(|line| line.width).fold(0.0, f64::max)
    }
}

/// What text was set: equal keys give equal lines.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    words: Words,
    face: Face,
    size: u64,
    leading: u64,
    color: Color,
    tabular: bool,
}

impl Key {
    fn new(words: &Words, style: Style) -> Self {
        Self {
            words: words.clone(),
            face: style.face,
            size: style.size.to_bits(),
            leading: style.leading.to_bits(),
            color: style.color,
            tabular: style.tabular,
        }
    }
}

/// Shaped text that has not been broken yet.
struct Shaped {
    /// As shaped, with blanks that hold.
    held: String,
    layout: Layout<[u8; 3]>,
    /// The widest piece that cannot be broken, and the whole on one line.
    least: f64,
    most: f64,
}

/// Sets text; remembers what it has set.
pub(crate) struct Typesetter {
    fonts: FontContext,
    layouts: LayoutContext<[u8; 3]>,
    /// Which face a font of the collection is.
    known: Vec<(u64, Face)>,
    shaped: BTreeMap<Key, Rc<Shaped>>,
    set: BTreeMap<(Key, u64), Rc<Lines>>,
}

impl Typesetter {
    pub(crate) fn new() -> Self {
        let mut collection = Collection::new(CollectionOptions { shared: false, system_fonts: false });
        let mut known = Vec::new();
        for face in faces::ALL {
            let blob: Blob<u8> = Blob::new(Arc::new(face.bytes()));
            known.push((blob.id(), face));
            // Each face is a family of its own, so that no weight is ever looked for or made up.
            collection.register_fonts(
                blob,
                Some(FontInfoOverride {
                    family_name: Some(name_of(face)),
                    weight: Some(FontWeight::NORMAL),
                    ..FontInfoOverride::default()
                }),
            );
        }
        let fonts = FontContext { collection, source_cache: SourceCache::default() };
        Self { fonts, layouts: LayoutContext::new(), known, shaped: BTreeMap::new(), set: BTreeMap::new() }
    }

    /// The least and the natural width of the words.
    pub(crate) fn widths(&mut self, words: &Words, style: Style) -> (f64, f64) {
        let shaped = self.shape(&Key::new(words, style), style);
        (shaped.least, shaped.most)
    }

    /// The words in lines no wider than `width` (a word longer than that is broken).
    pub(crate) fn set(&mut self, words: &Words, style: Style, width: f64) -> Rc<Lines> {
        let key = (Key::new(words, style), width.to_bits());
        if let Some(lines) = self.set.get(&key) {
            return Rc::clone(lines);
        }
        let shaped = self.shape(&key.0, style);
        let mut layout = shaped.layout.clone();
        // A thousandth more, so that text measured at its natural width is not broken by rounding.
        layout.break_all_lines(Some(narrow(width + 0.001)));
        let lines = Rc::new(self.read(&layout, &shaped.held, style));
        self.set.insert(key, Rc::clone(&lines));
        lines
    }

    /// The words on one line, however long.
    pub(crate) fn line(&mut self, text: &str, style: Style) -> Rc<Lines> {
        self.set(&Words::plain(text), style, 1e6)
    }

    /// The words on one line, cut with an ellipsis to fit `width`.
    pub(crate) fn line_within(&mut self, text: &str, style: Style, width: f64) -> Rc<Lines> {
        let whole = self.line(text, style);
        if whole.width() <= width {
            return whole;
        }
        let signs: Vec<char> = text.chars().collect();
        let (mut low, mut high) = (0, signs.len());
        while low + 1 < high {
            let middle = usize::midpoint(low, high);
            let cut: String = signs.iter().take(middle).collect();
            if self.line(&format!("{}…", cut.trim_end()), style).width() <= width {
                low = middle;
            } else {
                high = middle;
            }
        }
        let cut: String = signs.iter().take(low).collect();
        self.line(&format!("{}…", cut.trim_end()), style)
    }

    fn shape(&mut self, key: &Key, style: Style) -> Rc<Shaped> {
        if let Some(shaped) = self.shaped.get(key) {
            return Rc::clone(shaped);
        }
        let mut text = String::new();
        let mut bold = Vec::new();
        let mut signs = 0;
        for run in &key.words.runs {
            let start = signs;
            let part = cleaned(&run.text);
            signs += part.chars().count();
            text.push_str(&part);
            if run.bold {
                bold.push(start..signs);
            }
        }
        // The last blank of a run and the unit in the next one are seen together only now; sign for sign,
        // but a blank that holds is longer in bytes.
        let held = held_together(&text);

        let mut builder = self.layouts.ranged_builder(&mut self.fonts, &held, 1.0, false);
        builder.push_default(StyleProperty::Brush([style.color.red, style.color.green, style.color.blue]));
        builder.push_default(family(style.face));
        builder.push_default(StyleProperty::FontSize(narrow(style.size)));
        builder.push_default(StyleProperty::LineHeight(LineHeight::FontSizeRelative(narrow(style.leading))));
        builder.push_default(StyleProperty::OverflowWrap(OverflowWrap::BreakWord));
        if style.tabular {
            builder
                .push_default(StyleProperty::FontFeatures(FontFeatures::Source(Cow::Borrowed("\"tnum\" 1"))));
        }
        for range in bold {
            let range = byte_of(&held, range.start)..byte_of(&held, range.end);
            builder.push(family(style.face.bold()), range);
        }
        let layout = builder.build(&held);
        let content = layout.calculate_content_widths();
        let shaped =
            Rc::new(Shaped { held, layout, least: f64::from(content.min), most: f64::from(content.max) });
        self.shaped.insert(key.clone(), Rc::clone(&shaped));
        shaped
    }

    /// The lines of a broken layout.
    fn read(&self, layout: &Layout<[u8; 3]>, held: &str, style: Style) -> Lines {
        // What is read has plain blanks; a blank that holds is one byte longer.
        let text = held.replace('\u{a0}', " ");
        let holds: Vec<usize> = held.match_indices('\u{a0}').map(|(at, _)| at).collect();
        let back = |at: usize| at - holds.partition_point(|hold| *hold < at).min(at);
        let mut rows = Vec::with_capacity(layout.len());
        for line in layout.lines() {
            let metrics = line.metrics();
            let width = f64::from(metrics.advance - metrics.hanging_advance).max(0.0);
            let mut runs = Vec::new();
            let mut x = 0.0_f32;
            for run in line.runs() {
                let id = run.font().data.id();
                let face = self.known.iter().find(|(known, _)| *known == id).map_or(style.face, |(_, f)| *f);
                let size = run.font_size();
                let (start, mut glyphs) = (x, Vec::new());
                for cluster in run.visual_clusters() {
                    let range = cluster.text_range();
                    let range = back(range.start)..back(range.end);
                    if cluster.is_ligature_continuation() {
                        if let Some(Glyph { text, .. }) = glyphs.last_mut() {
                            text.end = range.end;
                        }
                        continue;
                    }
                    for glyph in cluster.glyphs() {
                        glyphs.push(Glyph {
                            id: glyph.id,
                            advance: glyph.advance / size,
                            x: glyph.x / size,
                            y: glyph.y / size,
                            text: range.clone(),
                        });
                        x += glyph.advance;
                    }
                }
                let (size, color) = (f64::from(size), style.color);
                runs.push(GlyphRun { face, size, color, x: f64::from(start), glyphs });
            }
            rows.push(Line { width, runs });
        }
        if rows.is_empty() {
            rows.push(Line { width: 0.0, runs: Vec::new() });
        }
        Lines { text, rows, style }
    }
}

/// Text without control characters; tabs become blanks, and signs for a diameter become the letter that
/// the faces have for it.
fn cleaned(text: &str) -> String {
    text.chars()
        .filter(|sign| !sign.is_control() || matches!(sign, '\n' | '\t' | '\r'))
        .map(|sign| match sign {
            '\t' | '\r' => ' ',
            '⌀' | '∅' => 'Ø',
            sign => sign,
        })
        .collect()
}

/// The byte at which the sign with this number begins.
fn byte_of(text: &str, sign: usize) -> usize {
    text.char_indices().nth(sign).map_or(text.len(), |(at, _)| at)
}

fn name_of(face: Face) -> &'static str {
    match face {
        Face::Plain => "plain",
        Face::Bold => "bold",
        Face::Book => "book",
        Face::BookBold => "bookbold",
    }
}

fn family(face: Face) -> StyleProperty<'static, [u8; 3]> {
    let names = [face, face.stand_in()].map(|f| FontFamilyName::Named(Cow::Borrowed(name_of(f))));
    StyleProperty::FontFamily(FontFamily::List(Cow::Owned(names.to_vec())))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BODY: Style = Style::new(Face::Book, 4.0);

    #[test]
    fn a_line_is_as_wide_as_its_digits() {
        // Source Serif 4: a digit is 529 of 1000 units wide (hmtx table of the published file).
        let mut setter = Typesetter::new();
        let lines = setter.line("1234567890", BODY);
        assert!((lines.width() - 10.0 * 0.529 * 4.0).abs() < 1e-3, "{}", lines.width());
    }

    #[test]
    fn tabular_figures_are_of_one_width() {
        let mut setter = Typesetter::new();
        let style = Style::new(Face::Plain, 4.0);
        let apart = setter.line("111", style).width() - setter.line("000", style).width();
        let tabular =
            setter.line("111", style.tabular()).width() - setter.line("000", style.tabular()).width();
        assert!(apart.abs() > 0.1 && tabular.abs() < 1e-3, "{apart} {tabular}");
    }

    #[test]
    fn lines_keep_to_their_width_and_lose_no_text() {
        let mut setter = Typesetter::new();
        let words = Words::marked(
            "The walls come from one strip **893.6 mm** long; éé ″ → Donaudampfschifffahrtsgesellschaft",
        );
        for width in [12.0, 30.0, 60.0, 500.0] {
            let lines = setter.set(&words, BODY, width);
            assert!(lines.width() <= width + 0.002, "{width}: {}", lines.width());
            let mut read: Vec<&str> = Vec::new();
            for glyph in lines.rows.iter().flat_map(|l| &l.runs).flat_map(|r| &r.glyphs) {
                read.push(&lines.text[glyph.text.clone()]);
            }
            let letters = |t: &str| t.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            assert_eq!(letters(&read.concat()), letters(&words.text()), "{width}");
        }
        let (least, most) = setter.widths(&words, BODY);
        assert!(least < most && setter.set(&words, BODY, most).rows.len() == 1);
    }

    #[test]
    fn a_name_too_long_ends_in_an_ellipsis() {
        let mut setter = Typesetter::new();
        let lines = setter.line_within("A box with a very long name indeed", BODY, 30.0);
        assert!(lines.width() <= 30.0 && lines.text.ends_with('…') && lines.text.starts_with("A box"));
    }
}
