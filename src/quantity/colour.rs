//! Conductor and band colours by the letter codes of IEC 60757.
//!
//! A *hue* is one colour of the standard; a conductor's *colour* is a hue alone or a base with a tracer (the second
//! colour, a stripe or ring), their codes joined: `RDBU`. Lower case has the same meaning. Out of scope: which
//! colour a conductor ought to have.

use std::fmt;
use std::str::FromStr;

use crate::base::wording::did_you_mean;

/// One colour of IEC 60757. The first ten stand in the order of the digits 0 to 9 of IEC 60062.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum Hue {
    Black,
    Brown,
    Red,
    Orange,
    Yellow,
    Green,
    Blue,
    Violet,
    Grey,
    White,
    Pink,
    Turquoise,
    Gold,
    Silver,
}

impl Hue {
    /// Every hue.
    pub(crate) const ALL: [Self; 14] = [
        Self::Black,
        Self::Brown,
        Self::Red,
        Self::Orange,
        Self::Yellow,
        Self::Green,
        Self::Blue,
        Self::Violet,
        Self::Grey,
        Self::White,
        Self::Pink,
        Self::Turquoise,
        Self::Gold,
        Self::Silver,
    ];

    /// Its code: `RD`.
    pub fn code(self) -> &'static str {
        self.row().0
    }

    /// Its name: "red".
    pub(crate) fn name(self) -> &'static str {
        self.row().1
    }

    /// Code and name by IEC 60757; then other spellings that people write (common practice), for suggestions only.
    fn row(self) -> (&'static str, &'static str, &'static [&'static str]) {
        match self {
            Self::Black => ("BK", "black", &["blk"]),
            Self::Brown => ("BN", "brown", &["brn"]),
            Self::Red => ("RD", "red", &[]),
            Self::Orange => ("OG", "orange", &["org", "orn"]),
            Self::Yellow => ("YE", "yellow", &["yel"]),
            Self::Green => ("GN", "green", &["grn"]),
            Self::Blue => ("BU", "blue", &["blu"]),
            Self::Violet => ("VT", "violet", &["vio", "purple"]),
            Self::Grey => ("GY", "grey", &["gry", "gray", "slate"]),
            Self::White => ("WH", "white", &["wht"]),
            Self::Pink => ("PK", "pink", &[]),
            Self::Turquoise => ("TQ", "turquoise", &[]),
            Self::Gold => ("GD", "gold", &[]),
            Self::Silver => ("SR", "silver", &[]),
        }
    }

    fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|hue| hue.code().eq_ignore_ascii_case(code))
    }

    /// The hue that a word probably means: a code, a name or other spelling, or nearly a name.
    fn guess(word: &str) -> Option<Self> {
        let word = word.to_lowercase();
        let named = |name: &str| Self::ALL.into_iter().find(|hue| hue.name() == name || hue.row().2.contains(&name));
        Self::from_code(&word)
            .or_else(|| named(&word))
            // Of two letters nearly everything is near to something.
            .or_else(|| (word.len() > 2).then(|| did_you_mean(&word, Self::ALL.map(Self::name)).and_then(named))?)
    }
}

impl fmt::Display for Hue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

/// A conductor's colour: one hue, or a base with a tracer. Parses from and displays as its code, `RD` or `RDBU`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Colour {
    /// The colour of most of the insulation.
    pub(crate) base: Hue,
    /// The stripe or ring; never the same hue as the base.
    pub(crate) tracer: Option<Hue>,
}

impl Colour {
    /// Base and tracer; a tracer of the base's hue is none.
    pub fn new(base: Hue, tracer: Option<Hue>) -> Self {
        Self { base, tracer: tracer.filter(|tracer| *tracer != base) }
    }

    /// True for green with yellow, which IEC 60757 keeps for the protective earth.
    pub(crate) fn is_of_the_earth(self) -> bool {
        matches!((self.base, self.tracer), (Hue::Green, Some(Hue::Yellow)) | (Hue::Yellow, Some(Hue::Green)))
    }

    /// The code in capitals: `RD`, `RDBU`.
    pub(crate) fn code(self) -> String {
        format!("{}{}", self.base.code(), self.tracer.map_or("", Hue::code))
    }

