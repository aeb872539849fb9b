//! Advice that stands beside a plan: what a reed gives for a sett, and setts for a yarn.
//! Owns the comparison; never decides for the weaver.

use super::Units;
use super::fill::{INCH_REEDS, METRIC_REEDS};
use super::order::{Order, best_order, order_beyond};
use super::problem::Problem;
use super::reeds::{Ranked, rank};
use super::spec::{Per, ReedSpec};
use super::yarn::{System, Yarn};
use crate::quantity::Fraction;

/// What a reed gives for a sett, and what others would.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SleyAdvice {
    /// The sett asked for.
    pub sett: Fraction,
    /// The reed's number.
    pub reed: Fraction,
    /// What both count by.
    pub per: Per,
    /// The order that gives the sett, or comes nearest.
    pub best: Order,
    /// The nearest looser and closer orders, with what they really give.
    pub near: Vec<Order>,
    /// Other common reeds, the best first, each with its number.
    pub others: Vec<(Fraction, Ranked)>,
}

/// The sley order for a sett in a reed, both counted per inch, or both per centimetre or 10 cm.
///
/// # Errors
/// A number out of range, or a sett beyond what one reed can hold (1 end in 8 dents to 64 in a dent).
pub fn sley_advice(sett: Fraction, reed: Fraction, per: Per) -> Result<SleyAdvice, Problem> {
    for (path, value) in [("--sett", sett), ("--reed", reed)] {
        if !value.is_positive() || value > Fraction::whole(10_000) {
            return Err(out_of_range(path, value, "more than 0", "10000"));
        }
    }
    let best = best_order(sett, reed)
        .ok_or_else(|| out_of_range("--sett", sett, "1 end in 8 dents", "64 ends in a dent"))?;
    let period = if best.exact { 4 } else { 8 };
    let near = [false, true]
        .into_iter()
        .filter_map(|above| order_beyond(sett, reed, above, period));
    let near: Vec<Order> = near.filter(|order| *order != best).collect();
    Ok(SleyAdvice {
        sett,
        reed,
        per,
        best,
        near,
        others: others(sett, reed, per),
    })
}

fn out_of_range(path: &str, found: Fraction, least: &str, most: &str) -> Problem {
    Problem::OutOfRange {
        path: path.to_owned(),
        found: found.mixed(),
        least: least.to_owned(),
        most: most.to_owned(),
    }
}

fn others(sett: Fraction, reed: Fraction, per: Per) -> Vec<(Fraction, Ranked)> {
    let numbers: Vec<Fraction> = match per {
        Per::In => INCH_REEDS.iter().map(|&n| Fraction::whole(n)).collect(),
        Per::TenCm => METRIC_REEDS.iter().map(|&n| Fraction::whole(n)).collect(),
        Per::Cm => METRIC_REEDS
            .iter()
            .filter_map(|&n| Fraction::new(n, 10))
            .collect(),
    };
    let spec = |&dents: &Fraction| ReedSpec {
        dents,
        per: Some(Per::In),
        length: None,
        off_centre: None,
    };
    let reeds: Vec<ReedSpec> = numbers.iter().filter(|&&n| n != reed).map(spec).collect();
    // Only the quotient matters, so one unit stands for whichever both are counted by.
    let ranked = rank(&reeds, Units::In, sett);
    ranked
        .into_iter()
        .filter_map(|r| Some((reeds.get(r.index)?.dents, r)))
        .collect()
}

/// Setts suggested for a yarn, ends per inch, for one weave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sett {
    /// The weave: `plain` or `twill_2_2`.
    pub weave: &'static str,
    /// The most ends per inch by Ashenhurst: D x R / (R + I).
    pub most: Fraction,
    /// A working sett: 80 % of that.
    pub working: Fraction,
    /// By wraps: half of them (plain), two thirds (balanced twill); 0.7 x D wraps in an inch.
    pub by_wraps: Fraction,
}

/// Setts for a yarn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setts {
    /// Threads that lie side by side in an inch.
    pub diameters: Fraction,
    /// One for each weave.
    pub weaves: Vec<Sett>,
}

/// Where each advice comes from.
pub const SETT_SOURCES: [&str; 3] = [
    "most: Ashenhurst, D = 0.9 x sqrt(yards per pound), most = D x R / (R + I) (handout of 1999; Taylor 1909 p. 338)",
    "working: 80 % of the most (Osterkamp); 50-60 % for a delicate cloth, 90 % for upholstery",
    "by wraps: half of the wraps for plain weave, two thirds for balanced twill (printed by several teachers); wraps in an inch taken as 0.7 x D (Osterkamp)",
];

/// Threads per inch side by side, firm yarn: D = 0.9 x sqrt(yd/lb), Ashenhurst as restated in the handout
/// of 1999; the root is taken to 1/10,000 in whole numbers.
#[must_use]
pub fn diameters(yards_per_pound: Fraction) -> Option<Fraction> {
    let scaled = yards_per_pound.times(Fraction::whole(100_000_000))?.floor();
    let root = u128::try_from(scaled).ok()?.isqrt();
    let root = Fraction::new(i64::try_from(root).ok()?, 10_000)?;
    root.times(Fraction::new(9, 10)?)
}

/// The most ends per inch for a weave of `ends` ends and `intersections` in a repeat (plain 2 and 2,
/// 2/2 twill 4 and 2): Taylor 1909 p. 338.
#[must_use]
pub fn most_ends(diameters: Fraction, ends: u32, intersections: u32) -> Option<Fraction> {
    let ends = Fraction::from(ends);
    diameters.times(ends.over(ends.plus(Fraction::from(intersections))?)?)
}

/// Advice for a yarn; `None` for a yarn beyond any arithmetic.
#[must_use]
pub fn setts(yarn: &Yarn) -> Option<Setts> {
    let diameters = diameters(yarn.number(System::YardsPerPound)?)?;
    // A wrapped yarn is not pressed as in the cloth, so fewer lie in an inch than threads side by side.
    let in_an_inch = diameters.times(Fraction::new(7, 10)?)?;
    let sett = |weave, ends, intersections, wraps: Fraction| {
        let most = most_ends(diameters, ends, intersections)?;
        let working = most.times(Fraction::new(4, 5)?)?;
        Some(Sett {
            weave,
            most,
            working,
            by_wraps: in_an_inch.times(wraps)?,
        })
    };
    let weaves = vec![
        sett("plain", 2, 2, Fraction::new(1, 2)?)?,
        sett("twill_2_2", 4, 2, Fraction::new(2, 3)?)?,
    ];
    Some(Setts { diameters, weaves })
}
