//! What things cost.

use crate::base::Spanned;
use crate::quantity::Money;

/// What things cost.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices {
    /// The currency as printed.
    pub currency: Option<String>,
    /// The prices, in the order of the text.
    pub of: Vec<Price>,
}

/// What one of a thing costs; of a type of cable, a box.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// The name of a part or a type of cable, or what the list of materials calls it.
    pub what: Spanned<String>,
    /// The amount.
    pub each: Money,
}
