//! Exact fractions. Owns the arithmetic and the text of one number; knows no unit.
//! Every operation is checked: what does not fit 128 bits is `None`, never a wrong figure.

use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// An exact fraction in 128 bits, always in lowest terms with a positive denominator.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fraction(Ratio<i128>);

impl Fraction {
    /// Nothing.
    pub const ZERO: Self = Self(Ratio::new_raw(0, 1));
    /// One.
    pub const ONE: Self = Self(Ratio::new_raw(1, 1));

    /// A whole number.
    #[must_use]
    pub fn whole(n: i64) -> Self {
        Self(Ratio::from_integer(i128::from(n)))
    }

    /// `numerator / denominator`; `None` where the denominator is 0.
    #[must_use]
    pub fn new(numerator: i64, denominator: i64) -> Option<Self> {
        (denominator != 0).then(|| Self(Ratio::new(i128::from(numerator), i128::from(denominator))))
    }

    /// The same over 128 bits; `None` where the denominator is 0 or the quotient cannot be reduced safely.
    #[must_use]
    pub(crate) fn wide(numerator: i128, denominator: i128) -> Option<Self> {
        let safe = numerator != i128::MIN && denominator != i128::MIN && denominator != 0;
        safe.then(|| Self(Ratio::new(numerator, denominator)))
    }

    /// The numerator in lowest terms; carries the sign.
    #[must_use]
    pub fn numerator(self) -> i128 {
        *self.0.numer()
    }

    /// The denominator in lowest terms, at least 1.
    #[must_use]
    pub fn denominator(self) -> i128 {
        *self.0.denom()
    }

    /// The sum; `None` beyond 128 bits.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(&other.0).map(Self)
    }

    /// The difference; `None` beyond 128 bits.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        self.0.checked_sub(&other.0).map(Self)
    }

    /// The product; `None` beyond 128 bits.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        self.0.checked_mul(&other.0).map(Self)
    }

    /// The quotient; `None` where the divisor is 0 or beyond 128 bits.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        if other == Self::ZERO {
            return None;
        }
        self.0.checked_div(&other.0).map(Self)
    }

    /// The greatest whole number not above it.
    #[must_use]
    pub fn floor(self) -> i128 {
        self.numerator().div_euclid(self.denominator())
    }

    /// The smallest whole number not below it.
    #[must_use]
    pub fn ceil(self) -> i128 {
        let floor = self.floor();
        if self.is_whole() { floor } else { floor + 1 }
    }

    /// The nearest whole number; a half goes up.
    #[must_use]
    pub fn round(self) -> i128 {
        let (n, d) = (self.numerator(), self.denominator());
        let (floor, rest) = (n.div_euclid(d), n.rem_euclid(d));
        if rest >= d - rest { floor + 1 } else { floor }
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(self) -> bool {
        self.denominator() == 1
    }

    /// Whether it is greater than nothing.
    #[must_use]
    pub fn is_positive(self) -> bool {
        self.numerator() > 0
    }

    /// The nearest multiple of `1 / parts` (a half goes up); `None` beyond 128 bits or for 0 parts.
    #[must_use]
    pub fn to_nearest(self, parts: u32) -> Option<Self> {
        let parts = Self::whole(i64::from(parts));
        let scaled = self.times(parts)?.round();
        Self(Ratio::from_integer(scaled)).over(parts)
    }

    /// For JSON and for the eye only: rounded exactly to 1e-4, then as a float. Never decides anything.
    #[must_use]
    pub fn rounded(self) -> f64 {
        let parts = Self::whole(10_000);
        match self.times(parts) {
            #[allow(clippy::cast_precision_loss)]
            Some(scaled) => scaled.round() as f64 / 10_000.0,
            #[allow(clippy::cast_precision_loss)]
            None => self.numerator() as f64 / self.denominator() as f64,
        }
    }

    /// As a mixed number: `18 1/2`, `3/4`, `-2 1/8`, `7`.
    #[must_use]
    pub fn mixed(self) -> String {
        let (n, d) = (self.numerator(), self.denominator());
        let sign = if n < 0 { "-" } else { "" };
        let n = n.unsigned_abs();
        let d = d.unsigned_abs();
        match (n / d, n % d) {
            (whole, 0) => format!("{sign}{whole}"),
            (0, rest) => format!("{sign}{rest}/{d}"),
            (whole, rest) => format!("{sign}{whole} {rest}/{d}"),
        }
    }

    /// As a decimal with at most `places` places, trailing zeros left off: `13.85`.
    #[must_use]
    pub fn decimal(self, places: u32) -> String {
        let Some(parts) = 10_u32.checked_pow(places.min(9)) else {
            return self.mixed();
        };
        let Some(rounded) = self.to_nearest(parts) else {
            return self.mixed();
        };
        let scaled = rounded.numerator() * (i128::from(parts) / rounded.denominator());
        let (sign, scaled) = (if scaled < 0 { "-" } else { "" }, scaled.unsigned_abs());
        let parts = u128::from(parts);
        let width = places.min(9) as usize;
        let tail = format!("{:0width$}", scaled % parts);
        let tail = tail.trim_end_matches('0');
        let point = if tail.is_empty() { "" } else { "." };
        format!("{sign}{}{point}{tail}", scaled / parts)
    }
}

impl From<u32> for Fraction {
    fn from(n: u32) -> Self {
        Self::whole(i64::from(n))
    }
}

impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.mixed())
    }
}

impl Serialize for Fraction {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.mixed())
    }
}

impl<'de> Deserialize<'de> for Fraction {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        super::parse_fraction(&text).map_err(serde::de::Error::custom)
    }
}
