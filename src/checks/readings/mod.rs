//! What was measured, against what was calculated.

checks! {
    reading_contradicted,
    reading_outside,
    reading_drifting,
    reading_unknown,
}
