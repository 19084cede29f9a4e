//! Numbers as written into files: fixed decimals, no trailing zeros, no minus zero, never an exponent.

/// `value` with at most `decimals` decimals; a value that is not finite becomes 0.
pub(crate) fn plain(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        let kept = text.trim_end_matches('0').trim_end_matches('.').len();
        text.truncate(kept);
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A number narrowed for the page: positions on paper need far less than `f32` holds.
#[expect(clippy::cast_possible_truncation, reason = "paper positions below 10 m, good to a micrometer")]
pub(crate) fn narrow(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn numbers_are_plain() {
        for (given, decimals, want) in [
            (1.0, 3, "1"),
            (-0.0001, 3, "0"),
            (12.3456, 3, "12.346"),
            (1e9, 2, "1000000000"),
            (f64::NAN, 3, "0"),
            (100.0, 0, "100"),
            (-2.50, 3, "-2.5"),
        ] {
            assert_eq!(plain(given, decimals), want, "{given}");
        }
    }
}
