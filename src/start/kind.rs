//! What the last column of a table may say, and what it means in a spec.

/// What watches something of a kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Watch {
    /// An opening of a room: its node, and the contact on it.
    Opening { node: &'static str, contact: &'static str },
    /// A detector that hangs in the room; `supply` where it needs one.
    Detector { part: &'static str, supply: Option<&'static str> },
    /// A button.
    Button,
}

/// A kind.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Kind {
    /// What may be written; the first is told to people.
    pub(super) words: &'static [&'static str],
    pub(super) watch: Watch,
    /// The type of its zone.
    pub(super) zone: &'static str,
    /// The cable to it.
    pub(super) cable: &'static str,
}

const fn opening(
    words: &'static [&'static str],
    node: &'static str,
    contact: &'static str,
    zone: &'static str,
) -> Kind {
    Kind { words, watch: Watch::Opening { node, contact }, zone, cable: "station-2" }
}

const fn powered(words: &'static [&'static str], part: &'static str, zone: &'static str) -> Kind {
    Kind { words, watch: Watch::Detector { part, supply: Some("aux") }, zone, cable: "station-4" }
}

pub(super) static KINDS: [Kind; 13] = [
    opening(&["door", "front door", "back door", "outside door"], "door", "reed-surface", "entry-exit"),
    opening(&["window"], "window", "reed-surface", "perimeter"),
    opening(&["hatch", "skylight", "roof light"], "hatch", "reed-surface", "perimeter"),
    opening(&["roller door", "garage door"], "door", "reed-roller", "perimeter"),
    powered(&["motion", "motion detector", "pir"], "motion", "interior"),
    powered(&["glass break", "glass", "glass break detector"], "glass-break", "perimeter"),
    Kind {
        words: &["vibration", "vibration detector", "shock"],
        watch: Watch::Detector { part: "vibration", supply: None },
        zone: "perimeter",
        cable: "station-2",
    },
    Kind {
        words: &["floor mat", "mat", "pressure mat"],
        watch: Watch::Detector { part: "floor-mat", supply: None },
        zone: "interior",
        cable: "station-2",
    },
    Kind {
        words: &["smoke", "smoke detector"],
        watch: Watch::Detector { part: "smoke-4w", supply: Some("fire") },
        zone: "smoke",
        cable: "fire-4",
    },
    Kind {
        words: &["heat", "heat detector"],
        watch: Watch::Detector { part: "heat-57", supply: None },
        zone: "heat",
        cable: "fire-2",
    },
    powered(&["carbon monoxide", "co", "carbon monoxide detector"], "co", "carbon-monoxide"),
    powered(&["water", "water detector"], "water-probe", "water"),
    Kind { words: &["panic button", "panic"], watch: Watch::Button, zone: "panic-audible", cable: "station-2" },
];

/// The kind that is meant, however it is spelled.
pub(super) fn of(written: &str) -> Option<&'static Kind> {
    let lower = written.to_lowercase().replace(['-', '_'], " ");
    let words: Vec<&str> = lower.split_whitespace().collect();
    let words = words.join(" ");
    KINDS.iter().find(|kind| kind.words.iter().any(|known| *known == words || format!("{known}s") == words))
}
