//! What the monitoring service gets, and how it gets there.

checks! {
    description_cut_ambiguous,
    description_too_long,
    form_overfull,
    event_code_unknown,
    event_code_for_users,
    path_without_backup,
    way_cables_surplus,
    network_cable_too_long,
    network_colours_differ,
}
