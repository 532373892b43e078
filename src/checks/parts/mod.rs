//! What a part lacks.

checks! {
    part_lacks_connection,
    part_of_other_kind,
    part_unconfirmed,
    part_range_reversed,
    cut_off_above_outputs,
    part_rests_above_alarm,
    part_name_repeated,
    terminal_repeated,
    terminal_unlisted,
    terminal_without_purpose,
}
