//! Loops: what the board reads in each state, and the resistors that make it so.

mod loop_order;
pub(crate) mod loop_remedy;
pub(crate) mod loop_verdict;
pub(crate) mod loop_words;

checks! {
    sensing_missing,
    sensing_impossible,
    loop_wiring_unfit,
    shunt_misplaced,
    loop_resistor_missing,
    loop_resistor_wrong,
    loop_too_long,
    loop_not_normal,
    loop_alarm_reads_normal,
    loop_fault_reads_normal,
    loop_alarms_indistinct,
    loop_alarm_unclear,
    loop_fault_unclear,
    loop_margin_small,
    fire_loop_unsupervised,
    loop_unsupervised,
    existing_cable_unsupervised,
    resistor_not_preferred,
    resistor_overloaded,
}
