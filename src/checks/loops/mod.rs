//! Loops: what the board reads in each state, and the resistors that make it so.

pub(crate) mod loop_known;
mod loop_order;
pub(crate) mod loop_remedy;
pub(crate) mod loop_verdict;
pub(crate) mod loop_words;
mod sensing_faults;
pub(crate) mod two_wire;

checks! {
    sensing_missing,
    sensing_impossible,
    sensing_repeated,
    loop_wiring_unfit,
    two_wire_unfed,
    two_wire_mixed,
    two_wire_too_many,
    two_wire_resistor_other,
    two_wire_volts_outside,
    two_wire_alarm_current,
    two_wire_unlisted,
    two_wire_polarity_unknown,
    shunt_misplaced,
    no_loop_normal,
    loop_resistor_missing,
    loop_resistor_wrong,
    loop_too_long,
    loop_not_normal,
    loop_alarm_reads_normal,
    loop_fault_reads_normal,
    loop_alarms_indistinct,
    loop_alarm_band_missed,
    loop_alarm_unclear,
    fire_alarm_like_fault,
    loop_fault_unclear,
    loop_margin_small,
    fire_loop_unsupervised,
    loop_unsupervised,
    existing_cable_unsupervised,
    resistor_not_preferred,
    resistor_overloaded,
}
