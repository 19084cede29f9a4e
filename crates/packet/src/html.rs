//! Blocks as HTML for a page: headings, tables with captions and scopes, lists, drawings in line.
//!
//! Cautions are left out: a page shows them its own way, each with its change. So is what only paper knows: empty
//! height and new pages. Drawings carry presentation attributes and classes only, so that a page may forbid inline style.

use std::fmt::Write as _;

use crate::flow::{Block, Bullet, Card, Figure, List, Table, Words};
use crate::svg;
use crate::typeset::Align;

/// Pixels for a millimeter of a drawing: its smallest words are then about 13 px high.
const PIXELS: f64 = 4.4;

/// Names whose bearers a page marks: from words as they stand in a cell to the ids of the parts that they name.
pub trait Names {
    /// The ids of the parts that the words name, blanks between them; nothing for any other words.
    fn ids(&self, words: &str) -> Option<String>;
}

/// Nobody is marked.
impl Names for () {
    fn ids(&self, _: &str) -> Option<String> {
        None
    }
}

/// How blocks are written.
#[derive(Clone, Copy)]
pub struct Page<'a> {
    /// The level of a heading, 1 to 6; small headings are one level deeper.
    pub level: u8,
    /// Whose names are marked.
    pub names: &'a dyn Names,
    /// What ids of drawings begin with; of its own for each call on one page.
    pub prefix: &'a str,
}

impl core::fmt::Debug for Page<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.debug_struct("Page")
            .field("level", &self.level)
            .field("prefix", &self.prefix)
            .finish_non_exhaustive()
    }
}

/// The blocks as HTML.
pub fn write(blocks: &[Block], page: &Page<'_>) -> String {
    let mut writer =
        Writer { page: *page, out: String::with_capacity(blocks.len() * 256), drawings: 0, headed: false };
    writer.blocks(blocks);
    writer.out
}

/// Words as HTML, bold runs in `<b>`, line ends as `<br>`.
pub fn words(words: &Words) -> String {
    let mut out = String::new();
    put_words(&mut out, words);
    out
}

/// Text made safe for HTML, inside elements and inside quoted attributes.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    put_text(&mut out, text);
    out
}

fn put_text(out: &mut String, text: &str) {
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
}

fn put_words(out: &mut String, words: &Words) {
    for run in &words.runs {
        if run.bold {
            out.push_str("<b>");
        }
        for (i, line) in run.text.split('\n').enumerate() {
            if i > 0 {
                out.push_str("<br>");
            }
            put_text(out, line);
        }
        if run.bold {
            out.push_str("</b>");
        }
    }
}

/// A heading that waits for what follows: a table takes it as its caption.
type Waiting<'b> = Option<&'b str>;

struct Writer<'a> {
    page: Page<'a>,
    out: String,
    drawings: usize,
    /// Whether a heading stands above, so that cards go one level deeper.
    headed: bool,
}

