//! Checks against programs and libraries that are not ours; each says what to install where it is missing.

mod resistors;
