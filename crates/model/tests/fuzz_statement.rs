//! Mangled statements: no text makes the reader panic, and every problem points into its text.

mod reference;

use keepwright_model::design::{
    Defaults, read_rack, read_shop, read_statement_bytes, show_problems, text_of, write_statement,
};
use keepwright_model::units::{Currency, LengthUnit, parse_length};

/// How many mangled texts are read; a few seconds.
const ROUNDS: u32 = 30_000;

/// A fixed sequence of numbers.
///
/// # Source
/// The 64-bit xorshift generator: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).unwrap_or(0) % bound.max(1)
    }
}

/// Pieces that have broken readers before.
const PIECES: &[&[u8]] = &[
    b"1e999",
    b"-",
    b"nan",
    b"inf",
    b"0",
    b"-0.0",
    b"99999999999999999999",
    b"0x_f",
    b"1/0",
    b"\"",
    b"'",
    b"\"\"\"",
    b"[",
    b"]",
    b"[[",
    b"{",
    b"}",
    b"=",
    b".",
    b",",
    b"\n",
    b"\r\n",
    b"\t",
    b"\0",
    b"\xff",
    b"\xc3\xa9",
    b"\xe2\x85\x9b",
    b"true",
    b"1979-05-27",
    b"#",
    b"\\u0000",
    b"across = 3\n",
    b"[lid.panel]\n",
    b"[[corners.row]]\n",
    b"sides = 12\n",
];

fn mangle(text: &mut Vec<u8>, numbers: &mut Numbers) {
    for _ in 0..=numbers.below(6) {
        let at = numbers.below(text.len() + 1);
        let end = (at + numbers.below(12)).min(text.len());
        match numbers.below(6) {
            0 => drop(text.drain(at..end)),
            1 => {
                let piece = PIECES[numbers.below(PIECES.len())];
                drop(text.splice(at..at, piece.iter().copied()));
            }
            2 => {
                let piece = PIECES[numbers.below(PIECES.len())];
                drop(text.splice(at..end, piece.iter().copied()));
            }
            3 => {
                let copy: Vec<u8> = text[at..end].to_vec();
                let to = numbers.below(text.len() + 1);
                drop(text.splice(to..to, copy));
            }
            4 => {
                if let Some(byte) = text.get_mut(at) {
                    *byte ^= 1 << numbers.below(8);
                }
            }
            _ => {
                // A line moves elsewhere: a key lands in a strange section.
                let mut lines: Vec<&[u8]> = text.split(|b| *b == b'\n').collect();
                let from = numbers.below(lines.len());
                let line = lines.remove(from);
                lines.insert(numbers.below(lines.len() + 1), line);
                *text = lines.join(&b'\n');
            }
        }
    }
}

#[test]
fn no_text_breaks_the_reader() {
    let seeds: Vec<Vec<u8>> = reference::examples().into_iter().map(String::into_bytes).collect();
    let mut numbers = Numbers(0x9E37_79B9_7F4A_7C15);
    let (mut read, mut refused) = (0, 0);
    for _ in 0..ROUNDS {
        let mut text = seeds[numbers.below(seeds.len())].clone();
        mangle(&mut text, &mut numbers);
        match read_statement_bytes(&text, &Defaults::default(), &|id| Ok(id.to_owned())) {
            Ok(statement) => {
                read += 1;
                let again = write_statement(&statement, LengthUnit::Millimeter);
                let back =
                    read_statement_bytes(again.as_bytes(), &Defaults::default(), &|id| Ok(id.to_owned()));
                assert_eq!(back.as_ref(), Ok(&statement), "{again}");
            }
            Err(problems) => {
                refused += 1;
                assert!(!problems.is_empty());
                let shown = String::from_utf8_lossy(&text);
                for p in &problems {
                    assert!(p.span.start <= p.span.end && p.span.end <= text.len(), "{p:?}\n{shown}");
                    assert!(!p.says.is_empty() && !p.remedy.is_empty(), "{p:?}\n{shown}");
                }
                assert!(show_problems(&problems, "f", &shown).contains('^'));
            }
        }
    }
    assert!(read > 100 && refused > 100, "{read} read, {refused} refused");
}

#[test]
fn no_text_breaks_the_length() {
    let seeds: [&[u8]; 4] = [b"7 1/2 in", b"2' 3 1/4\"", b"190 mm", b"1e2 cm"];
    let mut numbers = Numbers(0x2545_F491_4F6C_DD1D);
    for _ in 0..20_000 {
        let mut text = seeds[numbers.below(seeds.len())].to_vec();
        mangle(&mut text, &mut numbers);
        if let Ok(length) = parse_length(&String::from_utf8_lossy(&text)) {
            assert!(length.to_mm() >= 0.0 && length.to_mm() <= 10_000.0);
        }
    }
}

#[test]
fn no_text_breaks_the_readers_of_shop_and_rack() {
    let references = [include_str!("../../../docs/shop-file.md"), include_str!("../../../docs/rack-file.md")];
    let seeds =
        references.map(|r| r.split("```toml\n").nth(1).and_then(|b| b.split("```").next()).unwrap_or(""));
    let mut numbers = Numbers(0xD1B5_4A32_D192_ED03);
    for round in 0..6000 {
        let mut bytes = seeds[round % 2].as_bytes().to_vec();
        mangle(&mut bytes, &mut numbers);
        let Ok(text) = text_of(&bytes) else {
            continue;
        };
        let woods = |id: &str| Ok(id.to_owned());
        let problems = [
            read_shop(text, &Defaults::default()).err(),
            read_rack(text, &Defaults::default(), Currency::USD, &woods).err(),
        ];
        for p in problems.into_iter().flatten().flatten() {
            assert!(p.span.start <= p.span.end && p.span.end <= text.len(), "{p:?}\n{text}");
            assert!(!p.show("f", text).is_empty());
        }
    }
}
