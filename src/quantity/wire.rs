//! Conductor sizes.

/// The size of one conductor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WireSize {
    /// American wire gauge (ASTM B258); 0 to −3 are 1/0 to 4/0.
    Awg(i32),
    /// Nominal cross-section in mm².
    SquareMillimetres(f64),
}

impl std::fmt::Display for WireSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Awg(gauge) => write!(f, "{gauge} AWG"),
            Self::SquareMillimetres(area) => write!(f, "{area} mm²"),
        }
    }
}
