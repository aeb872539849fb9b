//! Counts and their plurals, lists of shafts and heddles. Owns how a number is said.

use crate::plan::{BatchRule, Side, Units};
use crate::quantity::{Calls, Fraction, Shaft};

/// "1 end", "12 ends": the count and the word that goes with it; the plural adds an s.
#[must_use]
pub fn count(n: u32, word: &str) -> String {
    format!("{n} {}", plural(n, word))
}

/// "end", "ends".
#[must_use]
pub fn plural(n: u32, word: &str) -> String {
    match (n, word) {
        (1, _) => word.to_owned(),
        (_, word) if word.ends_with('h') || word.ends_with('s') => format!("{word}es"),
        _ => format!("{word}s"),
    }
}

/// "4 2 3": shafts as they are called, one by one.
#[must_use]
pub fn shafts(list: &[Shaft]) -> String {
    let list: Vec<String> = list.iter().map(|shaft| shaft.0.to_string()).collect();
    list.join(" ")
}

/// "2 on shaft 1, 4 on shaft 2": what is not zero, for each shaft.
#[must_use]
pub fn on_shafts(heddles: &[u32]) -> String {
    let list: Vec<String> = heddles
        .iter()
        .enumerate()
        .filter(|&(_, n)| *n > 0)
        .map(|(at, n)| format!("{n} on shaft {}", at + 1))
        .collect();
    list.join(", ")
}

/// "end 7", "ends 13 to 24", in the order of threading.
#[must_use]
pub fn ends(calls: Calls) -> String {
    if calls.len() == 1 {
        format!("end {}", calls.first.0)
    } else {
        format!("ends {} to {}", calls.first.0, calls.last.0)
    }
}

/// "right" or "left".
#[must_use]
pub fn side(side: Side) -> &'static str {
    match side {
        Side::Right => "right",
        Side::Left => "left",
    }
}

/// The other side.
#[must_use]
pub fn other(side: Side) -> Side {
    match side {
        Side::Right => Side::Left,
        Side::Left => Side::Right,
    }
}

/// "4 7/8 in" or "124 mm".
#[must_use]
pub fn length(length: Fraction, units: Units) -> String {
    match units {
        Units::In => crate::quantity::inches(length),
        Units::Cm => crate::quantity::millimetres(length),
    }
}

/// "the draft's repeat", "the group", "8 ends".
#[must_use]
pub fn batch_rule(rule: BatchRule) -> String {
    match rule {
        BatchRule::Repeat => "by the draft's repeat".to_owned(),
        BatchRule::Group => "by groups".to_owned(),
        BatchRule::Number(n) => format!("{} each", count(n, "end")),
    }
}

/// "3 4 2 / 1 1 2": calls in handfuls, a stroke between them.
#[must_use]
pub fn in_handfuls(shafts: &[Shaft], lengths: &[u32]) -> String {
    let mut rest = shafts;
    let mut out: Vec<String> = Vec::new();
    for &len in lengths {
        let (now, later) = rest.split_at(rest.len().min(len as usize));
        out.push(self::shafts(now));
        rest = later;
    }
    out.join(" / ")
}