impl Writer<'_> {
    fn blocks(&mut self, blocks: &[Block]) {
        let mut waiting: Waiting<'_> = None;
        for block in blocks {
            if let (Block::Table(table), Some(head)) = (block, waiting) {
                self.table(table, Some(head));
                waiting = None;
                continue;
            }
            if let Some(head) = waiting.take() {
                self.heading(self.page.level, head);
            }
            match block {
                Block::Heading(text) => {
                    self.headed = true;
                    waiting = Some(text);
                }
                other => self.block(other),
            }
        }
        if let Some(head) = waiting {
            self.heading(self.page.level, head);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Title { text, under } => {
                self.heading(self.page.level, text);
                if !under.is_empty() {
                    self.paragraph("soft", &Words::plain(under.as_str()));
                }
            }
            Block::Heading(text) => self.heading(self.page.level, text),
            Block::Subheading(text) => self.heading(self.page.level + 1, text),
            Block::Lead(words) => self.paragraph("say", words),
            Block::Paragraph(words) => self.paragraph("", words),
            Block::Note(words) => self.paragraph("note", words),
            Block::List(list) => self.list(list),
            Block::Table(table) => self.table(table, None),
            Block::Card(card) => self.card(card),
            Block::Figure(figure) => self.figure(figure),
            Block::Columns(columns) => {
                self.out.push_str("<div class=\"columns\"><div>");
                self.blocks(&columns.left);
                self.out.push_str("</div><div>");
                self.blocks(&columns.right);
                self.out.push_str("</div></div>\n");
            }
            Block::Pairs(pairs) => self.pairs(pairs),
            Block::Labels(labels) => {
                self.out.push_str("<ul class=\"labels\">");
                for label in &labels.labels {
                    self.out.push_str("<li><b>");
                    self.marked(&label.name);
                    self.out.push_str("</b>");
                    for line in &label.lines {
                        self.out.push_str("<br>");
                        put_text(&mut self.out, line);
                    }
                    self.out.push_str("</li>");
                }
                self.out.push_str("</ul>\n");
            }
            Block::Rule => self.out.push_str("<hr>\n"),
            Block::Caution(_) | Block::Space(_) | Block::NewPage => {}
        }
    }

    fn heading(&mut self, level: u8, text: &str) {
        let level = level.clamp(1, 6);
        let _ = write!(self.out, "<h{level}>");
        put_text(&mut self.out, text);
        let _ = writeln!(self.out, "</h{level}>");
    }

    fn paragraph(&mut self, class: &str, words: &Words) {
        if words.is_empty() {
            return;
        }
        if class.is_empty() {
            self.out.push_str("<p>");
        } else {
            let _ = write!(self.out, "<p class=\"{class}\">");
        }
        put_words(&mut self.out, words);
        self.out.push_str("</p>\n");
    }

    fn list(&mut self, list: &List) {
        let (name, class) = match list.bullet {
            Bullet::Dot => ("ul", ""),
            Bullet::Number => ("ol", ""),
            Bullet::Box => ("ul", " class=\"checks\""),
        };
        let _ = write!(self.out, "<{name}{class}>");
        for item in &list.items {
            self.out.push_str("<li>");
            put_words(&mut self.out, item);
            self.out.push_str("</li>");
        }
        let _ = writeln!(self.out, "</{name}>");
    }

    fn pairs(&mut self, pairs: &[(String, Words)]) {
        self.out.push_str("<dl class=\"pairs\">");
        for (name, value) in pairs {
            self.out.push_str("<div><dt>");
            put_text(&mut self.out, name);
            self.out.push_str("</dt><dd>");
            put_words(&mut self.out, value);
            self.out.push_str("</dd></div>");
        }
        self.out.push_str("</dl>\n");
    }

    fn table(&mut self, table: &Table, caption: Waiting<'_>) {
        if table.columns.is_empty() || table.rows.is_empty() {
            if let Some(text) = caption {
                self.heading(self.page.level, text);
            }
            return;
        }
        self.out.push_str("<div class=\"wide\" role=\"group\" tabindex=\"0\"");
        if let Some(text) = caption {
            self.out.push_str(" aria-label=\"");
            put_text(&mut self.out, text);
            self.out.push('"');
        } else {
            self.out.push_str(" aria-label=\"table\"");
        }
        self.out.push_str("><table>");
        if let Some(text) = caption {
            self.out.push_str("<caption>");
            self.heading(self.page.level, text);
            self.out.push_str("</caption>");
        }
        self.out.push_str("<thead><tr>");
        for column in &table.columns {
            let class = if column.align == Align::Right { " class=\"n\"" } else { "" };
            let _ = write!(self.out, "<th scope=\"col\"{class}>");
            put_text(&mut self.out, &column.heading);
            self.out.push_str("</th>");
        }
        self.out.push_str("</tr></thead><tbody>");
        let totals = table.rows.len().saturating_sub(table.totals);
        for (index, row) in table.rows.iter().enumerate() {
            self.out.push_str(if index >= totals { "<tr class=\"total\">" } else { "<tr>" });
            self.row(table, row);
            self.out.push_str("</tr>");
        }
        self.out.push_str("</tbody></table></div>\n");
    }

    fn row(&mut self, table: &Table, row: &[Words]) {
        let nothing = Words::default();
        let head = names_row(table, row);
        for (index, column) in table.columns.iter().enumerate() {
            let cell = row.get(index).unwrap_or(&nothing);
            let class = if column.align == Align::Right { " class=\"n\"" } else { "" };
            let name = if head == Some(index) { "th scope=\"row\"" } else { "td" };
            let _ = write!(self.out, "<{name}{class}>");
            if column.align == Align::Right {
                put_words(&mut self.out, cell);
            } else {
                self.cell(cell);
            }
            self.out.push_str(if head == Some(index) { "</th>" } else { "</td>" });
        }
    }

    /// A cell of words: the names of parts in it are marked.
    fn cell(&mut self, cell: &Words) {
        for run in &cell.runs {
            if run.bold {
                self.out.push_str("<b>");
            }
            for (i, line) in run.text.split('\n').enumerate() {
                if i > 0 {
                    self.out.push_str("<br>");
                }
                self.marked(line);
            }
            if run.bold {
                self.out.push_str("</b>");
            }
        }
    }

    /// Names with commas between; each that is a part's is a link to the parts that a script can show.
    fn marked(&mut self, text: &str) {
        for (i, name) in text.split(", ").enumerate() {
            if i > 0 {
                self.out.push_str(", ");
            }
            match self.page.names.ids(name) {
                Some(ids) => {
                    self.out.push_str("<a class=\"part\" href=\"#shape\" data-part=\"");
                    put_text(&mut self.out, &ids);
                    self.out.push_str("\">");
                    put_text(&mut self.out, name);
                    self.out.push_str("</a>");
                }
                None => put_text(&mut self.out, name),
            }
        }
    }

    fn card(&mut self, card: &Card) {
        self.out.push_str("<section class=\"card\">");
        let level = self.page.level + u8::from(self.headed);
        self.heading(level, &card.title);
        if !card.under.is_empty() {
            self.paragraph("soft", &Words::plain(card.under.as_str()));
        }
        let within = std::mem::replace(&mut self.headed, true);
        self.card_body(card);
        self.headed = within;
        self.out.push_str("</section>\n");
    }

    fn card_body(&mut self, card: &Card) {
        if !card.settings.is_empty() {
            self.out.push_str("<dl class=\"settings\">");
            for setting in &card.settings {
                self.out.push_str("<div><dt>");
                put_text(&mut self.out, &setting.name);
                self.out.push_str("</dt><dd><b>");
                put_text(&mut self.out, &setting.value);
                self.out.push_str("</b> ");
                put_text(&mut self.out, &setting.unit);
                self.out.push_str("</dd></div>");
            }
            self.out.push_str("</dl>");
        }
        if let Some((drawing, alt)) = &card.drawing {
            self.drawing(drawing, alt);
        }
        for half in &card.halves {
            self.blocks(half);
        }
        self.blocks(&card.blocks);
        if !card.ticks.is_empty() {
            self.out.push_str("<ul class=\"checks\">");
            for tick in &card.ticks {
                self.out.push_str("<li>");
                self.marked(tick);
                self.out.push_str("</li>");
            }
            self.out.push_str("</ul>");
        }
    }

    fn figure(&mut self, figure: &Figure) {
        self.out.push_str("<figure class=\"drawn\">");
        self.drawing(&figure.drawing, &figure.alt);
        if !figure.caption.is_empty() {
            self.out.push_str("<figcaption>");
            put_words(&mut self.out, &figure.caption);
            self.out.push_str("</figcaption>");
        }
        self.out.push_str("</figure>\n");
    }

    fn drawing(&mut self, drawing: &crate::drawing::Drawing, alt: &str) {
        self.drawings += 1;
        let prefix = format!("{}{}-", self.page.prefix, self.drawings);
        self.out.push_str(&svg::inline(drawing, PIXELS, alt, &prefix));
    }
}

