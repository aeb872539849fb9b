//! Exact fractions. Owns the arithmetic and the text of one number; knows no unit.

use num_rational::Ratio;

/// An exact fraction in 128 bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fraction(Ratio<i128>);

impl Fraction {
    /// A whole number.
    #[must_use]
    pub fn whole(n: i64) -> Self {
        Self(Ratio::from_integer(i128::from(n)))
    }
}
