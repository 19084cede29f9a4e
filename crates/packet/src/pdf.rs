//! A document as PDF: tagged, with outline, title and language; the same input gives the same bytes.

use std::collections::BTreeMap;
use std::num::NonZeroU16;

use krilla::Document as Pdf;
use krilla::SerializeSettings;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point as At, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    ArtifactType, ContentTag, Identifier, ListNumbering, Node, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagKind, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use crate::document::{Document, Page, Pages};
use crate::drawing::flat::Mark as Flat;
use crate::drawing::{Anchor, Bounds, Pen, Point};
use crate::faces::{self, Face};
use crate::flow::slab::{Mark, Placed};
use crate::flow::tags::{Kind, Tags, Tree};
use crate::ink::Color;
use crate::number::narrow;
use crate::typeset::{Glyph, GlyphRun, Lines, Style, Typesetter};

/// Points in a millimeter.
const POINTS: f64 = 72.0 / 25.4;

/// Why a document could not be written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// The PDF library refused; says what it said.
    #[error("the PDF could not be written: {says}")]
    Refused {
        /// What the library said.
        says: String,
    },
    /// Nothing to print.
    #[error("the document has no sheets: add at least one")]
    Empty,
}

/// The document as PDF.
///
/// # Errors
/// [`Error::Empty`] without sheets; [`Error::Refused`] if the library cannot write it.
pub fn write(document: &Document) -> Result<Vec<u8>, Error> {
    let mut setter = Typesetter::new();
    let laid = document.lay_out(&mut setter);
    write_laid(document, &laid, setter)
}

/// As [`write`], of pages that are laid out already; `setter` is the one that laid them out.
///
/// # Errors
/// As [`write`].
pub(crate) fn write_laid(document: &Document, laid: &Pages, setter: Typesetter) -> Result<Vec<u8>, Error> {
    if document.sheets.is_empty() {
        return Err(Error::Empty);
    }
    let Pages { pages, tags } = laid;
    let mut pdf = Pdf::new_with(SerializeSettings { enable_tagging: true, ..SerializeSettings::default() });
    pdf.set_metadata(metadata(document));
    let fonts =
        faces::ALL.iter().filter_map(|face| Some((*face, Font::new(face.bytes().into(), 0)?))).collect();
    let mut writer = Writer { fonts, setter, leaves: BTreeMap::new() };
    let mut outline = Outline::new();
    for (index, page) in pages.iter().enumerate() {
        writer.page(&mut pdf, page)?;
        if let Some(title) = &page.opens {
            let top = At::from_xy(0.0, 0.0);
            outline.push_child(OutlineNode::new(title.clone(), XyzDestination::new(index, top)));
        }
    }
    pdf.set_outline(outline);
    pdf.set_tag_tree(writer.tree(tags, &document.language));
    pdf.finish().map_err(|error| Error::Refused { says: format!("{error:?}") })
}

fn metadata(document: &Document) -> Metadata {
    let mut metadata = Metadata::new()
        .title(document.title.clone())
        .language(document.language.clone())
        .creator("Keepwright".to_owned())
        .producer("Keepwright".to_owned());
    if !document.author.is_empty() {
        metadata = metadata.authors(vec![document.author.clone()]);
    }
    metadata
}

/// What writing needs.
struct Writer {
    fonts: BTreeMap<Face, Font>,
    setter: Typesetter,
    /// Which content belongs to which place in the tree, in drawing order.
    leaves: BTreeMap<usize, Vec<Identifier>>,
}

impl Writer {
    fn page(&mut self, pdf: &mut Pdf, page: &Page) -> Result<(), Error> {
        let [width, height] = page.size.map(|side| narrow(side * POINTS));
        let settings = PageSettings::from_wh(width, height)
            .ok_or_else(|| Error::Refused { says: "the page has no size".to_owned() })?;
        let mut open = pdf.start_page_with(settings);
        let mut surface = open.surface();
        let scale = narrow(POINTS);
        surface.push_transform(&Transform::from_scale(scale, scale));
        for marks in [&page.running, &page.marks] {
            for part in marks.chunk_by(|a, b| a.tree == b.tree) {
                self.part(&mut surface, part);
            }
        }
        surface.pop();
        surface.finish();
        open.finish();
        Ok(())
    }

