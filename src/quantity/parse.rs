//! Reading one number as a person writes it: `18 1/2`, `1/50`, `0.75`, `10%`, `-3`.
//! Owns the limits of what may be typed; decimals are read from their text, never through a float.

use super::Fraction;

/// The most digits that a part of a number may have.
const DIGITS: usize = 9;
/// The most places after the point.
const PLACES: usize = 6;
/// The greatest denominator that may be typed.
const DENOMINATOR: i64 = 1_000_000;

/// What is wrong with a typed number, and where (in characters, from 1).
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FractionFault {
    /// Nothing was typed.
    #[error("nothing there; expected a number such as 18 1/2, 0.75 or 10%")]
    Empty,
    /// A character that no number has.
    #[error("'{found}' at character {place}; expected a digit, as in 18 1/2, 0.75 or 10%")]
    Unexpected {
        /// What stands there, made harmless.
        found: String,
        /// Its place, from 1.
        place: usize,
    },
    /// It breaks off: `18 1/` or `3.`
    #[error("breaks off after character {place}; expected a digit there")]
    Unfinished {
        /// The last place read.
        place: usize,
    },
    /// A fraction of nothing: `1/0`.
    #[error("divides by 0 at character {place}; expected 1 or more under the stroke")]
    DividesByZero {
        /// Where the 0 stands, from 1.
        place: usize,
    },
    /// More digits than any measure at a loom has.
    #[error(
        "too long at character {place}; at most 9 digits, 6 after the point, 1,000,000 under the stroke"
    )]
    TooLong {
        /// Where it starts, from 1.
        place: usize,
    },
}

/// Reads one number. Leading and trailing blanks are let pass; `%` divides by 100.
///
/// # Errors
/// A [`FractionFault`] with the place, counted in characters from 1.
pub fn parse_fraction(text: &str) -> Result<Fraction, FractionFault> {
    let mut reader = Reader {
        letters: text.chars().collect(),
        at: 0,
    };
    reader.blanks();
    if reader.peek().is_none() {
        return Err(FractionFault::Empty);
    }
    let negative = reader.take('-');
    let value = reader.magnitude()?;
    reader.blanks();
    let percent = reader.take('%');
    reader.blanks();
    if reader.peek().is_some() {
        return Err(reader.unexpected());
    }
    let divisor = if percent { 100 } else { 1 };
    let sign = if negative { -1 } else { 1 };
    Fraction::new(sign, divisor)
        .and_then(|scale| value.times(scale))
        .ok_or(FractionFault::TooLong { place: 1 })
}

