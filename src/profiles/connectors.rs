//! Which conductor is on which position of a telephone line's jack and of a network's plug, and how long a network's
//! cable may be.

use super::limits::{Limit, Value, limit};
use super::source::{Known, NOT_NAMED, Source};
use crate::base::wording::list;
use crate::terms::{JackKind, PinOrder, WireUse};

/// The registered jacks of the United States. The rules of part 68 point to a standard of the industry now.
const REGISTERED_JACKS: &str = "47 CFR part 68, since 2001 ANSI/TIA-1096-A and what was before it";
/// Short name of the standard of network cabling.
pub(crate) const TIA_568: &str = "TIA-568";

/// The pairs of the series jack (configuration RJ31X).
pub(crate) const SERIES_JACK: Source = Source::new(REGISTERED_JACKS, NOT_NAMED, "", Known::FromMemory);
/// Which conductor of each of its pairs is tip.
pub(crate) const SERIES_TIP: Source = Source::new(REGISTERED_JACKS, NOT_NAMED, "", Known::Unsure);
/// The pair of the bridged jack (configuration RJ11).
pub(crate) const BRIDGED_JACK: Source = Source::new("47 CFR part 68", "1986", "68.502", Known::Quoted);
/// The pins of a network plug by colour.
pub(crate) const PINS: Source = Source::new(TIA_568, NOT_NAMED, "", Known::Summary);

/// Positions of the series jack, which lets the board take the line: eight positions, shorting bars.
static SERIES: &[(WireUse, u8)] =
    &[(WireUse::LineInTip, 5), (WireUse::LineInRing, 4), (WireUse::LineOutTip, 8), (WireUse::LineOutRing, 1)];

/// Positions of the bridged jack: six positions, and nothing goes on to the house phones.
static BRIDGED: &[(WireUse, u8)] = &[(WireUse::LineInTip, 4), (WireUse::LineInRing, 3)];

/// The position of a line's jack for a conductor; `None` where the jack has none for it.
pub fn position(jack: JackKind, does: WireUse) -> Option<u8> {
    let positions = match jack {
        JackKind::LineSeizure => SERIES,
        JackKind::Bridged => BRIDGED,
    };
    positions.iter().find(|(of, _)| *of == does).map(|(_, position)| *position)
}

/// Positions of the series jack that its bars join while no plug is in: the pair from the street to that of the house phones.
pub(crate) const BARS: &str = "4 to 1 and 5 to 8";

/// What the positions of a jack are for, with its source.
pub(crate) fn jack(jack: JackKind) -> String {
    match jack {
        JackKind::LineSeizure => format!(
            "The line's jack has eight positions: 4 and 5 bring the line from the street, 1 and 8 take it on to the house phones. While no plug is in, its shorting bars join {BARS} ({}; which of a pair is tip: {}).",
            SERIES_JACK.cited(),
            SERIES_TIP.known.words()
        ),
        JackKind::Bridged => format!(
            "The line's jack has six positions: 3 and 4 bring the line, side by side with the house phones ({}).",
            BRIDGED_JACK.cited()
        ),
    }
}

/// Pair and colour of each pin from 1 to 8, in the order T568A. T568B exchanges pairs 2 and 3.
static T568A: [(u8, &str); 8] =
    [(3, "WHGN"), (3, "GN"), (2, "WHOG"), (1, "BU"), (1, "WHBU"), (2, "OG"), (4, "WHBN"), (4, "BN")];
static T568B: [(u8, &str); 8] =
    [(2, "WHOG"), (2, "OG"), (3, "WHGN"), (1, "BU"), (1, "WHBU"), (3, "GN"), (4, "WHBN"), (4, "BN")];

/// The pair of a pin, and the code of its colour; `None` where a plug has no such pin.
pub fn pin(order: PinOrder, pin: u8) -> Option<(u8, &'static str)> {
    let pins = match order {
        PinOrder::T568a => &T568A,
        PinOrder::T568b => &T568B,
    };
    pins.get(usize::from(pin).checked_sub(1)?).copied()
}

/// The colours of the pins in their order, with their source.
pub(crate) fn pins(order: PinOrder) -> String {
    let colours: Vec<&str> = (1..=8).filter_map(|number| pin(order, number)).map(|(_, colour)| colour).collect();
    let (table, colours) = (order.word(), list(&colours.iter().map(ToString::to_string).collect::<Vec<_>>(), "and"));
    format!("Network cables are wired by {table} at both ends: pins 1 to 8 are {colours} ({}).", PINS.cited())
}

/// True for the colour of a conductor that the tables name: a plain one may have a white tracer as well.
pub(crate) fn is_colour(wanted: &str, code: &str) -> bool {
    code == wanted || code.strip_suffix("WH") == Some(wanted)
}

/// Metres of the cable that is laid for a network.
pub(crate) const NETWORK_LINK_METRES: u32 = 90;

/// How long the copper cable of a network may be.
pub static NETWORK_LENGTHS: &[Limit] = &[
    limit("network cable that is laid: at most", Value::Metres(NETWORK_LINK_METRES), "", LENGTHS),
    limit("the same with the cords at both ends: at most", Value::Metres(100), "", LENGTHS),
];

const LENGTHS: Source = Source::new(TIA_568, NOT_NAMED, "", Known::FromMemory);
