//! Any bytes as a statement: no panic, problems point into the text, and what reads is written and read again.
#![no_main]

use keepwright_model::design::{Defaults, read_statement_bytes, show_problems, write_statement};
use keepwright_model::units::LengthUnit;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let woods = |id: &str| Ok(id.to_owned());
    match read_statement_bytes(bytes, &Defaults::default(), &woods) {
        Ok(statement) => {
            let text = write_statement(&statement, LengthUnit::Inch);
            let back = read_statement_bytes(text.as_bytes(), &Defaults::default(), &woods);
            assert_eq!(back, Ok(statement), "{text}");
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            assert!(problems.iter().all(|p| p.span.start <= p.span.end && p.span.end <= bytes.len()));
            assert!(!show_problems(&problems, "f", &String::from_utf8_lossy(bytes)).is_empty());
        }
    }
});
