//! A whole number while it is being given, digit by digit. Owns its bounds; never knows what is
//! asked.

/// The most digits that an answer takes; a warp has at most 100,000 ends.
const MOST_DIGITS: usize = 6;

/// A number being typed or lit. It starts empty and is never filled in beforehand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    negative: bool,
    digits: Vec<u8>,
}

impl Typed {
    /// Adds a digit 0..=9; `false` where there is no room for it or it is no digit.
    pub fn push(&mut self, digit: u8) -> bool {
        let fits = digit <= 9 && self.digits.len() < MOST_DIGITS;
        if fits {
            self.digits.push(digit);
        }
        fits
    }

    /// Turns the sign over.
    pub fn flip_sign(&mut self) {
        self.negative = !self.negative;
    }

    /// Takes the last digit away, or else the sign; `false` where there was nothing.
    pub fn erase(&mut self) -> bool {
        if self.digits.pop().is_some() {
            return true;
        }
        std::mem::take(&mut self.negative)
    }

    /// Whether nothing has been given yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.digits.is_empty() && !self.negative
    }

    /// The number, once it has a digit.
    #[must_use]
    pub fn value(&self) -> Option<i32> {
        if self.digits.is_empty() {
            return None;
        }
        let size = self
            .digits
            .iter()
            .fold(0i32, |sum, d| sum * 10 + i32::from(*d));
        Some(if self.negative { -size } else { size })
    }

    /// The number as it stands, for the screen.
    #[must_use]
    pub fn text(&self) -> String {
        let sign = if self.negative { "-" } else { "" };
        let digits: String = self
            .digits
            .iter()
            .map(|d| char::from(b'0' + (*d).min(9)))
            .collect();
        format!("{sign}{digits}")
    }
}
