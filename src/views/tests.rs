//! Views over small sites.
