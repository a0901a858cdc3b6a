//! Enumerations whose values are words of the files and of data.

/// An enumeration whose every value is a word.
pub trait Word: Copy + 'static {
    /// Every value, in the order declared.
    const ALL: &'static [Self];

    /// Their words.
    const WORDS: &'static [&'static str];

    /// The word as it is written.
    #[must_use]
    fn word(self) -> &'static str;

    /// What it means, as its documentation says: for whoever may type it.
    #[must_use]
    fn means(self) -> &'static str;

    /// The value of a word.
    #[must_use]
    fn of_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|value| value.word() == word)
    }
}

/// Declares such an enumeration, each value with its word; `serde`, which it must derive, uses the same words. Behind the
/// word may stand what a person is shown, which `in_words` gives.
macro_rules! words {
    ($(#[$meta:meta])* $vis:vis enum $name:ident {
        $($(#[doc = $doc:literal])* $value:ident = $word:literal => $shown:literal,)+
    }) => {
        $crate::quantity::words! {
            $(#[$meta])*
            $vis enum $name { $($(#[doc = $doc])* $value = $word,)+ }
        }

        impl $name {
            /// What a person is shown.
            #[must_use]
            $vis const fn in_words(self) -> &'static str {
                match self {
                    $(Self::$value => $shown,)+
                }
            }
        }
    };
    ($(#[$meta:meta])* $vis:vis enum $name:ident { $($(#[doc = $doc:literal])* $value:ident = $word:literal,)+ }) => {
        $(#[$meta])*
        $vis enum $name {
            $($(#[doc = $doc])* #[serde(rename = $word)] $value,)+
        }

        impl $crate::quantity::Word for $name {
            const ALL: &'static [Self] = &[$(Self::$value),+];
            const WORDS: &'static [&'static str] = &[$($word),+];

            fn word(self) -> &'static str {
                match self {
                    $(Self::$value => $word,)+
                }
            }

            fn means(self) -> &'static str {
                let means = match self {
                    $(Self::$value => concat!($($doc),*),)+
                };
                means.trim_start().trim_end_matches('.')
            }
        }
    };
}
pub(crate) use words;
