//! Every file is opened again by somebody else's reader: pages, size, text, and a bar that measures 100 mm.

mod sample;

use keepwright_packet::drawing::Drawing;
use keepwright_packet::page::Paper;
use keepwright_packet::{dxf, pdf, stl, svg};
use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};

/// Millimeters in a PDF point (ISO 32000: a point is 1/72 in).
const MM: f64 = 25.4 / 72.0;

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().expect("a sound PDF"))
}

fn opened(paper: Paper) -> Document {
    Document::load_mem(&pdf::write(&sample::document(paper)).expect("a sound PDF")).expect("a sound PDF")
}

/// Width and height of a page, millimeters.
fn size(document: &Document, page: ObjectId) -> [f64; 2] {
    let page = document.get_dictionary(page).expect("a sound PDF");
    let media: Vec<f64> = page
        .get(b"MediaBox")
        .expect("a sound PDF")
        .as_array()
        .expect("a sound PDF")
        .iter()
        .map(number)
        .collect();
    [(media[2] - media[0]) * MM, (media[3] - media[1]) * MM]
}

/// The straight strokes of a page in millimeters, by a small reading of its content stream.
fn strokes(document: &Document, page: ObjectId) -> Vec<[[f64; 2]; 2]> {
    let content = Content::decode(&document.get_page_content(page)).expect("a sound PDF");
    let mut matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut stack, mut path, mut at, mut found) = (Vec::new(), Vec::new(), [0.0; 2], Vec::new());
    for operation in &content.operations {
        let n: Vec<f64> =
            operation.operands.iter().filter_map(|o| o.as_float().ok().map(f64::from)).collect();
        let place = |m: &[f64; 6], x: f64, y: f64| {
            [(m[0] * x + m[2] * y + m[4]) * MM, (m[1] * x + m[3] * y + m[5]) * MM]
        };
        match operation.operator.as_str() {
            "q" => stack.push(matrix),
            "Q" => matrix = stack.pop().expect("a sound PDF"),
            "cm" => {
                let m = matrix;
                matrix = [
                    n[0] * m[0] + n[1] * m[2],
                    n[0] * m[1] + n[1] * m[3],
                    n[2] * m[0] + n[3] * m[2],
                    n[2] * m[1] + n[3] * m[3],
                    n[4] * m[0] + n[5] * m[2] + m[4],
                    n[4] * m[1] + n[5] * m[3] + m[5],
                ];
            }
            "m" => at = place(&matrix, n[0], n[1]),
            "l" => {
                let to = place(&matrix, n[0], n[1]);
                path.push([at, to]);
                at = to;
            }
            "S" | "s" | "B" | "b" | "B*" | "b*" => found.append(&mut path),
            "n" | "f" | "f*" => path.clear(),
            _ => {}
        }
    }
    found
}

/// The length of a level line on which `ticks` upright ticks stand or hang, evenly spread from end to end.
fn bar(strokes: &[[[f64; 2]; 2]], ticks: usize) -> Option<f64> {
    let near = |a: f64, b: f64| (a - b).abs() < 0.02;
    strokes.iter().filter(|[a, b]| near(a[1], b[1])).find_map(|[a, b]| {
        let (left, right) = (a[0].min(b[0]), a[0].max(b[0]));
        let mut at: Vec<f64> = strokes
            .iter()
            .filter(|[c, d]| near(c[0], d[0]) && (near(c[1], a[1]) || near(d[1], a[1])))
            .map(|[c, _]| c[0])
            .filter(|x| *x > left - 0.02 && *x < right + 0.02)
            .collect();
        at.sort_by(f64::total_cmp);
        let step = (right - left) / (ticks - 1) as f64;
        let even = at.iter().enumerate().all(|(i, x)| near(*x, left + step * i as f64));
        (at.len() == ticks && even).then_some(right - left)
    })
}

#[test]
fn pdf_has_its_pages_on_the_paper_asked_for() {
    // Paper sizes: ISO 216 for A4; 8.5 by 11 in for Letter.
    for (paper, want) in [(Paper::Letter, [215.9, 279.4]), (Paper::A4, [210.0, 297.0])] {
        let document = opened(paper);
        let pages = document.get_pages();
        assert_eq!(pages.len(), sample::document(paper).page_count());
        let mut lying = 0;
        for page in pages.values() {
            let [width, height] = size(&document, *page);
            let [want_width, want_height] = if width < height { want } else { [want[1], want[0]] };
            lying += u32::from(width > height);
            assert!(
                (width - want_width).abs() < 0.01 && (height - want_height).abs() < 0.01,
                "{width} {height}"
            );
        }
        assert_eq!(lying, 1, "one sheet lies on its side");
    }
}

#[test]
fn pdf_text_can_be_read_and_searched() {
    let document = opened(Paper::A4);
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text: String =
        document.extract_text(&pages).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    let last = format!("page {0} of {0}", pages.len());
    for want in [
        "Needle box in pear",
        "548.4 mm",
        "closing corner",
        "Cannot be made, or not safely",
        "Sheet 6 of 6",
        "stop to tip",
        "3 March 2025",
        last.as_str(),
    ] {
        let squeezed = |t: &str| t.replace(' ', "");
        assert!(squeezed(&text).contains(&squeezed(want)), "{want} is not in: {text}");
    }
}

