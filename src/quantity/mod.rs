//! Lengths, fractions, counts and their text. Pure.

mod count;
mod fraction;
mod harmless;
mod length;
mod parse;

pub use count::{Call, Calls, Position, Shaft};
pub use fraction::Fraction;
pub use harmless::{NAME_COLUMNS, harmless, harmless_within};
pub use length::{cm_per_inch, inches, inches_in, millimetres};
pub use parse::{FractionFault, parse_fraction};
