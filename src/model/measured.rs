//! What was measured on site. Names are as written: what they name may be gone.

use crate::base::Spanned;
use crate::quantity::{Ohms, Volts};
use crate::terms::Seen;

/// Readings taken on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The day.
    pub date: Spanned<jiff::civil::Date>,
    /// Which meter.
    pub meter: Option<String>,
    /// Readings of loops.
    pub loops: Vec<MeasuredLoop>,
    /// Volts at devices and boards, by name; `None` where not taken.
    pub devices: Vec<(Spanned<String>, Option<Spanned<Volts>>)>,
    /// Volts of batteries, by board; `None` where not taken.
    pub batteries: Vec<(Spanned<String>, Option<Spanned<Volts>>)>,
}

/// A reading of a loop.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredLoop {
    /// The zone's number.
    pub zone: Spanned<u32>,
    /// What state the loop was in.
    pub state: Seen,
    /// The opening or device that was in alarm or open.
    pub of: Option<Spanned<String>>,
    /// Ohms with the leads off; infinite for no connection; `None` where not taken.
    pub ohms: Option<Spanned<Ohms>>,
    /// Volts with the leads on; `None` where not taken.
    pub volts: Option<Spanned<Volts>>,
}
