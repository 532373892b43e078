//! Figures of published documents that the safety notes print.
//!
//! A row says the figure, the document and clause it stands in, and how we know it. None is legal advice: local
//! amendments, the authority having jurisdiction and the equipment's own instructions prevail. Out of scope:
//! judging a site against them (`checks`).

use std::fmt;

/// How we know a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Known {
    /// Read in a copy or a quotation of the text.
    Quoted,
    /// Read in part; the rest is from memory of the text.
    InPart,
    /// From memory of the text, which was not at hand.
    FromMemory,
    /// No document: what the trade does.
    Practice,
}

impl Known {
    /// In a word or two, as printed; the sheet explains them.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Quoted => "quoted",
            Self::InPart => "quoted in part",
            Self::FromMemory => "from memory",
            Self::Practice => "common practice",
        }
    }

    /// A place in a document with how we know it, in one line; an empty place is practice.
    pub(crate) fn cited(self, place: &str) -> String {
        match place.trim() {
            "" => self.words().to_owned(),
            place => format!("{place}, {}", self.words()),
        }
    }
}

/// A value with its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Value {
    /// A share of the member's size in percent.
    Percent(u32),
    /// A share of the member's size.
    Fraction(u32, u32),
    /// Inches: whole, and a fraction of two numbers, 0 of 1 for none.
    Inches(u32, u32, u32),
    /// Feet.
    Feet(u32),
    /// Millivolts.
    Millivolts(u32),
    /// Volts of alternating current.
    VoltsAlternating(u32),
    /// A conductor's American Wire Gauge number.
    WireGauge(u32),
    /// A calendar year.
    Year(u32),
    /// Years.
    Years(u32),
    /// Degrees Fahrenheit, from and to.
    Fahrenheit(u32, u32),
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Percent(share) => write!(f, "{share} %"),
            Self::Fraction(part, whole) => write!(f, "{part}/{whole}"),
            Self::Inches(whole, part, of) => {
                let inches = f64::from(whole) + f64::from(part) / f64::from(of.max(1));
                match (whole, part) {
                    (_, 0) => write!(f, "{whole} in")?,
                    (0, _) => write!(f, "{part}/{of} in")?,
                    _ => write!(f, "{whole} {part}/{of} in")?,
                }
                write!(f, " ({} mm)", significant(inches * 25.4))
            }
            Self::Feet(feet) => write!(f, "{feet} ft ({:.1} m)", f64::from(feet) * 0.3048),
            Self::Millivolts(millivolts) => write!(f, "{millivolts} mV"),
            Self::VoltsAlternating(volts) => write!(f, "{volts} V alternating current"),
            Self::WireGauge(gauge) => write!(f, "{gauge} AWG"),
            Self::Year(year) => write!(f, "{year}"),
            Self::Years(years) => write!(f, "{years} years"),
            Self::Fahrenheit(from, to) => {
                let celsius = |degrees: u32| (f64::from(degrees) - 32.0) / 1.8;
                write!(f, "{from} to {to} °F ({:.0} to {:.0} °C)", celsius(from), celsius(to))
            }
        }
    }
}

/// Millimetres: whole from 10 on, one decimal below.
fn significant(millimetres: f64) -> String {
    if millimetres < 10.0 { format!("{millimetres:.1}") } else { format!("{millimetres:.0}") }
}

/// A figure of a published document, or of practice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Limit {
    /// What is limited, as the beginning of a line: "hole in a joist: at most".
    pub(crate) what: &'static str,
    /// The value.
    pub(crate) value: Value,
    /// What the value is of, or under which condition; empty where nothing is to be added.
    pub(crate) of: &'static str,
    /// Short name of the document, a key of [`DOCUMENTS`]; empty for practice.
    pub(crate) document: &'static str,
    /// The clause; empty for practice.
    pub(crate) clause: &'static str,
    /// How we know it.
    pub(crate) known: Known,
}

impl Limit {
    /// What is limited and how far, in one line.
    pub(crate) fn figure(&self) -> String {
        let mut line = format!("{} {}", self.what, self.value);
        if !self.of.is_empty() {
            line.push(' ');
            line.push_str(self.of);
        }
        line
    }

    /// Document, clause and how we know it, in one line.
    pub(crate) fn source(&self) -> String {
        self.known.cited(&[self.document, self.clause].join(" "))
    }
}

/// The documents by the short names that rows use, with their full names.
pub(crate) static DOCUMENTS: &[(&str, &str)] = &[
    (IRC, "International Residential Code; the copies read name no edition"),
    (NEC, "National Electrical Code, NFPA 70; clause numbers before the 2023 edition"),
    (NFPA_72, "National Fire Alarm and Signaling Code; the copies read name no edition"),
    (TIA_606, "ANSI/TIA-606-C, administration of telecommunications cabling"),
];

