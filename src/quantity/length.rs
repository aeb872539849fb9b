//! The text of a length as a tape shows it: inches in eighths or sixteenths, metric in millimetres.
//! Owns the rounding for the eye; the exact figure stays with the caller.

use super::Fraction;

/// One inch in centimetres, exactly 2.54 (the international inch of 1959).
#[must_use]
pub fn cm_per_inch() -> Fraction {
    Fraction::wide(254, 100).unwrap_or(Fraction::ONE)
}

/// `18 1/2 in`: rounded to the nearest 1/8 inch.
#[must_use]
pub fn inches(length: Fraction) -> String {
    inches_in(length, 8)
}

/// `18 7/16 in`: rounded to the nearest `1 / parts` inch.
#[must_use]
pub fn inches_in(length: Fraction, parts: u32) -> String {
    format!("{} in", length.to_nearest(parts).unwrap_or(length))
}

/// `352 mm` from centimetres: rounded to the millimetre.
#[must_use]
pub fn millimetres(centimetres: Fraction) -> String {
    match centimetres.times(Fraction::whole(10)) {
        Some(mm) => format!("{} mm", mm.round()),
        None => format!("{centimetres} cm"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_the_tape() {
        let f = |n, d| Fraction::new(n, d).unwrap();
        assert_eq!(inches(f(49, 10)), "4 7/8 in");
        assert_eq!(inches_in(f(71, 10), 16), "7 1/8 in");
        assert_eq!(inches(f(37, 4)), "9 1/4 in");
        assert_eq!(millimetres(f(35, 1)), "350 mm");
        assert_eq!(millimetres(f(1, 3)), "3 mm");
    }
}
