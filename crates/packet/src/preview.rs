//! The pages of a document as pictures for a screen: one SVG for each, as they lie in the PDF.
//!
//! The words stay words, set in the packet's faces by name and stretched by a hair to the width that they have on
//! paper: a page that embeds the faces shows the paper's lines.

use std::fmt::Write as _;

use crate::document::{Document, Page, Pages};
use crate::drawing::Bounds;
use crate::flow::slab::{Mark, Placed};
use crate::number::plain;
use crate::svg::{Writer, escape, style};
use crate::typeset::{GlyphRun, Lines, Typesetter};

/// Decimals of a coordinate: a thousandth of a millimeter.
const DECIMALS: usize = 3;

/// A page as a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PagePicture {
    /// Width and height of the paper, millimeters.
    pub size: [f64; 2],
    /// The sheet it belongs to, where it is that sheet's first page.
    pub opens: Option<String>,
    /// The picture; it has no width and height of its own and fills what it is put into.
    pub svg: String,
}

/// Every page of a document.
pub fn pages(document: &Document) -> Vec<PagePicture> {
    pictures(&document.lay_out(&mut Typesetter::new()))
}

/// Every page of a document that is laid out already.
pub(crate) fn pictures(laid: &Pages) -> Vec<PagePicture> {
    let count = laid.pages.len();
    laid.pages.iter().enumerate().map(|(at, page)| picture(page, at + 1, count)).collect()
}

fn picture(page: &Page, number: usize, count: usize) -> PagePicture {
    let n = |v| plain(v, DECIMALS);
    let [width, height] = page.size.map(n);
    let mut writer = Writer { out: String::with_capacity(16 << 10), clips: 0, id: format!("p{number}-") };
    let _ = writeln!(
        writer.out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" role=\"img\" fill=\"none\" \
         stroke-linejoin=\"round\">\n<title>page {number} of {count}</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>"
    );
    for Placed { mark, .. } in page.running.iter().chain(&page.marks) {
        put(&mut writer, mark);
    }
    writer.out.push_str("</svg>\n");
    PagePicture { size: page.size, opens: page.opens.clone(), svg: writer.out }
}

fn put(writer: &mut Writer, mark: &Mark) {
    let n = |v: f64| plain(v, DECIMALS);
    match mark {
        Mark::Text { x, y, lines, index } => line(writer, lines, *index, [*x, y + lines.baseline()]),
        Mark::Rect { x, y, width, height, fill, stroke } => {
            let _ = write!(
                writer.out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"",
                n(*x),
                n(*y),
                n(*width),
                n(*height)
            );
            if let Some(fill) = fill {
                let _ = write!(writer.out, " fill=\"{}\"", fill.hex());
            }
            if let Some((color, width)) = stroke {
                let _ = write!(writer.out, " stroke=\"{}\" stroke-width=\"{}\"", color.hex(), n(*width));
            }
            writer.out.push_str("/>\n");
        }
        Mark::Rule { from, to, color, width, dashes } => {
            let [x1, y1, x2, y2] = [from[0], from[1], to[0], to[1]].map(n);
            let _ = write!(
                writer.out,
                "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" stroke=\"{}\" stroke-width=\"{}\"",
                color.hex(),
                n(*width)
            );
            let dashes: Vec<String> = dashes.iter().map(|d| n(*d)).collect();
            if !dashes.is_empty() {
                let _ = write!(writer.out, " stroke-dasharray=\"{}\"", dashes.join(" "));
            }
            writer.out.push_str("/>\n");
        }
        Mark::Art { x, y, art } => {
            let Bounds { left, top, .. } = art.bounds;
            let _ = writeln!(writer.out, "<g transform=\"translate({} {})\">", n(x - left), n(y + top));
            writer.marks(&art.marks);
            writer.out.push_str("</g>\n");
        }
    }
}

fn line(writer: &mut Writer, lines: &Lines, index: usize, at: [f64; 2]) {
    let Some(line) = lines.rows.get(index) else { return };
    for run in &line.runs {
        words(writer, run, &lines.text, at);
    }
}

/// A run of letters of one face, as wide as on paper.
fn words(writer: &mut Writer, run: &GlyphRun, text: &str, at: [f64; 2]) {
    let (Some(from), Some(to)) =
        (run.glyphs.iter().map(|g| g.text.start).min(), run.glyphs.iter().map(|g| g.text.end).max())
    else {
        return;
    };
    let Some(said) = text.get(from..to).filter(|said| !said.trim().is_empty()) else { return };
    let width: f64 = run.glyphs.iter().map(|g| f64::from(g.advance)).sum::<f64>() * run.size;
    let n = |v: f64| plain(v, DECIMALS);
    let _ = write!(writer.out, "<text xml:space=\"preserve\" x=\"{}\" y=\"{}\"", n(at[0] + run.x), n(at[1]));
    style(&mut writer.out, run.face, run.size);
    let _ = writeln!(
        writer.out,
        " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\">{}</text>",
        n(width),
        run.color.hex(),
        escape(said)
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Sheet;
    use crate::flow::{Block, Words};
    use crate::page::Paper;

    fn document() -> Document {
        let sentence = |n: usize| Block::Paragraph(Words::plain(format!("Wall <{n}> & its key lie here.")));
        Document {
            title: "A & B".into(),
            author: String::new(),
            language: "en-US".into(),
            date: "2026-03-01".into(),
            paper: Paper::A4,
            sheets: vec![
                Sheet::new("One", (0..120).map(sentence).collect()),
                Sheet::new("Two", vec![sentence(7)]),
            ],
        }
    }

    #[test]
    fn every_page_is_a_picture_with_its_words() {
        let document = document();
        let pages = pages(&document);
        assert_eq!(pages.len(), document.page_count());
        assert!(pages.len() > 2, "{}", pages.len());
        let opens: Vec<&str> = pages.iter().filter_map(|p| p.opens.as_deref()).collect();
        assert_eq!(opens, ["One", "Two"]);
        let all: String = pages.iter().map(|p| p.svg.as_str()).collect();
        for n in 0..120 {
            assert!(all.contains(&format!("Wall &lt;{n}&gt; &amp; its key")), "{n}");
        }
        assert!(pages[0].svg.contains("page 1 of") && pages[0].svg.contains("viewBox=\"0 0 210 297\""));
    }
}
