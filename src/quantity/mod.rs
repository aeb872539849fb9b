//! Lengths, fractions, counts and their text. Pure.

mod count;
mod fraction;

pub use count::{Call, Calls, Position, Shaft};
pub use fraction::Fraction;
