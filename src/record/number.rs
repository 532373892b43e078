//! Numbers as they stand in the JSON: rounded to sensible digits, whole ones as they are and without a point.

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};

/// A number of at most six significant digits, or a whole one: years in seconds have more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number(f64);

impl Number {
    /// Rounds what is not whole to six significant digits; `None` for what JSON cannot say (not a number, without bound).
    pub(crate) fn of(value: f64) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        if value.fract() == 0.0 {
            return Some(Self(value + 0.0));
        }
        // The shortest text of six digits, read back, carries no noise of the arithmetic.
        format!("{value:.5e}").parse().ok().map(|rounded: f64| Self(rounded + 0.0))
    }
}

/// A number that may be without bound, as the ohms of what is not connected: then null.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(transparent)]
#[schemars(inline)]
pub(crate) struct Bound(pub(crate) Option<Number>);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Past 2^53 a float no longer tells whole numbers apart.
        if self.0.fract() == 0.0 && self.0.abs() < 9_007_199_254_740_992.0 {
            #[allow(clippy::cast_possible_truncation)]
            return serializer.serialize_i64(self.0 as i64);
        }
        serializer.serialize_f64(self.0)
    }
}

impl JsonSchema for Number {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Number".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        f64::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_carry_no_noise() {
        for (value, text) in [
            (0.1 + 0.2, "0.3"),
            (38.0 * 0.3048, "11.5824"),
            (2200.0, "2200"),
            (-0.0, "0"),
            (1e-9, "1e-9"),
            (1.0 / 3.0, "0.333333"),
        ] {
            assert_eq!(serde_json::to_string(&Number::of(value)).unwrap(), text);
        }
        assert_eq!(Number::of(f64::INFINITY), None);
    }
}
