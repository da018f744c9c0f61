//! A text in short, by which it is known again.

use sha2::{Digest, Sha256};

/// The SHA-256 of the text (FIPS 180-4), 64 hexadecimal digits; of those as many as
/// are wanted may be used.
pub(crate) fn digest_of(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}
