//! Jacket types of power-limited and communications cable, and which may stand in for which.
//!
//! The types and their hierarchy are those of the National Electrical Code (NFPA 70) of 1996 to 2020, tables of
//! articles 725, 760 and 800, read in part and for the rest from memory. A type says how a jacket burns; it says
//! nothing about sunlight, water or soil.

use super::limits::NEC;
use super::source::{Known, Source};

/// A jacket type and the types that may be pulled in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Substitution {
    /// The type that is called for.
    pub(crate) wanted: &'static str,
    /// The types that may replace it.
    pub(crate) replaced_by: &'static [&'static str],
    /// How we know the row.
    pub(crate) known: Known,
}

const EDITIONS: &str = "editions of 1996 to 2020";

/// Short name of the document.
pub const DOCUMENT: &str = NEC;
/// Where the types for plenums are from.
pub const PLENUM_SOURCE: Source = Source::new(NEC, EDITIONS, "", Known::FromMemory);
/// Where the types for risers are from.
pub const RISER_SOURCE: Source = Source::new(NEC, EDITIONS, "", Known::FromMemory);

/// Where the ratings of a class 2 source are from: the tables on such sources.
pub const CLASS_2_SOURCE: Source = Source::new(NEC, super::source::NOT_NAMED, "", Known::FromMemory);
/// The most volts of a class 2 source of full power.
pub(crate) const CLASS_2_VOLTS: f64 = 30.0;
/// The volts up to which such a source is rated by its current, and not by its power.
pub(crate) const CLASS_2_LOW_VOLTS: f64 = 20.0;
/// The most ampere of a class 2 source of low volts: more than flows at these with the most power, but for short circuits.
pub(crate) const CLASS_2_AMPERES: f64 = 5.0;
/// The most volt-amperes of a class 2 source.
pub(crate) const CLASS_2_VOLT_AMPERES: f64 = 100.0;

/// The most volt-amperes for which a class 2 source of some volts is rated.
pub(crate) fn class_2_rating(volts: f64) -> f64 {
    if volts <= CLASS_2_LOW_VOLTS { CLASS_2_AMPERES * volts } else { CLASS_2_VOLT_AMPERES }
}

/// What may feed class 2 cable at all, in words with its source.
pub(crate) fn class_2() -> String {
    format!(
        "a source of class 2 that limits itself is rated for at most {CLASS_2_AMPERES:.0} A up to {CLASS_2_LOW_VOLTS:.0} V and {CLASS_2_VOLT_AMPERES:.0} VA from there to {CLASS_2_VOLTS:.0} V, and gives at most 8 A into a short; another has a fuse of at most 5 A up to 20 V and 100 A ÷ volts above ({})",
        CLASS_2_SOURCE.cited()
    )
}

impl Substitution {
    /// Where the row is from.
    pub(crate) fn source(&self) -> Source {
        Source::new(NEC, EDITIONS, "", self.known)
    }
}

/// The rows, strictest first in each family.
pub(crate) static SUBSTITUTIONS: &[Substitution] = &[
    row("CL2P", &["CL3P", "CMP"], Known::InPart),
    row("CL2R", &["CL2P", "CL3P", "CL3R", "CMP", "CMR"], Known::InPart),
    row("CL2", &["CL2P", "CL2R", "CL3", "CL3P", "CL3R", "CMP", "CMR", "CM", "CMG", "PLTC"], Known::InPart),
    row(
        "CL2X",
        &["CL2", "CL2P", "CL2R", "CL3", "CL3P", "CL3R", "CMP", "CMR", "CM", "CMG", "PLTC", "CL3X", "CMX"],
        Known::Quoted,
    ),
    row("CL3P", &["CMP"], Known::FromMemory),
    row("CL3R", &["CL3P", "CMP", "CMR"], Known::FromMemory),
    row("CL3", &["CL3P", "CL3R", "CMP", "CMR", "CM", "CMG", "PLTC"], Known::FromMemory),
    row("CMR", &["CMP"], Known::Quoted),
    row("CM", &["CMP", "CMR", "CMG"], Known::Quoted),
    row("CMX", &["CMP", "CMR", "CMG", "CM"], Known::Quoted),
    row("FPLP", &["CMP"], Known::FromMemory),
    row("FPLR", &["FPLP", "CMP", "CMR"], Known::FromMemory),
    row("FPL", &["FPLP", "FPLR", "CMP", "CMR", "CM", "CMG"], Known::FromMemory),
];

const fn row(wanted: &'static str, replaced_by: &'static [&'static str], known: Known) -> Substitution {
    Substitution { wanted, replaced_by, known }
}

/// Types for a space that moves air for the house (from memory).
pub(crate) const PLENUM: &[&str] = &["CL2P", "CL3P", "CMP", "FPLP"];
/// Types for a shaft from floor to floor, besides those for a plenum (from memory).
const RISER: &[&str] = &["CL2R", "CL3R", "CMR", "FPLR"];

/// Whether a type is one for a plenum; `None` for a type that is not in the list.
pub(crate) fn suits_plenum(jacket: &str) -> Option<bool> {
    known(jacket).then(|| PLENUM.contains(&jacket))
}

/// Whether a type is one for a riser; `None` for a type that is not in the list.
pub(crate) fn suits_riser(jacket: &str) -> Option<bool> {
    known(jacket).then(|| PLENUM.contains(&jacket) || RISER.contains(&jacket))
}

/// Types for fire alarm cable (from memory).
pub(crate) const FIRE: &[&str] = &["FPL", "FPLR", "FPLP"];

/// Whether a type is one for fire alarm circuits, or may stand in for one; `None` for a type that is not in the list.
pub(crate) fn suits_fire(jacket: &str) -> Option<bool> {
    known(jacket).then(|| FIRE.iter().any(|wanted| *wanted == jacket || replaces(jacket, wanted)))
}

/// True where a type may be pulled in place of another; not where it is the same.
pub fn replaces(substitute: &str, wanted: &str) -> bool {
    SUBSTITUTIONS.iter().any(|row| row.wanted == wanted && row.replaced_by.contains(&substitute))
}

/// True for a type in the list: one for power-limited or communications circuits.
pub(crate) fn known(jacket: &str) -> bool {
    SUBSTITUTIONS.iter().any(|row| row.wanted == jacket || row.replaced_by.contains(&jacket))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_substitute_never_stands_below_what_it_replaces() {
        for row in SUBSTITUTIONS {
            for substitute in row.replaced_by {
                let mut others = SUBSTITUTIONS.iter().filter(|other| other.wanted == *substitute);
                let back = others.any(|other| other.replaced_by.contains(&row.wanted));
                assert!(!back, "{} and {substitute} replace each other", row.wanted);
                if suits_plenum(row.wanted) == Some(true) {
                    assert_eq!(suits_plenum(substitute), Some(true), "{substitute} for {}", row.wanted);
                }
                if suits_riser(row.wanted) == Some(true) {
                    assert_eq!(suits_riser(substitute), Some(true), "{substitute} for {}", row.wanted);
                }
            }
        }
    }

    #[test]
    fn an_unknown_type_is_not_judged() {
        assert_eq!(suits_plenum("house brand"), None);
        assert_eq!(suits_riser("CL2R"), Some(true));
        assert_eq!(suits_riser("CL2"), Some(false));
    }
}