/// The cell that names a row: the first bold one, else the first; none where it would be empty.
fn names_row(table: &Table, row: &[Words]) -> Option<usize> {
    let bold = |w: &&Words| !w.is_empty() && w.runs.iter().all(|r| r.bold || r.text.trim().is_empty());
    let words = |i: usize| table.columns.get(i).is_some_and(|c| c.align != Align::Right);
    let first = row.iter().enumerate().find(|(i, w)| words(*i) && bold(w)).map(|(i, _)| i);
    first.or_else(|| row.first().filter(|w| !w.is_empty()).map(|_| 0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flow::Column;

    struct Known;
    impl Names for Known {
        fn ids(&self, words: &str) -> Option<String> {
            (words == "front").then(|| "front".to_owned())
        }
    }

    const PAGE: Page<'static> = Page { level: 3, names: &Known, prefix: "t-" };

    #[test]
    fn a_heading_over_a_table_is_its_caption() {
        let table = Table::new(
            vec![Column::words("wall"), Column::numbers("mm")],
            vec![vec![Words::bold("front, other"), Words::plain("12\n1/2")]],
        );
        let html = write(&[Block::Heading("Walls & such".into()), Block::Table(table)], &PAGE);
        for want in [
            "<caption><h3>Walls &amp; such</h3>",
            "<th scope=\"col\">wall</th>",
            "<th scope=\"row\"><b><a class=\"part\" href=\"#shape\" data-part=\"front\">front</a>, other</b></th>",
            "<td class=\"n\">12<br>1/2</td>",
        ] {
            assert!(html.contains(want), "{want} in {html}");
        }
    }

    /// What a maker writes stays words wherever it stands.
    #[test]
    fn nothing_written_by_a_maker_becomes_markup() {
        let hostile = "<script>\"'&";
        let blocks = [
            Block::Heading(hostile.into()),
            Block::Paragraph(Words::plain(hostile)),
            Block::Pairs(vec![(hostile.into(), Words::bold(hostile))]),
            Block::Table(Table::new(vec![Column::words(hostile)], vec![vec![Words::plain(hostile)]])),
            Block::Card(Card {
                title: hostile.into(),
                under: hostile.into(),
                ticks: vec![hostile.into()],
                ..Card::default()
            }),
            Block::List(List { bullet: Bullet::Dot, items: vec![Words::plain(hostile)] }),
        ];
        let html = write(&blocks, &PAGE);
        assert!(!html.contains("<script") && !html.contains("\"'&"), "{html}");
    }

    #[test]
    fn levels_follow_one_another() {
        let card = || Block::Card(Card { title: "card".into(), ..Card::default() });
        let html = write(&[card()], &PAGE);
        assert!(html.contains("<h3>card"), "{html}");
        let html = write(&[Block::Heading("above".into()), card(), Block::Subheading("below".into())], &PAGE);
        assert!(
            html.contains("<h3>above") && html.contains("<h4>card") && html.contains("<h4>below"),
            "{html}"
        );
    }
}
