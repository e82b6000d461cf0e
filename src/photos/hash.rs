use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// Lower-case hexadecimal SHA-256 of the original file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PhotoHash(pub String);

impl PhotoHash {
    pub fn of(bytes: &[u8]) -> PhotoHash {
        let mut text = String::with_capacity(64);
        for byte in Sha256::digest(bytes) {
            // Writing to a String cannot fail.
            let _ = write!(text, "{byte:02x}");
        }
        PhotoHash(text)
    }

    /// A hash may come from an address or a file: nothing else may become part of a path.
    pub fn is_sound(&self) -> bool {
        self.0.len() == 64 && self.0.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_hash_of_abc() {
        // FIPS 180-4, example of SHA-256.
        let hash = PhotoHash::of(b"abc");
        assert_eq!(
            hash.0,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert!(hash.is_sound());
        for bad in ["", "../../etc/passwd", &hash.0.to_uppercase(), &hash.0[1..]] {
            assert!(!PhotoHash(bad.to_string()).is_sound(), "{bad}");
        }
    }
}
