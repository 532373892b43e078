//! Tree → model: includes, names, lowering, defaults. Never fails: returns a value and diagnostics.

pub mod load;
