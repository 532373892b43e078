//! Cables, their conductors, and the screws these are under.

checks! {
    earth_on_signal,
    cable_count_mismatch,
    conductor_colour_repeated,
    cable_conductors_short,
    shared_cable_contradicted,
    shield_landed_twice,
    shield_landed_nowhere,
    spare_cable_in_use,
    strip_elsewhere,
    joint_of_one,
    joint_without_box,
    joint_box_elsewhere,
    cable_starts_twice,
    duplicate_label,
    conductor_unguarded,
    run_longer_than_box,
    jacket_unlisted,
    cable_copper_clad,
    terminal_overfull,
    label_like_terminal,
}
