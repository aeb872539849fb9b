//! Lengths along the warp: how long to wind, what goes on the beam, how many turns and how much packing.
//! Owns these formulas; knows no yarn.

use super::Beam;
use crate::quantity::Fraction;

/// What a warp's length is made of; lengths in plan units, shares from 0 to below 1.
#[derive(Debug, Clone, Copy)]
pub struct Lengthwise {
    /// Finished length of one piece.
    pub finished: Fraction,
    /// Pieces.
    pub pieces: u32,
    /// Share lost in finishing.
    pub shrinkage: Fraction,
    /// Share lost to the bending of the warp.
    pub take_up: Fraction,
    /// Fringe at each end of each piece.
    pub fringe: Fraction,
    /// Loom waste.
    pub waste: Fraction,
}

/// What a share leaves: `length / (1 - share)`. Shares divide, they do not add: CNCHnet, Fall 2016
/// (10 in that shrinks to 8 has lost 20 %, and 10 / 0.8 = 12 1/2 gives 10).
#[must_use]
pub fn before_loss(length: Fraction, share: Fraction) -> Option<Fraction> {
    length.over(Fraction::ONE.minus(share)?)
}

/// Woven length of all pieces on the loom, before finishing.
#[must_use]
pub fn woven_length(of: &Lengthwise) -> Option<Fraction> {
    before_loss(of.finished, of.shrinkage)?.times(Fraction::from(of.pieces))
}

/// Warp length = finished / (1 - shrinkage) / (1 - take-up) x pieces + fringes + waste.
#[must_use]
pub fn warp_length(of: &Lengthwise) -> Option<Fraction> {
    let fringes = of.fringe.times(Fraction::whole(2 * i64::from(of.pieces)))?;
    before_loss(woven_length(of)?, of.take_up)?
        .plus(fringes)?
        .plus(of.waste)
}

/// 355/113, within 3e-7 of pi (Zu Chongzhi; from memory): exact arithmetic, and far finer than a tape.
fn pi() -> Option<Fraction> {
    Fraction::new(355, 113)
}

/// Length on the beam after n whole turns: n G + pi t n^2. Turn k lies at the bare beam's radius plus
/// (k - 1/2) t, so it takes G + 2 pi t (k - 1/2); summed over k. G is the bare beam's girth, t what one
/// turn of warp and packing adds. Geometry of a roll, derived here.
#[must_use]
pub fn length_of_turns(girth: Fraction, thickness: Fraction, turns: u32) -> Option<Fraction> {
    let n = Fraction::from(turns);
    let growth = pi()?.times(thickness)?.times(n)?.times(n)?;
    girth.times(n)?.plus(growth)
}

/// Whole turns that take a length, rounded up, by halving: at most 20 steps.
#[must_use]
pub fn turns(girth: Fraction, thickness: Fraction, length: Fraction) -> Option<u32> {
    let most = u32::try_from(length.over(girth)?.ceil().max(0)).ok()?;
    let (mut low, mut high) = (0, most);
    while low < high {
        let middle = low + (high - low) / 2;
        if length_of_turns(girth, thickness, middle)? >= length {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Some(low)
}

/// The beam stage. The front allowance never goes on the beam, nor does the way from the beam to the
/// shafts, which is not known and left in (so turns are at most one too many on a deep loom). Packing lies
/// under every turn, so it is as long as the warp on the beam: common practice, no source.
#[must_use]
pub fn beam(
    warp_length: Option<Fraction>,
    front: Fraction,
    girth: Option<Fraction>,
    thickness: Fraction,
) -> Beam {
    let on_beam = warp_length
        .and_then(|length| length.minus(front))
        .map(|length| length.max(Fraction::ZERO));
    let turns = match (on_beam, girth) {
        (Some(length), Some(girth)) => turns(girth, thickness, length),
        _ => None,
    };
    Beam {
        turns,
        packing: on_beam.filter(|_| girth.is_some()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn f(n: i64, d: i64) -> Fraction {
        Fraction::new(n, d).unwrap()
    }

    #[test]
    fn shares_divide() {
        assert_eq!(before_loss(f(10, 1), f(1, 5)), Some(f(25, 2)));
    }

    #[test]
    fn turns_are_the_fewest_that_hold_the_length() {
        let (girth, thick) = (f(18, 1), f(1, 50));
        for inches in 0..400 {
            let length = f(inches, 1);
            let n = turns(girth, thick, length).unwrap();
            assert!(length_of_turns(girth, thick, n).unwrap() >= length);
            assert!(n == 0 || length_of_turns(girth, thick, n - 1).unwrap() < length);
        }
    }
}
