//! The embedded fonts, and which characters they print.
//!
//! No system font is ever used: a paper looks the same on every machine, and a character that the
//! fonts lack is a fault in the case file, named before anything is typeset.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::Font;

/// Font files in order of preference.
static FILES: &[&[u8]] = &[
    include_bytes!("../fonts/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext_400Regular.ttf"),
    include_bytes!("../fonts/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext_700Bold.ttf"),
    include_bytes!("../fonts/andika/Andika-Regular.ttf"),
    include_bytes!("../fonts/andika/Andika-Bold.ttf"),
    include_bytes!("../fonts/noto-sans-greek/NotoSans-Greek-Regular.ttf"),
    include_bytes!("../fonts/noto-sans-greek/NotoSans-Greek-Bold.ttf"),
];

static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FILES.iter().flat_map(|file| Font::iter(Bytes::new(*file))).collect());

/// The embedded font files, in order of preference.
pub(crate) fn files() -> &'static [&'static [u8]] {
    FILES
}

/// All embedded fonts.
#[must_use]
pub fn all() -> &'static [Font] {
    &FONTS
}

/// Whether a character can be printed, and reads the same on paper as it is stored.
///
/// Controls, hidden signs and signs that turn the direction of reading are refused even where a
/// font has a glyph for them: they could make a name or a number read differently than it is.
/// Scripts that run from right to left are refused because no embedded font has them.
#[must_use]
pub fn prints(character: char) -> bool {
    let hidden = character.is_control()
        || matches!(character,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{180e}'
            | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff0}'..='\u{ffff}'
            | '\u{e000}'..='\u{f8ff}');
    // Bold and regular must both have it, so look at a pair: either family prints it whole.
    !hidden && FONTS.chunks(2).any(|family| family.iter().all(|font| has(font, character)))
}

fn has(font: &Font, character: char) -> bool {
    font.info().coverage.contains(u32::from(character))
}
