//! Diagnostics as JSON.
