//! Zones: their devices, inputs, areas and transmitters.

checks! {
    zone_without_device,
    zone_reserved_in_use,
    keyswitch_action,
    zone_sensed_twice,
    device_repeated,
    area_missing,
    area_of_two_panels,
    detector_asleep,
    zone_reports_otherwise,
    zone_type_unlikely,
    cover_asleep,
    contact_in_other_room,
    input_not_on_board,
    input_used_twice,
    inputs_overlap,
    input_none_free,
    wireless_without_receiver,
    receiver_overfull,
    wireless_without_place,
}
