//! Whether a kept drawing is one of ours. A run may have come with an archive from somewhere else, and what is set
//! into a page must be nothing but lines and words.

/// The elements that the writer of drawings uses.
const ELEMENTS: [&str; 10] =
    ["svg", "title", "line", "polyline", "polygon", "circle", "path", "text", "g", "clipPath"];
/// The attributes that it uses.
const ATTRIBUTES: [&str; 31] = [
    "xmlns",
    "width",
    "height",
    "viewBox",
    "role",
    "fill",
    "stroke",
    "stroke-width",
    "stroke-linejoin",
    "stroke-dasharray",
    "x",
    "y",
    "x1",
    "y1",
    "x2",
    "y2",
    "cx",
    "cy",
    "r",
    "d",
    "points",
    "font-size",
    "font-family",
    "font-weight",
    "text-anchor",
    "transform",
    "id",
    "clip-path",
    "opacity",
    "fill-opacity",
    "stroke-linecap",
];

/// Whether a text is a drawing of these elements and attributes alone.
pub(super) fn is_plain(svg: &str) -> bool {
    let mut rest = svg;
    while let Some(at) = rest.find('<') {
        let Some(tag) = rest[at + 1..].split_once('>') else { return false };
        if !is_plain_tag(tag.0) {
            return false;
        }
        rest = tag.1;
    }
    true
}

fn is_plain_tag(tag: &str) -> bool {
    let tag = tag.strip_prefix('/').or_else(|| tag.strip_suffix('/')).unwrap_or(tag);
    let (name, mut rest) = tag.split_once(' ').unwrap_or((tag, ""));
    if !ELEMENTS.contains(&name) {
        return false;
    }
    while !rest.trim().is_empty() {
        let Some((key, value)) = rest.split_once("=\"") else { return false };
        let Some((_, after)) = value.split_once('"') else { return false };
        if !ATTRIBUTES.contains(&key.trim()) {
            return false;
        }
        rest = after;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use keepwright_packet::drawing::{Drawing, Line, Pen, Text};
    use keepwright_packet::svg;

    #[test]
    fn our_own_drawings_are_plain_and_what_runs_is_not() {
        let mut drawing = Drawing::new();
        drawing.rectangle([0.0, 0.0], 9.0, 4.0, None, Some(Pen::new(Line::Hidden)));
        drawing.text(Text::new([1.0, 1.0], "<script> & \"onload=\"").turned(90.0));
        assert!(is_plain(&svg::write(&drawing, 1.0, 2.0, "a > b")));
        for bad in [
            "<svg onload=\"alert(1)\"></svg>",
            "<svg><script>alert(1)</script></svg>",
            "<svg><a href=\"/x\"><text>x</text></a></svg>",
            "<svg><image href=\"https://example.com/x\"/></svg>",
            "<svg><text x='1' onclick='a()'>x</text></svg>",
            "<svg><text x=\"1\"onclick=\"a()\">x</text></svg>",
            "<svg><text style=\"color:red\">x</text></svg>",
            "<form action=\"/rack\">",
            "<svg",
            "<!--",
        ] {
            assert!(!is_plain(bad), "{bad}");
        }
    }
}
