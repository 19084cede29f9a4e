//! Random words and their digests: cookies, tokens, codes.

use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// 32 random bytes as 64 hexadecimal digits.
///
/// # Errors
/// When the system gives no random bytes; nothing secret can be made then.
pub(crate) fn random_hex() -> Result<String, getrandom::Error> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes)?;
    Ok(hex(&bytes))
}

/// 20 random bytes (160 bits) as 32 letters and digits of which no two look alike, for an address that may have to be
/// typed.
///
/// # Errors
/// As [`random_hex`].
pub(crate) fn random_code() -> Result<String, getrandom::Error> {
    const LETTERS: &[u8; 32] = b"abcdefghjkmnpqrstuvwxyz023456789";
    let mut bytes = [0_u8; 20];
    getrandom::fill(&mut bytes)?;
    let (mut code, mut bits, mut held) = (String::with_capacity(32), 0_u32, 0_u32);
    for byte in bytes {
        bits = bits << 8 | u32::from(byte);
        held += 8;
        while held >= 5 {
            held -= 5;
            code.push(char::from(LETTERS[(bits >> held & 31) as usize]));
        }
        bits &= (1 << held) - 1;
    }
    Ok(code)
}

/// The SHA-256 of several texts, each with its length before it so that no two lists meet, in hexadecimal.
pub(crate) fn digest(parts: &[&str]) -> String {
    let mut sha = Sha256::new();
    for part in parts {
        sha.update((part.len() as u64).to_le_bytes());
        sha.update(part.as_bytes());
    }
    hex(&sha.finalize())
}

/// Whether two texts are the same, in a time that does not tell where they differ.
pub(crate) fn same(a: &str, b: &str) -> bool {
    a.len() == b.len() && a.bytes().zip(b.bytes()).fold(0, |all, (x, y)| all | (x ^ y)) == 0
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(2 * bytes.len()), |mut out, byte| {
        let _ = write!(out, "{byte:02x}");
        out
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_that_join_alike_differ() {
        assert_ne!(digest(&["ab", "c"]), digest(&["a", "bc"]));
        assert!(same("abc", "abc") && !same("abc", "abd") && !same("abc", "ab"));
        let (one, two) = (random_hex().unwrap(), random_hex().unwrap());
        assert!(one.len() == 64 && one != two, "{one} {two}");
    }

    #[test]
    fn a_code_has_all_its_bits() {
        let codes: Vec<String> = (0..64).map(|_| random_code().unwrap()).collect();
        for code in &codes {
            assert_eq!(code.len(), 32, "{code}");
            assert!(code.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()), "{code}");
            assert!(!code.contains(['i', 'l', 'o', '1']), "{code}");
        }
        // Every place varies: 64 codes that agree in one are as good as impossible.
        for place in 0..32 {
            let letters: std::collections::BTreeSet<u8> = codes.iter().map(|c| c.as_bytes()[place]).collect();
            assert!(letters.len() > 8, "place {place}: {letters:?}");
        }
    }
}
