//! Where a dressing stands, in a few lines; and what is said on coming back.

use super::counts::{count, side};
use super::log_words::about_minutes;
use super::page::page;
use super::trail::done;
use crate::dressing::disagreement::Disagreement;
use crate::dressing::ledger::Task;
use crate::dressing::pace::TimeLeft;
use crate::dressing::state::open_look;
use crate::dressing::{About, Dressing, When};
use crate::method::{Method, Stage};
use crate::quantity::Call;

/// Where the dressing stands: title, stage and share, the next step, what is open.
#[must_use]
pub fn status(dressing: &Dressing, method: &Method) -> Vec<String> {
    let about = dressing.about();
    let page = page(&dressing.view(), dressing.plan(), method);
    let mut lines = vec![format!("{}: {}", about.title, page.heading)];
    if let (Some((n, of)), Some(stage)) = (about.done, about.stage)
        && stage != Stage::Prepare
    {
        lines.push(format!("{n} of {} {}.", count(of, "end"), in_stage(stage)));
    }
    lines.extend(last_threaded(dressing));
    lines.extend(page.lines.first().map(|line| format!("Next: {line}")));
    lines.extend(
        about
            .minutes_left
            .map(|minutes| at_your_pace(minutes, &about)),
    );
    lines.extend(
        about
            .time_left
            .iter()
            .flat_map(|left| time_in_parts(left, about.stage, method)),
    );
    lines.extend(stopped(about.last_work));
    lines.extend(open_matters(dressing));
    lines
}

/// The last threaded end with its shaft, group and batch, while threading; not while a look is open,
/// since that may be what is asked.
fn last_threaded(dressing: &Dressing) -> Option<String> {
    let plan = dressing.plan();
    let threading = dressing.stage() == Some(Stage::Thread);
    if !threading || open_look(dressing.mood()).is_some() {
        return None;
    }
    let gap = dressing
        .ledger()
        .of(Task::Threaded)
        .first_gap(dressing.calls())?;
    let last = Call(gap.0.checked_sub(1).filter(|last| *last > 0)?);
    let shaft = plan.threading.get(last.0 as usize - 1)?;
    let (group, batch) = (plan.group_of(last)?, plan.batch_of(last)?);
    Some(format!(
        "The last end threaded is end {} from the {}, on shaft {}: group {} of {}, batch {} of {}.",
        last.0,
        side(plan.thread_from),
        shaft.0,
        group.number,
        plan.groups.len(),
        batch.number,
        plan.batches.len()
    ))
}

/// Where the dressing stands, and how far each task is done; not how far while a look is open, since
/// that would tell what is asked.
#[must_use]
pub fn whole(dressing: &Dressing, method: &Method) -> Vec<String> {
    let mut lines = status(dressing, method);
    if open_look(dressing.mood()).is_none() {
        let all = dressing.calls();
        let tasks = Task::ALL
            .iter()
            .map(|task| (dressing.ledger().of(*task).count(), *task));
        let begun = tasks.filter(|(n, _)| *n > 0);
        lines.extend(begun.map(|(n, task)| format!("{n} of {all} {}.", done(task))));
    }
    lines
}

/// "Left in this stage at your pace: about 40 min; 9 groups."
fn at_your_pace(minutes: u32, about: &About) -> String {
    let left = super::log_words::time_left(minutes, about.groups_left, about.stage);
    format!("Left in this stage at your pace: {left}.")
}

/// The time left in batch and group, and in the whole dressing as far as it was measured.
fn time_in_parts(left: &TimeLeft, stage: Option<Stage>, method: &Method) -> Vec<String> {
    let here = match stage {
        Some(Stage::TieOn) => "bundle",
        _ => "group",
    };
    let batch = left
        .batch
        .map(|minutes| format!("batch {}, ", about_minutes(minutes)));
    let known = about_minutes(left.known);
    let titles = left
        .unmeasured
        .iter()
        .map(|stage| method.stage(*stage).title.as_str());
    let titles: Vec<&str> = titles.collect();
    let whole = if titles.is_empty() {
        format!("Left in the whole dressing: {known}.")
    } else {
        format!(
            "Left in the whole dressing: {known}, and {}, not measured yet.",
            titles.join(", ")
        )
    };
    vec![
        format!(
            "Of it in this {}{here} {}.",
            batch.unwrap_or_default(),
            about_minutes(left.here)
        ),
        whole,
    ]
}

fn in_stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Prepare => "made ready",
        Stage::Wind => done(Task::Wound),
        Stage::Spread => "in the raddle",
        Stage::Beam => "on the beam with their loops cut",
        Stage::Thread => done(Task::Threaded),
        Stage::Sley => done(Task::Sleyed),
        Stage::TieOn => "tied on",
        Stage::Try => "tried in the sheds",
    }
}

/// "You stopped on Tuesday, 3 March at 18:40."
#[must_use]
pub fn stopped(last: Option<When>) -> Option<String> {
    let wall = last?.wall;
    Some(format!(
        "The last press was on {}.",
        wall.format("%A, %-d %B at %H:%M")
    ))
}

/// The first group in which two stages disagree: "Group 6: 20 ends cut, 19 threaded."
#[must_use]
pub fn disagreement(found: &Disagreement) -> String {
    let (earlier, later) = (done(found.earlier), done(found.later));
    if found.before == found.after {
        return format!(
            "Group {}: as many ends {later} as {earlier}, but not as planned.",
            found.group
        );
    }
    format!(
        "Group {}: {} {earlier}, {} {later}.",
        found.group,
        count(found.before, "end"),
        found.after
    )
}

/// What waits for someone: mismatches, passed-over checks, broken ends, help.
#[must_use]
pub fn open_matters(dressing: &Dressing) -> Vec<String> {
    let about = dressing.about();
    let mut lines = Vec::new();
    if about.mismatch_open {
        lines.push("A mismatch is open: go on with the dressing to settle it.".to_owned());
    }
    if about.left_open > 0 {
        lines.push(format!(
            "{} passed over or left open: the log says which.",
            count(about.left_open, "check")
        ));
    }
    if let Some(found) = &about.disagreement {
        lines.push(format!(
            "{} The first group in which two stages disagree; go on with the dressing to trace it.",
            disagreement(found)
        ));
    }
    if about.broken > 0 {
        lines.push(format!(
            "{} not mended yet.",
            count(about.broken, "broken end")
        ));
    }
    lines.extend(super::broken_words::list(dressing));
    if about.help_wanted {
        lines.push("Help is asked for.".to_owned());
    }
    if about.hands_wanted {
        lines.push("A second pair of hands is wanted.".to_owned());
    }
    lines
}

/// Where the work is, for "Look at ...": "batch ends 13 to 24", or the step.
#[must_use]
pub fn place(about: &crate::dressing::About) -> String {
    about
        .step
        .and_then(|step| step.calls)
        .map_or_else(|| "the last step".to_owned(), super::counts::ends)
}
