//! What is kept up: ages, days, the permit.

checks! {
    detector_old,
    detector_age_unknown,
    day_after_revision,
    permit_over,
}
