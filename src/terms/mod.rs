//! The closed lists of words, each as an enum with the words it is written with.
//!
//! The table of the language and the model both use them, so that a word cannot be known in one place and not in the
//! other. How things are told in sentences is not decided here.

/// A word of a closed list, with its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    /// As written in the spec.
    pub(crate) word: &'static str,
    /// What it means.
    pub(crate) doc: &'static str,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal / $printed:literal : $meaning:literal,)* }) => {
        words!($(#[$doc])* $name { $($variant = $word : $meaning,)* });

        impl $name {
            /// The word on paper and in findings.
            pub(crate) fn printed(self) -> &'static str {
                match self {
                    $(Self::$variant => $printed,)*
                }
            }
        }
    };
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal : $meaning:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $(#[doc = $meaning] $variant,)*
        }

        impl $name {
            /// The words with their meanings, in order.
            pub(crate) const WORDS: &'static [Word] = &[$(Word { word: $word, doc: $meaning },)*];
            /// All values, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The value of a word.
            pub(crate) fn from_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$variant),)*
                    _ => None,
                }
            }

            /// The word as written in the spec.
            #[allow(dead_code, reason = "not every list is printed again as it was written")]
            pub(crate) fn word(self) -> &'static str {
                match self {
                    $(Self::$variant => $word,)*
                }
            }
        }
    };
}

mod detection;
mod house;
mod part;
mod reporting;
mod switching;
mod zone;

pub use detection::{Faces, Nearby};
pub use house::{Bearing, Framing, LabelGrid, LengthWord, MadeFor, PaperSize, Passage, Profile, RoomKind, Start, Wall};
pub use part::{
    Bank, Basis, BoardPart, Connect, Joining, Metal, MountingBox, Radio, Shield, ShieldEnds, Side, Use, When, WireUse,
};
pub use reporting::{EmergencyKey, EventGroup, Format, JackKind, Path, PinOrder, Service};
pub use switching::{CurrentKind, DrivenBy, Fails, SupplyForm, SwitchContact, SwitchedSide, Works};
pub use zone::{BandName, ContactForm, KeyAction, LoopWiring, Seen, Senses, ZoneType};
