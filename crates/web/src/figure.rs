//! Drawings that a page shows as pictures: they bring their letters with them, for a picture loads no faces.

use crate::assets;
use std::fmt::Write as _;

/// What a drawing may load when it is opened by itself: the faces and the style inside it.
pub(crate) const CONTENT: &str = "default-src 'none'; font-src data:; style-src 'unsafe-inline'; sandbox";

/// The face of a drawing's words: its weight and its file among the assets.
const FACES: [(u16, &str); 2] = [
    (400, "fonts/atkinson-hyperlegible/atkinson-hyperlegible-latin-400-normal.woff2"),
    (700, "fonts/atkinson-hyperlegible/atkinson-hyperlegible-latin-700-normal.woff2"),
];

/// The faces of the pages: family, weight, file among the assets.
const ALL_FACES: [(&str, u16, &str); 4] = [
    ("Atkinson Hyperlegible", FACES[0].0, FACES[0].1),
    ("Atkinson Hyperlegible", FACES[1].0, FACES[1].1),
    ("Source Serif 4", 400, "fonts/source-serif-4/source-serif-4-latin-400-normal.woff2"),
    ("Source Serif 4", 600, "fonts/source-serif-4/source-serif-4-latin-600-normal.woff2"),
];

/// Every face of the pages as style rules that bring the letters with them.
pub(crate) fn faces() -> String {
    let mut out = String::with_capacity(110_000);
    for (family, weight, file) in ALL_FACES {
        if let Some(bytes) = assets::bytes(file) {
            face(&mut out, family, weight, &bytes);
        }
    }
    out
}

fn face(out: &mut String, family: &str, weight: u16, bytes: &[u8]) {
    let _ = write!(
        out,
        "@font-face{{font-family:'{family}';font-weight:{weight};src:url(data:font/woff2;base64,{})}}",
        base64(bytes)
    );
}

/// The drawing with the faces of its words inside.
pub(crate) fn with_faces(svg: &str) -> String {
    let Some(at) = svg.find("<title>") else { return svg.to_owned() };
    let (head, rest) = svg.split_at(at);
    let mut out = String::with_capacity(svg.len() + 48_000);
    out.push_str(head);
    out.push_str("<style>");
    for (weight, file) in FACES {
        // The second weight is in few drawings.
        let wanted = weight == 400 || svg.contains("font-weight=\"700\"");
        if let Some(bytes) = assets::bytes(file).filter(|_| wanted) {
            face(&mut out, "Atkinson Hyperlegible", weight, &bytes);
        }
    }
    out.push_str("</style>");
    out.push_str(rest);
    out
}

/// Bytes in base 64 with padding (RFC 4648, section 4).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |i: usize| three.get(i).map_or(0, |b| u32::from(*b));
        let all = byte(0) << 16 | byte(1) << 8 | byte(2);
        for i in 0..4 {
            if i <= three.len() {
                let six = (all >> (18 - 6 * i)) & 63;
                out.push(LETTERS.get(six as usize).map_or('=', |l| char::from(*l)));
            } else {
                out.push('=');
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10: the test vectors.
    #[test]
    fn base_64_of_the_standard() {
        for (given, want) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(given.as_bytes()), want, "{given}");
        }
    }

    #[test]
    fn a_drawing_brings_its_letters() {
        let with = with_faces("<svg>\n<title>t</title></svg>");
        assert!(with.contains("@font-face") && with.ends_with("<title>t</title></svg>"));
    }
}
