//! Detection: what watches openings and rooms, and where detectors belong.

checks! {
    rooms_overlap,
    opening_outside_wall,
    spot_outside_room,
    spots_coincide,
    mounted_above_ceiling,
    ceiling_unlikely,
    storey_unsaid,
    mount_unlikely,
    opening_claimed_twice,
    opening_unwatched,
    opening_only_heard,
    opening_free_at_home,
    placement_without_effect,
    motion_misled,
    panel_in_reach,
    smoke_detector_missing,
    smoke_detector_unsuited,
    smoke_detector_distance,
    heat_rating_low,
    carbon_monoxide_detector_missing,
}
