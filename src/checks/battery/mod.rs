//! Batteries, chargers and transformers.

pub(crate) mod standby;

checks! {
    battery_missing,
    battery_not_charged,
    batteries_wiring_unsaid,
    batteries_wrong_volts,
    batteries_unlike,
    battery_leads_exchanged,
    battery_short,
    battery_too_cold,
    battery_in_heat,
    battery_without_reserve,
    battery_not_recharged,
    charger_too_strong,
    transformer_missing,
    transformer_too_small,
    transformer_volts_low,
    transformer_volts_high,
    transformer_volts_unlikely,
    transformer_switched,
    fuse_too_small,
    fuse_too_large,
    battery_old,
    battery_age_unknown,
}
