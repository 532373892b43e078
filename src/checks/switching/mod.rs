//! Outputs that switch: relays, transistors, and what hangs on them.

pub(crate) mod hung;

checks! {
    switch_without_drive,
    switch_driven_differently,
    switch_lacks_contact,
    dry_contact_feeds_none,
    relay_supplies_joined,
    mains_on_contact,
    switch_overloaded,
    load_on_wrong_side,
    coil_without_diode,
    supply_form_wrong,
    supply_taken_away,
    sounder_silent_in_alarm,
    lock_opens_without_mains,
    lock_works_backwards,
    lock_never_released,
    operator_held,
    sounder_at_silent_call,
}
