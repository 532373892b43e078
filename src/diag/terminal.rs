//! Diagnostics drawn for a terminal.
