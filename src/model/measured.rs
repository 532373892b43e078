//! What was measured on site. Names are as written: what they name may be gone.

use crate::base::{Span, Spanned};
use crate::quantity::{Ohms, Volts};
use crate::terms::Seen;

/// Readings taken on one day.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Measured {
    /// The day.
    pub(crate) date: Spanned<jiff::civil::Date>,
    /// Which meter.
    pub(crate) meter: Option<String>,
    /// Readings of loops.
    pub(crate) loops: Vec<MeasuredLoop>,
    /// Volts at devices and boards, by name; `None` where not taken.
    pub(crate) devices: Vec<(Spanned<String>, Option<Spanned<Volts>>)>,
    /// Volts of batteries, by board; `None` where not taken.
    pub(crate) batteries: Vec<(Spanned<String>, Option<Spanned<Volts>>)>,
}

/// A reading of a loop.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MeasuredLoop {
    /// The zone's number.
    pub(crate) zone: Spanned<u32>,
    /// What state the loop was in.
    pub(crate) state: Seen,
    /// The opening or device that was in alarm or open.
    pub(crate) of: Option<Spanned<String>>,
    /// Ohms with the leads off; infinite for no connection; `None` where not taken.
    pub(crate) ohms: Option<Spanned<Ohms>>,
    /// Where it says that the meter showed no connection.
    pub(crate) open: Option<Span>,
    /// Volts with the leads on; `None` where not taken.
    pub(crate) volts: Option<Spanned<Volts>>,
}

impl MeasuredLoop {
    /// The two places of a reading that is open and has ohms.
    pub(crate) fn contradiction(&self) -> Option<(Span, &Spanned<Ohms>)> {
        self.open.zip(self.ohms.as_ref().filter(|ohms| ohms.value.0.is_finite()))
    }
}
