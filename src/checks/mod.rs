//! Verdicts on the model and its wiring: one file and one page a rule.
//!
//! A check reads the model, says what it found, and changes nothing. Where the spec could not be read whole
//! ([`Site::complete`](crate::model::Site)), nothing is concluded from what is absent; nor, where an absence may be
//! the consequence of what was reported already, unless it is [`Site::sound`](crate::model::Site).

pub mod accept;
mod area_missing;
mod cable_conductors_short;
mod cable_count_mismatch;
mod conductor_colour_repeated;
mod description_cut_ambiguous;
mod description_too_long;
mod detector_supplied_twice;
mod detector_without_supply;
mod duplicate_label;
mod event_code_for_users;
mod event_code_unknown;
mod input_none_free;
mod input_not_on_board;
mod input_used_twice;
mod opening_claimed_twice;
mod opening_unwatched;
mod part_lacks_connection;
mod part_unconfirmed;
mod receiver_overfull;
mod supply_not_needed;
mod terminal_overfull;
mod wireless_without_receiver;
mod words;
mod zone_sensed_twice;
mod zone_without_device;

use crate::diag::{Rule, Sink};
use crate::model::Site;
use crate::register::Wiring;

/// What a check may look at.
#[derive(Clone, Copy, Debug)]
pub struct Context<'s> {
    /// The site.
    pub site: &'s Site,
    /// Its labels and landings.
    pub wiring: &'s Wiring,
}

/// A rule and the function that looks for it.
#[derive(Debug)]
pub struct Check {
    /// The rule.
    pub rule: &'static Rule,
    /// Reports every finding.
    pub run: fn(Context<'_>, &mut Sink),
}

/// Every check, in the order of the reference.
pub static CHECKS: &[&Check] = &[
    &part_lacks_connection::CHECK,
    &part_unconfirmed::CHECK,
    &cable_count_mismatch::CHECK,
    &conductor_colour_repeated::CHECK,
    &cable_conductors_short::CHECK,
    &duplicate_label::CHECK,
    &zone_without_device::CHECK,
    &zone_sensed_twice::CHECK,
    &area_missing::CHECK,
    &input_not_on_board::CHECK,
    &input_used_twice::CHECK,
    &input_none_free::CHECK,
    &terminal_overfull::CHECK,
    &detector_without_supply::CHECK,
    &detector_supplied_twice::CHECK,
    &supply_not_needed::CHECK,
    &opening_claimed_twice::CHECK,
    &opening_unwatched::CHECK,
    &wireless_without_receiver::CHECK,
    &receiver_overfull::CHECK,
    &description_cut_ambiguous::CHECK,
    &description_too_long::CHECK,
    &event_code_unknown::CHECK,
    &event_code_for_users::CHECK,
];

/// Runs every check.
pub fn run(context: Context<'_>, sink: &mut Sink) {
    for check in CHECKS {
        (check.run)(context, sink);
    }
}