    /// In words: "red", "red/blue".
    pub(crate) fn name(self) -> String {
        match self.tracer {
            None => self.base.name().to_owned(),
            Some(tracer) => format!("{}/{}", self.base.name(), tracer.name()),
        }
    }

    fn guess(written: &str) -> Option<Self> {
        let words: Vec<&str> = written.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        match words[..] {
            [one] => Self::from_code(one).or_else(|| Hue::guess(one).map(|hue| Self::new(hue, None))),
            [base, tracer] => Some(Self::new(Hue::guess(base)?, Some(Hue::guess(tracer)?))),
            _ => None,
        }
    }

    fn from_code(code: &str) -> Option<Self> {
        match code.len() {
            2 => Some(Self::new(Hue::from_code(code)?, None)),
            4 => {
                let (base, tracer) = code.split_at_checked(2)?;
                Some(Self::new(Hue::from_code(base)?, Some(Hue::from_code(tracer)?)))
            }
            _ => None,
        }
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.code())
    }
}

impl FromStr for Colour {
    type Err = ColourError;

    fn from_str(written: &str) -> Result<Self, ColourError> {
        match Self::from_code(written) {
            Some(colour) if colour.code().len() == written.len() => Ok(colour),
            _ => Err(ColourError { written: written.to_owned(), suggestion: Self::guess(written) }),
        }
    }
}

/// A text that is no colour code of IEC 60757.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{written}` is no colour code of IEC 60757")]
pub struct ColourError {
    /// The text.
    pub(crate) written: String,
    /// What it probably means.
    pub(crate) suggestion: Option<Colour>,
}

impl ColourError {
    /// What to write instead: the suggestion, or else every code.
    pub(crate) fn help(&self) -> String {
        if let Some(colour) = self.suggestion {
            return format!("Write `\"{}\"` for {}.", colour.code(), colour.name());
        }
        let known = Hue::ALL.map(|hue| format!("`\"{}\"` {}", hue.code(), hue.name())).join(", ");
        format!("The codes are {known}. Base and tracer are joined, as `\"RDBU\"` for red with blue.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(code: &str) -> Colour {
        code.parse().unwrap()
    }

    #[test]
    fn codes_and_names_of_iec_60757() {
        let table = "BK black BN brown RD red OG orange YE yellow GN green BU blue VT violet GY grey WH white \
                     PK pink TQ turquoise GD gold SR silver";
        let words: Vec<&str> = table.split(' ').collect();
        assert_eq!(words.len(), 2 * Hue::ALL.len());
        for pair in words.chunks(2) {
            assert_eq!(colour(pair[0]).name(), pair[1]);
            assert_eq!(colour(&pair[0].to_lowercase()).code(), pair[0]);
        }
    }

    #[test]
    fn two_codes_are_base_and_tracer() {
        // IEC 60757:2021 clause 5: a red and blue conductor is RDBU.
        assert_eq!(colour("RDBU"), Colour::new(Hue::Red, Some(Hue::Blue)));
        assert_eq!(colour("rdbu").name(), "red/blue");
        assert_eq!(colour("GNYE").name(), "green/yellow");
        for code in Hue::ALL.iter().flat_map(|b| Hue::ALL.map(|t| Colour::new(*b, Some(t)).code())) {
            assert_eq!(colour(&code).code(), code);
        }
    }

    #[test]
    fn names_are_suggested_as_codes() {
        let cases = [
            ("red", "RD"),
            ("Black", "BK"),
            ("gray", "GY"),
            ("whtie", "WH"),
            ("white/red", "WHRD"),
            ("blk-rd", "BKRD"),
            ("RD+BU", "RDBU"),
            ("RDRD", "RD"),
            ("turquois", "TQ"),
        ];
        for (written, code) in cases {
            let error = written.parse::<Colour>().unwrap_err();
            assert_eq!(error.suggestion, Some(colour(code)), "{written}");
        }
        assert_eq!("red".parse::<Colour>().unwrap_err().help(), "Write `\"RD\"` for red.");
    }

    #[test]
    fn an_unknown_text_lists_the_codes() {
        for written in ["", "BL", "RDBUGN", "é", "ééé", "R D", "tartan"] {
            let error = written.parse::<Colour>().unwrap_err();
            assert_eq!(error.suggestion, None, "{written}");
            assert!(error.help().contains("`\"BK\"` black") && error.help().contains("`\"SR\"` silver"));
        }
    }
}