const IRC: &str = "IRC";
const NEC: &str = "NEC";
const NFPA_72: &str = "NFPA 72";
const TIA_606: &str = "TIA-606-C";

const fn limit(
    what: &'static str,
    value: Value,
    of: &'static str,
    document: &'static str,
    clause: &'static str,
    known: Known,
) -> Limit {
    Limit { what, value, of, document, clause, known }
}

/// Holes and notches in studs.
pub(crate) static STUDS: &[Limit] = &[
    limit(
        "hole in an exterior or bearing stud: at most",
        Value::Percent(40),
        "of its width",
        IRC,
        "R602.6",
        Known::Quoted,
    ),
    limit(
        "the same where the stud is doubled, in at most two studs in a row: at most",
        Value::Percent(60),
        "of its width",
        IRC,
        "R602.6",
        Known::Quoted,
    ),
    limit(
        "hole in a nonbearing stud: at most",
        Value::Percent(60),
        "of its width (some local texts print 40 % for any stud)",
        IRC,
        "R602.6",
        Known::Quoted,
    ),
    limit(
        "notch in an exterior or bearing stud: at most",
        Value::Percent(25),
        "of its width",
        IRC,
        "R602.6",
        Known::Quoted,
    ),
    limit("notch in a nonbearing stud: at most", Value::Percent(40), "of its width", IRC, "R602.6", Known::Quoted),
    limit(
        "wood between a hole and the face of the stud: at least",
        Value::Inches(0, 5, 8),
        "and no hole in the section of a notch",
        IRC,
        "R602.6",
        Known::Quoted,
    ),
    PLATE,
];

/// Holes and notches in joists and rafters.
pub(crate) static JOISTS: &[Limit] = &[
    limit(
        "hole in a joist or rafter: at most",
        Value::Fraction(1, 3),
        "of its depth",
        IRC,
        "R502.8.1, R802.7.1",
        Known::Quoted,
    ),
    limit(
        "wood between a hole and an edge, a notch or another hole: at least",
        Value::Inches(2, 0, 1),
        "",
        IRC,
        "R502.8.1, R802.7.1",
        Known::Quoted,
    ),
    limit(
        "notch: at most",
        Value::Fraction(1, 6),
        "of the depth deep and 1/3 of the depth long, none in the middle third of the span",
        IRC,
        "R502.8.1, R802.7.1",
        Known::Quoted,
    ),
    limit(
        "notch at the ends: at most",
        Value::Fraction(1, 4),
        "of the depth",
        IRC,
        "R502.8.1, R802.7.1",
        Known::Quoted,
    ),
    PLATE,
];

const PLATE: Limit = limit(
    "bored hole nearer to the edge of the framing than",
    Value::Inches(1, 1, 4),
    "needs a steel plate of 1/16 in (1.6 mm) or a bushing over the cable",
    NEC,
    "300.4(A)(1), 300.4(D)",
    Known::FromMemory,
);

/// Distance of alarm cable from mains that the code asks for.
pub(crate) const SEPARATION_REQUIRED: Limit = limit(
    "distance from mains conductors: at least",
    Value::Inches(2, 0, 1),
    "unless one of the two is in raceway or the mains is in sheathed cable",
    NEC,
    "725.136(I)",
    Known::InPart,
);

/// Distance of alarm cable from mains cable alongside, as the trade keeps it.
pub(crate) const SEPARATION_ALONGSIDE: Limit = limit(
    "distance from mains cable that runs alongside: at least",
    Value::Inches(12, 0, 1),
    "",
    "",
    "",
    Known::Practice,
);

/// Feet above the floor from which a ladder is called for: common practice.
pub(crate) const LADDER_FEET: u32 = 8;

/// The same as a row.
pub(crate) const LADDER_FROM: Limit =
    limit("mounted higher than", Value::Feet(LADDER_FEET), "above the floor: ladder work", "", "", Known::Practice);

/// Voltage of ringing on a telephone line.
pub(crate) static RINGING: &[Limit] = &[limit(
    "ringing on a copper telephone line: about",
    Value::VoltsAlternating(90),
    "between the two wires",
    "",
    "",
    Known::FromMemory,
)];

/// Protection of lines that come in from outside.
pub(crate) static LIGHTNING: &[Limit] = &[
    limit(
        "distance from lightning conductors, where practicable: at least",
        Value::Feet(6),
        "",
        NEC,
        "800.53",
        Known::InPart,
    ),
    limit(
        "conductor from the line protector to the house's earth: at least",
        Value::WireGauge(14),
        "",
        NEC,
        "800.100(A)",
        Known::FromMemory,
    ),
    limit("its length in a dwelling: at most", Value::Feet(20), "", NEC, "800.100(A)", Known::FromMemory),
];

