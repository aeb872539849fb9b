//! Cloth and draft in letters: what a plain terminal, a page of text and a reader without colour can
//! see. Owns which letter stands for what; the interlacement is the plan's.
//!
//! The right edge of the cloth is at the right. In the cloth the first pick is at the bottom, as the
//! weaver sees it from the bench; in the draft it is at the top, beside the tie-up.

use crate::plan::{Cloth, Face, Marks, Plan, Side};
use crate::quantity::{Call, Calls};

/// The letters of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// `|` where the end is up, `-` where the weft is; `I` and `=` on a long float.
    Ascii,
    /// Upright and level lines, heavy ones on a long float; needs no colour.
    Lines,
    /// Half blocks, two picks in a row: full where the ends are up. Marks are not shown.
    Blocks,
}

/// A window on the cloth.
#[derive(Debug, Clone)]
pub struct Window<'a> {
    /// The cloth.
    pub cloth: &'a Cloth,
    /// The edge where call 1 is.
    pub thread_from: Side,
    /// The calls shown.
    pub calls: Calls,
    /// The first and last pick shown, from 1.
    pub picks: (u32, u32),
    /// The letters.
    pub letters: Letters,
    /// Long floats to mark, and the face they are looked for on.
    pub marks: Option<(&'a Marks, Face)>,
}

impl Window<'_> {
    /// The calls from the left of the picture to the right.
    fn across(&self) -> Vec<Call> {
        let calls = self.calls.first.0..=self.calls.last.0;
        match self.thread_from {
            Side::Left => calls.map(Call).collect(),
            Side::Right => calls.rev().map(Call).collect(),
        }
    }

    /// The rows from the top down, the last pick at the top. Seen from the back, right and left stay
    /// where they are: it is the back under the same ends.
    #[must_use]
    pub fn rows(&self) -> Vec<String> {
        let across = self.across();
        let (first, last) = self.picks;
        if self.letters == Letters::Blocks {
            let upper = (first..=last).rev().step_by(2);
            return upper.map(|pick| self.block_row(&across, pick)).collect();
        }
        let row = |pick| across.iter().map(|call| self.letter(pick, *call)).collect();
        (first..=last).rev().map(row).collect()
    }

    fn up(&self, pick: u32, call: Call) -> bool {
        let back = matches!(self.marks, Some((_, Face::Back)));
        self.cloth.warp_up(pick, call) != back
    }

    fn block_row(&self, across: &[Call], pick: u32) -> String {
        let lower = pick.checked_sub(1).filter(|lower| *lower >= self.picks.0);
        let block = |call: &Call| {
            let below = lower.is_some_and(|pick| self.up(pick, *call));
            match (self.up(pick, *call), below) {
                (true, true) => '\u{2588}',
                (true, false) => '\u{2580}',
                (false, true) => '\u{2584}',
                (false, false) => ' ',
            }
        };
        across.iter().map(block).collect()
    }

    fn letter(&self, pick: u32, call: Call) -> char {
        let long = self
            .marks
            .is_some_and(|(marks, face)| self.cloth.is_marked(marks, pick, call, face));
        match (self.letters, self.up(pick, call), long) {
            (Letters::Ascii, true, false) => '|',
            (Letters::Ascii, true, true) => 'I',
            (Letters::Ascii, false, false) => '-',
            (Letters::Ascii, false, true) => '=',
            (_, true, false) => '\u{2502}',
            (_, true, true) => '\u{2503}',
            (_, false, false) => '\u{2500}',
            (_, false, true) => '\u{2501}',
        }
    }
}

/// A part of the cloth to be drawn in lines, with what is said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Excerpt {
    /// The first end, from 1 in the order of threading.
    pub first: u32,
    /// Columns, an end each.
    pub columns: u32,
    /// Picks, from 1.
    pub picks: u32,
    /// Floats of more threads than this are marked.
    pub over: Option<u32>,
    /// The face that is looked at.
    pub face: Face,
    /// The letters.
    pub letters: Letters,
}

impl Default for Excerpt {
    fn default() -> Self {
        Self {
            first: 1,
            columns: 72,
            picks: 16,
            over: None,
            face: Face::Front,
            letters: Letters::Ascii,
        }
    }
}

/// The most floats that are listed.
const MOST_LISTED: usize = 8;

