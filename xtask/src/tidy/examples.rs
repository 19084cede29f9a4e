//! The examples are boxes of our own: no walnut with maple, nothing built on seven inches.
//!
//! Both are what so many published boxes are made of that an example would look borrowed.

use super::Finding;
use crate::tree::Tree;

const FOLDER: &str = "examples/";
/// Seven inches, in millimeters (25.4 each).
const SEVEN_INCHES: f64 = 177.8;
/// Nearer than this is the same size, in millimeters.
const NEAR: f64 = 0.05;

pub(super) fn findings(tree: &Tree) -> Vec<Finding> {
    let mut found = Vec::new();
    for (name, text) in tree.ending("toml").filter(|(name, _)| name.starts_with(FOLDER)) {
        let lower = text.to_lowercase();
        if lower.contains("walnut") && lower.contains("maple") {
            found.push(Finding::new(name, 0, "walnut stands with maple: choose another pair"));
        }
        let bare = if text.lines().any(|line| line.replace(' ', "") == "units=\"in\"") { 25.4 } else { 1.0 };
        for (index, line) in text.lines().enumerate() {
            for (key, value) in values(line) {
                if is_size(&key)
                    && millimeters(&value, bare).is_some_and(|mm| (mm - SEVEN_INCHES).abs() < NEAR)
                {
                    found.push(Finding::new(
                        name,
                        index + 1,
                        format!("`{key}` is seven inches: choose another size"),
                    ));
                }
            }
        }
    }
    found
}

/// Keys that count or measure something else than a length; the unit or the noun is in the name.
fn is_size(key: &str) -> bool {
    const OTHER: [&str; 14] = [
        "pct", "degrees", "celsius", "days", "hours", "minutes", "n", "m2", "day", "hour", "gauge", "price",
        "count", "coats",
    ];
    !OTHER.contains(&key.rsplit('_').next().unwrap_or(key))
}

/// The values of a line, each with the key it stands under; lists and inline tables are looked into.
fn values(line: &str) -> Vec<(String, String)> {
    let (mut found, mut key, mut word) = (Vec::new(), String::new(), String::new());
    let mut signs = line.chars().peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '#' => break,
            '"' | '\'' => {
                let mut text = String::new();
                while let Some(inside) = signs.next_if(|s| *s != sign) {
                    // An escaped quote belongs to the text.
                    if inside == '\\' && sign == '"' {
                        text.extend(signs.next());
                    } else {
                        text.push(inside);
                    }
                }
                signs.next();
                word = text;
            }
            '=' => key = std::mem::take(&mut word),
            ',' | '{' | '}' | '[' | ']' => {
                let value = std::mem::take(&mut word);
                if !value.is_empty() {
                    found.push((key.clone(), value));
                }
            }
            ' ' | '\t' => {}
            _ => word.push(sign),
        }
    }
    if !word.is_empty() {
        found.push((key, word));
    }
    found
}

/// A length as a maker writes it; `bare` is the unit of a number without one.
fn millimeters(value: &str, bare: f64) -> Option<f64> {
    let value = value.trim();
    let ends = [
        ("mm", 1.0),
        ("cm", 10.0),
        ("inches", 25.4),
        ("inch", 25.4),
        ("in", 25.4),
        ("″", 25.4),
        ("\"", 25.4),
    ];
    let (number, unit) =
        ends.iter().find_map(|(end, mm)| Some((value.strip_suffix(end)?, *mm))).unwrap_or((value, bare));
    let mut sum = 0.0;
    let mut some = false;
    for piece in number.split([' ', '-']).filter(|piece| !piece.is_empty()) {
        sum += match piece.split_once('/') {
            Some((above, below)) => above.parse::<f64>().ok()? / below.parse::<f64>().ok()?,
            None => piece.parse::<f64>().ok()?,
        };
        some = true;
    }
    some.then_some(sum * unit)
}

#[cfg(test)]
mod tests {
    use super::{millimeters, values};
    use crate::tidy::told;

    struct Case {
        name: &'static str,
        given: &'static str,
        want: usize,
    }

    #[test]
    fn borrowed_boxes_are_found() {
        let cases = [
            Case { name: "a pair", given: "a = \"walnut\"\nb = \"Hard maple\"\n", want: 1 },
            Case { name: "walnut alone", given: "a = \"walnut\"\n", want: 0 },
            Case {
                name: "bare inches",
                given: "units = \"in\"\noutside = { length = 7, depth = 5 }\n",
                want: 1,
            },
            Case { name: "bare text", given: "units = \"in\"\nlength = \"7\"\n", want: 1 },
            Case { name: "named inches", given: "units = \"mm\"\nlength = \"7 in\"\n", want: 1 },
            Case { name: "inch mark", given: "length = \"7\\\"\"\n", want: 1 },
            Case { name: "as a fraction", given: "length = \"6 8/8 in\"\n", want: 1 },
            Case { name: "millimeters", given: "size = [177.8, 20]\n", want: 1 },
            Case { name: "centimeters", given: "length = \"17.78 cm\"\n", want: 1 },
            Case { name: "seven millimeters", given: "units = \"mm\"\ndepth = 7\n", want: 0 },
            Case { name: "seven feet and some", given: "units = \"in\"\nlength = \"7' 6\"\n", want: 0 },
            Case { name: "seven percent", given: "units = \"in\"\nmoisture_pct = 7.0\ncount = 7\n", want: 0 },
            Case { name: "a comment", given: "length = 9 # not 7 in\n", want: 0 },
        ];
        for Case { name, given, want } in cases {
            let found = told(super::findings, &[("examples/a.toml", given)]);
            assert_eq!(found.len(), want, "{name}: {found:?}");
        }
    }

    #[test]
    fn values_are_read_with_their_keys() {
        let read = values("a = { b = 1, c = \"2 in\" } # d = 3");
        let want = [("b", "1"), ("c", "2 in")].map(|(k, v)| (k.to_owned(), v.to_owned()));
        assert_eq!(read, want);
    }

    /// Source: 1 in is 25.4 mm exactly.
    #[test]
    fn lengths_are_read() {
        for (given, want) in
            [("1", 25.4), ("1 1/2 in", 38.1), ("1-1/2", 38.1), ("12 mm", 12.0), ("1.5 cm", 15.0)]
        {
            let read = millimeters(given, 25.4);
            assert!(read.is_some_and(|mm| (mm - want).abs() < 1e-9), "{given}: {read:?}");
        }
        assert_eq!(millimeters("cherry", 25.4), None);
    }
}
