//! What the monitoring service gets, and how it gets there.

mod cuts;

checks! {
    description_cut_ambiguous,
    description_loses_room,
    description_misses_room,
    description_too_long,
    form_too_narrow,
    form_overfull,
    form_without_way,
    communicator_without_board,
    emergency_key_repeated,
    key_numbered_as_zone,
    format_not_carried,
    event_code_unknown,
    event_code_for_users,
    event_code_of_other_kind,
    path_without_backup,
    jack_behind_phones,
    seizure_without_return,
    line_port_shared,
    voice_over_internet,
    silent_call_unsent,
    silence_noticed_late,
    test_report_rare,
    way_cables_surplus,
    network_cable_too_long,
    network_colours_differ,
    network_wired_unsaid,
}