/// The picture in lines: what it shows, the picture, the floats that were asked for, and what the cloth
/// has to say. `None` where the plan says no picks.
#[must_use]
pub fn in_lines(plan: &Plan, excerpt: &Excerpt) -> Option<Vec<String>> {
    let cloth = Cloth::of(plan, excerpt.picks)?;
    let first = excerpt.first.clamp(1, plan.heddled_ends());
    let last = first
        .saturating_add(excerpt.columns.max(1) - 1)
        .min(plan.heddled_ends());
    let calls = Calls::new(first, last)?;
    let marks = excerpt.over.map(|over| cloth.marks(over));
    // without a length nothing is long, but the face is still chosen
    let none = cloth.marks(u32::MAX);
    let window = Window {
        cloth: &cloth,
        thread_from: plan.thread_from,
        calls,
        picks: (1, excerpt.picks.max(1)),
        letters: excerpt.letters,
        marks: Some((marks.as_ref().unwrap_or(&none), excerpt.face)),
    };
    let mut lines = vec![super::cloth_words::caption(
        calls,
        excerpt.picks,
        excerpt.face,
    )];
    lines.extend(window.rows());
    if let Some(over) = excerpt.over {
        lines.push(super::cloth_words::marked(over, excerpt.letters));
        let long = cloth.floats_over(over);
        let listed = long.iter().take(MOST_LISTED);
        lines.extend(listed.map(|float| super::cloth_words::float(float, &cloth)));
        if long.len() > MOST_LISTED {
            lines.push(format!("and {} more.", long.len() - MOST_LISTED));
        }
    }
    lines.extend(super::cloth_words::cloth(plan));
    Some(lines)
}

/// A number in one column: its digit, else an x; the row or column beside it says which.
fn cell(number: u32, marked: bool) -> char {
    match (marked, char::from_digit(number, 10)) {
        (false, _) => '.',
        (true, Some(digit)) => digit,
        (true, None) => 'x',
    }
}

/// The draft in the trade's usual arrangement: the threading above, the tie-up at the corner, the
/// treadling (or the lifts) at the side, the cloth between them; shaft 1 is the lowest row. `None`
/// where the plan says no picks.
#[must_use]
pub fn draft(plan: &Plan, columns: usize, rows: u32) -> Option<Vec<String>> {
    draft_from(plan, columns.min(78), rows, (1, 1))
}

/// The same from this end and this pick on, both from 1.
#[must_use]
pub fn draft_from(
    plan: &Plan,
    columns: usize,
    rows: u32,
    (first, pick): (u32, u32),
) -> Option<Vec<String>> {
    let side_columns = if plan.lift_plan.is_empty() {
        plan.tie_up.len()
    } else {
        usize::from(plan.shafts)
    };
    let fits = columns.saturating_sub(side_columns + 7).max(1);
    let fits = u32::try_from(fits).unwrap_or(u32::MAX);
    let all = plan.heddled_ends();
    let first = first.min(all.saturating_sub(fits) + 1).max(1);
    let pick = pick.max(1);
    let cloth = Cloth::of(plan, rows)?;
    let window = Window {
        cloth: &cloth,
        thread_from: plan.thread_from,
        calls: Calls::new(first, all.min(first.saturating_add(fits - 1)))?,
        picks: (pick, pick.saturating_add(rows.max(1) - 1)),
        letters: Letters::Ascii,
        marks: None,
    };
    let across = window.across();
    let mut out: Vec<String> = (1..=plan.shafts)
        .rev()
        .map(|shaft| threading_row(plan, &across, shaft))
        .collect();
    out.push(String::new());
    let picks = (pick..).zip(window.rows().into_iter().rev());
    out.extend(picks.map(|(pick, row)| format!("{row} {pick:>3} {}", side_row(plan, pick))));
    Some(out)
}

fn threading_row(plan: &Plan, across: &[Call], shaft: u8) -> String {
    let on = |call: &Call| {
        let at = (call.0 as usize).wrapping_sub(1);
        let here = plan.threading.get(at).is_some_and(|s| s.0 == shaft);
        cell(u32::from(shaft), here)
    };
    let ends: String = across.iter().map(on).collect();
    let tied = |list: &Vec<crate::quantity::Shaft>| {
        cell(u32::from(shaft), list.iter().any(|s| s.0 == shaft))
    };
    let ties: String = if plan.lift_plan.is_empty() {
        plan.tie_up.iter().map(tied).collect()
    } else {
        String::new()
    };
    format!("{ends} {shaft:>3} {ties}").trim_end().to_owned()
}

fn side_row(plan: &Plan, pick: u32) -> String {
    let at = (pick as usize).saturating_sub(1);
    if let Some(place) = at.checked_rem(plan.lift_plan.len()) {
        let list = &plan.lift_plan[place];
        let lifted = |n: u8| cell(u32::from(n), list.iter().any(|s| s.0 == n));
        return (1..=plan.shafts).map(lifted).collect();
    }
    let treadle = at
        .checked_rem(plan.treadling.len())
        .and_then(|place| plan.treadling.get(place));
    let count = u32::try_from(plan.tie_up.len()).unwrap_or(0);
    (1..=count).map(|n| cell(n, treadle == Some(&n))).collect()
}
