//! What is kept up: ages, days, the permit.

checks! {
    detector_old,
    day_after_revision,
    permit_over,
}
