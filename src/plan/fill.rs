//! Filling in what a plan leaves unsaid: the usual values and the guesses, each noted.
//! Owns every default; works nothing else out.

use super::problem::Filled;
use super::read::{ACTIONS, DOUBLED, FLOATS, SIDES, UNITS};
use super::spec::{Doubled, Per, ReedSpec, Spec, YarnSpec};
use super::threading::Draft;
use super::{Action, Floats, Side, Units};
use crate::quantity::Fraction;

/// A plan with every default filled in.
#[derive(Debug, Clone)]
pub(super) struct Full {
    /// The same as it would stand in a file.
    pub(super) spec: Spec,
    /// What was filled in.
    pub(super) filled: Vec<Filled>,
    pub(super) units: Units,
    pub(super) floats: Floats,
    pub(super) group: Fraction,
    pub(super) thread_from: Side,
    pub(super) sley_from: Side,
    pub(super) edge_ends: u32,
    pub(super) action: Action,
    pub(super) shafts: u8,
    pub(super) treadles: u32,
    pub(super) packing: Fraction,
    pub(super) front: Fraction,
    pub(super) spaces: Fraction,
    pub(super) bout: u32,
    pub(super) together: u32,
}

/// Sizes in which looms are commonly made, in shafts (common practice, no source).
const SHAFTS: [u32; 9] = [2, 4, 8, 12, 16, 24, 32, 40, 64];

struct Filler {
    filled: Vec<Filled>,
}

impl Filler {
    fn take<T: Clone>(
        &mut self,
        at: &mut Option<T>,
        path: &'static str,
        usual: T,
        text: String,
    ) -> T {
        self.note(at, path, usual, text, false)
    }

    fn note<T: Clone>(
        &mut self,
        at: &mut Option<T>,
        path: &'static str,
        usual: T,
        value: String,
        guess: bool,
    ) -> T {
        if at.is_none() {
            self.filled.push(Filled { path, value, guess });
        }
        at.get_or_insert(usual).clone()
    }

    fn number(
        &mut self,
        at: &mut Option<Fraction>,
        path: &'static str,
        usual: Fraction,
    ) -> Fraction {
        self.take(at, path, usual, usual.mixed())
    }

    fn count(&mut self, at: &mut Option<u32>, path: &'static str, usual: u32) -> u32 {
        self.take(at, path, usual, usual.to_string())
    }

    fn word<T: Copy + PartialEq>(
        &mut self,
        at: &mut Option<T>,
        path: &'static str,
        usual: T,
        words: &[(&str, T)],
    ) -> T {
        let text = words
            .iter()
            .find(|(_, v)| *v == usual)
            .map_or("", |(word, _)| word);
        self.take(at, path, usual, text.to_owned())
    }
}

/// Fills in every default of design section 7. Usual ranges are common practice: waste, Tygart Lake
/// Fiber Arts and others (W38 of the reference); front allowance 12 in, Tygart Lake handout 83.
pub(super) fn fill(given: &Spec, draft: Option<&Draft>) -> Full {
    let mut spec = given.clone();
    let mut f = Filler { filled: Vec::new() };
    let units = f.word(&mut spec.units, "units", Units::In, UNITS);
    let metric = units == Units::Cm;
    let each = |inch: i64, cm: i64| Fraction::whole(if metric { cm } else { inch });
    let floats = f.word(&mut spec.floats, "floating_selvedges", Floats::None, FLOATS);
    let group = f.number(&mut spec.group, "group", each(1, 2));
    let thread_from = f.word(&mut spec.thread_from, "thread_from", Side::Right, SIDES);
    let sley_from = f.word(&mut spec.sley_from, "sley_from", thread_from, SIDES);
    let edge_ends = edges(&mut f, &mut spec);
    let action = f.word(&mut spec.loom.action, "loom.action", Action::Jack, ACTIONS);
    let shafts = shafts(&mut f, &mut spec, draft);
    let treadles = treadles(&mut f, &mut spec, action, shafts);
    let fiftieth = Fraction::new(1, if metric { 20 } else { 50 }).unwrap_or(Fraction::ONE);
    let packing = f.number(&mut spec.loom.packing, "loom.packing", fiftieth);
    let front = f.number(
        &mut spec.loom.front_allowance,
        "loom.front_allowance",
        each(12, 30),
    );
    let spaces = f.number(&mut spec.raddle.spaces, "raddle.spaces", each(2, 1));
    let bout = f.count(&mut spec.wind.bout, "wind.bout", 120);
    let together = f.count(&mut spec.wind.together, "wind.together", 1);
    if spec.length.finished.is_some() {
        lengths(&mut f, &mut spec, action, metric);
    }
    if spec.ends.is_none() && spec.width.is_none() && spec.finished_width.is_some() {
        shrinkage(&mut f, &mut spec);
        let seven = Fraction::new(7, 100).unwrap_or(Fraction::ZERO);
        f.number(&mut spec.length.draw_in, "length.draw_in", seven);
    }
    reeds(&mut f, &mut spec, units);
    let filled = f.filled;
    Full {
        spec,
        filled,
        units,
        floats,
        group,
        thread_from,
        sley_from,
        edge_ends,
        action,
        shafts,
        treadles,
        packing,
        front,
        spaces,
        bout,
        together,
    }
}

