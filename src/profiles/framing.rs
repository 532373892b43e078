//! Holes and notches in studs, joists and rafters.

use super::limits::{IRC, Limit, NEC, Value, limit};
use super::source::{Known, NOT_NAMED, Source};

const R602: Source = Source::new(IRC, NOT_NAMED, "R602.6", Known::Quoted);
const R502: Source = Source::new(IRC, NOT_NAMED, "R502.8.1, R802.7.1", Known::Quoted);

/// Hole in an exterior or bearing stud.
pub(crate) const BEARING: Limit =
    limit("hole in an exterior or bearing stud: at most", Value::Percent(40), "of its width", R602);
/// Hole in any other stud.
pub(crate) const NONBEARING: Limit = limit(
    "hole in a nonbearing stud: at most",
    Value::Percent(60),
    "of its width (some local texts print 40 % for any stud)",
    R602,
);
/// Wood beside a hole in a stud.
pub(crate) const STUD_EDGE: Limit = limit(
    "wood between a hole and the edge of the stud: at least",
    Value::Inches(0, 5, 8),
    "and no hole in the section of a notch",
    R602,
);
/// Hole in a joist or rafter.
pub(crate) const JOIST: Limit =
    limit("hole in a joist or rafter: at most", Value::Fraction(1, 3), "of its depth", R502);
/// Wood beside a hole in a joist or rafter.
pub(crate) const JOIST_EDGE: Limit =
    limit("wood between a hole and an edge, a notch or another hole: at least", Value::Inches(2, 0, 1), "", R502);

/// Holes and notches in studs.
pub(crate) static STUDS: &[Limit] = &[
    BEARING,
    limit(
        "the same where the stud is doubled, in at most two studs in a row: at most",
        Value::Percent(60),
        "of its width",
        R602,
    ),
    NONBEARING,
    limit("notch in an exterior or bearing stud: at most", Value::Percent(25), "of its width", R602),
    limit("notch in a nonbearing stud: at most", Value::Percent(40), "of its width", R602),
    STUD_EDGE,
    PLATE,
];

/// Holes and notches in joists and rafters.
pub(crate) static JOISTS: &[Limit] = &[
    JOIST,
    JOIST_EDGE,
    limit(
        "notch: at most",
        Value::Fraction(1, 6),
        "of the depth deep and 1/3 of the depth long, none in the middle third of the span",
        R502,
    ),
    limit("notch at the ends: at most", Value::Fraction(1, 4), "of the depth", R502),
    PLATE,
];

/// Distance of a hole from the edge that needs no plate.
pub(crate) const PLATE: Limit = limit(
    "bored hole nearer to the edge of the framing than",
    Value::Inches(1, 1, 4),
    "needs a steel plate of 1/16 in (1.6 mm) or a bushing over the cable. For power-limited cable editions differ: older ones ask for it at bored holes only",
    Source::new(NEC, "editions before 2023", "", Known::Unsure),
);
