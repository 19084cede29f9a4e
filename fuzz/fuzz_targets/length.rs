//! Any text as a length: no panic, and what reads is between nothing and ten meters.
#![no_main]

use keepwright_model::units::{Length, LengthUnit, parse_length_in};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for unit in [LengthUnit::Millimeter, LengthUnit::Inch] {
        if let Ok(length) = parse_length_in(text, unit) {
            assert!(length >= Length::ZERO && length <= Length::LONGEST, "{text}");
        }
    }
});
