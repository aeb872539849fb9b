//! Short texts of the worksheet of `plan`: runs of sizes, lists that are cut, heddles to count out. Owns
//! their wording; knows no layout.

use crate::plan::wind::wind;
use crate::plan::{Figures, Side};
use crate::quantity::harmless_within;

/// Shafts from which on the heddle table is set closer and leaves out the sides, to stay on a page.
pub(super) const MANY_SHAFTS: usize = 20;
/// Columns of a list before it is cut.
const LONG: usize = 140;

/// `1 end`, `2 ends`.
pub(super) fn counted(n: u32, one: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {one}s")
    }
}

/// `13 groups of 20 ends, 1 of 17`: sizes in a row, equal neighbours together.
pub(super) fn runs(sizes: impl Iterator<Item = u32>, one: &str, many: &str) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for size in sizes {
        match runs.last_mut() {
            Some((times, of)) if *of == size => *times += 1,
            _ => runs.push((1, size)),
        }
    }
    let all: u32 = runs.iter().map(|r| r.0).sum();
    let name = |n: u32| {
        if n == 1 {
            one.to_owned()
        } else {
            many.to_owned()
        }
    };
    if runs.len() > 6 {
        let (least, most) = runs
            .iter()
            .fold((u32::MAX, 0), |(l, m), r| (l.min(r.1), m.max(r.1)));
        return format!("{all} {} of {least} to {most} ends", name(all));
    }
    let text = |(i, (times, of)): (usize, &(u32, u32))| match i {
        0 => format!("{times} {} of {}", name(*times), counted(*of, "end")),
        _ => format!("{times} of {of}"),
    };
    runs.iter()
        .enumerate()
        .map(text)
        .collect::<Vec<_>>()
        .join(", ")
}

/// A list cut where it would take more than two lines; the whole of it stands in the JSON.
pub(super) fn shortened(text: &str) -> String {
    let shown = harmless_within(text, LONG);
    if shown.len() < text.trim().len() {
        format!("{shown} ...")
    } else {
        shown
    }
}

/// `, in 3 bouts, 139 round trips`.
pub(super) fn bouts(figures: &Figures) -> String {
    figures.plan().map_or(String::new(), |plan| {
        let wind = wind(&plan);
        let bouts = u32::try_from(wind.bouts.len()).unwrap_or(u32::MAX);
        let (bouts, trips) = (
            counted(bouts, "bout"),
            counted(wind.round_trips, "round trip"),
        );
        format!(", in {bouts}, {trips}")
    })
}

/// `2 4 4 2`, shaft 1 first; with many shafts only those that have any: `3: 2, 17: 1`.
pub(super) fn count_out(heddles: &[u32]) -> String {
    if heddles.len() <= MANY_SHAFTS {
        return heddles
            .iter()
            .map(u32::to_string)
            .collect::<Vec<_>>()
            .join(" ");
    }
    let used = heddles.iter().zip(1..).filter(|&(&n, _)| n > 0);
    used.map(|(n, shaft)| format!("{shaft}: {n}"))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Spare heddles of a shaft that hang on one side.
pub(super) fn side_of(sides: &[(u32, u32)], shaft: usize, figures: &Figures, wanted: Side) -> u32 {
    let (threading, other) = sides.get(shaft).copied().unwrap_or((0, 0));
    let from = figures.spec.thread_from.unwrap_or(Side::Right);
    if from == wanted { threading } else { other }
}
