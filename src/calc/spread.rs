//! Least, nominal and greatest value of a quantity.

/// A quantity with its bounds; `least <= nominal <= greatest`. `f64::INFINITY` ohm is no connection.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// The least it can be.
    pub least: f64,
    /// With every part at its nominal value.
    pub nominal: f64,
    /// The greatest it can be.
    pub greatest: f64,
}

impl Spread {
    /// No connection.
    pub(crate) const OPEN: Self = Self::exact(f64::INFINITY);
    /// A joint.
    pub const SHORT: Self = Self::exact(0.0);

    /// A value without spread.
    pub const fn exact(value: f64) -> Self {
        Self { least: value, nominal: value, greatest: value }
    }

    /// A value with a relative tolerance: 0.05 is ±5 %.
    pub(crate) fn tolerance(nominal: f64, tolerance: f64) -> Self {
        Self { least: nominal * (1.0 - tolerance), nominal, greatest: nominal * (1.0 + tolerance) }
    }

    /// The same operation on each of the three; right where it grows with its input.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self { least: f(self.least), nominal: f(self.nominal), greatest: f(self.greatest) }
    }

    /// Resistances in series.
    #[must_use]
    pub(crate) fn series(self, other: Self) -> Self {
        self.with(other, |a, b| a + b)
    }

    /// Resistances side by side; grows with each of the two.
    #[must_use]
    pub(crate) fn parallel(self, other: Self) -> Self {
        self.with(other, parallel)
    }

    /// The same operation on least, nominal and greatest of two; right where it grows with both.
    #[must_use]
    pub(crate) fn with(self, other: Self, f: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            least: f(self.least, other.least),
            nominal: f(self.nominal, other.nominal),
            greatest: f(self.greatest, other.greatest),
        }
    }

    /// The smallest spread that holds both; nominal of `self`.
    #[must_use]
    pub(crate) fn hull(self, other: Self) -> Self {
        Self { least: self.least.min(other.least), nominal: self.nominal, greatest: self.greatest.max(other.greatest) }
    }
}

/// Two resistances side by side; infinite is no connection, zero wins over everything.
pub(crate) fn parallel(a: f64, b: f64) -> f64 {
    if a.is_infinite() {
        b
    } else if b.is_infinite() {
        a
    } else if a + b == 0.0 {
        0.0
    } else {
        a * b / (a + b)
    }
}

/// The border between a value for which something holds and one for which it fails, on the side where it holds.
pub(crate) fn border(mut holds: f64, mut fails: f64, does: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(holds, fails);
        if does(middle) { holds = middle } else { fails = middle }
    }
    holds
}

#[cfg(test)]
mod tests {
    use super::parallel;

    #[test]
    fn two_resistances_side_by_side() {
        for (a, b, together) in [
            (100.0, 100.0, 50.0),
            (2200.0, 4700.0, 1498.55),
            (0.0, 0.0, 0.0),
            (0.0, 100.0, 0.0),
            (f64::INFINITY, 100.0, 100.0),
            (100.0, f64::INFINITY, 100.0),
        ] {
            assert!((parallel(a, b) - together).abs() < 1e-2, "{a} beside {b}");
        }
        assert!(parallel(f64::INFINITY, f64::INFINITY).is_infinite());
    }
}
