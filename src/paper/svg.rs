//! Draft and cloth drawn as SVG: threads that lie over each other, black on white with greys for the
//! yarns. Owns the drawing; every place comes from the plan's interlacement.

use crate::plan::{Cloth, Floats, Plan, Side};
use crate::quantity::{Call, Calls, Shaft};
use crate::words::wrap::escaped;
use std::fmt::Write as _;

/// Greys of the warp yarns, in the order in which the plan first names them; far apart in print.
const GREYS: [&str; 5] = ["#222", "#888", "#555", "#aaa", "#3c3c3c"];
/// The side of one crossing, in the drawing's own units.
const STEP: u32 = 10;
/// The most ends and picks that are drawn.
pub const MOST_DRAWN: u32 = 240;

/// A drawing under way.
struct Drawing {
    body: String,
}

impl Drawing {
    /// A filled box.
    fn fill(&mut self, x: u32, y: u32, w: u32, h: u32, fill: &str) {
        let _ = write!(
            self.body,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{fill}\" stroke=\"#000\" stroke-width=\"0.6\"/>"
        );
    }

    fn word(&mut self, x: u32, y: u32, text: &str) {
        let text = escaped(text);
        let _ = write!(self.body, "<text x=\"{x}\" y=\"{y}\">{text}</text>");
    }

    fn rule(&mut self, x1: u32, y1: u32, x2: u32, y2: u32) {
        let _ = write!(
            self.body,
            "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" stroke=\"#aaa\" stroke-width=\"0.4\"/>"
        );
    }

    /// Lines of a grid with its left upper corner at a place.
    fn grid(&mut self, x: u32, y: u32, columns: u32, rows: u32) {
        for n in 0..=columns {
            self.rule(x + n * STEP, y, x + n * STEP, y + rows * STEP);
        }
        for n in 0..=rows {
            self.rule(x, y + n * STEP, x + columns * STEP, y + n * STEP);
        }
    }

    fn done(self, width: u32, height: u32, says: &str) -> String {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-2 -2 {} {}\" width=\"{}\" role=\"img\" font-family=\"DejaVu Sans, Verdana, sans-serif\" font-size=\"8\" text-anchor=\"middle\"><title>{}</title><rect x=\"-2\" y=\"-2\" width=\"100%\" height=\"100%\" fill=\"#fff\"/>{}</svg>\n",
            width + 4,
            height + 4,
            (width + 4) * 2,
            escaped(says),
            self.body
        )
    }
}

/// The calls of the window from left to right.
fn across(plan: &Plan, calls: Calls) -> Vec<Call> {
    let run = calls.first.0..=calls.last.0;
    match plan.thread_from {
        Side::Left => run.map(Call).collect(),
        Side::Right => run.rev().map(Call).collect(),
    }
}

/// The grey of a call's yarn.
fn grey(plan: &Plan, call: Call) -> &'static str {
    let wound = call.0 + u32::from(plan.floats == Floats::FromWarp);
    let stripe = plan
        .stripes
        .iter()
        .find(|s| s.first <= wound && wound <= s.last);
    let mut names: Vec<&str> = Vec::new();
    for stripe in &plan.stripes {
        if !names.contains(&stripe.yarn.as_str()) {
            names.push(&stripe.yarn);
        }
    }
    let at = stripe.and_then(|s| names.iter().position(|name| *name == s.yarn));
    GREYS[at.unwrap_or(0) % GREYS.len()]
}

/// Wefts as level bands, ends as uprights over them where they are up.
fn threads(
    drawing: &mut Drawing,
    plan: &Plan,
    cloth: &Cloth,
    calls: &[Call],
    at: (u32, u32),
    rows: &[u32],
) {
    let (left, top) = at;
    let width = calls.len() as u32 * STEP;
    for row in 0..rows.len() as u32 {
        drawing.fill(left, top + row * STEP + 1, width, STEP - 2, "#fff");
    }
    for (column, call) in (0..).zip(calls) {
        let mut start: Option<u32> = None;
        for row in 0..=rows.len() as u32 {
            let pick = rows.get(row as usize);
            let up = pick.is_some_and(|pick| cloth.warp_up(*pick, *call));
            match (up, start) {
                (true, None) => start = Some(row),
                (false, Some(from)) => {
                    let (x, y) = (left + column * STEP + 1, top + from * STEP);
                    drawing.fill(x, y, STEP - 2, (row - from) * STEP, grey(plan, *call));
                    start = None;
                }
                _ => {}
            }
        }
    }
}