#[test]
fn pdf_says_what_it_is_and_nothing_of_when() {
    let document = opened(Paper::Letter);
    let catalog = document.catalog().unwrap();
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en-US");
    assert!(catalog.has(b"StructTreeRoot") && catalog.has(b"Outlines"));
    let marked = document.dereference(catalog.get(b"MarkInfo").unwrap()).unwrap().1.as_dict().unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    let info = document.trailer.get(b"Info").unwrap();
    let info = document.dereference(info).unwrap().1.as_dict().unwrap();
    assert!(info.has(b"Title") && !info.has(b"CreationDate") && !info.has(b"ModDate"));
    let fonts: Vec<String> = document
        .objects
        .values()
        .filter_map(|o| o.as_dict().ok()?.get(b"FontName").ok()?.as_name().ok())
        .map(|name| String::from_utf8_lossy(name).into_owned())
        .collect();
    assert!(!fonts.is_empty());
    for font in fonts {
        assert!(font.contains("AtkinsonHyperlegible") || font.contains("SourceSerif4"), "{font}");
    }
}

#[test]
fn a_100_mm_bar_measures_100_mm_on_every_full_scale_page() {
    for paper in [Paper::Letter, Paper::A4] {
        let document = opened(paper);
        let mut bars = 0;
        for page in document.get_pages().values() {
            let strokes = strokes(&document, *page);
            if let Some(length) = bar(&strokes, 11) {
                assert!((length - 100.0).abs() < 0.01, "{length}");
                let inches = bar(&strokes, 17).unwrap();
                assert!((inches - 4.0 * 25.4).abs() < 0.01, "{inches}");
                bars += 1;
            }
        }
        assert_eq!(bars, 7, "one wall and six sheets of a template");
    }
}

#[test]
fn a_full_scale_wall_is_as_long_on_paper_as_in_wood() {
    // sample::wall: 162 by 58 mm.
    let document = opened(Paper::A4);
    let found = document.get_pages().values().any(|page| {
        let strokes = strokes(&document, *page);
        let has = |length: f64, along: usize| {
            strokes.iter().any(|[a, b]| {
                (a[1 - along] - b[1 - along]).abs() < 1e-3
                    && ((a[along] - b[along]).abs() - length).abs() < 0.01
            })
        };
        bar(&strokes, 11).is_some() && has(162.0, 0) && has(58.0, 1)
    });
    assert!(found);
}

#[test]
fn dxf_is_read_by_another_program() {
    let text = dxf::write(&sample::wall());
    let drawing = ::dxf::Drawing::load(&mut text.as_bytes()).unwrap();
    assert_eq!(drawing.header.version, ::dxf::enums::AcadVersion::R12);
    let layers: Vec<String> = drawing.layers().map(|layer| layer.name.clone()).collect();
    for want in ["VISIBLE", "HIDDEN", "CENTER", "DIMENSION", "UNIT_IS_MM"] {
        assert!(layers.iter().any(|layer| layer == want), "{want} is not in {layers:?}");
    }
    let mut outline = Vec::new();
    let (mut circles, mut texts, mut hidden) = (0, Vec::new(), 0);
    for entity in drawing.entities() {
        match &entity.specific {
            ::dxf::entities::EntityType::Polyline(line) if entity.common.layer == "VISIBLE" => {
                outline = line.vertices().map(|v| [v.location.x, v.location.y]).collect();
            }
            ::dxf::entities::EntityType::Circle(circle) if entity.common.layer == "VISIBLE" => {
                assert!((circle.radius - 3.0).abs() < 1e-9);
                circles += 1;
            }
            ::dxf::entities::EntityType::Text(text) => texts.push(text.value.clone()),
            ::dxf::entities::EntityType::Line(line) if entity.common.layer == "HIDDEN" => {
                assert!((line.p2.x - line.p1.x - 162.0).abs() < 1e-9);
                hidden += 1;
            }
            _ => {}
        }
    }
    // The wall is 162 by 58 mm with one peg hole of 6 mm and one hidden edge.
    assert_eq!(outline, [[0.0, 0.0], [162.0, 0.0], [162.0, 58.0], [0.0, 58.0]]);
    assert_eq!((circles, hidden), (1, 1));
    assert!(texts.iter().any(|t| t == "162") && texts.iter().any(|t| t.contains("for the peg")), "{texts:?}");
    // Nothing newer than release 12, and the unit said in words.
    assert!(!text.contains("LWPOLYLINE") && !text.contains("$INSUNITS"));
    assert!(text.starts_with("999\r\nAll lengths in millimeters"));
    assert!(text.is_ascii() && text.replace("\r\n", "").find(['\r', '\n']).is_none());
}