/// How many ends are doubled at each edge, and where there are some, how.
fn edges(f: &mut Filler, spec: &mut Spec) -> u32 {
    let ends = f.count(&mut spec.edges.ends, "edges.ends", 0);
    if ends > 0 {
        f.word(
            &mut spec.edges.doubled,
            "edges.doubled",
            Doubled::Dent,
            DOUBLED,
        );
    }
    ends
}

fn shafts(f: &mut Filler, spec: &mut Spec, draft: Option<&Draft>) -> u8 {
    let highest = draft
        .and_then(|d| d.numbers.iter().copied().max())
        .unwrap_or(4);
    let listed = spec
        .loom
        .heddles
        .as_ref()
        .map(Vec::len)
        .and_then(|n| u32::try_from(n).ok());
    let usual = SHAFTS
        .iter()
        .copied()
        .find(|&n| n >= highest.max(4))
        .unwrap_or(64);
    let usual = listed.unwrap_or(usual);
    let shafts = f.note(
        &mut spec.loom.shafts,
        "loom.shafts",
        usual,
        usual.to_string(),
        true,
    );
    u8::try_from(shafts).unwrap_or(64)
}

fn treadles(f: &mut Filler, spec: &mut Spec, action: Action, shafts: u8) -> u32 {
    let tied = u32::try_from(spec.tie_up.len()).unwrap_or(0);
    let usual = match action {
        Action::Table | Action::Lift => 0,
        _ if tied > 0 => tied,
        _ => u32::from(shafts) + 2,
    };
    f.count(&mut spec.loom.treadles, "loom.treadles", usual)
}

fn lengths(f: &mut Filler, spec: &mut Spec, action: Action, metric: bool) {
    let percent = |n: i64| Fraction::new(n, 100).unwrap_or(Fraction::ZERO);
    let waste = match (action, metric) {
        (Action::Table, false) => 20,
        (Action::Table, true) => 50,
        (_, false) => 30,
        (_, true) => 75,
    };
    f.count(&mut spec.length.pieces, "length.pieces", 1);
    shrinkage(f, spec);
    let length = &mut spec.length;
    f.number(&mut length.take_up, "length.take_up", percent(10));
    f.number(&mut length.waste, "length.waste", Fraction::whole(waste));
    f.number(&mut length.fringe, "length.fringe", Fraction::ZERO);
    f.number(&mut length.spare, "length.spare", Fraction::ZERO);
}

fn shrinkage(f: &mut Filler, spec: &mut Spec) {
    let usual = Fraction::new(usual_shrinkage(&spec.yarns), 100).unwrap_or(Fraction::ZERO);
    f.note(
        &mut spec.length.shrinkage,
        "length.shrinkage",
        usual,
        usual.mixed(),
        true,
    );
}

/// Percent that a fibre commonly loses, the middle of its range: linen 3-10, cotton 5-15, wool 10-30.
fn usual_shrinkage(yarns: &[YarnSpec]) -> i64 {
    let text = yarns
        .first()
        .map(|y| y.size.clone().unwrap_or_else(|| y.name.clone()));
    let text = text.unwrap_or_default().to_lowercase();
    let any = |words: &[&str]| words.iter().any(|w| text.contains(w));
    if any(&["linen", "flax", "lea", "hemp"]) {
        6
    } else if any(&["wool", "worsted", "merino", "mohair", "alpaca"]) {
        20
    } else {
        10
    }
}

/// Reed numbers found in the trade, by inch and by 10 cm: IWV and ergastini.com (R21, R22 of the
/// reference), and the columns of the printed chart HOW.
pub(super) const INCH_REEDS: [i64; 8] = [5, 6, 8, 10, 12, 15, 18, 20];
/// The same for metric reeds, dents per 10 cm.
pub(super) const METRIC_REEDS: [i64; 9] = [20, 30, 40, 50, 60, 70, 80, 90, 100];

/// Where no reed was given, the one that would give the sett best is assumed, and said.
fn reeds(f: &mut Filler, spec: &mut Spec, units: Units) {
    for reed in &mut spec.reeds {
        reed.per = Some(super::reeds::per_of(reed, units));
    }
    if !spec.reeds.is_empty() {
        return;
    }
    let Some(sett) = spec.sett else { return };
    let (numbers, per) = match units {
        Units::In => (&INCH_REEDS[..], Per::In),
        Units::Cm => (&METRIC_REEDS[..], Per::TenCm),
    };
    let all: Vec<ReedSpec> = numbers
        .iter()
        .map(|&n| ReedSpec {
            dents: Fraction::whole(n),
            per: Some(per),
            length: spec.loom.width,
            off_centre: None,
        })
        .collect();
    let ranked = super::reeds::rank(&all, units, sett);
    if let Some(best) = ranked.first().and_then(|r| all.get(r.index)) {
        let value = format!("{} per {}", best.dents, super::reeds::per_text(per));
        f.filled.push(Filled {
            path: "reeds",
            value,
            guess: true,
        });
        spec.reeds.push(*best);
    }
}
