//! The sley order for a sett in a reed.
//! Owns the search for even orders; knows no warp.

use crate::quantity::Fraction;

/// The longest period that a hand keeps without reading; exact orders are sought up to it.
pub const LONGEST_PERIOD: i64 = 8;

/// A sley order and what it gives.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// Ends per dent, repeating.
    pub dents: Vec<u32>,
    /// Ends per unit.
    pub sett: Fraction,
    /// Whether that is the sett asked for.
    pub exact: bool,
}

/// The most even order of `ends` ends in `dents` dents: dent i holds floor((i+1) q) - floor(i q) with
/// q = ends / dents. Floor and ceiling are spread as evenly as whole numbers allow (a mechanical
/// word: Morse and Hedlund, Amer. J. Math. 62, 1940; from memory). The rule of dividing epi by dents
/// and spreading the remainder: printed reed chart HOW (its sentence swaps the two).
#[must_use]
pub fn even_order(ends: u32, dents: u32) -> Vec<u32> {
    let dents = u64::from(dents.max(1));
    let at = |i: u64| i * u64::from(ends) / dents;
    (0..dents)
        .map(|i| u32::try_from(at(i + 1) - at(i)).unwrap_or(u32::MAX))
        .collect()
}

/// The exact order of the shortest period, where that is at most 8; `None` beyond.
#[must_use]
pub fn exact_order(sett: Fraction, reed: Fraction) -> Option<Order> {
    let q = sett.over(reed)?;
    let period = u32::try_from(q.denominator()).ok()?;
    let ends = u32::try_from(q.numerator()).ok()?;
    (i64::from(period) <= LONGEST_PERIOD && ends > 0 && q <= Fraction::whole(64)).then(|| Order {
        dents: even_order(ends, period),
        sett,
        exact: true,
    })
}

/// The nearest orders with a period of at most 8: (below or at the sett, above or at it).
/// Where the sett is exact both are it. `None` below where not even one end in 8 dents is so loose.
#[must_use]
pub fn near_orders(sett: Fraction, reed: Fraction) -> (Option<Order>, Option<Order>) {
    let side = |above| {
        nearest(
            sett,
            reed,
            LONGEST_PERIOD,
            move |q| if above { q.ceil() } else { q.floor() },
            above,
        )
    };
    (side(false), side(true))
}

/// The nearest order strictly looser (or, `above`, closer) than the sett, with a period of at most `period`.
#[must_use]
pub fn order_beyond(sett: Fraction, reed: Fraction, above: bool, period: i64) -> Option<Order> {
    let beyond = move |q: Fraction| if above { q.floor() + 1 } else { q.ceil() - 1 };
    nearest(sett, reed, period, beyond, above)
}

/// Of the quotients `pick(q p) / p` for every period p, the one nearest to q from its side.
fn nearest(
    sett: Fraction,
    reed: Fraction,
    longest: i64,
    pick: impl Fn(Fraction) -> i128,
    above: bool,
) -> Option<Order> {
    let q = sett.over(reed)?;
    let quotient = |period: i64| {
        let ends = pick(q.times(Fraction::whole(period))?);
        let ends = i64::try_from(ends)
            .ok()
            .filter(|&e| e > 0 && e <= 64 * period)?;
        Fraction::new(ends, period)
    };
    let all = (1..=longest).filter_map(quotient);
    let found = if above { all.min() } else { all.max() }?;
    let gives = found.times(reed)?;
    let ends = u32::try_from(found.numerator()).ok()?;
    let dents = u32::try_from(found.denominator()).ok()?;
    let exact = gives == sett;
    Some(Order {
        dents: even_order(ends, dents),
        sett: gives,
        exact,
    })
}

/// The exact order, else the nearer of the two near ones, the looser when both are as near.
#[must_use]
pub fn best_order(sett: Fraction, reed: Fraction) -> Option<Order> {
    if let Some(exact) = exact_order(sett, reed) {
        return Some(exact);
    }
    match near_orders(sett, reed) {
        (Some(below), Some(above)) => {
            let (down, up) = (sett.minus(below.sett)?, above.sett.minus(sett)?);
            Some(if down <= up { below } else { above })
        }
        (below, above) => below.or(above),
    }
}

/// What a typed order gives in a reed: dents x sum / length.
#[must_use]
pub fn sett_of_order(order: &[u32], reed: Fraction) -> Option<Fraction> {
    let sum: u64 = order.iter().map(|&n| u64::from(n)).sum();
    let mean = Fraction::new(i64::try_from(sum).ok()?, i64::try_from(order.len()).ok()?)?;
    mean.times(reed)
}
