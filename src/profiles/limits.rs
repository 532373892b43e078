//! Figures of published documents and of practice that the sheets print in words.
//!
//! A row says the figure and its source. Out of scope: judging a site against them (`checks`), framing, detectors.

use std::fmt;

use super::cited::PRACTICE;
use super::source::{Known, NOT_NAMED, Source};
use super::{connectors, detectors, framing};
use crate::quantity::Metres;
use crate::quantity::print::FOOT;

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
    /// Metres.
    Metres(u32),
    /// A calendar year.
    Year(u32),
    /// Years.
    Years(u32),
    /// Degrees Fahrenheit, from and to.
    Fahrenheit(u32, u32),
    /// A difference of temperature in kelvin and in degrees Fahrenheit.
    Kelvin(u32, u32),
    /// Sound level in decibel, A-weighted.
    Decibels(u32),
}

impl Value {
    /// The share, where it is one: 0.4 for 40 %.
    pub(crate) fn share(self) -> Option<f64> {
        match self {
            Self::Percent(share) => Some(f64::from(share) / 100.0),
            Self::Fraction(part, of) => Some(f64::from(part) / f64::from(of.max(1))),
            Self::Inches(..)
            | Self::Feet(_)
            | Self::Metres(_)
            | Self::Millivolts(_)
            | Self::VoltsAlternating(_)
            | Self::WireGauge(_)
            | Self::Year(_)
            | Self::Years(_)
            | Self::Fahrenheit(..)
            | Self::Kelvin(..)
            | Self::Decibels(_) => None,
        }
    }

    /// The length, where it is one.
    pub(crate) fn length(self) -> Option<Metres> {
        match self {
            Self::Inches(whole, part, of) => {
                Some(Metres((f64::from(whole) + f64::from(part) / f64::from(of.max(1))) * FOOT / 12.0))
            }
            Self::Feet(feet) => Some(Metres(f64::from(feet) * FOOT)),
            Self::Metres(metres) => Some(Metres(f64::from(metres))),
            Self::Percent(_)
            | Self::Fraction(..)
            | Self::Millivolts(_)
            | Self::VoltsAlternating(_)
            | Self::WireGauge(_)
            | Self::Year(_)
            | Self::Years(_)
            | Self::Fahrenheit(..)
            | Self::Kelvin(..)
            | Self::Decibels(_) => None,
        }
    }
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
            Self::Feet(feet) => write!(f, "{feet} ft ({:.1} m)", f64::from(feet) * FOOT),
            Self::Metres(metres) => write!(f, "{metres} m ({:.0} ft)", f64::from(metres) / FOOT),
            Self::Millivolts(millivolts) => write!(f, "{millivolts} mV"),
            Self::VoltsAlternating(volts) => write!(f, "{volts} V alternating current"),
            Self::WireGauge(gauge) => write!(f, "{gauge} AWG"),
            Self::Year(year) => write!(f, "{year}"),
            Self::Years(years) => write!(f, "{years} years"),
            Self::Kelvin(kelvin, fahrenheit) => write!(f, "{kelvin} K ({fahrenheit} °F)"),
            Self::Decibels(level) => write!(f, "{level} dBA"),
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
pub struct Limit {
    /// What is limited, as the beginning of a line: "hole in a joist: at most".
    pub(crate) what: &'static str,
    /// The value.
    pub(crate) value: Value,
    /// What the value is of, or under which condition; empty where nothing is to be added.
    pub of: &'static str,
    /// Where it stands.
    pub source: Source,
}

impl Limit {
    /// What is limited and how far, in one line.
    pub fn figure(&self) -> String {
        let gap = if self.of.is_empty() || self.of.starts_with(';') { "" } else { " " };
        format!("{} {}{gap}{}", self.what, self.value, self.of)
    }

    /// The same with the length or temperature in units of a metre's country first: "6.4 m (21 ft)".
    pub(crate) fn figure_in_metres(&self) -> String {
        let (value, gap) =
            (self.value.to_string(), if self.of.is_empty() || self.of.starts_with(';') { "" } else { " " });
        let turned = match value.strip_suffix(')').and_then(|value| value.split_once(" (")) {
            Some((customary, metric)) if !matches!(self.value, Value::Metres(_) | Value::Kelvin(..)) => {
                format!("{metric} ({customary})")
            }
            Some(_) | None => value,
        };
        format!("{} {turned}{gap}{}", self.what, self.of)
    }

    /// Its source in one line.
    pub fn source(&self) -> String {
        self.source.cited()
    }

    /// Figure and source in one line, as a finding gives it.
    pub(crate) fn cited(&self) -> String {
        format!("{} ({})", self.figure(), self.source())
    }
}

/// The documents by the short names that rows use, with their full names.
pub static DOCUMENTS: &[(&str, &str)] = &[
    (IRC, "International Residential Code"),
    (NEC, "National Electrical Code, NFPA 70; the 2023 edition has renumbered much of it"),
    (NFPA_72, "National Fire Alarm and Signaling Code"),
    (connectors::TIA_568, "ANSI/TIA-568, balanced twisted-pair cabling"),
    (TIA_606, "ANSI/TIA-606-D, administration of telecommunications cabling"),
    ("UL 217 for alarms, UL 268 for detectors", "standards for smoke alarms and for smoke detectors"),
];

/// Short name of the International Residential Code.
pub const IRC: &str = "IRC";
/// Short name of the National Electrical Code.
pub const NEC: &str = "NEC";
/// Short name of the National Fire Alarm and Signaling Code.
pub const NFPA_72: &str = "NFPA 72";
const TIA_606: &str = "TIA-606";

/// A row.
pub(super) const fn limit(what: &'static str, value: Value, of: &'static str, source: Source) -> Limit {
    Limit { what, value, of, source }
}

/// Every row of limits that is printed in words.
pub fn all() -> impl Iterator<Item = &'static Limit> {
    static ALONE: &[Limit] = &[SEPARATION_REQUIRED, SEPARATION_ALONGSIDE, LADDER_FROM, LABEL];
    [
        framing::STUDS,
        framing::JOISTS,
        detectors::FIRE,
        RINGING,
        LIGHTNING,
        OLD_HOUSE,
        LOOPS,
        ALONE,
        connectors::NETWORK_LENGTHS,
    ]
    .into_iter()
    .flatten()
}

