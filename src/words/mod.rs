//! What the things of a site are called, on the screen and on paper.
//!
//! A thing has a *name*, by which the spec refers to it, and a *title* for people. Findings speak to whoever has the
//! spec open: there a thing goes by its name, in backticks. Sheets speak to whoever stands in the house: there it goes
//! by its title. What is said about things (states, readings, functions of conductors, supplies) is said in the same
//! words in both.
//!
//! Out of scope: how quantities are printed (`quantity`), what a finding says (`checks`), what stands on a sheet
//! (`views`).

mod conductor;
mod event;
mod figure;
mod lead;
mod loops;
mod pins;
mod place;
mod shield;
mod supply;
mod switching;
mod terminal;
#[cfg(test)]
mod tests;

pub(crate) use conductor::{
    cable, colour, conductor, conductor_mark, dead_conductor, dead_end, dead_kind, function, joined_by, labelled,
    labelled_all, pair, passes, sized_cable, spare,
};
pub(crate) use figure::{
    alike, battery, bounds, distance, hours_past, margin, needed_capacity, needed_power, ohms, ohms_read, power_beside,
    range, ranges, rated, resistor, rounded_down, share, share_taken, temperatures, tenths_down, terminator, usual,
    volts, volts_read,
};
pub(crate) use lead::{LeadWords, lead, transformer};
pub(crate) use loops::{ALARMS, IN_ALARM, alarm, contact_worked, edges, loop_terminals, reads};
pub(crate) use pins::{has_colours, not_by, wired_by, wired_to_be};
pub(crate) use place::{END_NOT_FOUND, height, says, way_out};
pub use place::{end, in_room, placed, room, start};
pub(crate) use shield::{shield, shield_end};
pub(crate) use supply::{LOSSLESS, case, demand, is_by_no_cable, labels, length, raising, supply, two_wire_loops, way};
pub(crate) use switching::{contact, drives, hung, switch};
pub(crate) use terminal::{OWN_SUPPLY, UNUSED, roles};

pub use Medium::{Paper, Screen};

/// Where words are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Medium {
    /// In findings, beside the spec.
    Screen,
    /// On the sheets.
    Paper,
}

impl Medium {
    /// A name of the spec: in backticks on the screen, bare on paper.
    pub(crate) fn name(self, name: &str) -> String {
        match self {
            Screen => format!("`{name}`"),
            Paper => name.to_owned(),
        }
    }
}
