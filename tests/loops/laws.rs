//! Laws that every loop obeys.