/// The first picks as they will look from the bench, the first at the bottom; `None` where the plan
/// says no picks.
#[must_use]
pub fn cloth_svg(plan: &Plan, calls: Calls, picks: u32) -> Option<String> {
    let picks = picks.clamp(1, MOST_DRAWN);
    let last = calls
        .last
        .0
        .min(plan.heddled_ends())
        .min(calls.first.0.saturating_add(MOST_DRAWN - 1));
    let calls = across(plan, Calls::new(calls.first.0, last)?);
    let cloth = Cloth::of(plan, picks)?;
    let mut drawing = Drawing {
        body: String::new(),
    };
    let rows: Vec<u32> = (1..=picks).rev().collect();
    threads(&mut drawing, plan, &cloth, &calls, (0, 0), &rows);
    let (width, height) = (calls.len() as u32 * STEP, picks * STEP);
    let says = format!(
        "The first {picks} picks of {}, the first at the bottom",
        plan.title
    );
    Some(drawing.done(width, height, &says))
}

/// The draft: threading above, tie-up at the corner, treadling or lifts at the side, cloth between.
#[must_use]
pub fn draft_svg(plan: &Plan, ends: u32, picks: u32) -> Option<String> {
    let (ends, picks) = (
        ends.clamp(1, MOST_DRAWN).min(plan.heddled_ends()),
        picks.clamp(1, MOST_DRAWN),
    );
    let calls = across(plan, Calls::new(1, ends)?);
    let cloth = Cloth::of(plan, picks)?;
    let shafts = u32::from(plan.shafts);
    let lifts = !plan.lift_plan.is_empty();
    let side = if lifts {
        shafts
    } else {
        plan.tie_up.len() as u32
    };
    let right = ends * STEP + 2 * STEP;
    let below = (shafts + 1) * STEP;
    let mut drawing = Drawing {
        body: String::new(),
    };
    drawing.threading(plan, &calls)?;
    if !lifts {
        drawing.tie_up(plan, right);
    }
    let rows: Vec<u32> = (1..=picks).collect();
    threads(&mut drawing, plan, &cloth, &calls, (0, below), &rows);
    drawing.grid(right, below, side, picks);
    for pick in rows {
        for column in pressed(plan, pick) {
            let (x, y) = (right + (column - 1) * STEP, below + (pick - 1) * STEP);
            drawing.fill(x + 2, y + 2, STEP - 4, STEP - 4, "#000");
        }
    }
    let says = format!(
        "The draft of {}: threading above, shaft 1 lowest; tie-up at the corner; treadling at the side",
        plan.title
    );
    Some(drawing.done(right + side * STEP, below + picks * STEP, &says))
}

impl Drawing {
    /// A shaft's number in its own row, in the column that begins at `x`.
    fn shaft(&mut self, plan: &Plan, x: u32, shaft: Shaft) {
        let row = u32::from(plan.shafts.saturating_sub(shaft.0));
        self.word(x + STEP / 2, row * STEP + 8, &shaft.0.to_string());
    }

    /// The threading, and the shafts' numbers behind it.
    fn threading(&mut self, plan: &Plan, calls: &[Call]) -> Option<()> {
        let ends = u32::try_from(calls.len()).ok()?;
        self.grid(0, 0, ends, plan.shafts.into());
        for (column, call) in (0..).zip(calls) {
            let shaft = plan.threading.get(call.0 as usize - 1)?;
            self.shaft(plan, column * STEP, *shaft);
        }
        for shaft in (1..=plan.shafts).map(Shaft) {
            self.shaft(plan, ends * STEP + STEP / 2, shaft);
        }
        Some(())
    }

    /// The tie-up, its corner at `x`.
    fn tie_up(&mut self, plan: &Plan, x: u32) {
        let treadles = u32::try_from(plan.tie_up.len()).unwrap_or(u32::MAX);
        self.grid(x, 0, treadles, plan.shafts.into());
        for (column, list) in (0..).zip(&plan.tie_up) {
            for shaft in list {
                self.shaft(plan, x + column * STEP, *shaft);
            }
        }
    }
}

/// The columns at the side that a pick marks: its treadle, or the shafts that it lifts.
fn pressed(plan: &Plan, pick: u32) -> Vec<u32> {
    let at = |len: usize| (pick as usize - 1).checked_rem(len);
    if let Some(place) = at(plan.lift_plan.len()) {
        let number = |shaft: &Shaft| u32::from(shaft.0);
        return plan.lift_plan[place].iter().map(number).collect();
    }
    let treadle = at(plan.treadling.len()).map(|place| plan.treadling[place]);
    treadle.into_iter().collect()
}
