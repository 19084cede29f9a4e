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
}
