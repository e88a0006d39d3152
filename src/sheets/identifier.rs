//! What a paper on disk says of itself without being opened: its identifier (ISO 32000-1:2008, 14.4).

/// The identifier of a PDF that tautline wrote, read from its trailer, which is not enciphered in a sealed file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Identifier {
    /// The first half: the same in each print of one paper of one case.
    pub paper: Vec<u8>,
    /// The second half: the [`super::Stamp`] of what it was printed from.
    pub stamp: Vec<u8>,
    /// Whether the file is sealed.
    pub is_sealed: bool,
}

/// The trailer stands at the end and is short.
const TRAILER: usize = 2048;

/// The identifier of a PDF as tautline writes it; nothing for any other bytes.
#[must_use]
pub fn identifier(pdf: &[u8]) -> Option<Identifier> {
    let tail = &pdf[pdf.len().saturating_sub(TRAILER)..];
    if !pdf.starts_with(b"%PDF-") || !tail.trim_ascii_end().ends_with(b"%%EOF") {
        return None;
    }
    let trailer = &tail[last(tail, b"trailer")?..];
    let halves = &trailer[last(trailer, b"/ID")? + 3..];
    let halves = halves.trim_ascii_start().strip_prefix(b"[")?;
    let (paper, rest) = literal(halves)?;
    let (stamp, _) = literal(rest)?;
    Some(Identifier { paper, stamp, is_sealed: last(trailer, b"/Encrypt").is_some() })
}

/// Where a word last begins.
fn last(bytes: &[u8], word: &[u8]) -> Option<usize> {
    bytes.windows(word.len()).rposition(|it| it == word)
}

/// A text in round brackets and what follows it; ours hold letters, digits and no brackets.
fn literal(bytes: &[u8]) -> Option<(Vec<u8>, &[u8])> {
    let bytes = bytes.trim_ascii_start().strip_prefix(b"(")?;
    let end = bytes.iter().position(|it| *it == b')')?;
    let text = &bytes[..end];
    let is_plain = text.iter().all(|it| it.is_ascii_alphanumeric() || b"+/=".contains(it));
    is_plain.then(|| (text.to_vec(), &bytes[end + 1..]))
}
