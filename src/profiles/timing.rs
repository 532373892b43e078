//! How long delays may be (ANSI/SIA CP-01), how fast people walk, how loud an alarm arrives in another room.
//!
//! CP-01 is a document of the United States; no row of another country is kept here. Out of scope: judging a site.

use super::source::{Figure, Known, NOT_NAMED, Source};

/// Its short name.
pub(crate) const CP_01: &str = "ANSI/SIA CP-01";

const FROM_MEMORY: Source = Source::new(CP_01, NOT_NAMED, "", Known::FromMemory);
const TO_2008: Source = Source::new(CP_01, "editions to 2008", "", Known::Quoted);
const FROM_2010: Source = Source::new(CP_01, "editions from 2010 on", "", Known::Quoted);

/// From least to most, both included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Range {
    /// The least.
    pub(crate) least: Figure,
    /// The most.
    pub(crate) most: Figure,
}

impl Range {
    /// True where a value lies in it.
    pub(crate) fn holds(&self, value: f64) -> bool {
        (self.least.value..=self.most.value).contains(&value)
    }

    /// Its sources in one line.
    pub(crate) fn source(&self) -> String {
        let (least, most) = (self.least.source(), self.most.source());
        if least == most { least } else { format!("the least: {least}; the most: {most}") }
    }
}

/// What an edition says of an area's times, in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Delays {
    /// Entry delay.
    pub(crate) entry: Range,
    /// Exit delay.
    pub(crate) exit: Range,
    /// Abort window.
    pub(crate) abort: Range,
    /// Entry delay and abort window together: at most.
    pub(crate) together: Figure,
    /// Alarms of one zone until it is shut out.
    pub(crate) trips: Range,
}

const fn range(least: f64, most: f64, source: Source) -> Range {
    Range { least: Figure::new(least, source), most: Figure::new(most, source) }
}

const ENTRY: Range = range(30.0, 240.0, FROM_MEMORY);
const EXIT: Range = Range {
    least: Figure::new(45.0, Source::new(CP_01, NOT_NAMED, "4.2.2.1", Known::Quoted)),
    most: Figure::new(255.0, FROM_MEMORY),
};
const TOGETHER: Figure = Figure::new(60.0, FROM_MEMORY);

static OLDER: Delays = Delays {
    entry: ENTRY,
    exit: EXIT,
    abort: range(15.0, 45.0, TO_2008),
    together: TOGETHER,
    trips: range(1.0, 2.0, TO_2008),
};
static NEWER: Delays = Delays {
    entry: ENTRY,
    exit: EXIT,
    abort: range(0.0, 45.0, FROM_2010),
    together: TOGETHER,
    trips: range(1.0, 6.0, FROM_2010),
};

/// The rows that held in the year of the edition that was adopted; the latest without one.
pub(crate) fn delays(edition: Option<u32>) -> &'static Delays {
    if edition.is_some_and(|year| year < 2010) { &OLDER } else { &NEWER }
}

/// Walking speed of slower pedestrians in metres a second: 3 ft/s.
pub(crate) const WALKING_SPEED: Figure = Figure::new(
    0.9144,
    Source::new("Manual on Uniform Traffic Control Devices", "edition of 2009", "section 4E.06", Known::Quoted),
);
/// Length of a way through a house over the straight line between its ends.
pub(crate) const DETOUR: Figure = Figure::practice(1.4);
/// Seconds for the door, the lights and the keys of the keypad.
pub(crate) const AT_DOOR_AND_KEYPAD: Figure = Figure::practice(10.0);
/// Most seconds that a sounder may sound outdoors in many places.
pub(crate) const CUT_OFF: Figure = Figure::practice(900.0);
/// Decibel that a wall or a closed door takes.
pub(crate) const WALL_LOSS: Figure = Figure::practice(20.0);

/// Every row with what it is about.
pub(crate) static ROWS: &[(&str, Figure)] = &[
    ("least entry delay", ENTRY.least),
    ("most entry delay", ENTRY.most),
    ("least exit delay", EXIT.least),
    ("most exit delay", EXIT.most),
    ("least abort window to 2008", OLDER.abort.least),
    ("most abort window to 2008", OLDER.abort.most),
    ("least abort window from 2010 on", NEWER.abort.least),
    ("most abort window from 2010 on", NEWER.abort.most),
    ("entry delay and abort window together", TOGETHER),
    ("alarms of a zone until it is shut out, to 2008", OLDER.trips.most),
    ("alarms of a zone until it is shut out, from 2010 on", NEWER.trips.most),
    ("walking speed", WALKING_SPEED),
    ("way over straight line", DETOUR),
    ("time at door and keypad", AT_DOOR_AND_KEYPAD),
    ("time that a sounder sounds", CUT_OFF),
    ("loss of a wall or closed door", WALL_LOSS),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_follow_the_edition_and_their_ends_belong_to_them() {
        assert!(!delays(Some(2007)).abort.holds(0.0) && delays(Some(2010)).abort.holds(0.0));
        assert!(!delays(Some(2007)).trips.holds(6.0) && delays(None).trips.holds(6.0));
        for (within, value) in [(false, 29.9), (true, 30.0), (true, 240.0), (false, 3600.0), (false, 0.0)] {
            assert_eq!(delays(None).entry.holds(value), within, "{value}");
        }
    }

    #[test]
    fn what_is_from_memory_says_so_and_only_the_clause_that_was_read_is_given() {
        assert_eq!(ENTRY.source(), "ANSI/SIA CP-01, edition not named, from memory");
        assert_eq!(
            EXIT.source(),
            "the least: ANSI/SIA CP-01 4.2.2.1, edition not named, quoted; the most: ANSI/SIA CP-01, edition not named, from memory"
        );
    }
}
