//! Where detectors of smoke, heat and carbon monoxide belong, how long they serve, and how loud an alarm is.
//!
//! Figures for households. What chapters for other buildings ask for is practice here, and printed as such.

use super::limits::{IRC, Limit, NFPA_72, Value, limit};
use super::source::{Known, NOT_NAMED, Source};

const HOUSEHOLD: Source = Source::new(NFPA_72, NOT_NAMED, "chapter 29", Known::Quoted);
const ALARMS: Source = Source::new(NFPA_72, NOT_NAMED, "", Known::FromMemory);
const OLDER: Source = Source::new(NFPA_72, "editions before 2019", "", Known::Unsure);

/// How far a heat detector's rating is above the hottest that its place gets.
pub(crate) const HEAT_RATING: Limit = limit(
    "rating of a heat detector over the greatest temperature of its place: at least",
    Value::Kelvin(HEAT_MARGIN, 20),
    "",
    Source::new(NFPA_72, NOT_NAMED, "", Known::InPart),
);
/// The same in kelvin.
pub(crate) const HEAT_MARGIN: u32 = 11;

/// How loud the alarm is at the pillow.
pub(crate) const PILLOW: Limit =
    limit("sound of the alarm at the pillow: at least", Value::Decibels(PILLOW_LEVEL), "", ALARMS);
/// The same in dBA.
pub(crate) const PILLOW_LEVEL: u32 = 75;

/// Smoke and heat.
pub(crate) static FIRE: &[Limit] = &[
    limit(
        "outside each sleeping area, within",
        Value::Feet(21),
        "of a bedroom door along the path; also in every sleeping room and on every level",
        HOUSEHOLD,
    ),
    limit(
        "from a bathroom door with a tub or shower: at least",
        Value::Feet(3),
        "unless that prevents a detector that is called for",
        Source::new(IRC, NOT_NAMED, "R314.3", Known::Quoted),
    ),
    limit("from a supply register or a ceiling fan's blade tip: at least", Value::Inches(36, 0, 1), "", HOUSEHOLD),
    limit(
        "from a cooking appliance: at least",
        Value::Feet(10),
        "(within 20 ft photoelectric or silenceable; 6 ft for some). From the editions of 2019 and 2022 on, by the detector's listing for cooking instead",
        OLDER,
    ),
    limit(
        "on a wall, top of the detector within",
        Value::Inches(12, 0, 1),
        "of the ceiling",
        Source::borrowed("taken from NFPA 72, chapter 17, which is not for households"),
    ),
    limit("temperature at a smoke detector:", Value::Fahrenheit(40, 100), "", HOUSEHOLD),
    HEAT_RATING,
    limit(
        "replace a single- or multiple-station smoke alarm after",
        Value::Years(10),
        "from its date of manufacture, unless its maker says otherwise. A detector that is wired to a board is replaced when its own sheet says, or when a test fails",
        Source::new("UL 217 for alarms, UL 268 for detectors", NOT_NAMED, "", Known::FromMemory),
    ),
    PILLOW,
    limit(
        "sound of an alarm at 10 ft (3.0 m): at least",
        Value::Decibels(85),
        "; newer editions ask for a tone of 520 Hz in sleeping rooms",
        ALARMS,
    ),
];
