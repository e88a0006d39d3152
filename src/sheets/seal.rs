//! A paper enciphered for the way out of the clinic: AES with 256 bits, the tags kept.
//!
//! A sealed paper is no PDF/A any more, which forbids encryption (ISO 19005-2:2011, 6.1.3), and no two
//! seals have the same bytes: the key is drawn anew each time.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use lopdf::encryption::crypt_filters::{Aes256CryptFilter, CryptFilter};
use lopdf::{Document, EncryptionState, EncryptionVersion, Permissions};

/// Fewest characters of a password; a longer one is better (NIST SP 800-63B-4, 3.1.1.2, from memory: eight at the
/// least).
pub const SHORTEST_PASSWORD: usize = 8;
/// More bytes of a password are not looked at (ISO 32000-2:2020, 7.6.4.3.3).
pub const LONGEST_PASSWORD: usize = 127;

/// Why a paper could not be sealed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealFault(String);

impl fmt::Display for SealFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for SealFault {}

/// The paper enciphered by AES-256 (ISO 32000-2:2020, 7.6.4.4, revision 6): it opens with the password alone.
///
/// Printing, copying and reading aloud stay allowed.
///
/// # Errors
///
/// When the password is shorter than [`SHORTEST_PASSWORD`] characters or longer than [`LONGEST_PASSWORD`] bytes, or
/// the system gives no random key.
pub fn seal(pdf: &[u8], password: &str) -> Result<Vec<u8>, SealFault> {
    if password.chars().count() < SHORTEST_PASSWORD {
        return Err(SealFault(format!(
            "the password has fewer than {SHORTEST_PASSWORD} characters"
        )));
    }
    if password.len() > LONGEST_PASSWORD {
        return Err(SealFault(format!("the password is longer than {LONGEST_PASSWORD} bytes")));
    }
    enciphered(pdf, password).map_err(|why| SealFault(format!("the paper cannot be sealed: {why}")))
}

fn enciphered(pdf: &[u8], password: &str) -> Result<Vec<u8>, Box<dyn std::error::Error>> {
    let mut key = [0; 32];
    getrandom::fill(&mut key).map_err(|_| "the system gives no random numbers")?;
    let filter: Arc<dyn CryptFilter> = Arc::new(Aes256CryptFilter);
    let state = EncryptionState::try_from(EncryptionVersion::V5 {
        encrypt_metadata: true,
        crypt_filters: BTreeMap::from([(b"StdCF".to_vec(), filter)]),
        file_encryption_key: &key,
        stream_filter: b"StdCF".to_vec(),
        string_filter: b"StdCF".to_vec(),
        owner_password: password,
        user_password: password,
        permissions: Permissions::PRINTABLE
            | Permissions::PRINTABLE_IN_HIGH_QUALITY
            | Permissions::COPYABLE
            | Permissions::COPYABLE_FOR_ACCESSIBILITY,
    })?;
    let mut document = Document::load_mem(pdf)?;
    document.encrypt(&state)?;
    let mut sealed = Vec::with_capacity(pdf.len() + 4096);
    document.save_to(&mut sealed)?;
    Ok(sealed)
}
