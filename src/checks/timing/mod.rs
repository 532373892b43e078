//! Times of areas and how loud an alarm is: delays against the published ranges and the ways through the house, zones on
//! the way in, cross zones, sounders.

mod advice;

checks! {
    delay_outside_range,
    entry_and_abort_long,
    entry_shorter_than_walk,
    exit_shorter_than_walk,
    delays_missing,
    zone_alarms_on_way_in,
    zone_cannot_wait,
    door_without_keypad,
    area_not_enterable,
    area_without_keypad,
    walk_without_effect,
    walk_contradiction,
    cross_zones_unfit,
    alarm_without_sounder,
    sounder_cut_off_long,
    sounder_cut_off_short,
    bedroom_not_heard,
    sounder_level_missing,
    sounder_level_unlikely,
}
