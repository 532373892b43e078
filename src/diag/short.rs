//! Diagnostics one a line.