struct Reader {
    letters: Vec<char>,
    at: usize,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.letters.get(self.at).copied()
    }

    fn take(&mut self, wanted: char) -> bool {
        let there = self.peek() == Some(wanted);
        self.at += usize::from(there);
        there
    }

    fn blanks(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.at += 1;
        }
    }

    fn unexpected(&self) -> FractionFault {
        match self.peek() {
            None => FractionFault::Unfinished { place: self.at },
            Some(c) if c.is_control() => FractionFault::Unexpected {
                found: format!("U+{:04X}", u32::from(c)),
                place: self.at + 1,
            },
            Some(c) => FractionFault::Unexpected {
                found: c.to_string(),
                place: self.at + 1,
            },
        }
    }

    /// A run of digits as (value, how many); at most [`DIGITS`].
    fn digits(&mut self) -> Result<(i64, usize), FractionFault> {
        let start = self.at;
        let mut value = 0_i64;
        while let Some(digit) = self.peek().and_then(|c| c.to_digit(10)) {
            if self.at - start >= DIGITS {
                return Err(FractionFault::TooLong { place: start + 1 });
            }
            value = value * 10 + i64::from(digit);
            self.at += 1;
        }
        if self.at == start {
            return Err(self.unexpected());
        }
        Ok((value, self.at - start))
    }

    /// `18`, `18.5`, `.5`, `1/2` or `18 1/2`.
    fn magnitude(&mut self) -> Result<Fraction, FractionFault> {
        if self.peek() == Some('.') {
            return self.places(0);
        }
        let (whole, _) = self.digits()?;
        match self.peek() {
            Some('.') => return self.places(whole),
            Some('/') => return self.under(whole),
            _ => {}
        }
        let before = self.at;
        self.blanks();
        if self.at == before || !self.peek().is_some_and(|c| c.is_ascii_digit()) {
            return Ok(Fraction::whole(whole));
        }
        let (over, _) = self.digits()?;
        if self.peek() != Some('/') {
            return Err(self.unexpected());
        }
        let rest = self.under(over)?;
        Fraction::whole(whole)
            .plus(rest)
            .ok_or(FractionFault::TooLong { place: 1 })
    }

    fn places(&mut self, whole: i64) -> Result<Fraction, FractionFault> {
        self.at += 1;
        let start = self.at;
        let (part, count) = self.digits()?;
        if count > PLACES {
            return Err(FractionFault::TooLong { place: start + 1 });
        }
        let scale = 10_i64.pow(u32::try_from(count).unwrap_or(6));
        Fraction::new(whole * scale + part, scale).ok_or(FractionFault::Empty)
    }

    fn under(&mut self, over: i64) -> Result<Fraction, FractionFault> {
        self.at += 1;
        let start = self.at;
        let (under, _) = self.digits()?;
        if under > DENOMINATOR {
            return Err(FractionFault::TooLong { place: start + 1 });
        }
        Fraction::new(over, under).ok_or(FractionFault::DividesByZero { place: start + 1 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn f(n: i64, d: i64) -> Fraction {
        Fraction::new(n, d).unwrap()
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, n, d) in [
            ("18 1/2", 37, 2),
            ("1/50", 1, 50),
            ("0.75", 3, 4),
            (".5", 1, 2),
            ("10%", 1, 10),
            ("12.5 %", 1, 8),
            (" 24 ", 24, 1),
            ("-3", -3, 1),
            ("0.1", 1, 10),
            ("-2 1/8", -17, 8),
        ] {
            assert_eq!(parse_fraction(text), Ok(f(n, d)), "{text}");
            assert_eq!(
                parse_fraction(&f(n, d).mixed()),
                Ok(f(n, d)),
                "{text} written back"
            );
        }
    }

    #[test]
    fn a_wrong_number_is_refused_with_its_place() {
        for (text, says) in [
            (
                "",
                "nothing there; expected a number such as 18 1/2, 0.75 or 10%",
            ),
            (
                "1/0",
                "divides by 0 at character 3; expected 1 or more under the stroke",
            ),
            (
                "18 1/",
                "breaks off after character 5; expected a digit there",
            ),
            ("3.", "breaks off after character 2; expected a digit there"),
            (
                "18 half",
                "'h' at character 4; expected a digit, as in 18 1/2, 0.75 or 10%",
            ),
            (
                "1e9",
                "'e' at character 2; expected a digit, as in 18 1/2, 0.75 or 10%",
            ),
            (
                "\u{1b}[2J",
                "'U+001B' at character 1; expected a digit, as in 18 1/2, 0.75 or 10%",
            ),
            (
                "12345678901",
                "too long at character 1; at most 9 digits, 6 after the point, 1,000,000 under the stroke",
            ),
            (
                "18 1/1000001",
                "too long at character 6; at most 9 digits, 6 after the point, 1,000,000 under the stroke",
            ),
            (
                "0.1234567",
                "too long at character 3; at most 9 digits, 6 after the point, 1,000,000 under the stroke",
            ),
        ] {
            assert_eq!(
                parse_fraction(text).unwrap_err().to_string(),
                says,
                "{text:?}"
            );
        }
    }

    #[test]
    fn a_quotient_that_cannot_be_reduced_safely_is_none() {
        let wide = Fraction::wide;
        for (n, d) in [(1, 0), (i128::MIN, 3), (3, i128::MIN), (i128::MIN, 0)] {
            assert_eq!(wide(n, d), None, "{n} / {d}");
        }
        let third = wide(i128::MAX, 3).unwrap().rounded();
        assert!(
            (third / 5.671_372_782_015_641e37 - 1.0).abs() < 1e-12,
            "{third}"
        );
    }

    #[test]
    fn rounding_goes_to_the_nearest_and_a_half_goes_up() {
        assert_eq!(f(277, 20).to_nearest(8), Some(f(111, 8)));
        assert_eq!(f(1, 16).to_nearest(8), Some(f(1, 8)));
        assert_eq!(f(-1, 3).floor(), -1);
        assert_eq!(f(-1, 2).round(), 0);
        assert_eq!(f(1, 3).ceil(), 1);
        assert_eq!(f(277, 20).decimal(4), "13.85");
        assert_eq!(f(2, 3).decimal(2), "0.67");
        assert_eq!(f(-7, 2).decimal(2), "-3.5");
        assert!((f(2810, 27).rounded() - 104.0741).abs() < 1e-9);
    }

    #[test]
    fn what_does_not_fit_is_none_and_never_wraps() {
        let big = Fraction::wide(i128::MAX, 1).unwrap();
        assert_eq!(big.plus(big), None);
        assert_eq!(big.times(big), None);
        assert_eq!(Fraction::ONE.over(Fraction::ZERO), None);
    }
}
