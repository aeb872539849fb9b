//! A mismatch and its ways out, in words: what was found, what was expected, what to do now.

use super::counts::{count, in_handfuls, on_shafts};
use super::fault_ways;
use super::fault_words;
use super::looks;
use super::mend_words;
use super::page::Page;
use super::screen_words::has_look;
use super::shows_words;
use super::trace_words;
use super::trail::chosen;
use crate::dressing::ask::Choice;
use crate::dressing::view::{Disagreeing, DisagreeingView};
use crate::fault::{Found, Tracing, WayKind, certain, known};
use crate::plan::{Batch, Plan, handfuls};
use crate::quantity::Shaft;

/// An open mismatch in words.
#[must_use]
pub fn disagreeing(view: &DisagreeingView, plan: &Plan) -> Page {
    match &view.what {
        Disagreeing::Sighting { .. } => super::sight_words::page(view, plan),
        Disagreeing::Batch {
            batch,
            ends_left,
            heddles_left,
            tracing,
            planned,
            found,
            ..
        } => {
            let report = (*ends_left, heddles_left.as_slice());
            let mut page = batch_page(view, batch, report, tracing, (planned, plan));
            let picture = found.as_ref().filter(|_| tracing.look.is_none());
            page.lines.extend(
                picture
                    .into_iter()
                    .flat_map(|found| fault_words::picture(&found.suspect, &found.evidence)),
            );
            page
        }
        Disagreeing::Found {
            found,
            planned,
            batch,
            reed,
            left,
            ..
        } => {
            let mut page = mend_words::found_page(view, found, ways(view, plan));
            let place = mend_words::place(found, batch, left.across, plan);
            page.lines.extend(place);
            if let Found::InHeddles(fault) = found {
                let made = planned.len() as u32;
                let evidence = known(batch.calls.first, planned.clone(), plan.shafts, made);
                page.lines
                    .extend(fault_words::picture(&certain(*fault), &evidence));
            }
            page.lines
                .extend(reed.iter().flat_map(trace_words::reed_picture));
            page
        }
        Disagreeing::Warp(warp) => trace_words::warp_page(view, warp, plan),
        Disagreeing::Reed(reed) => trace_words::reed_page(view, reed, plan),
        Disagreeing::ReadBack(reading) => trace_words::reading_page(view, reading, plan),
        Disagreeing::Look { look, loom, record } => Page {
            heading: "The loom and the record differ".to_owned(),
            far: "LOOK AGAIN".to_owned(),
            lines: vec![format!(
                "You counted {loom} twice for {}; the record says {record}.",
                looks::name(*look)
            )],
            say: format!("The loom says {loom}, the record says {record}. Choose a way out."),
            typed: ways(view, plan),
            caution: None,
            press: "choose a way out".to_owned(),
        },
    }
}

fn batch_page(
    view: &DisagreeingView,
    batch: &Batch,
    (ends_left, heddles_left): (i64, &[i64]),
    tracing: &Tracing,
    (planned, plan): (&[Shaft], &Plan),
) -> Page {
    let mut lines = vec![left(ends_left, heddles_left)];
    // once it is settled the picture below has the plan's shafts
    if tracing.look.is_some() || !tracing.settled {
        let lengths: Vec<u32> = handfuls(planned).into_iter().map(u32::from).collect();
        lines.push(format!("As planned: {}.", in_handfuls(planned, &lengths)));
    }
    lines.extend(fault_words::doubted(tracing));
    // the simplest explanations; one with a fault more would only crowd them
    let fewest = tracing.suspects.first().map_or(0, |s| s.faults.len());
    let simplest = tracing.suspects.iter().filter(|s| s.faults.len() == fewest);
    for suspect in simplest.take(3) {
        lines.push(format!("Perhaps: {}", fault_words::suspect(suspect)));
    }
    if tracing.suspects.is_empty() {
        lines.push(
            "No one or two mistakes explain this. Draw the batch out and thread it again."
                .to_owned(),
        );
    }
    if batch.heddles.iter().sum::<u32>() < batch.calls.len() {
        lines.push("Two ends in a heddle that the plan doubles at the edge are right.".to_owned());
    }
    let ask = tracing
        .look
        .as_ref()
        .map(|look| fault_words::look(look, batch.number, batch.calls.first, planned));
    if let Some(ask) = &ask {
        lines.push(format!("Look: {ask}"));
    }
    Page {
        heading: format!("Batch {} does not come out even", batch.number),
        far: match (&ask, tracing.settled) {
            (None, true) => "MEND IT",
            _ => trace_words::far(ask.is_some()),
        }
        .to_owned(),
        say: super::lines::capital(&ask.unwrap_or_else(|| {
            let first = tracing.suspects.first();
            first.map_or_else(|| lines[0].clone(), fault_words::suspect)
        })),
        lines,
        typed: ways(view, plan),
        caution: None,
        press: "answer the look, or choose a way out".to_owned(),
    }
}

