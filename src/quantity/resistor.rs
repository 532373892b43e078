//! Resistor values: marking code and colour bands of IEC 60062, preferred values of IEC 60063.

use super::Ohms;

/// A resistor's nominal value and tolerance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Nominal value.
    pub nominal: Ohms,
}