    /// Marks of one place in the tree.
    fn part(&mut self, surface: &mut Surface<'_>, part: &[Placed]) {
        let tree = part.first().and_then(|placed| placed.tree);
        let text = part.iter().all(|placed| matches!(placed.mark, Mark::Text { .. }));
        let id = surface.start_tagged(match tree {
            None => ContentTag::Artifact(krilla::tagging::Artifact::with_kind(ArtifactType::Layout)),
            Some(_) if text => ContentTag::Span(SpanTag::empty()),
            Some(_) => ContentTag::Other,
        });
        for placed in part {
            self.mark(surface, &placed.mark);
        }
        surface.end_tagged();
        if let Some(Tree(node)) = tree {
            self.leaves.entry(node).or_default().push(id);
        }
    }

    fn mark(&mut self, surface: &mut Surface<'_>, mark: &Mark) {
        match mark {
            Mark::Text { x, y, lines, index } => {
                self.line(surface, lines, *index, [*x, y + lines.baseline()]);
            }
            Mark::Rect { x, y, width, height, fill, stroke } => {
                let rect = Rect::from_xywh(narrow(*x), narrow(*y), narrow(*width), narrow(*height));
                let mut path = PathBuilder::new();
                if let Some(rect) = rect {
                    path.push_rect(rect);
                    let stroke = stroke.map(|(color, width)| line_style(color, width, &[]));
                    paint(surface, path.finish(), *fill, stroke);
                }
            }
            Mark::Rule { from, to, color, width, dashes } => {
                let path = path(&[*from, *to], false);
                paint(surface, path, None, Some(line_style(*color, *width, dashes)));
            }
            Mark::Art { x, y, art } => {
                let Bounds { left, top, .. } = art.bounds;
                self.art(surface, &art.marks, [x - left, y + top]);
            }
        }
    }

    fn line(&self, surface: &mut Surface<'_>, lines: &Lines, index: usize, at: Point) {
        let Some(line) = lines.rows.get(index) else {
            return;
        };
        for run in &line.runs {
            self.run(surface, run, &lines.text, at);
        }
    }

    fn run(&self, surface: &mut Surface<'_>, run: &GlyphRun, text: &str, at: Point) {
        let Some(font) = self.fonts.get(&run.face) else {
            return;
        };
        let glyph = |glyph: &Glyph| {
            let text = glyph.text.clone();
            KrillaGlyph::new(GlyphId::new(glyph.id), glyph.advance, glyph.x, glyph.y, 0.0, text, None)
        };
        let glyphs: Vec<KrillaGlyph> = run.glyphs.iter().map(glyph).collect();
        surface.set_stroke(None);
        surface.set_fill(Some(fill(run.color)));
        let start = At::from_xy(narrow(at[0] + run.x), narrow(at[1]));
        surface.draw_glyphs(start, &glyphs, font.clone(), text, narrow(run.size), false);
    }

    /// Marks of a drawing; `origin` is where its point (0, 0) lies on the page.
    fn art(&mut self, surface: &mut Surface<'_>, marks: &[Flat], origin: Point) {
        let on_page = |[x, y]: Point| [origin[0] + x, origin[1] - y];
        for mark in marks {
            match mark {
                Flat::Path { points, closed, fill, stroke } => {
                    let points: Vec<Point> = points.iter().map(|p| on_page(*p)).collect();
                    paint(surface, path(&points, *closed), *fill, stroke.map(pen_style));
                }
                Flat::Arc { center, radius, start, end, pen } => {
                    let path = arc(on_page(*center), *radius, *start, *end, false);
                    paint(surface, path, None, Some(pen_style(*pen)));
                }
                Flat::Circle { center, radius, fill, stroke } => {
                    let path = arc(on_page(*center), *radius, 0.0, 360.0, true);
                    paint(surface, path, *fill, stroke.map(pen_style));
                }
                Flat::Text { .. } => self.art_text(surface, mark, origin),
                Flat::Clip { outline, marks } => {
                    let outline: Vec<Point> = outline.iter().map(|p| on_page(*p)).collect();
                    if let Some(path) = path(&outline, true) {
                        surface.push_clip_path(&path, &FillRule::EvenOdd);
                        self.art(surface, marks, origin);
                        surface.pop();
                    }
                }
            }
        }
    }