/// "1 end left over; left over: 1 heddle on shaft 3; short: 1 on shaft 4."
pub(super) fn left(ends: i64, heddles: &[i64]) -> String {
    let size = |n: i64| u32::try_from(n.unsigned_abs()).unwrap_or(u32::MAX);
    let ends = match ends {
        0 => "No end left over or short".to_owned(),
        n if n > 0 => format!("{} left over", count(size(n), "end")),
        n => format!("{} short", count(size(n), "end")),
    };
    let pick = |sign: i64| -> Vec<u32> {
        let part = |&n: &i64| if n.signum() == sign { size(n) } else { 0 };
        heddles.iter().map(part).collect()
    };
    let (over, short) = (on_shafts(&pick(1)), on_shafts(&pick(-1)));
    let mut parts = vec![ends];
    if !over.is_empty() {
        parts.push(format!("heddles left over: {over}"));
    }
    if !short.is_empty() {
        parts.push(format!("heddles short: {short}"));
    }
    if over.is_empty() && short.is_empty() {
        parts.push("heddles even".to_owned());
    }
    format!("{}.", parts.join("; "))
}

/// The words that choose a way out, as typed in line mode; also their names on the screen.
#[must_use]
pub fn word(choice: Choice) -> &'static str {
    match choice {
        Choice::ThreadAgain => "again",
        Choice::PutRight => "right",
        Choice::LoomHolds => "loom",
        Choice::StepBack => "back to start",
        Choice::LookAgain => "look",
        Choice::Trace => "trace",
        Choice::ReadBack => "read",
        Choice::LeaveOpen => "leave",
        Choice::Suspect(_) => "its number",
        Choice::Sight => "wrong",
        Choice::Way(kind) => mend_words::word(kind),
    }
}

/// The ways out as line mode lists them, each with its number and its word. Where a look waits for
/// a number, a number alone would be its answer, so a way is asked for as one.
pub(super) fn ways(view: &DisagreeingView, plan: &Plan) -> Vec<String> {
    let way = if has_look(view) { "way " } else { "" };
    let said = |(number, choice): (usize, &Choice)| {
        let (word, does) = (word(*choice), choice_words(view, *choice, plan));
        format!("{way}{number} or {word}: {does}.")
    };
    (1..).zip(&view.choices).map(said).collect()
}

/// A way out by what it does and, where that is known, what it costs.
#[must_use]
pub fn choice_words(view: &DisagreeingView, choice: Choice, plan: &Plan) -> String {
    let (ways, again_seconds, batch, left) = match &view.what {
        Disagreeing::Batch {
            ways,
            again_seconds,
            batch,
            left,
            ..
        } => (ways, Some(*again_seconds), batch, left),
        Disagreeing::Found {
            ways,
            again_seconds,
            batch,
            left,
            ..
        } => (ways, *again_seconds, batch, left),
        Disagreeing::Sighting { .. } => return super::sight_words::choice_words(view, choice),
        Disagreeing::Warp(_) => return of_warp(choice),
        Disagreeing::Reed(_) => return of_reed(choice),
        Disagreeing::ReadBack(_) if choice == Choice::LookAgain => {
            return "read it once more".to_owned();
        }
        Disagreeing::ReadBack(_) | Disagreeing::Look { .. } => return chosen(choice).to_owned(),
    };
    match choice {
        Choice::Way(WayKind::AmendPlan) if !left.sheds.is_empty() => format!(
            "leave what stands and change the plan to it: {}",
            shows_words::sheds(&left.sheds)
        ),
        Choice::LeaveOpen => shows_words::leave(&left.shows, left.across, plan)
            .unwrap_or_else(|| chosen(choice).to_owned()),
        Choice::Way(kind) => ways.iter().find(|way| way.kind == kind).map_or_else(
            || chosen(choice).to_owned(),
            |way| {
                fault_ways::way(way, batch.calls.first)
                    .trim_end_matches('.')
                    .to_owned()
            },
        ),
        Choice::ThreadAgain => {
            let about =
                again_seconds.map(|seconds| format!(" (about {})", fault_ways::time(seconds)));
            format!("{}{}", chosen(choice), about.unwrap_or_default())
        }
        Choice::PutRight
        | Choice::LoomHolds
        | Choice::StepBack
        | Choice::LookAgain
        | Choice::Trace
        | Choice::ReadBack
        | Choice::Suspect(_)
        | Choice::Sight => chosen(choice).to_owned(),
    }
}

/// A way out in a list on the screen: short, since all of them are to be seen at once; each move of a
/// mending is told in full when it is made.
#[must_use]
pub fn choice_short(view: &DisagreeingView, choice: Choice, plan: &Plan) -> String {
    let (Disagreeing::Batch { ways, batch, .. } | Disagreeing::Found { ways, batch, .. }) =
        &view.what
    else {
        return choice_words(view, choice, plan);
    };
    let way = match choice {
        Choice::Way(WayKind::AmendPlan) => None,
        Choice::Way(kind) => ways.iter().find(|way| way.kind == kind),
        _ => None,
    };
    way.map_or_else(
        || choice_words(view, choice, plan),
        |way| fault_ways::short(way, batch.calls.first),
    )
}

/// The ways out of what is off along the warp.
fn of_warp(choice: Choice) -> String {
    match choice {
        Choice::LookAgain => "count what is left over once more",
        _ => chosen(choice),
    }
    .to_owned()
}

/// The ways out of a reed that does not come out.
fn of_reed(choice: Choice) -> String {
    match choice {
        Choice::ThreadAgain => "draw the group out of the reed and sley it again",
        Choice::LookAgain => "count and look at the tape once more",
        _ => chosen(choice),
    }
    .to_owned()
}
