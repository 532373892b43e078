//! Labels of cables: the paper for them, what fits it, and names that stand on them.

checks! {
    label_grid_off_page,
    label_grid_overlaps,
    label_sheet_used_up,
    label_too_large,
    wrap_too_short,
    room_title_repeated,
}
