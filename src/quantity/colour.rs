//! Conductor and band colours by the letter codes of IEC 60757.

/// A conductor's colour: one code of IEC 60757, or two joined (base and tracer), as `RDBU`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Colour(String);
