//! Verdicts on the model and its wiring: one file and one page a rule.
//!
//! A check reads the model, says what it found, and changes nothing. Where the spec could not be read whole
//! ([`Site::complete`](crate::model::Site)), nothing is concluded from what is absent; nor, where an absence may be
//! the consequence of what was reported already, unless it is [`Site::sound`](crate::model::Site).

pub mod accept;
mod area_missing;
mod battery_missing;
mod battery_not_recharged;
mod battery_old;
mod battery_short;
mod battery_without_reserve;
mod cable_conductors_short;
mod cable_count_mismatch;
mod conductor_colour_repeated;
mod conductor_unguarded;
mod consumption_unknown;
mod description_cut_ambiguous;
mod description_too_long;
mod detector_supplied_twice;
mod detector_without_supply;
mod duplicate_label;
mod event_code_for_users;
mod event_code_unknown;
mod fire_loop_unsupervised;
mod input_none_free;
mod input_not_on_board;
mod input_used_twice;
mod loop_alarm_reads_normal;
mod loop_alarm_unclear;
mod loop_alarms_indistinct;
mod loop_fault_reads_normal;
mod loop_fault_unclear;
mod loop_margin_small;
mod loop_not_normal;
mod loop_remedy;
mod loop_resistor_missing;
mod loop_resistor_wrong;
mod loop_too_long;
mod loop_unsupervised;
pub mod loop_verdict;
mod loop_wiring_unfit;
mod loop_words;
mod opening_claimed_twice;
mod opening_unwatched;
mod part_lacks_connection;
mod part_unconfirmed;
mod path_without_backup;
mod reading_drifting;
mod reading_outside;
mod reading_unknown;
mod receiver_overfull;
mod resistor_not_preferred;
mod resistor_overloaded;
mod sensing_impossible;
mod sensing_missing;
mod shunt_misplaced;
mod standby;
mod supply_circle;
mod supply_not_needed;
mod terminal_overfull;
mod transformer_switched;
mod transformer_too_small;
mod wireless_without_receiver;
mod words;
mod zone_sensed_twice;
mod zone_without_device;

use std::collections::BTreeMap;

use crate::base::Id;
use crate::calc::LoopReadings;
use crate::calc::power::Power;
use crate::diag::{Rule, Sink};
use crate::model::{Site, Zone};
use crate::register::Wiring;
use loop_verdict::Cause;

/// What a check may look at.
#[derive(Clone, Copy, Debug)]
pub struct Context<'s> {
    /// The site.
    pub site: &'s Site,
    /// Its labels and landings.
    pub wiring: &'s Wiring,
    /// What every loop reads that can be calculated.
    pub loops: &'s BTreeMap<Id<Zone>, LoopReadings>,
    /// What is wrong first with every loop that is not right.
    pub verdicts: &'s BTreeMap<Id<Zone>, Cause>,
    /// What every supply feeds, and the volts that arrive.
    pub power: &'s Power,
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
    &sensing_missing::CHECK,
    &sensing_impossible::CHECK,
    &loop_wiring_unfit::CHECK,
    &shunt_misplaced::CHECK,
    &loop_resistor_missing::CHECK,
    &loop_resistor_wrong::CHECK,
    &loop_too_long::CHECK,
    &loop_not_normal::CHECK,
    &loop_alarm_reads_normal::CHECK,
    &loop_fault_reads_normal::CHECK,
    &loop_alarms_indistinct::CHECK,
    &loop_alarm_unclear::CHECK,
    &loop_fault_unclear::CHECK,
    &loop_margin_small::CHECK,
    &fire_loop_unsupervised::CHECK,
    &loop_unsupervised::CHECK,
    &resistor_not_preferred::CHECK,
    &resistor_overloaded::CHECK,
    &supply_circle::CHECK,
    &consumption_unknown::CHECK,
    &conductor_unguarded::CHECK,
    &battery_missing::CHECK,
    &battery_short::CHECK,
    &battery_without_reserve::CHECK,
    &battery_not_recharged::CHECK,
    &transformer_too_small::CHECK,
    &transformer_switched::CHECK,
    &battery_old::CHECK,
    &path_without_backup::CHECK,
    &opening_claimed_twice::CHECK,
    &opening_unwatched::CHECK,
    &wireless_without_receiver::CHECK,
    &receiver_overfull::CHECK,
    &description_cut_ambiguous::CHECK,
    &description_too_long::CHECK,
    &event_code_unknown::CHECK,
    &event_code_for_users::CHECK,
    &reading_outside::CHECK,
    &reading_drifting::CHECK,
    &reading_unknown::CHECK,
];

/// Runs every check.
pub fn run(context: Context<'_>, sink: &mut Sink) {
    for check in CHECKS {
        (check.run)(context, sink);
    }
}
