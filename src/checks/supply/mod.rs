//! Supplies: outputs, what hangs on them, and the volts that arrive.

pub(crate) mod power_verdict;
pub(crate) mod power_words;

checks! {
    detector_without_supply,
    detector_supplied_twice,
    feed_elsewhere,
    hop_supplied_twice,
    hop_cable_missing,
    supply_not_needed,
    sounder_always_on,
    supply_only_in_alarm,
    sounder_battery_uncharged,
    supply_without_solution,
    output_overloaded,
    output_nearly_full,
    supply_below_minimum,
    supply_at_guessed_size,
    supply_drop_large,
    supply_above_maximum,
    smoke_supply_unswitched,
    detector_supply_reset,
    fire_supply_unwatched,
    nothing_connected,
    supply_circle,
    supply_out_of_reach,
    hop_supply_circle,
    hop_supply_reset,
    consumption_unknown,
    source_beyond_class_2,
    fault_contact_unwatched,
    fault_contact_shared,
    fault_contact_elsewhere,
    fault_contact_crowded,
}
