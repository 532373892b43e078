//! Where detectors of smoke, heat and carbon monoxide belong, how long they serve, and how loud an alarm is.
//!
//! Figures for households. What chapters for other buildings ask for is practice here, and printed as such.

use super::limits::{IRC, Limit, NFPA_72, Value, limit};
use super::source::{Known, NOT_NAMED, Source};
use crate::terms::{Nearby, RoomKind};

/// Where detectors belong was read with its chapter; what disturbs them and what they stand, without.
const HOUSEHOLD: Source = Source::new(NFPA_72, NOT_NAMED, "chapter 29", Known::Quoted);
const DETECTORS: Source = Source::new(NFPA_72, NOT_NAMED, "", Known::Quoted);
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

/// Where smoke detectors belong.
pub(crate) const SLEEPING: Limit = limit(
    "outside each sleeping area, within",
    Value::Feet(21),
    "of a bedroom door along the path; also in every sleeping room and on every level",
    HOUSEHOLD,
);
const BATHROOM_DOOR: Limit = limit(
    "from a bathroom door with a tub or shower: at least",
    Value::Feet(3),
    "unless that prevents a detector that is called for",
    Source::new(IRC, NOT_NAMED, "R314.3", Known::Quoted),
);
const AIR: Limit =
    limit("from a supply register or a ceiling fan's blade tip: at least", Value::Inches(36, 0, 1), "", DETECTORS);
const COOKING: Limit = limit(
    "from a cooking appliance: at least",
    Value::Feet(10),
    "(within 20 ft photoelectric or silenceable; 6 ft for some). From the editions of 2019 and 2022 on, by the detector's listing for cooking instead",
    OLDER,
);
const CEILING: Limit = limit(
    "on a wall, top of the detector within",
    Value::Inches(12, 0, 1),
    "of the ceiling",
    Source::borrowed("taken from NFPA 72, chapter 17, which is not for households"),
);
/// What a smoke detector stands.
pub(crate) const SMOKE_TEMPERATURE: Limit =
    limit("temperature at a smoke detector:", Value::Fahrenheit(40, 100), "", DETECTORS);

/// On which side of its row a distance is to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// As far as the row says, or further.
    AtLeast,
    /// As near as the row says, or nearer.
    AtMost,
}

/// How far a smoke detector is to be from something.
pub(crate) fn distance(what: Nearby) -> (Side, &'static Limit) {
    match what {
        Nearby::Cooking => (Side::AtLeast, &COOKING),
        Nearby::BathroomDoor => (Side::AtLeast, &BATHROOM_DOOR),
        Nearby::SupplyRegister | Nearby::Fan => (Side::AtLeast, &AIR),
        Nearby::BedroomDoor => (Side::AtMost, &SLEEPING),
        Nearby::Ceiling => (Side::AtMost, &CEILING),
    }
}

/// Why a kind of room is no place for a smoke detector; `None` where it suits. Attic, garage and open air by the row of
/// temperatures, kitchen and bathroom by common practice.
pub(crate) fn unsuited_to_smoke_detectors(kind: RoomKind) -> Option<&'static str> {
    match kind {
        RoomKind::Attic => Some("it gets hotter and colder there than a smoke detector is made for"),
        RoomKind::Garage => {
            Some("it gets hotter and colder there than a smoke detector is made for, and engines smoke")
        }
        RoomKind::Crawlspace => {
            Some("it gets colder there than a smoke detector is made for, and damp and dust set it off")
        }
        RoomKind::Outdoors => {
            Some("it gets hotter and colder there than a smoke detector is made for, and smoke blows away")
        }
        RoomKind::Kitchen => Some("cooking sets it off, and then somebody takes it out"),
        RoomKind::Bathroom => Some("steam sets it off"),
        RoomKind::Living
        | RoomKind::Bedroom
        | RoomKind::Hall
        | RoomKind::Stair
        | RoomKind::Cellar
        | RoomKind::Utility
        | RoomKind::Workshop => None,
    }
}

/// Smoke and heat.
pub(crate) static FIRE: &[Limit] = &[
    SLEEPING,
    BATHROOM_DOOR,
    AIR,
    COOKING,
    CEILING,
    SMOKE_TEMPERATURE,
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
