//! Sources of cautions and rules that rest on a text and not on a figure.

use super::limits::{IRC, NEC, NFPA_72};
use super::source::{Known, NOT_NAMED, Source};

const BEFORE_2023: &str = "editions before 2023";

/// Common practice.
pub(crate) const PRACTICE: Source = Source::practice();
/// Alarm cable is kept out of boxes, raceways and cables with mains.
pub(crate) const POWER_CONDUCTORS: Source = Source::new(NEC, BEFORE_2023, "725.136(A)", Known::Quoted);
/// Cable in plenums and risers.
pub(crate) const PLENUMS_AND_RISERS: Source = Source::new(NEC, BEFORE_2023, "", Known::FromMemory);
/// Holes through what holds back fire are closed.
pub(crate) const SPREAD_OF_FIRE: Source = Source::new(NEC, NOT_NAMED, "", Known::FromMemory);
/// Cable of a fire type.
pub(crate) const FIRE_CABLE: Source = Source::new(NEC, NOT_NAMED, "", Known::FromMemory);
/// I-joists, laminated beams and trusses.
pub(crate) const ENGINEERED_WOOD: Source = Source::new(IRC, NOT_NAMED, "R802.7.2", Known::Quoted);
/// Where a cable comes in from outside.
pub(crate) const OUTSIDE_ENTRY: Source = Source::new("UL 1641-2015", "", "9.5.1", Known::Quoted);
/// Openings that a person can reach from outside.
pub(crate) const ACCESSIBLE_OPENINGS: Source = Source::new("UL 1641-2015", "", "18.1", Known::Quoted);
/// A contact on what moves, beside a detector that listens.
pub(crate) const MOVABLE_OPENINGS: Source = Source::new("UL 1641-2015", "", "15.4.1", Known::Quoted);
/// The jack that takes the line in an alarm.
pub(crate) const LINE_SEIZURE: Source = Source::new("ANSI/TIA-1096-A", "", "", Known::Summary);
/// Telephone networks that count as copper lines.
pub(crate) const MANAGED_NETWORKS: Source = Source::new(NFPA_72, NOT_NAMED, "", Known::FromMemory);
/// Detectors that are wired to a board, in place of single smoke alarms.
pub(crate) const DETECTORS_FOR_ALARMS: Source =
    Source::new("IRC and NFPA 72 on households", "editions not named", "", Known::FromMemory);
/// The relay that watches the supply of detectors.
pub(crate) const SUPPLY_RELAY: Source = Source::borrowed("taken from chapters of NFPA 72 that are for other buildings");
/// Two-wire detectors are listed for compatibility with the board that feeds them.
pub(crate) const TWO_WIRE_LISTING: Source = Source::new("UL 864 and UL 268", NOT_NAMED, "", Known::FromMemory);
/// Where carbon monoxide detectors belong: outside each sleeping area, where fuel is burnt or a garage is attached.
pub(crate) const CARBON_MONOXIDE: Source = Source::new(IRC, NOT_NAMED, "R315.3", Known::Quoted);
/// The patterns of three and of four tones for fire and carbon monoxide.
pub(crate) const SIGNALS: Source = Source::new("ANSI S3.41 and NFPA 72", NOT_NAMED, "", Known::InPart);
/// Dust that holds crystalline silica.
pub(crate) const SILICA: Source = Source::new(
    "the United States' rule on silica in construction (29 CFR part 1926)",
    "undated",
    "",
    Known::FromMemory,
);
/// The number to call before digging.
pub(crate) const CALL_BEFORE_DIGGING: Source =
    Source::new("practice in the United States", "undated", "", Known::FromMemory);

/// Every source with what it is about.
pub(crate) static ROWS: &[(&str, Source)] = &[
    ("power conductors", POWER_CONDUCTORS),
    ("plenums and risers", PLENUMS_AND_RISERS),
    ("spread of fire", SPREAD_OF_FIRE),
    ("fire cable", FIRE_CABLE),
    ("engineered wood", ENGINEERED_WOOD),
    ("outside entry", OUTSIDE_ENTRY),
    ("accessible openings", ACCESSIBLE_OPENINGS),
    ("movable openings", MOVABLE_OPENINGS),
    ("line seizure", LINE_SEIZURE),
    ("managed networks", MANAGED_NETWORKS),
    ("detectors for alarms", DETECTORS_FOR_ALARMS),
    ("supply relay", SUPPLY_RELAY),
    ("two-wire listing", TWO_WIRE_LISTING),
    ("carbon monoxide", CARBON_MONOXIDE),
    ("silica", SILICA),
    ("signals of fire and carbon monoxide", SIGNALS),
    ("call before digging", CALL_BEFORE_DIGGING),
];