/// Distance of alarm cable from mains that the code asks for.
pub(crate) const SEPARATION_REQUIRED: Limit = limit(
    "distance from mains conductors: at least",
    Value::Inches(2, 0, 1),
    "unless one of the two is in raceway or the mains is in sheathed cable",
    Source::new(NEC, "editions before 2023", "725.136(I)", Known::InPart),
);

/// Distance of alarm cable from mains cable alongside, as the trade keeps it.
pub const SEPARATION_ALONGSIDE: Limit =
    limit("distance from mains cable that runs alongside: at least", Value::Inches(12, 0, 1), "", PRACTICE);

/// Feet above the floor from which a ladder is called for: common practice.
pub(crate) const LADDER_FEET: u32 = 8;

/// The same as a row.
pub const LADDER_FROM: Limit =
    limit("mounted higher than", Value::Feet(LADDER_FEET), "above the floor: ladder work", PRACTICE);

/// Voltage of ringing on a telephone line.
pub(crate) static RINGING: &[Limit] = &[limit(
    "ringing on a copper telephone line: about",
    Value::VoltsAlternating(90),
    "between the two wires",
    Source::new("practice of telephone companies in the United States", "undated", "", Known::FromMemory),
)];

/// Protection of lines that come in from outside.
pub(crate) static LIGHTNING: &[Limit] = &[
    limit(
        "distance from lightning conductors, where practicable: at least",
        Value::Feet(6),
        "",
        Source::new(NEC, NOT_NAMED, "800.53", Known::InPart),
    ),
    limit("conductor from the line protector to the house's earth: at least", Value::WireGauge(14), "", EARTH),
    limit("its length in a dwelling: at most", Value::Feet(20), "", EARTH),
];

const EARTH: Source = Source::new(NEC, NOT_NAMED, "", Known::FromMemory);

/// Houses that may hold lead paint or asbestos.
pub(crate) static OLD_HOUSE: &[Limit] = &[
    limit(
        "lead paint may be on houses older than",
        Value::Year(1978),
        "",
        Source::new("the United States' ban of lead in house paint", "1978", "", Known::FromMemory),
    ),
    limit("asbestos may be in materials of houses older than", Value::Year(1980), "and of some younger ones", PRACTICE),
];

/// The label on a cable's end.
pub(crate) const LABEL: Limit = limit(
    "label at both ends, from the end of the jacket: at most",
    Value::Inches(12, 0, 1),
    "",
    Source::new(TIA_606, "edition D, which has replaced C", "", Known::FromMemory),
);

/// The least margin of a loop at rest or in alarm, in millivolts.
pub(crate) const LOOP_MARGIN_MILLIVOLTS: u32 = 100;
/// The least margin of a loop at rest or in alarm, in percent of its band's width.
pub(crate) const LOOP_MARGIN_SHARE: u32 = 5;
/// The most that a resistor is loaded with, in percent of its rating.
pub(crate) const RESISTOR_LOAD_SHARE: u32 = 50;
/// The rating of the resistors that loops are built with, in milliwatts: a quarter of a watt.
pub(crate) const RESISTOR_RATING_MILLIWATTS: u32 = 250;

/// How far the reading of a loop is kept from the edges of its band, where those are volts.
pub(crate) const LOOP_MARGIN_VOLTS: Limit = limit(
    "reading of a loop from the edge of its band: at least",
    Value::Millivolts(LOOP_MARGIN_MILLIVOLTS),
    "",
    PRACTICE,
);

/// The same of every band.
pub(crate) const LOOP_MARGIN_WIDTH: Limit = limit(
    "reading of a loop from the edge of its band: at least",
    Value::Percent(LOOP_MARGIN_SHARE),
    "of the band's width",
    PRACTICE,
);

/// How much of its rating a loop's resistor takes.
pub(crate) const RESISTOR_LOAD: Limit = limit(
    "load of a resistor: at most",
    Value::Percent(RESISTOR_LOAD_SHARE),
    "of its rating, which is 1/4 W for the usual ones",
    PRACTICE,
);

/// How a loop's readings and resistors are kept from their limits.
pub static LOOPS: &[Limit] = &[LOOP_MARGIN_VOLTS, LOOP_MARGIN_WIDTH, RESISTOR_LOAD];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_documents_of_all_rows_have_full_names() {
        for limit in all().filter(|limit| limit.source.known != Known::Practice) {
            let short = limit.source.document;
            let listed = DOCUMENTS.iter().any(|(known, _)| *known == short);
            assert!(listed || short.len() > 20, "{short} is short and has no full name");
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

    #[test]
    fn metres_come_first_where_the_house_is_measured_in_them() {
        let figure = |value| limit("at most", value, "", Source::practice()).figure_in_metres();
        assert_eq!(figure(Value::Feet(21)), "at most 6.4 m (21 ft)");
        assert_eq!(figure(Value::Metres(3)), "at most 3 m (10 ft)");
        assert_eq!(figure(Value::Percent(40)), "at most 40 %");
        assert_eq!(figure(Value::Fahrenheit(40, 100)), "at most 4 to 38 °C (40 to 100 °F)");
    }
}
