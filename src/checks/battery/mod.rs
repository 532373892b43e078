//! Batteries, chargers and transformers.

pub(crate) mod standby;

checks! {
    battery_missing,
    battery_short,
    battery_too_cold,
    battery_without_reserve,
    battery_not_recharged,
    transformer_too_small,
    transformer_switched,
    battery_old,
}