#[test]
fn dxf_cuts_lines_where_a_drawing_is_clipped() {
    let mut drawing = Drawing::new();
    drawing.place_clipped(
        sample::wall(),
        keepwright_packet::drawing::Affine::SAME,
        [[-50.0, -50.0], [40.0, -50.0], [40.0, 100.0], [-50.0, 100.0]],
    );
    let text = dxf::write(&drawing);
    let back = ::dxf::Drawing::load(&mut text.as_bytes()).unwrap();
    let mut lines = 0;
    for entity in back.entities() {
        if let ::dxf::entities::EntityType::Line(line) = &entity.specific {
            assert!(line.p1.x <= 40.0 + 1e-6 && line.p2.x <= 40.0 + 1e-6, "{line:?}");
            lines += 1;
        }
    }
    assert!(lines > 4);
}

#[test]
fn stl_block_has_its_volume() {
    // FM-07: block 200 x 120 x 75 mm, signed volume 1 800 000 mm³, positive.
    let at = |i: usize| {
        let bit = |b: usize, length: f64| if i >> b & 1 == 1 { length } else { 0.0 };
        [bit(0, 200.0), bit(1, 120.0), bit(2, 75.0)]
    };
    let points: Vec<[f64; 3]> = (0..8).map(at).collect();
    let quads = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
    let triangles: Vec<[usize; 3]> =
        quads.iter().flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]]).collect();
    let bytes = stl::write(&points, &triangles).unwrap();
    assert_eq!(bytes.len(), 84 + 50 * 12);
    assert!(!bytes.starts_with(b"solid"));
    let mesh = stl_io::read_stl(&mut std::io::Cursor::new(bytes)).unwrap();
    assert_eq!((mesh.faces.len(), mesh.vertices.len()), (12, 8));
    let mut volume = 0.0;
    for face in &mesh.faces {
        let [a, b, c] = face.vertices.map(|i| mesh.vertices[i].0.map(f64::from));
        let cross = [b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]];
        volume += a.iter().zip(cross).map(|(x, y)| x * y).sum::<f64>() / 6.0;
        let normal = face.normal.0.map(f64::from);
        let center: Vec<f64> = (0..3).map(|i| (a[i] + b[i] + c[i]) / 3.0 - [100.0, 60.0, 37.5][i]).collect();
        assert!(normal.iter().zip(&center).map(|(n, c)| n * c).sum::<f64>() > 0.0, "normals point outward");
    }
    assert!((volume - 1_800_000.0).abs() < 1e-6, "{volume}");
    // A closed surface: every edge is walked once in each direction.
    let mut edges = std::collections::BTreeMap::new();
    for face in &mesh.faces {
        let [a, b, c] = face.vertices;
        for (from, to) in [(a, b), (b, c), (c, a)] {
            *edges.entry((from.min(to), from.max(to))).or_insert(0) += if from < to { 1 } else { -1 };
        }
    }
    assert!(edges.len() == 18 && edges.values().all(|sum| *sum == 0));
    assert!(stl::write(&points, &[[0, 1, 8]]).is_err());
    assert!(stl::write(&[[0.0, f64::NAN, 0.0]], &[]).is_err());
}

#[test]
fn svg_is_sound_and_keeps_its_size() {
    let mut drawing = Drawing::new();
    drawing.line(
        [0.0, 0.0],
        [100.0, 0.0],
        keepwright_packet::drawing::Pen::new(keepwright_packet::drawing::Line::Visible),
    );
    let text = svg::write(&drawing, 1.0, 5.0, "A line of 100 mm & no more");
    let tree = roxmltree::Document::parse(&text).unwrap();
    let root = tree.root_element();
    let view: Vec<f64> = root.attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    let width: f64 = root.attribute("width").unwrap().strip_suffix("mm").unwrap().parse().unwrap();
    // One unit of the view box is one millimeter, so 100 of them are 377.9528 CSS pixels: FM-08.
    assert!((view[2] - width).abs() < 1e-9);
    let line = tree.descendants().find(|node| node.has_tag_name("line")).unwrap();
    let at = |name: &str| line.attribute(name).unwrap().parse::<f64>().unwrap();
    let pixels = (at("x2") - at("x1")) * width / view[2] * 96.0 / 25.4;
    assert!((pixels - 377.9528).abs() < 1e-4, "FM-08: {pixels}");
    assert!(view[0] < at("x1") && view[0] + view[2] > at("x2"), "the line lies inside");
}

#[test]
fn svg_uses_presentation_attributes_only() {
    let text = svg::write(&sample::view(), 0.5, 2.0, "The box <closed>");
    let tree = roxmltree::Document::parse(&text).unwrap();
    for node in tree.descendants().filter(roxmltree::Node::is_element) {
        assert!(node.attribute("style").is_none() && node.attribute("class").is_none());
        assert!(!node.has_tag_name("style") && !node.has_tag_name("script"));
    }
    let title = tree.descendants().find(|node| node.has_tag_name("title")).unwrap();
    assert_eq!(title.text(), Some("The box <closed>"));
}

#[test]
fn small_drawings_look_as_reviewed() {
    insta::assert_snapshot!("miter", svg::write(&sample::miter(), 0.5, 2.0, "Miter the far ends"));
    insta::assert_snapshot!("wall", svg::write(&sample::wall(), 1.0, 2.0, "Front wall"));
}
