//! How often what wears out is tested, cleaned and replaced, in months, where the spec does not say.
//!
//! All of it is common practice. What a household's documents ask of smoke alarms stands in [`super::detectors`].

use super::source::{Figure, Source};

/// From one test by the owner to the next.
pub(crate) const TEST: Figure = Figure::practice(1.0);
/// From one cleaning of the detectors, and trial of the batteries, to the next.
pub(crate) const CLEAN: Figure = Figure::new(
    12.0,
    Source::borrowed("as NFPA 72, chapter 14, asks for a battery's test each year in buildings that it covers"),
);
/// How long a lead-acid battery of a board, siren or lock serves: 3 to 5 years, the most of them.
pub(crate) const BATTERY: Figure = Figure::practice(60.0);
/// How long the battery of a wireless detector serves: 2 to 5 years.
pub(crate) const TRANSMITTER: Figure = Figure::practice(36.0);
/// Days before a day on which something is due that the calendar reminds of it.
pub(crate) const NOTICE: Figure = Figure::practice(30.0);
/// Feet above the floor that a hand reaches.
pub(crate) const HAND: Figure = Figure::practice(7.0);
/// Feet above the floor that a stick in the hand reaches, as to a test button.
pub(crate) const STICK: Figure = Figure::practice(10.0);

/// Every row with what it is about.
pub(crate) static ROWS: &[(&str, Figure)] = &[
    ("months from test to test", TEST),
    ("months from cleaning to cleaning", CLEAN),
    ("months that a panel's battery serves", BATTERY),
    ("months that a wireless detector's battery serves", TRANSMITTER),
    ("days of notice before something is due", NOTICE),
    ("feet above the floor that a hand reaches", HAND),
    ("feet above the floor that a stick in the hand reaches", STICK),
];
