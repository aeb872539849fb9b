//! The cloth as a command. Owns which part is shown; the interlacement is the plan's, the sentences
//! are the words'.

use super::args::{Args, ClothArgs};
use super::paper::{no_cloth, plan_or_dressing};
use super::{Failure, Out, done};
use crate::plan::{Cloth, EdgeAdvice, Face, Float, Plan, Thread};
use crate::terminal::cloth_band::{ClothBand, Part};
use crate::terminal::digits::Ink;
use crate::words::cloth_picture::{self, Excerpt, Letters};
use crate::words::cloth_words;
use serde_json::{Value, json};
use std::process::ExitCode;

/// `cloth [PLAN | NAME]`.
///
/// # Errors
/// What is wrong with the plan or the dressing; no picks, so no cloth.
pub fn cloth(args: &Args, wanted: &ClothArgs, out: &mut Out) -> Result<ExitCode, Failure> {
    let (plan, _) = plan_or_dressing(args, wanted.of.as_deref())?;
    let blocks = super::screen::manner(args).ink == Ink::Blocks;
    let excerpt = Excerpt {
        first: wanted.from,
        picks: wanted.picks,
        over: wanted.floats,
        face: if wanted.back { Face::Back } else { Face::Front },
        letters: if blocks {
            Letters::Lines
        } else {
            Letters::Ascii
        },
        ..Excerpt::default()
    };
    if args.json {
        out.json(&value(&plan, &excerpt).ok_or_else(no_cloth)?);
        return done();
    }
    if excerpt.over.is_none() && !wanted.draft && super::screen::prints_colour(args) {
        for line in coloured(&plan, &excerpt).ok_or_else(no_cloth)? {
            out.text(&line);
        }
        return done();
    }
    let lines = if wanted.draft {
        cloth_picture::draft(&plan, 78, wanted.picks)
    } else {
        cloth_picture::in_lines(&plan, &excerpt)
    };
    for line in lines.ok_or_else(no_cloth)? {
        out.text(&line);
    }
    done()
}

/// The picture in the colours of the yarns, with its caption and what there is to say.
fn coloured(plan: &Plan, excerpt: &Excerpt) -> Option<Vec<String>> {
    let part = Part {
        first: excerpt.first,
        pick: 1,
        face: excerpt.face,
        over: None,
        hand: None,
    };
    let columns = u16::try_from(excerpt.columns).unwrap_or(u16::MAX);
    let band = ClothBand::with_picks(plan, part, columns, excerpt.picks)?;
    let mut lines = vec![band.caption().to_owned()];
    let picks = usize::try_from(excerpt.picks).unwrap_or(usize::MAX);
    lines.extend(band.coloured_rows(picks));
    lines.extend(cloth_words::cloth(plan));
    Some(lines)
}

/// The facts of the cloth; rows from the first pick on, ends in the order of threading, 1 where the end
/// is up.
fn value(plan: &Plan, excerpt: &Excerpt) -> Option<Value> {
    let cloth = Cloth::of(plan, excerpt.picks)?;
    let longest = [Face::Front, Face::Back].map(|face| cloth.longest_float(face).map(float));
    let over = excerpt.over.map(|over| {
        let long = cloth.floats_over(over);
        long.into_iter().map(float).collect::<Vec<_>>()
    });
    let edges = match cloth.edge_advice(plan) {
        EdgeAdvice::Caught => "caught",
        EdgeAdvice::StartFrom(crate::plan::Side::Right) => "start-from-right",
        EdgeAdvice::StartFrom(crate::plan::Side::Left) => "start-from-left",
        EdgeAdvice::FloatsAdvised => "floats-advised",
        EdgeAdvice::FloatsThere => "floats-there",
    };
    Some(json!({
        "schema": 1,
        "title": plan.title,
        "repeat_ends": cloth.repeat_ends(),
        "repeat_picks": cloth.repeat_picks(),
        "edges": edges,
        "longest_front": longest[0],
        "longest_back": longest[1],
        "floats": over,
        "rows": rows(plan, &cloth, excerpt.picks),
        "says": cloth_words::cloth(plan),
    }))
}

fn rows(plan: &Plan, cloth: &Cloth, picks: u32) -> Vec<String> {
    let row = |pick| {
        let ends = (1..=plan.heddled_ends()).map(crate::quantity::Call);
        ends.map(|call| if cloth.warp_up(pick, call) { '1' } else { '0' })
            .collect()
    };
    (1..=picks).map(row).collect()
}

fn float(float: Float) -> Value {
    let (thread, number) = match float.thread {
        Thread::End(call) => ("end", call.0),
        Thread::Pick(pick) => ("pick", pick),
    };
    json!({
        "thread": thread,
        "number": number,
        "face": match float.face { Face::Front => "front", Face::Back => "back" },
        "length": float.length,
        "first": float.first,
        "last": float.last,
        "never_tied": float.never_tied,
    })
}