    fn art_text(&mut self, surface: &mut Surface<'_>, mark: &Flat, origin: Point) {
        let Flat::Text { at, words, size, anchor, rotation, face, color } = mark else {
            return;
        };
        let lines = self.setter.line(words, Style::new(*face, *size).colored(*color));
        let width = lines.width();
        let x = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        };
        let (sin, cos) = (-rotation.to_radians()).sin_cos();
        let [sin, cos] = [sin, cos].map(narrow);
        let (tx, ty) = (narrow(origin[0] + at[0]), narrow(origin[1] - at[1]));
        surface.push_transform(&Transform::from_row(cos, sin, -sin, cos, tx, ty));
        self.line(surface, &lines, 0, [x, 0.0]);
        surface.pop();
    }

    /// The logical tree with the content that was drawn.
    fn tree(&mut self, tags: &Tags, language: &str) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some(language.to_owned()));
        if let Some(root) = tags.nodes.first() {
            for child in &root.children {
                if let Some(group) = self.group(tags, *child) {
                    tree.push(group);
                }
            }
        }
        tree
    }

    /// A node with what is under it; `None` when nothing was drawn for it.
    fn group(&mut self, tags: &Tags, at: Tree) -> Option<TagGroup> {
        let node = tags.nodes.get(at.0)?;
        let mut children: Vec<Node> =
            self.leaves.remove(&at.0).unwrap_or_default().into_iter().map(Node::from).collect();
        for child in &node.children {
            children.extend(self.group(tags, *child).map(Node::from));
        }
        // A row must keep its empty cells, or the columns shift.
        let empty =
            children.is_empty() && !matches!(node.kind, Kind::Cell | Kind::HeadCell | Kind::ItemLabel);
        (!empty).then(|| TagGroup::with_children(tag(&node.kind), children))
    }
}

fn tag(kind: &Kind) -> TagKind {
    match kind {
        Kind::Document | Kind::Section => Tag::Section.into(),
        Kind::Heading(level) => Tag::Hn(NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN), None).into(),
        Kind::Paragraph => Tag::P.into(),
        Kind::Group => Tag::Div.into(),
        Kind::List { numbered: true } => Tag::L(ListNumbering::Decimal).into(),
        Kind::List { numbered: false } => Tag::L(ListNumbering::None).into(),
        Kind::Item => Tag::LI.into(),
        Kind::ItemLabel => Tag::Lbl.into(),
        Kind::ItemBody => Tag::LBody.into(),
        Kind::Table => Tag::Table.into(),
        Kind::Row => Tag::TR.into(),
        Kind::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        Kind::Cell => Tag::TD.into(),
        Kind::Figure { alt } => Tag::Figure(Some(alt.clone())).into(),
    }
}

fn fill(color: Color) -> Fill {
    Fill {
        paint: rgb::Color::new(color.red, color.green, color.blue).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::EvenOdd,
    }
}

fn pen_style(pen: Pen) -> Stroke {
    line_style(pen.color, pen.width, pen.line.dashes())
}

fn line_style(color: Color, width: f64, dashes: &[f64]) -> Stroke {
    Stroke {
        paint: rgb::Color::new(color.red, color.green, color.blue).into(),
        width: narrow(width),
        miter_limit: 4.0,
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        opacity: NormalizedF32::ONE,
        dash: (!dashes.is_empty())
            .then(|| StrokeDash { array: dashes.iter().map(|dash| narrow(*dash)).collect(), offset: 0.0 }),
    }
}

fn paint(surface: &mut Surface<'_>, path: Option<Path>, inside: Option<Color>, stroke: Option<Stroke>) {
    if let Some(path) = path.filter(|_| inside.is_some() || stroke.is_some()) {
        surface.set_fill(inside.map(fill));
        surface.set_stroke(stroke);
        surface.draw_path(&path);
    }
}

fn path(points: &[Point], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (index, [x, y]) in points.iter().enumerate() {
        let (x, y) = (narrow(*x), narrow(*y));
        if index == 0 {
            path.move_to(x, y);
        } else {
            path.line_to(x, y);
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

/// Part of a circle by cubic curves of at most 45 degrees each (off by less than 1e-5 of the radius);
/// the page's y runs down, the angles still turn as seen.
fn arc(center: Point, radius: f64, start: f64, end: f64, closed: bool) -> Option<Path> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1..=64")]
    let count = ((end - start).abs() / 45.0).ceil().clamp(1.0, 64.0) as u32;
    let step = (end - start).to_radians() / f64::from(count);
    let handle = 4.0 / 3.0 * (step / 4.0).tan() * radius;
    let at = |angle: f64| (center[0] + radius * angle.cos(), center[1] - radius * angle.sin());
    let mut path = PathBuilder::new();
    let (x, y) = at(start.to_radians());
    path.move_to(narrow(x), narrow(y));
    for index in 0..count {
        let from = start.to_radians() + step * f64::from(index);
        let to = from + step;
        let ((x0, y0), (x1, y1)) = (at(from), at(to));
        path.cubic_to(
            narrow(x0 - handle * from.sin()),
            narrow(y0 - handle * from.cos()),
            narrow(x1 + handle * to.sin()),
            narrow(y1 + handle * to.cos()),
            narrow(x1),
            narrow(y1),
        );
    }
    if closed {
        path.close();
    }
    path.finish()
}