/// Where smoke detectors belong.
pub(crate) static SMOKE_PLACES: &[Limit] = &[
    limit(
        "outside each sleeping area, within",
        Value::Feet(21),
        "of a bedroom door along the path; also in every sleeping room and on every level",
        NFPA_72,
        "chapter 29",
        Known::Quoted,
    ),
    limit("from a bathroom door with a tub or shower: at least", Value::Feet(3), "", IRC, "R314.3", Known::Quoted),
    limit(
        "from a supply register or a ceiling fan's blade tip: at least",
        Value::Inches(36, 0, 1),
        "",
        NFPA_72,
        "chapter 29",
        Known::Quoted,
    ),
    limit(
        "from a cooking appliance: at least",
        Value::Feet(10),
        "(photoelectric or silenceable within 20 ft)",
        NFPA_72,
        "chapter 29",
        Known::InPart,
    ),
    limit(
        "on a wall, top of the detector within",
        Value::Inches(12, 0, 1),
        "of the ceiling",
        NFPA_72,
        "17.7.3.2.1",
        Known::Quoted,
    ),
    limit("temperature at the detector:", Value::Fahrenheit(40, 100), "", NFPA_72, "chapter 29", Known::Quoted),
    limit(
        "replace a smoke alarm after",
        Value::Years(10),
        "from its date of manufacture unless its maker says otherwise",
        NFPA_72,
        "14.4.7",
        Known::FromMemory,
    ),
];

/// Houses that may hold lead paint or asbestos.
pub(crate) static OLD_HOUSE: &[Limit] = &[
    limit(
        "lead paint may be on houses older than",
        Value::Year(1978),
        "(the year of the United States' ban)",
        "",
        "",
        Known::FromMemory,
    ),
    limit(
        "asbestos may be in materials of houses older than",
        Value::Year(1980),
        "and of some younger ones",
        "",
        "",
        Known::Practice,
    ),
];

/// The label on a cable's end.
pub(crate) const LABEL: Limit = limit(
    "label at both ends, from the end of the jacket: at most",
    Value::Inches(12, 0, 1),
    "",
    TIA_606,
    "",
    Known::FromMemory,
);

/// The least margin of a loop at rest or in alarm, in millivolts.
pub(crate) const LOOP_MARGIN_MILLIVOLTS: u32 = 100;
/// The least margin of a loop at rest or in alarm, in percent of its band's width.
pub(crate) const LOOP_MARGIN_SHARE: u32 = 5;
/// The most that a resistor is loaded with, in percent of its rating.
pub(crate) const RESISTOR_LOAD_SHARE: u32 = 50;
/// The rating of the resistors that loops are built with, in milliwatts: a quarter of a watt.
pub(crate) const RESISTOR_RATING_MILLIWATTS: u32 = 250;

/// How a loop's readings and resistors are kept from their limits.
pub(crate) static LOOPS: &[Limit] = &[
    limit(
        "reading of a loop from the edge of its band: at least",
        Value::Millivolts(LOOP_MARGIN_MILLIVOLTS),
        "",
        "",
        "",
        Known::Practice,
    ),
    limit(
        "reading of a loop from the edge of its band: at least",
        Value::Percent(LOOP_MARGIN_SHARE),
        "of the band's width",
        "",
        "",
        Known::Practice,
    ),
    limit(
        "load of a resistor: at most",
        Value::Percent(RESISTOR_LOAD_SHARE),
        "of its rating, which is 1/4 W for the usual ones",
        "",
        "",
        Known::Practice,
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_names_a_known_document_or_says_that_there_is_none() {
        let rows = [STUDS, JOISTS, RINGING, LIGHTNING, SMOKE_PLACES, OLD_HOUSE, LOOPS].concat();
        for row in rows.iter().chain(&[SEPARATION_REQUIRED, SEPARATION_ALONGSIDE, LADDER_FROM, LABEL]) {
            let listed = DOCUMENTS.iter().any(|(short, _)| *short == row.document);
            assert!(listed || row.document.is_empty(), "{}", row.what);
            assert_eq!(
                row.known == Known::Practice,
                row.document.is_empty() && row.known != Known::FromMemory,
                "{}",
                row.what
            );
        }
    }

    #[test]
    fn values_are_printed_with_both_units() {
        for (value, printed) in [
            (Value::Inches(1, 1, 4), "1 1/4 in (32 mm)"),
            (Value::Inches(0, 5, 8), "5/8 in (16 mm)"),
            (Value::Inches(2, 0, 1), "2 in (51 mm)"),
            (Value::Feet(21), "21 ft (6.4 m)"),
            (Value::Fahrenheit(40, 100), "40 to 100 °F (4 to 38 °C)"),
            (Value::Percent(40), "40 %"),
            (Value::Fraction(1, 3), "1/3"),
        ] {
            assert_eq!(value.to_string(), printed);
        }
    }
}
