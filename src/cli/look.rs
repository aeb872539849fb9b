//! Commands that look at a dressing: where it stands, what happened. Nothing is written.

use super::args::{Args, LogArgs};
use super::dress::{disk, find, not_loaded, open_code};
use super::facts::method_of;
use super::{Failure, Out, done};
use crate::dressing::{Dressing, View};
use crate::journal::keep::Keep;
use crate::journal::kept::{Keeper, Loaded};
use crate::journal::{Access, State};
use crate::method::Method;
use crate::paper;
use crate::words;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A dressing to look at; nothing is written.
pub(super) fn looked_at(args: &Args, name: Option<&str>) -> Result<(PathBuf, Loaded), Failure> {
    let path = find(args, name)?;
    let loaded =
        Keeper::load(&disk(), &path, Access::ReadOnly).map_err(|error| not_loaded(&error))?;
    Ok((path, loaded))
}

/// `status [NAME]`.
///
/// # Errors
/// It cannot be read.
pub fn status(args: &Args, name: Option<&str>, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let (path, loaded) = looked_at(args, name)?;
    let dressing = loaded.keeper.dressing();
    if args.json {
        out.json(&status_value(&path, &loaded, &method));
    } else {
        for line in words::status::status(dressing, &method) {
            out.text(&line);
        }
        super::opened::tell_looking(&loaded, out);
    }
    Ok(ExitCode::from(open_code(dressing)))
}

fn status_value(path: &Path, loaded: &Loaded, method: &Method) -> Value {
    let dressing = loaded.keeper.dressing();
    let about = dressing.about();
    let page = words::page(&dressing.view(), dressing.plan(), method);
    let calls = about.step.and_then(|step| step.calls);
    json!({
        "schema": 1,
        "name": path.file_stem().map(|stem| crate::quantity::harmless(&stem.to_string_lossy())),
        "title": about.title,
        "for": loaded.owner,
        "stage": about.stage,
        "step": about.step.map(|step| step.id),
        "first": calls.map(|calls| calls.first.0),
        "last": calls.map(|calls| calls.last.0),
        "numbers": "calls",
        "done": about.done.map(|(done, _)| done),
        "of": about.done.map(|(_, of)| of),
        "ready": about.stage.is_none(),
        "asking": matches!(dressing.view(), View::Asking(_)),
        "says": page.lines.first(),
        "mismatch_open": about.mismatch_open,
        "left_open": about.left_open,
        "disagreement": about.disagreement.map(|found| json!({
            "group": found.group,
            "earlier": found.earlier,
            "later": found.later,
            "before": found.before,
            "after": found.after,
        })),
        "broken_ends": about.broken,
        "broken": broken_ends(dressing),
        "units": dressing.plan().units,
        "measured": dressing.measures().into_iter().map(|(what, thousandths)| json!({
            "what": what,
            "value": f64::from(thousandths) / 1000.0,
            "unit": words::measure_words::unit(what, dressing.plan().units),
        })).collect::<Vec<_>>(),
        "help_wanted": about.help_wanted,
        "hands_wanted": about.hands_wanted,
        "minutes_left": about.minutes_left,
        "time_left": about.time_left.map(|left| json!({
            "here": left.here,
            "batch": left.batch,
            "stage": left.minutes,
            "known": left.known,
            "unmeasured": left.unmeasured,
        })),
        "groups_left": about.groups_left,
        "last_press": about.last_work.map(|when| when.wall.to_rfc3339()),
        "entries": dressing.entries(),
        "read_only": !matches!(loaded.state, State::Clean | State::TornTail { .. })
            && !matches!(loaded.state, State::ReadOnly(_)),
    })
}

/// The broken ends as facts.
fn broken_ends(dressing: &Dressing) -> Vec<Value> {
    let ends = dressing.broken_ends().into_iter();
    ends.map(|end| {
        json!({
            "number": end.number,
            "call": end.call.map(|call| call.0),
            "float": end.float.map(crate::words::counts::side),
            "position": end.position.map(|position| position.0),
            "group": end.group,
            "shaft": end.shaft.map(|shaft| shaft.0),
            "dent": end.dent,
            "stage": end.stage,
            "mended": end.mended,
            "to_do": end.to_do.iter().map(|step| words::broken_words::short(*step)).collect::<Vec<_>>(),
        })
    })
    .collect()
}

/// `log [NAME]`: what happened, the time of each stage and group, what was caught.
///
/// # Errors
/// It cannot be read.
pub fn log(args: &Args, wanted: &LogArgs, out: &mut Out) -> Result<ExitCode, Failure> {
    let method = method_of(args.method.as_deref())?;
    let (_, loaded) = looked_at(args, wanted.name.as_deref())?;
    let log = paper::log(loaded.keeper.entries(), loaded.keeper.dressing(), &method);
    if args.json {
        out.json(&log.value());
    } else if wanted.csv {
        out.text(&log.csv());
    } else if wanted.html {
        let document = log.document(&method);
        out.text(&paper::as_html::html(&document, wanted.paper.into()));
    } else {
        for line in log.text(&method) {
            out.text(&line);
        }
        super::opened::tell_looking(&loaded, out);
    }
    done()
}
