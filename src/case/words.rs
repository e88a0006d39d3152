//! The words of a case file for values that are one of a few.

/// Gives each type its words, in the order in which a report lists them.
macro_rules! words {
    ($($name:ident: $($word:literal = $variant:ident),*;)*) => {
        $(impl $name {
            pub(super) const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),*];

            /// The word in a case file and on paper.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                }
            }
        })*
    };
}
