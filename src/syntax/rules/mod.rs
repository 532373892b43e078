//! stub
/// stub
pub static RULES: &[&crate::diag::Rule] = &[];
